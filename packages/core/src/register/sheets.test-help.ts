import { squareFindings } from '../findings/squaring.js';
import { checkSquare } from './check-square.js';
import { SPANS } from './spans.js';
import type { Holes, Measured, SixDistances } from './types.js';

/** One reading of each distance. */
export function measure(
  top: number,
  right: number,
  bottom: number,
  left: number,
  falling: number,
  rising: number,
): Measured {
  return { top: [top], right: [right], bottom: [bottom], left: [left], falling: [falling], rising: [rising] };
}

/** One exact reading of each distance. */
export function asMeasured(distances: SixDistances): Measured {
  return Object.fromEntries(SPANS.map((span) => [span, [distances[span]]]));
}

/** Holes by their places, clockwise from the upper left. */
export function holesAt(...points: readonly (readonly [number, number])[]): Holes {
  const [upperLeft, upperRight, lowerRight, lowerLeft] = points.map(([x, y]) => ({ x, y }));
  return { upperLeft, upperRight, lowerRight, lowerLeft };
}

/** The codes of all findings. */
export function codes(...args: Parameters<typeof checkSquare>): string[] {
  return squareFindings(checkSquare(...args)).map(({ code }) => code);
}
