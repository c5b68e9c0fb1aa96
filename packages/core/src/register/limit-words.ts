import { formatMm } from '../units/format.js';
import type { SquareLimits } from './limits.js';

/** What must agree on a sheet in whatever state it is: `top and bottom within 0.5 mm, left and right within 0.5 mm, the two diagonals within 1 mm`. */
export function mustAgreeWords({ stopSidesMm, stopDiagonalsMm }: SquareLimits): string {
  const sides = shortened(stopSidesMm);
  return `top and bottom within ${sides}, left and right within ${sides}, the two diagonals within ${shortened(stopDiagonalsMm)}`;
}

/** When to stop, for a list: `opposite sides differ by more than 0.5 mm, or the diagonals by more than 1 mm`. */
export function stopWhenWords({ stopSidesMm, stopDiagonalsMm }: SquareLimits): string {
  return `opposite sides differ by more than ${shortened(stopSidesMm)}, or the diagonals by more than ${shortened(stopDiagonalsMm)}`;
}

/** What may differ, dry or soaked, and why that is no reason to stop; `isKnown`: how far the paper moves. */
export function mayDifferWords(isKnown: boolean): string {
  return isKnown
    ? 'Sizes a little off the plan, in either state, are no reason to stop: note them. No paper moves quite as its strip did, and the sheet stays square.'
    : 'Sizes may differ from the plan, width and height each by its own share: paper does that when it is soaked, and the sheet stays square. Note them.';
}

/** What finer readings are good for; null where a ruler tells all that matters. */
export function finerWords({ sidesMm, stopSidesMm, toleranceMm, prints }: SquareLimits): string | null {
  if (sidesMm >= stopSidesMm) return null;
  return `Over ${prints} prints stepped dot on dot, joins stay within ${formatMm(toleranceMm)} if opposite sides agree within ${shortened(sidesMm)}. No ruler is read so finely: begin afresh at every check mark.`;
}

/** A limit is never said longer than it is. */
function shortened(mm: number): string {
  return formatMm(Math.floor(mm * 100 + 1e-6) / 100);
}
