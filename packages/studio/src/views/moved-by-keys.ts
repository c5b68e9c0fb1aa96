import type { Point } from '@okuri/core';

/** How far an arrow key moves an end, mm; with Shift the long way. */
export const KEY_MM = 0.5;
export const LONG_KEY_MM = 5;

/** Where a place goes by an arrow key; null for any other key. */
export function movedByKey(
  { x, y }: Point,
  { key, shiftKey }: { readonly key: string; readonly shiftKey: boolean },
): Point | null {
  const by = shiftKey ? LONG_KEY_MM : KEY_MM;
  switch (key) {
    case 'ArrowLeft':
      return { x: x - by, y };
    case 'ArrowRight':
      return { x: x + by, y };
    case 'ArrowUp':
      return { x, y: y - by };
    case 'ArrowDown':
      return { x, y: y + by };
    default:
      return null;
  }
}
