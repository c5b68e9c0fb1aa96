import { boxContour, polyline } from '../geometry/contour.js';
import { apply } from '../geometry/matrix.js';
import type { Contour, Point } from '../geometry/types.js';
import type { PagePlan, PlannedPage } from '../pages/types.js';
import { COLOURS } from './palette.js';
import type { FontMetrics, Item, LineStyle } from './types.js';

/** Where along an overlap its marks stand, as shares of its length: two fix the place and the turn. */
const MARK_SHARES = [0.22, 0.78] as const;
/** Half of a lozenge's diagonal, mm; smaller where the overlap is narrow. */
const LOZENGE_MM = 3;
const CODE_EM_MM = 3;
/** How far trim lines run out of the picture, mm. */
const RUN_OUT_MM = 2.5;

const TRIM: LineStyle = { colour: COLOURS.black, widthMm: 0.2, dashMm: [4, 1.5], cap: 'butt' };
const LAY: LineStyle = { colour: COLOURS.black, widthMm: 0.2, dashMm: [0.9, 0.9], cap: 'butt' };
const MARK: LineStyle = { colour: COLOURS.black, widthMm: 0.18, join: 'miter' };

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
 * through both and the code of the two pages (`A1·A2`). Both pages show the same marks at the same places of the drawing; laid
 * over one another, the halves make whole lozenges.
 */
export function joinMarks(plan: PagePlan, page: PlannedPage, font: FontMetrics): Item[] {
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
      const along = overlap.from + share * (overlap.to - overlap.from);
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
      codes.push(codeItem(overlap, at((overlap.start + overlap.end) / 2, along), font));
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
  const gap = 1.2;
  const style = { kind: 'text', text: overlap.code, sizeMm: CODE_EM_MM, colour: COLOURS.black } as const;
  return overlap.upright
    ? { ...style, x: at.x + rise, y: at.y - gap, turn: -90 }
    : { ...style, x: at.x + gap, y: at.y + rise };
}

function line(from: Point, to: Point): Contour {
  return polyline([from, to], { closed: false });
}
