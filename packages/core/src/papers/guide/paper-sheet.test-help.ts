import { circleContour, contourArea, polyline } from '../../geometry/contour.js';
import type { Contour, Point } from '../../geometry/types.js';
import { SOUND } from '../../stencil/made-sheet.test-help.js';
import type { JudgedSheet, Sheet, SheetOpening } from '../../stencil/types.js';
import type { LooseIsland, NarrowPlace, PaperReport, SheetTie, TieKind } from '../../strength/types.js';
import { tieName } from '../../ties/tie-names.js';

const TIE_MM = 2;
const WORK = { lengthMm: 9000, corners: 412, tightMm: 60, tightPlaces: 7, jerks: 2, minutes: 134, blades: 6 };

/** What a made-up paper has to show. */
export interface PaperSample {
  /** Every so many-th opening gets a tie; none without. Ties are of both kinds in turn unless `kinds` says otherwise. */
  readonly tieEvery?: number;
  readonly kinds?: readonly TieKind[];
  readonly weak?: number;
  readonly tongues?: number;
  readonly longOpenings?: number;
  readonly islands?: number;
}

/** A report of paper in which all is well. */
export function soundPaper(sheet: Sheet): PaperReport {
  const { x0, x1, y0 } = sheet.field;
  const weakestBand = { x0, y0: y0 + 272, x1, y1: y0 + 322 };
  return { ...SOUND, cutAway: { share: 0.342, weakestBand, bandShare: 0.514 }, work: WORK };
}

/**
 * A made-up sheet with ties across the middle of some of its openings, which are cut in two by them, and with weak places, tongues, long openings and
 * islands beside others. The same options give the same sheet.
 */
export function paperSheet(sheet: Sheet, sample: PaperSample = {}): JudgedSheet {
  const { tieEvery = 0, kinds = ['printed', 'release'], weak = 0, tongues = 0, longOpenings = 0, islands = 0 } = sample;
  const ties: SheetTie[] = [];
  const openings = sheet.openings.map((o, k): SheetOpening => {
    if (tieEvery === 0 || k % tieEvery !== 0 || o.firstCut.length !== 1) return o;
    const made = withTie(o, kinds[(k / tieEvery) % kinds.length]);
    if (made === null) return o;
    ties.push(made.tie);
    return made.opening;
  });
  const some = (count: number, at: number) =>
    Array.from({ length: count }, (_, k) => openings[(at + k * 7) % openings.length]);
  const paper: PaperReport = {
    ...soundPaper(sheet),
    necks: some(weak, 1).map(neckBeside),
    tongues: some(tongues, 3).map(({ box, number }) => {
      const root = { x: box.x0, y: box.y1 + 10 };
      return { rootMm: 3, lengthMm: 14, root, tip: { x: root.x + 9, y: root.y - 10 }, opening: number };
    }),
    longOpenings: some(longOpenings, 5).map(({ labelAt, number }) => ({ opening: number, lengthMm: 143, at: labelAt })),
    islands: some(islands, 4).map(islandIn),
  };
  return { ...sheet, openings, ties, paper };
}

/** A neck at the upper end of an opening: every second one is weak, those further on carry less. */
function neckBeside({ box, number }: SheetOpening, k: number): NarrowPlace {
  const at = { x: (box.x0 + box.x1) / 2, y: box.y0 - 0.6 };
  return {
    widthMm: 0.8 + 0.02 * k,
    from: { x: at.x, y: at.y - 0.4 },
    to: { x: at.x, y: at.y + 0.4 },
    atMm: at,
    lengthMm: k % 2 === 0 ? 2 : 12,
    openings: [number, -1],
    weak: k % 2 === 0,
    hangsMm2: k % 2 === 0 ? 400 - k : 0,
  };
}

function islandIn({ labelAt, number }: SheetOpening, k: number): LooseIsland {
  const outline = circleContour(labelAt, 3);
  return {
    id: `${k + 1}`,
    opening: number,
    outline,
    box: { x0: labelAt.x - 3, y0: labelAt.y - 3, x1: labelAt.x + 3, y1: labelAt.y + 3 },
    areaMm2: contourArea(outline),
    at: labelAt,
    within: null,
    depth: 0,
    span: null,
    dropsAt: (['first', 'second', 'release'] as const)[k % 3],
  };
}

/** An opening cut in two by a strip across its middle, at right angles to its longer way; null where it is too small for one. */
function withTie(opening: SheetOpening, kind: TieKind): { opening: SheetOpening; tie: SheetTie } | null {
  const points = cornersOf(opening.firstCut[0]);
  const far = [...points].sort((a, b) => away(b, opening.labelAt) - away(a, opening.labelAt))[0];
  const length = away(far, opening.labelAt);
  if (length < 8) return null;
  const along = { x: (far.x - opening.labelAt.x) / length, y: (far.y - opening.labelAt.y) / length };
  const u = (p: Point) => (p.x - opening.labelAt.x) * along.x + (p.y - opening.labelAt.y) * along.y;
  const v = (p: Point) => (p.y - opening.labelAt.y) * along.x - (p.x - opening.labelAt.x) * along.y;
  const strip = clip(
    clip(points, (p) => TIE_MM / 2 - u(p)),
    (p) => TIE_MM / 2 + u(p),
  );
  const halves = [clip(points, (p) => u(p) - TIE_MM / 2), clip(points, (p) => -u(p) - TIE_MM / 2)];
  if (strip.length < 4 || halves.some((h) => h.length < 3)) return null;
  const [low, high] = [Math.min(...strip.map(v)), Math.max(...strip.map(v))];
  const on = (d: number) => ({ x: opening.labelAt.x - d * along.y, y: opening.labelAt.y + d * along.x });
  const outline = (list: readonly Point[]) => polyline(list, { closed: true });
  const main = cornersOf(outline(halves[0]));
  const labelAt = {
    x: main.reduce((sum, p) => sum + p.x, 0) / main.length,
    y: main.reduce((sum, p) => sum + p.y, 0) / main.length,
  };
  const labelRoomMm = Math.min(...main.map((p) => away(p, labelAt)));
  return {
    opening: { ...opening, firstCut: halves.map(outline), labelAt, labelRoomMm },
    tie: { id: tieName(opening.number, kind), kind, from: on(low), to: on(high), outline: outline(strip) },
  };
}

function cornersOf({ coords }: Contour): Point[] {
  const points: Point[] = [];
  for (let k = 0; k + 7 < coords.length; k += 6) points.push({ x: coords[k], y: coords[k + 1] });
  return points;
}

function away(a: Point, b: Point): number {
  return Math.hypot(a.x - b.x, a.y - b.y);
}

/** The part of an outline where `inside` is positive (Sutherland and Hodgman, 1974). */
function clip(points: readonly Point[], inside: (p: Point) => number): Point[] {
  return points.flatMap((p, k) => {
    const o = points[(k + points.length - 1) % points.length];
    const [a, b] = [inside(o), inside(p)];
    const cut = { x: o.x + ((p.x - o.x) * a) / (a - b), y: o.y + ((p.y - o.y) * a) / (a - b) };
    if (b > 0) return a > 0 ? [p] : [cut, p];
    return a > 0 ? [cut] : [];
  });
}
