import type { Point } from '@okuri/core';

/**
 * Where the handles of a tie's two ends are laid, px: on the ends themselves where these lie apart enough, else moved out along the tie until the two handles
 * stand `apartPx` apart, so that neither covers the other.
 */
export function handlePlaces(from: Point, to: Point, apartPx: number): { readonly from: Point; readonly to: Point } {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  const out = Math.max(0, (apartPx - length) / 2);
  const way = length === 0 ? { x: 1, y: 0 } : { x: dx / length, y: dy / length };
  return {
    from: { x: from.x - out * way.x, y: from.y - out * way.y },
    to: { x: to.x + out * way.x, y: to.y + out * way.y },
  };
}
