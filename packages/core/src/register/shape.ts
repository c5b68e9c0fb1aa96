import { cross, minus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { adjustHoles } from './adjust.js';
import { flatValue } from './hinge.js';
import { errorsToRectangle, fitsParallelogram, fitsRectangle } from './rectangle-fit.js';
import { around, CORNERS, distancesOf, forCorners, forSpans, SPANS } from './spans.js';
import type { Corner, Holes, Readings, Shape, ShapeKind, SidesDoubt, SixDistances, Span } from './types.js';

/** Differences below this share of the sheet are rounding, whatever the errors of reading. */
const ROUNDING_SHARE = 1e-9;

/** What the shape is judged by: each is zero for some kind of quadrilateral, mm. */
const FIGURES = [
  'topMinusBottom',
  'rightMinusLeft',
  // How much farther the lower right hole lies from the top side's line than the lower left one.
  'topTaper',
  // How much farther the lower right hole lies from the left side's line than the upper right one.
  'leftTaper',
  'lean',
  'diagonals',
  'topMinusLeft',
  'rightMinusBottom',
  'topMinusRight',
  'bottomMinusLeft',
  'outOfSquare',
] as const;

type FigureName = (typeof FIGURES)[number];

type Figures = Readonly<Record<FigureName, number>>;

/** Means and errors of five or six distances; what is missing is taken from the others. */
export function holesOfReadings(readings: Readings): Holes | null {
  const missing = SPANS.filter((span) => readings[span] === null);
  if (missing.length > 1) return null;
  return fit(
    forSpans((span) => readings[span]?.meanMm ?? 1),
    forSpans((span) => readings[span]?.errorMm ?? 1),
    missing[0] ?? null,
  );
}

/**
 * The shape of a sheet and how far it is from square, from five or six readings: a rectangle or a parallelogram if some such has all of them within their errors; else
 * a figure is taken for zero if the readings' errors, all at their worst, can make it so. Null with fewer readings.
 */
export function shapeOfReadings(readings: Readings): Shape | null {
  const holes = holesOfReadings(readings);
  if (holes === null) return null;
  const missing = SPANS.find((span) => readings[span] === null) ?? null;
  const means = forSpans((span) => readings[span]?.meanMm ?? 1);
  const errorsMm = forSpans((span) => readings[span]?.errorMm ?? 1);
  const middle = figuresOf(holes);
  const sums = forFigures(() => 0);
  for (const span of SPANS) {
    if (span === missing) continue;
    const more = figuresOf(fit({ ...means, [span]: means[span] + errorsMm[span] }, errorsMm, missing));
    const less = figuresOf(fit({ ...means, [span]: means[span] - errorsMm[span] }, errorsMm, missing));
    // The greater of both ways: a figure that can't be below zero may rise either way.
    for (const name of FIGURES) {
      sums[name] += Math.max(Math.abs(more[name] - middle[name]), Math.abs(less[name] - middle[name]));
    }
  }
  return shapeOf(holes, sums, {
    rectangle: fitsRectangle(readings),
    parallelogram: fitsParallelogram(readings),
    // Where so many errors explain all of it, one explains its share.
    certainShare: 1 - 1 / Math.max(1, errorsToRectangle(readings)),
  });
}

/** The pair of opposite sides that differs more, and how far that may be off by the errors of reading, mm. */
export function worseSides(shape: Shape): SidesDoubt {
  const { topMinusBottomMm, rightMinusLeftMm, topMinusBottomErrorMm, rightMinusLeftErrorMm } = shape;
  return Math.abs(topMinusBottomMm) >= Math.abs(rightMinusLeftMm)
    ? { pair: ['top', 'bottom'], differenceMm: topMinusBottomMm, errorMm: topMinusBottomErrorMm }
    : { pair: ['right', 'left'], differenceMm: rightMinusLeftMm, errorMm: rightMinusLeftErrorMm };
}

/** The shape of four holes whose places are known: judged to rounding. */
export function shapeOfHoles(holes: Holes): Shape {
  const rounding = Math.max(...SPANS.map((span) => distancesOf(holes)[span])) * ROUNDING_SHARE;
  const { topMinusBottom, rightMinusLeft, lean } = figuresOf(holes);
  const [parallelogram, upright] = [
    Math.max(Math.abs(topMinusBottom), Math.abs(rightMinusLeft)) <= rounding,
    Math.abs(lean) <= rounding,
  ];
  return shapeOf(
    holes,
    forFigures(() => rounding),
    { rectangle: parallelogram && upright, parallelogram, certainShare: 1 },
  );
}

/** What of a shape does not follow from its figures one by one. */
interface Fits {
  readonly rectangle: boolean;
  readonly parallelogram: boolean;
  /** How much of what it is out of square no error of reading explains, 0 to 1. */
  readonly certainShare: number;
}

function shapeOf(holes: Holes, errors: Figures, fits: Fits): Shape {
  const figures = figuresOf(holes);
  const { top, right, bottom, left } = distancesOf(holes);
  const zero = (name: FigureName): boolean => Math.abs(figures[name]) <= errors[name];
  const anglesDeg = forCorners((corner) => angleDeg(holes, corner));
  const { kind, parallel } = kindOf(zero, { figures, errors, fits });
  return {
    kind,
    parallel,
    anglesDeg,
    outOfSquareDeg: Math.max(...CORNERS.map((corner) => Math.abs(anglesDeg[corner] - 90))),
    outOfSquareMm: figures.outOfSquare,
    outOfSquareLeastMm: kind === 'rectangle' ? 0 : fits.certainShare * figures.outOfSquare,
    outOfSquareMostMm: figures.outOfSquare + errors.outOfSquare,
    topMinusBottomMm: figures.topMinusBottom,
    rightMinusLeftMm: figures.rightMinusLeft,
    topMinusBottomErrorMm: errors.topMinusBottom,
    rightMinusLeftErrorMm: errors.rightMinusLeft,
    leanMm: figures.lean,
    leanErrorMm: errors.lean,
    leanMmPerM: (1000 * figures.lean) / meanHeight(holes),
    widthMm: (top + bottom) / 2,
    heightMm: (left + right) / 2,
    equalDiagonals: zero('diagonals'),
    convex: CORNERS.every((corner) => turn(holes, corner) > 0),
  };
}

function kindOf(
  zero: (name: FigureName) => boolean,
  { figures, errors, fits }: { readonly figures: Figures; readonly errors: Figures; readonly fits: Fits },
): { kind: ShapeKind; parallel: Shape['parallel'] } {
  if (fits.rectangle) return { kind: 'rectangle', parallel: null };
  if (fits.parallelogram) return { kind: 'parallelogram', parallel: null };
  const [top, left] = [zero('topTaper'), zero('leftTaper')];
  if (top || left) {
    // Where both pairs could be parallel within the errors, the one that is nearer to it.
    const better = Math.abs(figures.topTaper) * errors.leftTaper <= Math.abs(figures.leftTaper) * errors.topTaper;
    return { kind: 'trapezoid', parallel: top && (!left || better) ? 'top-bottom' : 'left-right' };
  }
  const kite = (zero('topMinusLeft') && zero('rightMinusBottom')) || (zero('topMinusRight') && zero('bottomMinusLeft'));
  return { kind: kite ? 'kite' : 'general', parallel: null };
}

function figuresOf(holes: Holes): Figures {
  const { top, right, bottom, left, falling, rising } = distancesOf(holes);
  const { upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d } = holes;
  return {
    topMinusBottom: top - bottom,
    rightMinusLeft: right - left,
    topTaper: cross(minus(b, a), minus(c, d)) / top,
    leftTaper: cross(minus(c, b), minus(d, a)) / left,
    lean: meanLean(holes),
    diagonals: falling - rising,
    topMinusLeft: top - left,
    rightMinusBottom: right - bottom,
    topMinusRight: top - right,
    bottomMinusLeft: bottom - left,
    outOfSquare: Math.max(
      ...CORNERS.map((corner) => {
        const down = corner === 'upperLeft' || corner === 'lowerLeft' ? left : right;
        return Math.abs(down * Math.cos((angleDeg(holes, corner) * Math.PI) / 180));
      }),
    ),
  };
}

/** The middle line across the sheet, as a unit vector, and the middle line down it. */
function middles({ upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d }: Holes): readonly [Point, Point] {
  const across = { x: b.x - a.x + c.x - d.x, y: b.y - a.y + c.y - d.y };
  const length = Math.hypot(across.x, across.y);
  const down = { x: (d.x - a.x + c.x - b.x) / 2, y: (d.y - a.y + c.y - b.y) / 2 };
  return [{ x: across.x / length, y: across.y / length }, down];
}

function meanLean(holes: Holes): number {
  const [across, down] = middles(holes);
  return across.x * down.x + across.y * down.y;
}

function meanHeight(holes: Holes): number {
  const [across, down] = middles(holes);
  return cross(across, down);
}

function angleDeg(holes: Holes, corner: Corner): number {
  const { before, after } = around(corner);
  const [to, from] = [minus(holes[after], holes[corner]), minus(holes[before], holes[corner])];
  return (Math.atan2(Math.abs(cross(to, from)), to.x * from.x + to.y * from.y) * 180) / Math.PI;
}

/** Above zero where the outline turns clockwise at a corner, as seen. */
function turn(holes: Holes, corner: Corner): number {
  const { before, after } = around(corner);
  return cross(minus(holes[corner], holes[before]), minus(holes[after], holes[corner]));
}

function fit(means: SixDistances, errorsMm: SixDistances, missing: Span | null): Holes {
  if (missing === null) return adjustHoles(means, errorsMm);
  return adjustHoles({ ...means, [missing]: flatValue(means, missing) }, errorsMm);
}

function forFigures(make: (name: FigureName) => number): Record<FigureName, number> {
  return Object.fromEntries(FIGURES.map((name) => [name, make(name)])) as Record<FigureName, number>;
}
