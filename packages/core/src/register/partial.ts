import { tipOver } from './hinge.js';
import { fitsRectangle, only } from './rectangle-fit.js';
import { around, CORNERS, spanBetween, triangleWithout } from './spans.js';
import type { Corner, Readings, Span } from './types.js';

/** A corner whose angle follows from three distances alone. */
export interface CornerAngle {
  readonly corner: Corner;
  readonly spans: readonly Span[];
  readonly deg: number;
  /** How far it may be off by the errors of reading. */
  readonly errorDeg: number;
  /** Whether a right angle has these distances within their errors. */
  readonly maybeSquare: boolean;
  /** How far the shorter of its sides strays sideways at its far end, mm (above zero: the corner is open). */
  readonly strayMm: number;
}

/** Two distances that are equal on a rectangle. */
export interface PairCheck {
  readonly pair: readonly [Span, Span];
  /** First minus second, mm. */
  readonly differenceMm: number;
  readonly errorMm: number;
  /** Whether equal distances have these readings within their errors. */
  readonly maybeEqual: boolean;
}

/** The pairs that are equal on a rectangle. */
const PAIRS: readonly (readonly [Span, Span])[] = [
  ['top', 'bottom'],
  ['right', 'left'],
  ['falling', 'rising'],
];

/** The pairs of which both were measured. */
export function measuredPairs(readings: Readings): PairCheck[] {
  return PAIRS.flatMap(([one, other]): PairCheck[] => {
    const [a, b] = [readings[one], readings[other]];
    if (a === null || b === null) return [];
    return [
      {
        pair: [one, other],
        differenceMm: a.meanMm - b.meanMm,
        errorMm: a.errorMm + b.errorMm,
        maybeEqual: fitsRectangle(only(readings, [one, other])),
      },
    ];
  });
}

/** The corners whose two sides and the diagonal across from them were measured. */
export function measuredCorners(readings: Readings): CornerAngle[] {
  return CORNERS.flatMap((corner): CornerAngle[] => {
    const { before, after, opposite } = around(corner);
    const spans = triangleWithout(opposite);
    const [one, other, across] = [spanBetween(corner, before), spanBetween(corner, after), spanBetween(before, after)];
    const [a, b, c] = [readings[one], readings[other], readings[across]];
    if (a === null || b === null || c === null) return [];
    const deg = angleDeg(a.meanMm, b.meanMm, c.meanMm);
    const errorDeg = [a, b, c].reduce((sum, reading) => {
      const shifted = (by: number): number =>
        angleDeg(
          a.meanMm + (reading === a ? by : 0),
          b.meanMm + (reading === b ? by : 0),
          c.meanMm + (reading === c ? by : 0),
        );
      return sum + Math.abs(shifted(reading.errorMm) - shifted(-reading.errorMm)) / 2;
    }, 0);
    const strayMm = -Math.min(a.meanMm, b.meanMm) * Math.cos((deg * Math.PI) / 180);
    return [{ corner, spans, deg, errorDeg, maybeSquare: fitsRectangle(only(readings, spans)), strayMm }];
  });
}

/** A triangle of measured distances that can't close: its longest side, and the two others; null where all close. */
export function openTriangle(readings: Readings): { longest: Span; others: readonly [Span, Span] } | null {
  for (const corner of CORNERS) {
    const sides = triangleWithout(corner)
      .map((span) => ({ span, mm: readings[span]?.meanMm ?? null }))
      .sort((a, b) => (b.mm ?? 0) - (a.mm ?? 0));
    const [longest, second, third] = sides;
    if (longest.mm === null || second.mm === null || third.mm === null) continue;
    if (longest.mm >= second.mm + third.mm) return { longest: longest.span, others: [second.span, third.span] };
  }
  return null;
}

function angleDeg(one: number, other: number, across: number): number {
  const [foot, height] = tipOver(one, other, across);
  return (Math.atan2(height, foot) * 180) / Math.PI;
}
