import type { Point } from '@okuri/core';

/**
 * Where the handles of a tie's two ends are laid, px: beyond the ends along the tie, so that neither the hand nor the other handle covers what is moved. A tie of
 * no length lies level.
 */
export function handlePlaces(from: Point, to: Point, outPx: number): { readonly from: Point; readonly to: Point } {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const way = length === 0 ? { x: 1, y: 0 } : { x: dx / length, y: dy / length };
  return {
    from: { x: from.x - outPx * way.x, y: from.y - outPx * way.y },
    to: { x: to.x + outPx * way.x, y: to.y + outPx * way.y },
  };
}
