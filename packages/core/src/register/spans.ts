import { distance } from '../geometry/points.js';
import type { Corner, Holes, SixDistances, Span } from './types.js';

export const CORNERS: readonly Corner[] = ['upperLeft', 'upperRight', 'lowerRight', 'lowerLeft'];

export const SPANS: readonly Span[] = ['top', 'right', 'bottom', 'left', 'falling', 'rising'];

/** The two holes of each distance. */
export const ENDS: Readonly<Record<Span, readonly [Corner, Corner]>> = {
  top: ['upperLeft', 'upperRight'],
  right: ['upperRight', 'lowerRight'],
  bottom: ['lowerRight', 'lowerLeft'],
  left: ['lowerLeft', 'upperLeft'],
  falling: ['upperLeft', 'lowerRight'],
  rising: ['lowerLeft', 'upperRight'],
};

/** The distance between two different corner holes. */
export function spanBetween(one: Corner, other: Corner): Span {
  const found = SPANS.find((span) => ENDS[span].includes(one) && ENDS[span].includes(other));
  if (found === undefined || one === other) throw new RangeError(`got ${one} and ${other}, expected two corners`);
  return found;
}

/** The three distances of the triangle that leaves out one corner. */
export function triangleWithout(corner: Corner): readonly Span[] {
  return SPANS.filter((span) => !ENDS[span].includes(corner));
}

export function isDiagonal(span: Span): boolean {
  return span === 'falling' || span === 'rising';
}

/** Something for each of the six distances. */
export function forSpans<T>(make: (span: Span) => T): Record<Span, T> {
  return {
    top: make('top'),
    right: make('right'),
    bottom: make('bottom'),
    left: make('left'),
    falling: make('falling'),
    rising: make('rising'),
  };
}

/** Something for each of the four corners. */
export function forCorners<T>(make: (corner: Corner) => T): Record<Corner, T> {
  return {
    upperLeft: make('upperLeft'),
    upperRight: make('upperRight'),
    lowerRight: make('lowerRight'),
    lowerLeft: make('lowerLeft'),
  };
}

/** The six distances of four holes, mm. */
export function distancesOf(holes: Holes): SixDistances {
  return forSpans((span) => distance(holes[ENDS[span][0]], holes[ENDS[span][1]]));
}

/** The six distances of a rectangle, mm. */
export function rectangleDistances(widthMm: number, heightMm: number): SixDistances {
  const diagonal = Math.hypot(widthMm, heightMm);
  return { top: widthMm, right: heightMm, bottom: widthMm, left: heightMm, falling: diagonal, rising: diagonal };
}

/** The corners before, opposite and after a corner, clockwise. */
export function around(corner: Corner): { before: Corner; after: Corner; opposite: Corner } {
  const k = CORNERS.indexOf(corner);
  return { before: CORNERS[(k + 3) % 4], after: CORNERS[(k + 1) % 4], opposite: CORNERS[(k + 2) % 4] };
}
