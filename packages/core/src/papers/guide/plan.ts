import { extraWords } from '../../cloth/paste.js';
import type { Plan } from '../../cloth/plan-types.js';
import { type GuidePages, LINE_MM } from '../../draw/layout.js';
import type { Sheet } from '../../stencil/types.js';
import { bothRulersWithError, formatMm, INCH_ERROR_WORDS } from '../../units/format.js';
import { counted } from '../../units/words.js';
import { printCautions } from '../sheet/words.js';
import { planMap } from './plan-map.js';
import {
  clothFacts,
  clothSteps,
  lineStarts,
  markGroups,
  maskWords,
  numberWords,
  passRow,
  stepWords,
} from './plan-words.js';

/** Tables stop at this many rows and say how many more there are. */
const MOST_ROWS = 60;
/** The table of check marks is what a long run is laid out by: it goes on for longer. */
const MOST_MARKS = 250;
const MOST_LINES = 12;
/** Groups of columns that stand side by side in the table of check marks. */
const GROUPS_BESIDE = 3;

/** How the run is printed along the cloth: measures, marks, steps, passes, and what is needed for it. */
export function planPages(pages: GuidePages, plan: Plan, sheets: readonly Sheet[]): void {
  const [sheet] = sheets;
  pages.newPage();
  pages.heading('Along the cloth');
  pages.facts(clothFacts(plan), { labelMm: 30 });
  if (plan.placements.length === 0 || sheet === undefined) {
    pages.paragraph({ text: 'No placement lies on this cloth: nothing can be printed as it is planned.', bold: true });
    return;
  }
  planMap(pages, plan);
  starts(pages, plan);
  masks(pages, plan);
  marks(pages, plan);
  steps(pages, plan, sheet);
  walk(pages, plan);
  passes(pages, plan);
  needs(pages, plan);
  pages.heading('Take care', 3 * LINE_MM);
  pages.list(printCautions());
}

/** What the guide says where no plan could be made. */
export function noPlanPage(pages: GuidePages, why: string): void {
  pages.newPage();
  pages.heading('Along the cloth');
  pages.paragraph({ text: `The run along the cloth could not be planned: ${why}` });
}

function starts(pages: GuidePages, plan: Plan): void {
  const lines = lineStarts(plan);
  const brick = plan.lattice.repeat.kind === 'brick';
  const line = brick ? 'row' : 'column';
  pages.heading(`Where each ${line} starts`, 5 * LINE_MM);
  const first = plan.placements[0];
  pages.paragraph({
    text: `The first placement is ${first.id}: its first dot lies ${placeWords(first.at.x, 'on the left edge', 'the left edge')} and ${placeWords(first.at.y, 'at the start of the cloth', 'the start of the cloth')}. First dot of each ${line} (below zero: beyond the cloth):`,
  });
  pages.space(1);
  pages.table(
    [
      { head: line, share: 0.1 },
      { head: 'first placement', share: 0.16 },
      { head: 'from the left edge', share: 0.2 },
      { head: 'from the start', share: 0.2 },
      { head: 'how it starts', share: 0.34 },
    ],
    lines
      .slice(0, MOST_LINES)
      .map(({ first: own, words }) => [
        `${brick ? own.row : own.column}`,
        own.id,
        formatMm(own.at.x, 1),
        formatMm(own.at.y, 1),
        words,
      ]),
  );
  if (lines.length > MOST_LINES) {
    pages.paragraph({ text: `And ${lines.length - MOST_LINES} more ${line}s, which go on in turn.` });
  }
}

function masks(pages: GuidePages, plan: Plan): void {
  if (plan.masks.length === 0) return;
  pages.heading('Masks', 2 * LINE_MM);
  pages.list(plan.masks.map(maskWords));
}

function marks(pages: GuidePages, plan: Plan): void {
  const { ground, lattice } = plan;
  if (ground === null) return;
  pages.heading('Ground line and check marks', 6 * LINE_MM);
  const below = ground.marks.some(({ alongMm }) => alongMm < 0) ? ' Below zero: before the zero, on waste.' : '';
  pages.paragraph({
    text: `Stretch a thread ${placeWords(ground.xMm, 'on the left edge', 'the left edge')}, straight along the cloth: the ground line. Dot ${ground.dot} of the placements beside it stands on it. Its zero lies ${placeWords(ground.zero.y, 'at the start of the cloth', 'the start of the cloth')}. Measure every mark from this one zero, never from mark to mark: errors would add up. A mark says where dot ${ground.dot} of every ${ground.every}th placement belongs.${below} ${INCH_ERROR_WORDS}`,
  });
  pages.space(1);
  if (lattice.repeat.kind === 'brick') {
    pages.table(
      [
        { head: 'placement', share: 0.2 },
        { head: 'across from the ground line', share: 0.4 },
        { head: 'along from zero', share: 0.4 },
      ],
      ground.marks
        .slice(0, MOST_MARKS)
        .map(({ id, acrossMm, alongMm }) => [id, bothRulersWithError(acrossMm), bothRulersWithError(alongMm)]),
    );
    more(pages, ground.marks.length - MOST_MARKS);
    return;
  }
  columnMarks(pages, plan);
}

/** `on the left edge`, `12 mm (15/32 in −0.09) from the left edge`, `5 mm (13/64 in +0.16) beyond the left edge`. */
function placeWords(mm: number, on: string, what: string): string {
  if (Math.abs(mm) < 0.05) return on;
  return `${bothRulersWithError(Math.abs(mm))} ${mm > 0 ? 'from' : 'beyond'} ${what}`;
}

function columnMarks(pages: GuidePages, plan: Plan): void {
  const groups = markGroups(plan);
  const across = new Map(plan.placements.map(({ column, field }) => [column, field.x0]));
  const firstX = plan.origin.x;
  const columns = [...across.keys()].sort((a, b) => a - b).slice(0, MOST_LINES);
  const places = columns.map((c) => `c${c} ${bothRulersWithError((across.get(c) ?? firstX) - firstX)}`);
  pages.paragraph({
    text: `Across from the ground line: ${places.join(', ')}${across.size > columns.length ? ', …' : ''}. Along from zero:`,
  });
  for (let k = 0; k < groups.length; k += GROUPS_BESIDE) {
    const own = groups.slice(k, k + GROUPS_BESIDE);
    const rows = Math.max(...own.map((g) => g.marks.length));
    pages.space(1);
    pages.table(
      [
        { head: 'row', share: 0.1 },
        ...own.map((g) => ({
          head: `${g.columns.length === 1 ? 'column' : 'columns'} ${numberWords(g.columns)}`,
          share: 0.9 / own.length,
        })),
      ],
      Array.from({ length: Math.min(rows, MOST_MARKS) }, (_, n) => [
        `${1 + n * (plan.ground?.every ?? 1)}`,
        ...own.map((g) => (n < g.marks.length ? bothRulersWithError(g.marks[n].alongMm) : '–')),
      ]),
    );
    more(pages, rows - MOST_MARKS);
  }
}

function more(pages: GuidePages, count: number): void {
  if (count > 0) pages.paragraph({ text: `And ${count} more: see the table of placements.` });
}

function steps(pages: GuidePages, plan: Plan, sheet: Sheet): void {
  const own = clothSteps(plan, sheet);
  if (own.length === 0) return;
  pages.heading('The steps', 4 * LINE_MM);
  pages.table(
    [
      { head: 'the sheet moves', share: 0.5 },
      { head: 'first this dot, then that one', share: 0.5 },
    ],
    own.map(({ vector, pairs }) => [
      stepWords(vector),
      pairs.length === 0
        ? 'no dots for this step: measure it'
        : pairs.map(({ from, to }) => `${from} on the place of ${to}`).join(', then '),
    ]),
  );
  pages.paragraph({
    text: 'The first dot goes exactly on its mark, the second on the line to its mark: one pair fixes the place, both fix the turn as well.',
  });
}

function walk(pages: GuidePages, { marking, ground, choice }: Plan): void {
  pages.heading(marking === null ? 'Stepping straight on' : 'First a marking walk', 3 * LINE_MM);
  if (marking === null) {
    pages.paragraph({
      text: `Each placement lands on the one before, while that is wet: no marking walk. The dots for sighting only don't print: pencil through them before you lift the sheet. Wipe the back of the sheet after every ${choice.wipeEvery ?? 1} placements, and look at every ${ground?.every ?? 5}th whether it stands on its check mark.`,
    });
    return;
  }
  const alone = marking.filter(({ from }) => from === null).map(({ id }) => id);
  const [first] = marking;
  pages.list(
    [
      `Before anything is printed, mark the dots of all ${marking.length} placements. Begin with ${first.id}, laid by the zero.`,
      'Step dot on dot along the ground line to the end, marking only the dots; then each line from its neighbour, dot on dot.',
      `At every check mark lay the sheet by the mark, not by the dots: what has drifted ends there.`,
      ...(alone.length > 1 ? [`Laid by a check mark, as nothing marked lies beside: ${listWords(alone)}.`] : []),
      'Why: a placement that is printed before its neighbours has no printed dot to land on.',
    ],
    { numbered: true },
  );
}

function passes(pages: GuidePages, plan: Plan): void {
  const { choice, schedule } = plan;
  pages.heading(`Passes: ${choice.count} for each sheet`, 4 * LINE_MM);
  pages.paragraph({
    text:
      choice.stepping === 'on'
        ? 'Columns in turn, each placement on the one before. Never lay the sheet on wet paste of the column beside it: print, let dry, go on.'
        : 'Placements that touch are never printed while their neighbours are wet. Print one pass, let it dry, then the next; the map has the numbers. In each pass walk along the table in this order:',
  });
  pages.space(1);
  pages.table(
    [
      { head: 'pass', share: 0.09 },
      { head: 'placements', share: 0.16 },
      { head: 'columns', share: 0.2 },
      { head: 'rows', share: 0.2 },
      { head: 'first', share: 0.12 },
      { head: 'last', share: 0.12 },
      { head: 'walk', share: 0.11 },
    ],
    plan.passes.slice(0, MOST_ROWS).map((p) => passRow(plan, p)),
  );
  const { secondsAPlacement, dryingMinutes, hoursADay, passesADay, days } = schedule;
  const sheets = new Set(schedule.passes.map(({ sheet }) => sheet)).size;
  const faces = new Set(schedule.passes.map(({ face }) => face)).size;
  pages.space(1);
  pages.paragraph({
    text: `Time, an estimate: ${counted(schedule.passes.length, 'pass', 'passes')} in all${sheets > 1 ? `, ${sheets} sheets` : ''}${faces > 1 ? ', both faces' : ''}, about ${Number(passesADay.toFixed(1))} a day, so ${days} ${days === 1 ? 'day' : 'days'}. From: ${secondsAPlacement} s a placement, ${dryingMinutes} min to dry, ${hoursADay} h of work a day. Paste is dry when a strip of paper laid on it lifts clean; the weather decides, not the clock.`,
  });
  if (plan.back !== null) {
    pages.paragraph({
      text: 'The back: when the front is dry turn the cloth over and the sheet too; the drop runs the other way. Land on the dots that show through.',
    });
  }
}

function needs(pages: GuidePages, plan: Plan): void {
  const { paste, wear } = plan;
  pages.heading('Paste or colour, and sheets: estimates', 5 * LINE_MM);
  pages.table(
    [
      { head: 'ink', share: 0.2 },
      { head: 'open, a placement', share: 0.24 },
      { head: 'volume', share: 0.18 },
      { head: 'weight', share: 0.18 },
      { head: 'sheets to cut', share: 0.2 },
    ],
    paste.inks.map(({ ink, openMm2, ml, grams }) => [
      ink,
      `${(openMm2 / 100).toFixed(0)} cm²`,
      `${Math.ceil(ml)} ml`,
      `${Math.ceil(grams)} g`,
      wear.sheets
        .filter((s) => s.ink === ink)
        .map(({ needed }) => `${needed}`)
        .join(' + '),
    ]),
  );
  pages.space(1);
  const worn = wear.daysASheet === null ? '' : ` and ${wear.daysASheet} days of soaking and printing`;
  pages.paragraph({
    text: `From: a film of ${formatMm(paste.filmMm)}, ${Number(paste.placements.toFixed(1))} placements (cut ones by their share), ${extraWords(paste)}, ${paste.densityGPerMl} g a ml. A sheet ${wear.gauze ? 'with gauze' : 'of bare treated paper'} lasts about ${wear.placementsASheet} placements${worn}. Weigh the first batch and mend the figures.`,
  });
}

function listWords(ids: readonly string[]): string {
  return ids.length <= MOST_LINES ? ids.join(', ') : `${ids.slice(0, MOST_LINES).join(', ')}, …`;
}
