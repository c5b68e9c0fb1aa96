import { type ClearSpace, NO_OWNER } from '../../draw/clear-space.js';
import { lineStyle, PAPER } from '../../draw/palette.js';
import type { Item } from '../../draw/types.js';
import { polyline } from '../../geometry/contour.js';
import { flattenCubic } from '../../geometry/flatten.js';
import { distance } from '../../geometry/points.js';
import { segmentMiddle } from '../../geometry/segments.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { SheetTie } from '../../strength/types.js';
import type { NamedTie } from './paper-names.js';

/** Outlines of ties are known to this, mm. */
const FLATTEN_TIE_MM = 0.02;
/** Free paper between the end of a cut line and a bar, mm on the page. */
const FREE_MM = 0.4;
/** Between the two bars of a release tie, mm on the page. */
const APART_MM = 0.55;
/** What of a tie's length belongs to its end: as far as its flare may reach. */
const END_SHARE = 0.3;

/** One end of a tie: where its outermost point lies, the way out of the tie, and its two sides across that way. */
interface TieEnd {
  readonly at: Point;
  readonly out: Point;
  readonly from: number;
  readonly to: number;
}

/**
 * The bars across the ends of a tie, sheet mm: they stand on the paper of the banks, just beyond the tie, so that they touch no cut line. One bar at either
 * end of a printed tie, two at either end of a release tie. A tie of no length has none.
 */
export function tieBars(tie: SheetTie, scale: number): Contour[] {
  const release = tie.kind === 'release';
  const { widthMm } = lineStyle(release ? 'release-tie' : 'tie', { scale });
  const first = FREE_MM / scale + widthMm / 2;
  const places = release ? [first, first + APART_MM / scale + widthMm] : [first];
  return tieEnds(tie).flatMap(({ at, out, from, to }) =>
    places.map((d) => {
      const on = (v: number) => ({ x: at.x + d * out.x - v * out.y, y: at.y + d * out.y + v * out.x });
      return polyline([on(from), on(to)], { closed: false });
    }),
  );
}

/** What the bars at each end of a tie take up, as closed outlines. Sheet mm. */
function barFrames(tie: SheetTie, scale: number): Contour[] {
  const reach = barReach(tie, scale);
  const free = FREE_MM / scale;
  return tieEnds(tie).map(({ at, out, from, to }) => {
    const on = (d: number, v: number) => ({ x: at.x + d * out.x - v * out.y, y: at.y + d * out.y + v * out.x });
    return polyline([on(free, from), on(reach, from), on(reach, to), on(free, to)], { closed: true });
  });
}

/** How far bars reach beyond the ends of a tie, mm on the sheet. */
export function barReach({ kind }: SheetTie, scale: number): number {
  const { widthMm } = lineStyle(kind === 'release' ? 'release-tie' : 'tie', { scale });
  return FREE_MM / scale + widthMm + (kind === 'release' ? APART_MM / scale + widthMm : 0);
}

/** Where the name of a tie may lead to: its two ends just beyond their bars, then its middle. */
export function tieStarts(tie: SheetTie, scale: number): Point[] {
  const reach = barReach(tie, scale) + FREE_MM / scale;
  const beyond = tieEnds(tie).map(({ at, out }) => ({ x: at.x + reach * out.x, y: at.y + reach * out.y }));
  return [...beyond, segmentMiddle(tie)];
}

function tieEnds(tie: SheetTie): TieEnd[] {
  const { from, to } = tie;
  const length = distance(to, from);
  if (!(length > 0)) return [];
  const along = { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
  const points = pointsOf(tie.outline);
  return ([-1, 1] as const).flatMap((way): TieEnd[] => {
    const out = { x: way * along.x, y: way * along.y };
    const end = way < 0 ? from : to;
    const seen = points.map((p) => {
      const [dx, dy] = [p.x - end.x, p.y - end.y];
      return { u: dx * out.x + dy * out.y, v: dy * out.x - dx * out.y };
    });
    const own = seen.filter(({ u }) => u >= -END_SHARE * length);
    if (own.length < 2) return [];
    const far = Math.max(0, ...own.map(({ u }) => u));
    const at = { x: end.x + far * out.x, y: end.y + far * out.y };
    return [{ at, out, from: Math.min(...own.map(({ v }) => v)), to: Math.max(...own.map(({ v }) => v)) }];
  });
}

function pointsOf({ coords }: Contour): Point[] {
  if (coords.length < 8) return [];
  const points = [{ x: coords[0], y: coords[1] }];
  for (let k = 0; k + 7 < coords.length; k += 6) {
    flattenCubic(coords, k, FLATTEN_TIE_MM, (x, y) => points.push({ x, y }));
  }
  return points;
}

/** Ties as drawn: white paper between the bars of their kind. They belong below the cut lines, of which they hide nothing then. Sheet mm. */
export function tieItems(ties: readonly NamedTie[], scale: number): Item[] {
  if (ties.length === 0) return [];
  const bars = (kind: SheetTie['kind']): Item[] => {
    const contours = ties.flatMap(({ tie }) => (tie.kind === kind ? tieBars(tie, scale) : []));
    const line = lineStyle(kind === 'release' ? 'release-tie' : 'tie', { scale });
    return contours.length > 0 ? [{ kind: 'path', contours, line }] : [];
  };
  return [
    { kind: 'path', contours: ties.map(({ tie }) => tie.outline), fill: PAPER },
    ...bars('printed'),
    ...bars('release'),
  ];
}

/** Bars words and leaders from ties and their ends. `place` brings outlines to where `space` has its drawing; by default they are left on the sheet. */
export function addTies(
  ties: readonly NamedTie[],
  space: ClearSpace,
  { scale, place = (c) => c }: { scale: number; place?: (contours: readonly Contour[]) => readonly Contour[] },
): void {
  for (const { tie } of ties) {
    const spine =
      tie.from.x === tie.to.x && tie.from.y === tie.to.y ? [] : [polyline([tie.from, tie.to], { closed: false })];
    space.addContours(place([tie.outline, ...spine, ...barFrames(tie, scale)]), NO_OWNER);
  }
}
