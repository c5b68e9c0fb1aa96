import type { ClearSpace } from '../../draw/clear-space.js';
import { COLOURS } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { FontMetrics, Item, LineStyle } from '../../draw/types.js';
import { boxContour, polyline } from '../../geometry/contour.js';
import { apply } from '../../geometry/matrix.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { PagePlan, PlannedPage } from '../../pages/types.js';

/** Where along an overlap its marks stand, as shares of its length: two fix the place and the turn. */
const MARK_SHARES = [0.22, 0.78] as const;
/** Half of a lozenge's diagonal, mm; smaller where the overlap is narrow. */
const LOZENGE_MM = 3;
const CODE_EM_MM = 3;
/** Between the hair line and its code, and around the code, mm. */
const CODE_GAP_MM = 1.2;
const CODE_CLEAR_MM = 0.5;
/**
 * How far along the overlap a mark may be moved so that its code stands on free paper, as a share of the length (each mark keeps to its half), and in
 * steps of, mm.
 */
const MOVE_SHARE = 0.26;
const MOVE_STEP_MM = 0.8;
/** How far trim lines run out of the picture, mm. */
const RUN_OUT_MM = 2.5;

const TRIM: LineStyle = { colour: COLOURS.black, widthMm: 0.2, dashMm: [4, 1.5], cap: 'butt' };
const LAY: LineStyle = { colour: COLOURS.black, widthMm: 0.2, dashMm: [0.9, 0.9], cap: 'butt' };
const MARK: LineStyle = { colour: COLOURS.black, widthMm: 0.18, join: 'miter' };

/**
 * Where things stand on the drawing, drawing mm: lines and words, which no code may touch; dots and their letters, which no mark may cover, as the sheet is
 * measured by them; all words, which no mark should cover.
 */
export interface JoinSpace {
  readonly all: ClearSpace;
  readonly dots: ClearSpace;
  readonly words: ClearSpace;
}

/** An overlap of two pages: `low` lies under `high`, whose trimmed edge comes to lie on `start`. Drawing mm. */
interface Overlap {
  readonly code: string;
  /** The overlap's band runs down (pages side by side) or across (pages one below the other). */
  readonly upright: boolean;
  readonly start: number;
  readonly end: number;
  readonly from: number;
  readonly to: number;
}

/**
 * What a page shows for joining, page mm: a dashed trim line on its left and top edges where it has neighbours there, a line of short dashes
 * where the neighbour's trimmed edge comes to lie, and on both edges of every overlap lozenges, halved by the edge, with a hair line
 * through both and the code of the two pages (`P1·P2`). Both pages show the same marks at the same places of the drawing; laid
 * over one another, the halves make whole lozenges. The marks move along the overlap to where their code stands clear of what `space` (drawing mm)
 * holds; where there is no such place a mark has no code.
 */
export function joinMarks(
  plan: PagePlan,
  page: PlannedPage,
  font: FontMetrics,
  space: JoinSpace | null = null,
): Item[] {
  const { x0, y0, x1, y1 } = plan.contentMm;
  const trims: Contour[] = [];
  if (page.column > 0) trims.push(line({ x: x0, y: y0 - RUN_OUT_MM }, { x: x0, y: y1 + RUN_OUT_MM }));
  if (page.row > 0) trims.push(line({ x: x0 - RUN_OUT_MM, y: y0 }, { x: x1 + RUN_OUT_MM, y: y0 }));
  const lays: Contour[] = [];
  const marks: Contour[] = [];
  const codes: Item[] = [];
  for (const overlap of overlapsOf(plan, page)) {
    const own = overlap.upright ? overlap.start > page.windowMm.x0 : overlap.start > page.windowMm.y0;
    const at = (across: number, along: number): Point =>
      apply(page.toPage, overlap.upright ? { x: across, y: along } : { x: along, y: across });
    if (own) lays.push(line(at(overlap.start, overlap.from), at(overlap.start, overlap.to)));
    for (const share of MARK_SHARES) {
      const { along, across } = codePlace(overlap, share, { space, font });
      marks.push(
        ...lozenges(overlap, along).map((points) =>
          polyline(
            points.map(([u, v]) => at(u, v)),
            { closed: true },
          ),
        ),
      );
      const reach = LOZENGE_MM + 2;
      marks.push(line(at(overlap.start - reach, along), at(overlap.end + reach, along)));
      if (across !== null) codes.push(codeItem(overlap, at(across, along), font));
    }
  }
  const clip = boxContour(plan.contentMm);
  return [
    ...(trims.length > 0 ? [{ kind: 'path', contours: trims, line: TRIM } as const] : []),
    ...(lays.length > 0 ? [{ kind: 'path', contours: lays, line: LAY } as const] : []),
    ...(marks.length > 0
      ? [{ kind: 'clip', contours: [clip], items: [{ kind: 'path', contours: marks, line: MARK }, ...codes] } as const]
      : []),
  ];
}

/**
 * Where a mark stands along its overlap, and how far across it the middle of its code is: as near to the wanted share as the code is clear. `across` is
 * null where it is nowhere clear.
 */
function codePlace(
  { code, upright, start, end, from, to }: Overlap,
  share: number,
  { space, font }: { space: JoinSpace | null; font: FontMetrics },
): { along: number; across: number | null } {
  const length = to - from;
  const wanted = from + share * length;
  const middle = (start + end) / 2;
  if (space === null) return { along: wanted, across: middle };
  const wide = textWidthMm(code, { sizeMm: CODE_EM_MM }, font);
  const half = (CODE_EM_MM * font.regular.capHeight) / font.regular.unitsPerEm / 2 + CODE_CLEAR_MM;
  const covers = (what: ClearSpace, along: number): boolean => {
    const [a, b] = [start - LOZENGE_MM - 2, end + LOZENGE_MM + 2];
    const [c, d] = [along - LOZENGE_MM, along + LOZENGE_MM];
    return !what.isClear(upright ? { x0: a, y0: c, x1: b, y1: d } : { x0: c, y0: a, x1: d, y1: b });
  };
  const aside = Math.max(0, (end - start) / 2 - half - CODE_CLEAR_MM);
  let covering: { along: number; across: number } | null = null;
  for (let k = 0; k * MOVE_STEP_MM <= MOVE_SHARE * length; k++) {
    for (const along of k === 0 ? [wanted] : [wanted + k * MOVE_STEP_MM, wanted - k * MOVE_STEP_MM]) {
      // Upward on an upright overlap, to the right on a level one: as the code runs.
      const [a, b] = upright
        ? [along - CODE_GAP_MM - wide - CODE_CLEAR_MM, along - CODE_GAP_MM + CODE_CLEAR_MM]
        : [along + CODE_GAP_MM - CODE_CLEAR_MM, along + CODE_GAP_MM + wide + CODE_CLEAR_MM];
      if (a < from + CODE_GAP_MM || b > to - CODE_GAP_MM) continue;
      for (const across of [0, -0.5, 0.5, -1, 1].map((part) => middle + part * aside)) {
        const box = upright
          ? { x0: across - half, y0: a, x1: across + half, y1: b }
          : { x0: a, y0: across - half, x1: b, y1: across + half };
        if (!space.all.isClear(box) || covers(space.dots, along)) continue;
        if (!covers(space.words, along)) return { along, across };
        covering ??= { along, across };
      }
    }
  }
  return covering ?? { along: wanted, across: null };
}

/** The overlaps that a page shares with its four neighbours, each the same from either page. */
function overlapsOf(plan: PagePlan, page: PlannedPage): Overlap[] {
  const at = (row: number, column: number) => plan.pages.find((one) => one.row === row && one.column === column);
  const beside = (low: PlannedPage | undefined, high: PlannedPage | undefined, upright: boolean): Overlap[] => {
    if (low === undefined || high === undefined) return [];
    const code = `${low.name}·${high.name}`;
    const [a, b] = [low.windowMm, high.windowMm];
    return upright
      ? [{ code, upright, start: b.x0, end: a.x1, from: a.y0, to: a.y1 }]
      : [{ code, upright, start: b.y0, end: a.y1, from: a.x0, to: a.x1 }];
  };
  const { row, column } = page;
  return [
    ...beside(at(row, column - 1), page, true),
    ...beside(page, at(row, column + 1), true),
    ...beside(at(row - 1, column), page, false),
    ...beside(page, at(row + 1, column), false),
  ];
}

/** Lozenges on both edges of the overlap (one where the edges fall together), as points across and along it. */
function lozenges({ start, end }: Overlap, along: number): [number, number][][] {
  const wide = end - start;
  const half = wide > 0 ? Math.min(LOZENGE_MM, wide / 2) : LOZENGE_MM;
  return (wide > 0 ? [start, end] : [start]).map((middle) => [
    [middle - half, along],
    [middle, along - half],
    [middle + half, along],
    [middle, along + half],
  ]);
}

/** The code beside the hair line, within the overlap, running along it. */
function codeItem(overlap: Overlap, at: Point, font: FontMetrics): Item {
  const rise = (CODE_EM_MM * font.regular.capHeight) / font.regular.unitsPerEm / 2;
  const style = { kind: 'text', text: overlap.code, sizeMm: CODE_EM_MM, colour: COLOURS.black } as const;
  return overlap.upright
    ? { ...style, x: at.x + rise, y: at.y - CODE_GAP_MM, turn: -90 }
    : { ...style, x: at.x + CODE_GAP_MM, y: at.y + rise };
}

function line(from: Point, to: Point): Contour {
  return polyline([from, to], { closed: false });
}
