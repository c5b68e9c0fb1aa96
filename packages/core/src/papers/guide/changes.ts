import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import type { Sheet, SheetChanges } from '../../stencil/types.js';
import type { ChangeMark, ChangeMarks } from '../sheet/zone-picture.js';
import { type Entry, entryRows } from './tick-list.js';

const MARKS = {
  cutAgain: { short: 'again', remark: 'cut again: its outline changed' },
  patch: { short: 'patch', remark: 'patch what was cut' },
  fresh: { short: 'new', remark: 'new in this revision' },
} as const;

/** The marks of a sheet's changes; none where there are no changes. A number that is to be patched and cut again says both. */
export function changeMarks(changes: SheetChanges | null): ChangeMarks {
  const marks = new Map<number, ChangeMark>();
  if (changes === null) return marks;
  for (const n of changes.fresh) marks.set(n, MARKS.fresh);
  for (const n of changes.cutAgain) marks.set(n, MARKS.cutAgain);
  for (const n of changes.patch) {
    const other = marks.get(n);
    marks.set(n, other ? { short: `patch, ${other.short}`, remark: `patch, then ${other.remark}` } : MARKS.patch);
  }
  return marks;
}

/** True where a sheet that was cut by the older revision needs any work. */
export function hasChanges(changes: SheetChanges | null): changes is SheetChanges {
  return changes !== null && changes.cutAgain.length + changes.patch.length + changes.fresh.length > 0;
}

/** The page for a sheet that was cut by an older revision: what to patch, to cut again and to cut new, with boxes to tick and places. */
export function revisionPage(pages: GuidePages, sheet: Sheet, changes: SheetChanges, revision: string): void {
  pages.newPage();
  pages.heading(`What changed: revision ${revision}`);
  pages.paragraph({
    text: 'Only for a sheet that was cut by an older revision. A fresh sheet is cut from the zone pages alone, where these numbers are marked too. Places are measured from the clipped corner of the paper.',
  });
  pages.space(1);
  if (!hasChanges(changes)) {
    pages.paragraph({ text: 'Nothing changed that is cut: the older sheet can be used as it is.', bold: true });
    return;
  }
  pages.notice(changeWords(changes));
  section(pages, sheet, changes.patch, {
    heading: 'Patch first',
    text: 'Close these with a piece of the same stencil paper, larger than the hole by 5 mm all around, stuck on from the back. Let it dry before cutting.',
  });
  section(pages, sheet, changes.cutAgain, {
    heading: 'Cut again',
    text: 'The outline changed. Lay the new page over the sheet by its dots. Where the new outline lies inside the old hole, patch before cutting.',
  });
  section(pages, sheet, changes.fresh, { heading: 'New: cut for the first time', text: '' });
}

/** `cut again 14, 15; patch 31; new 58`. */
export function changeWords({ cutAgain, patch, fresh }: SheetChanges): string {
  const part = (words: string, list: readonly number[]) => (list.length > 0 ? [`${words} ${list.join(', ')}`] : []);
  return `In short: ${[...part('patch', patch), ...part('cut again', cutAgain), ...part('new', fresh)].join('; ')}.`;
}

function section(
  pages: GuidePages,
  sheet: Sheet,
  numbers: readonly number[],
  { heading, text }: { heading: string; text: string },
): void {
  if (numbers.length === 0) return;
  pages.heading(heading, 4 * LINE_MM);
  if (text) pages.paragraph({ text });
  pages.space(1.5);
  const openings = new Map(sheet.openings.map((o) => [o.number, o]));
  const entries = numbers.map((number): Entry => {
    const opening = openings.get(number);
    const name = uprightNumber(number, sheet.openings);
    if (!opening) return { number: name, done: false, remark: 'gone from the design: find it on the older guide' };
    const { x, y } = opening.labelAt;
    return {
      number: name,
      done: false,
      remark: `zone ${opening.zone}, ${x.toFixed(0)} mm right, ${y.toFixed(0)} mm down`,
    };
  });
  entryRows(pages, entries, { minCellMm: 60 });
}
