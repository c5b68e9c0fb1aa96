import { ClearSpace, SOFT } from '../../draw/clear-space.js';
import { BODY_MM, type GuidePages, LINE_MM } from '../../draw/layout.js';
import { type PlacedTags, placeTags } from '../../draw/name-tags.js';
import { COLOURS, GREY } from '../../draw/palette.js';
import type { Item, LineStyle } from '../../draw/types.js';
import { boxAround, boxesOverlap } from '../../geometry/boxes.js';
import { boxContour } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';
import { counted } from '../../units/words.js';
import { type NamedTie, type PaperNames, tiesOf } from '../sheet/paper-names.js';
import { rangeOf } from '../sheet/paper-words.js';
import { quietSheet } from '../sheet/quiet-sheet.js';
import { scaleWords, type View, viewBox, viewContours, viewFrame, viewPoint } from '../sheet/view.js';
import { RELEASE_CAUTION } from '../sheet/words.js';
import { type Entry, entryRows } from './tick-list.js';

/** The whole sheet is drawn about this high, and a part of it, mm. */
const WHOLE_MM = 140;
const PART_MM = 105;
/** Parts are drawn no larger than this. */
const MOST_SCALE = 2;
/** A part in which names have no room is halved, and its halves, no more often than this. */
const MOST_HALVINGS = 5;
/** Shown around a part, mm on the sheet. */
const AROUND_MM = 6;
/** What is cut away now. */
const TIE_LINE: LineStyle = { colour: COLOURS.vermillion, widthMm: 0.7, join: 'round' };
/** Names on a small picture full of them stand close by or not at all. */
const TAGS = { capsMm: [3.5, 3], reachMm: 9, nearMm: 1, plate: true };
const ZONE_EDGE: LineStyle = { colour: GREY, widthMm: 0.2, dashMm: [3, 1.5] };
const TIE_FREE_MM = 0.6;

/** A drawing of release ties alone, and the names that had no room in it. */
interface ReleasePicture {
  readonly box: Box;
  readonly ties: readonly NamedTie[];
}

/**
 * The release cut as a step of its own: what to do, the sheet with its release ties alone, and a list to tick off. Nothing where the sheet has none. A
 * sheet with so many that their names find no room is drawn whole without them, and then in parts.
 */
export function releasePages(pages: GuidePages, sheet: Sheet, names: PaperNames): void {
  const ties = tiesOf(names, 'release');
  if (ties.length === 0) return;
  pages.newPage();
  pages.heading('Release cut: only when the gauze is on and dry');
  if (!sheet.practice.gauze) {
    pages.notice('These ties wait for gauze, and the job has none: ask the dyer before cutting any of them.');
  }
  pages.list(steps(sheet, names, ties), { numbered: true });
  const whole = { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm };
  const all = { box: whole, ties };
  const named = place(pages, sheet, all, viewOf(pages, whole, WHOLE_MM)).tags.missing.length === 0;
  picture(pages, sheet, all, { mostMm: WHOLE_MM, named });
  if (!named) zonePictures(pages, sheet, ties);
  tickList(pages, ties);
}

/** A picture for every zone, or several, in which all names have room. */
function zonePictures(pages: GuidePages, sheet: Sheet, ties: readonly NamedTie[]): void {
  const boxes = new Map(sheet.zones.map((z) => [z.letter, z.box]));
  for (const letter of new Set(ties.map((t) => t.zone))) {
    const own = ties.filter((t) => t.zone === letter);
    const box = boxAround([...own.map((t) => t.box), boxes.get(letter) ?? own[0].box]) as Box;
    for (const part of partsOf(pages, sheet, { box: around(box, sheet), ties: own }, MOST_HALVINGS)) {
      partPicture(pages, sheet, letter, part);
    }
  }
}

function steps(sheet: Sheet, names: PaperNames, ties: readonly NamedTie[]): string[] {
  const printed = tiesOf(names, 'printed');
  const then = sheet.practice.soak ? 'soaked' : 'squared';
  return [
    'Press beside every tie with a fingertip: the gauze has to hold the paper on both sides of it, dry and flat. Where it lifts, glue again and wait.',
    RELEASE_CAUTION,
    'Cut each tie off along both of its ends, so that the outline of the opening runs on without it: two light strokes rather than one. Lift it out with tweezers; never pull.',
    `Tick it off: ${counted(ties.length, 'tie')}, ${rangeOf(ties)}.${printed.length > 0 ? ` ${rangeOf(printed)} stay: never cut them.` : ''}`,
    'A thread of the gauze is cut: a dot of the same glue on it, and wait until it is dry.',
    `Only when all are out is the sheet ${then}.`,
  ];
}

/** The parts of a box, each small enough that its names have room. */
function partsOf(pages: GuidePages, sheet: Sheet, part: ReleasePicture, halvings: number): ReleasePicture[] {
  if (part.ties.length === 0) return [];
  const trial = place(pages, sheet, part, viewOf(pages, part.box, PART_MM));
  if (trial.tags.missing.length === 0 || halvings === 0 || part.ties.length === 1) return [part];
  const { box, ties } = part;
  const upright = box.y1 - box.y0 > box.x1 - box.x0;
  const sorted = [...ties].sort((a, b) => (upright ? a.at.y - b.at.y : a.at.x - b.at.x));
  const half = Math.ceil(sorted.length / 2);
  return [sorted.slice(0, half), sorted.slice(half)].flatMap((own) => {
    const kept = new Set(own);
    // In their order.
    const within = ties.filter((t) => kept.has(t));
    return partsOf(
      pages,
      sheet,
      { box: around(boxAround(within.map((t) => t.box)) as Box, sheet), ties: within },
      halvings - 1,
    );
  });
}

function around({ x0, y0, x1, y1 }: Box, sheet: Sheet): Box {
  return {
    x0: Math.max(0, x0 - AROUND_MM),
    y0: Math.max(0, y0 - AROUND_MM),
    x1: Math.min(sheet.widthMm, x1 + AROUND_MM),
    y1: Math.min(sheet.heightMm, y1 + AROUND_MM),
  };
}

function viewOf(pages: GuidePages, box: Box, mostMm: number): View {
  const [wide, high] = [box.x1 - box.x0, box.y1 - box.y0];
  const scale = Math.min(MOST_SCALE, pages.width / wide, mostMm / high);
  return { window: box, scale, at: { x: pages.left + (pages.width - scale * wide) / 2, y: 0 } };
}

/** The drawing in a view: everything pale but the ties, which are full and named. */
function place(
  pages: GuidePages,
  sheet: Sheet,
  { ties }: ReleasePicture,
  view: View,
): { items: Item[]; tags: PlacedTags } {
  const space = new ClearSpace();
  space.addContours(
    viewContours(
      view,
      ties.map(({ tie }) => tie.outline),
    ),
    SOFT,
  );
  const tags = placeTags(
    ties.map(({ name, tie: { from, to } }) => ({
      text: name,
      starts: [viewPoint(view, from), viewPoint(view, to)],
      aroundMm: TIE_FREE_MM,
    })),
    { space, font: pages.font, frame: viewFrame(view) },
    TAGS,
  );
  const seen = ties.filter(({ box }) => boxesOverlap(box, view.window));
  const contours = viewContours(
    view,
    seen.map(({ tie }) => tie.outline),
  );
  return {
    items: [...quietSheet(sheet, view), { kind: 'path', contours, fill: COLOURS.vermillion, line: TIE_LINE }],
    tags,
  };
}

function picture(
  pages: GuidePages,
  sheet: Sheet,
  part: ReleasePicture,
  { mostMm, named }: { mostMm: number; named: boolean },
): void {
  const flat = viewOf(pages, part.box, mostMm);
  const heightMm = flat.scale * (part.box.y1 - part.box.y0);
  pages.need(heightMm + 2 * LINE_MM + 3);
  pages.space(1.5);
  const view = { ...flat, at: { ...flat.at, y: pages.y } };
  const { items, tags } = place(pages, sheet, part, view);
  pages.add(...items, ...(named ? tags.items : zoneItems(pages, sheet, view)));
  pages.y += heightMm + 1;
  const what = named ? 'Only what is full and named R is cut away' : 'Only what is full is cut away';
  const names = named ? '' : ' The names are on the pictures of the zones, which follow.';
  pages.paragraph({
    text: `Drawn at ${scaleWords(view.scale)}. ${what}; all else is pale: it is done.${names}`,
  });
}

/** The zones' edges and letters. */
function zoneItems(pages: GuidePages, sheet: Sheet, view: View): Item[] {
  const boxes = sheet.zones.map((z) => viewBox(view, z.box));
  const edges = boxes.map(boxContour);
  const letters = sheet.zones.map(({ letter }, k): Item => {
    const { x0, y0 } = boxes[k];
    const style = { sizeMm: BODY_MM, bold: true, colour: GREY };
    return pages.line(letter, x0 + 0.8, y0 + BODY_MM, style);
  });
  return edges.length > 0 ? [{ kind: 'path', contours: edges, line: ZONE_EDGE }, ...letters] : [];
}

function partPicture(pages: GuidePages, sheet: Sheet, letter: string, part: ReleasePicture): void {
  const heightMm = viewOf(pages, part.box, PART_MM).scale * (part.box.y1 - part.box.y0);
  const where = letter === '' ? '' : `, zone ${letter}`;
  pages.heading(`Release cut${where}: ${rangeOf(part.ties)}`, heightMm + 2 * LINE_MM + 3);
  picture(pages, sheet, part, { mostMm: PART_MM, named: true });
}

function tickList(pages: GuidePages, ties: readonly NamedTie[]): void {
  pages.heading('Release ties, to tick off', 3 * LINE_MM);
  pages.space(1);
  entryRows(
    pages,
    ties.map(({ name, zone }): Entry => ({ number: name, done: false, remark: zone })),
  );
}
