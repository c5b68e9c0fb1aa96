import type { Plan } from '../../cloth/plan-types.js';
import { COLOURS } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import { type TextStyle, wrapText } from '../../draw/text.js';
import type { Drawing, FontMetrics, Item, LineStyle, Page } from '../../draw/types.js';
import { turnedPairs } from '../../draw/upright-numbers.js';
import { writableText } from '../../draw/writable-text.js';
import { boxContour } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import { formatMm } from '../../units/format.js';
import { InputError } from '../../units/input-error.js';
import type { Paper } from '../../units/paper-sizes.js';
import { counted } from '../../units/words.js';
import { type MapFace, mapFaces } from './face.js';
import { leastField, longestLabel, placementNumber } from './labels.js';
import { legendHeight, type MapLegendOptions, mapLegend } from './legend.js';
import { PASS_STYLES_COUNT, passGround } from './passes.js';
import { MAP_LINES } from './symbols.js';
import { windowItems } from './window-items.js';
import { better, layMap, MAP_PAGES_MAX, type MapLayout } from './windows.js';

export interface PlacementMapOptions {
  readonly title: string;
  readonly revision: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
  readonly font: FontMetrics;
  readonly paper: Paper;
  readonly orientation: 'auto' | 'portrait' | 'landscape';
  /** What the printer leaves blank along every edge. */
  readonly marginMm: number;
}

/** A map nearer to the page's edge is easily cut off. */
const MARGIN_LEAST_MM = 8;
const HEAD = { title: { sizeMm: 4.6, bold: true }, words: { sizeMm: 3 } } as const;
/** Distances of baselines in the head, and what is kept free below it, mm. */
const HEAD_LEADING_MM = { title: 5.2, words: 4 } as const;
const BELOW_HEAD_MM = 3.8;
/** Beside a window: the measures of the check marks. Above it: which part of the cloth it shows. */
const BESIDE_MM = 21;
const ABOVE_MM = 6.5;
/** A page with a map has at least so much room for it. */
const ROOM_LEAST_MM = { width: 45, height: 40 } as const;
/** Placements that are drawn: more of them are a grey area on any number of pages. */
export const MAP_PLACEMENTS_MAX = 20_000;

/**
 * The cloth with every placement's outline, number and pass, the ground line and its check marks, masks, selvedges and a scale bar, on as many pages
 * of the paper as the numbers need to be read; both faces where both are printed. Where that would be too many pages, one page without numbers that
 * says so. Throws an `InputError` where the paper is too small.
 */
export function placementMap(plan: Plan, options: PlacementMapOptions): Drawing {
  const faces = mapFaces(plan).map((face) => {
    const { layout, frame } = bestLayout(plan, face, options);
    return { face, layout, frame };
  });
  const count = faces.reduce((sum, { layout }) => sum + layout.pages.length, 0);
  const groups: Record<string, readonly Item[]> = {};
  const pages: Page[] = [];
  for (const { face, layout, frame } of faces) {
    const longest = longestLabel(face.placements, options.font);
    const placements = face.placements.length > MAP_PLACEMENTS_MAX ? [] : face.placements;
    Object.assign(groups, fieldGroups(plan, face, layout.scale));
    for (const windows of layout.pages) {
      const head = headItems(plan, { ...options, face, ordinal: pages.length + 1, count, inner: frame.inner });
      pages.push({
        name: `map-${pages.length + 1}`,
        widthMm: frame.widthMm,
        heightMm: frame.heightMm,
        items: [
          ...head,
          ...windows.flatMap((window) =>
            windowItems(face, { placements, window, layout, longest, font: options.font }),
          ),
          ...mapLegend(frame.legend, layout.scale, frame.words),
        ],
      });
    }
  }
  return roundDrawing({ title: `${options.title} – placement map`, date: options.date, groups, pages });
}

interface Frame {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly inner: Box;
  readonly room: Box;
  readonly legend: Box;
  readonly words: MapLegendOptions;
}

/** Upright or lying, whichever takes fewer pages, then shows the cloth larger. */
function bestLayout(plan: Plan, face: MapFace, options: PlacementMapOptions): { layout: MapLayout; frame: Frame } {
  const { lattice, placements } = plan;
  const field = { widthMm: lattice.widthMm, heightMm: lattice.heightMm };
  const longest = longestLabel(face.placements, options.font);
  const tried = framesOf(options).flatMap((size) => {
    const leastMm = leastField(longest);
    const lay = (notes: readonly string[]) => {
      const frame = frameOf(size, { plan, face, notes, ...options });
      if (frame === null) return null;
      const origin = originOf(plan, face);
      const layout = layMap(face.extent, {
        field,
        origin,
        room: frame.room,
        leastMm,
        besideMm: BESIDE_MM,
        aboveMm: ABOVE_MM,
      });
      return { layout, frame };
    };
    const notes = notesOf(plan, face);
    const first = lay(notes);
    if (first === null) return [];
    if (first.layout.numbered) return [first];
    const drawn =
      placements.length > MAP_PLACEMENTS_MAX
        ? 'are too many to be drawn'
        : 'are too many for their numbers to be read on a map';
    const again = lay([...notes, `The ${placements.length} placements ${drawn}: the table of the plan has them all.`]);
    return again === null ? [] : [again];
  });
  const [found] = tried.sort((a, b) => (better(a.layout, b.layout) ? -1 : 1));
  if (found === undefined) {
    throw new InputError(
      `The paper ${options.paper.name} (${formatMm(options.paper.widthMm)} × ${formatMm(options.paper.heightMm)}) is too small for a map of the placements: print it on a larger one.`,
    );
  }
  return found;
}

function framesOf({ paper, orientation }: PlacementMapOptions): { widthMm: number; heightMm: number }[] {
  const [short, long] = [Math.min(paper.widthMm, paper.heightMm), Math.max(paper.widthMm, paper.heightMm)];
  return [
    ...(orientation === 'landscape' ? [] : [{ widthMm: short, heightMm: long }]),
    ...(orientation === 'portrait' ? [] : [{ widthMm: long, heightMm: short }]),
  ];
}

function frameOf(
  { widthMm, heightMm }: { widthMm: number; heightMm: number },
  { plan, notes, face, ...options }: PlacementMapOptions & Pick<MapLegendOptions, 'plan' | 'notes'> & { face: MapFace },
): Frame | null {
  const m = Math.max(options.marginMm, MARGIN_LEAST_MM);
  const inner = { x0: m, y0: m, x1: widthMm - m, y1: heightMm - m };
  const words = { plan, notes, font: options.font };
  const foot = legendHeight(inner.x1 - inner.x0, words);
  const longest = { ...options, face, inner, ordinal: MAP_PAGES_MAX, count: MAP_PAGES_MAX };
  const head = headLines(plan, longest).reduce((sum, { leadingMm }) => sum + leadingMm, BELOW_HEAD_MM);
  const room = { ...inner, y0: inner.y0 + head, y1: inner.y1 - foot - 3 };
  if (room.x1 - room.x0 < ROOM_LEAST_MM.width || room.y1 - room.y0 < ROOM_LEAST_MM.height) return null;
  return { widthMm, heightMm, inner, room, legend: { ...inner, y0: inner.y1 - foot }, words };
}

function originOf(plan: Plan, { face, cloth }: MapFace): Point {
  return face === 'front' ? plan.origin : { x: cloth.x1 - plan.origin.x - plan.lattice.widthMm, y: plan.origin.y };
}

function notesOf({ choice, direction, marking, placements }: Plan, { masks }: MapFace): string[] {
  const [first] = placements;
  const beyond = masks.map(
    ({ side, onClothMm, beyondMm }) =>
      `${side}: ${formatMm(onClothMm, 1)} of cloth, ${formatMm(beyondMm, 1)} of waste beyond it`,
  );
  return [
    ...(first === undefined
      ? []
      : [
          `Numbers: 2-14 is the 14th placement of pass 2; below it, where there is room, its name in the table: ${first.id} is column ${first.column}, row ${first.row}.`,
        ]),
    ...(turnedPairs(placements.map(placementNumber)).size > 0
      ? ['A number that would read as another upside down has a full stop, which stands at its foot.']
      : []),
    ...(beyond.length > 0 ? [`Masks, ${beyond.join('; ')}.`] : []),
    ...(direction === 'across' ? ['The sheet lies turned clockwise by a quarter.'] : []),
    ...(choice.wipeEvery === null ? [] : [`Wipe the back of the sheet after every ${choice.wipeEvery} placements.`]),
    ...(marking === null ? [] : ['Before the first pass walk the cloth once, dot on dot, and mark the dots only.']),
  ];
}

interface HeadOptions extends PlacementMapOptions {
  readonly face: MapFace;
  readonly inner: Box;
  readonly ordinal: number;
  readonly count: number;
}

interface HeadLine {
  readonly text: string;
  readonly style: TextStyle;
  readonly leadingMm: number;
}

/** Title and words of a page, in lines of its inner width. */
function headLines(
  { cloth: { table }, placements, passes }: Plan,
  { face, title, revision, date, ordinal, count, inner, font }: HeadOptions,
): HeadLine[] {
  const lines = (text: string, part: keyof typeof HEAD): HeadLine[] =>
    wrapText(text, inner.x1 - inner.x0, HEAD[part], font).map((line) => {
      return { text: line, style: HEAD[part], leadingMm: HEAD_LEADING_MM[part] };
    });
  const side = face.face === 'back' ? ' · back of the cloth, the sheet turned over' : '';
  const dated = [writableText(revision, font).text].filter((text) => text !== '').map((text) => `revision ${text}`);
  const words = [
    `cloth ${formatMm(table.widthMm, 0)} × ${formatMm(table.lengthMm, 0)} on the table`,
    `${placements.length} placements in ${counted(passes.length, 'pass', 'passes')}`,
    ...dated,
    date,
    `map ${ordinal} of ${count}`,
  ];
  return [
    ...lines(`${writableText(title, font).text} · placement map${side}`, 'title'),
    ...lines(words.join(' · '), 'words'),
  ];
}

function headItems(plan: Plan, options: HeadOptions): Item[] {
  const { x0, y0 } = options.inner;
  let y = y0;
  return headLines(plan, options).map(({ text, style, leadingMm }) => {
    y += leadingMm;
    return { kind: 'text', text, x: x0, y: y - 0.2 * leadingMm, colour: COLOURS.black, ...style };
  });
}

/** One field for each pass that has a hatching, and one outline, at the map's scale. */
function fieldGroups({ lattice, passes }: Plan, { face }: MapFace, scale: number): Record<string, readonly Item[]> {
  const box = { x0: 0, y0: 0, x1: lattice.widthMm * scale, y1: lattice.heightMm * scale };
  const outline = (line: LineStyle): Item[] => [{ kind: 'path', contours: [boxContour(box)], line }];
  const styles = Array.from({ length: Math.min(PASS_STYLES_COUNT, passes.length) }, (_, k) => k + 1);
  return Object.fromEntries([
    ...styles.map((pass) => [`${face}-pass-${pass}`, passGround(pass, box)]),
    [`${face}-placement`, outline(MAP_LINES.placement)],
    [`${face}-beyond`, outline(MAP_LINES.beyond)],
  ]);
}
