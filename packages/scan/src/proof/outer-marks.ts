import type { FoundDot } from '../types.js';

/** Directions in which marks are counted: every 7.5°. */
const DIRECTIONS = 48;

/**
 * The marks that lie farthest out, at most so many: those beyond which, in some direction, the fewest others lie (halfspace depth, Tukey 1975). The dots of a sheet
 * stand round its print, so that they are among them, however the sheet is turned; round berries and specks within the print are not.
 */
export function outerMarks(found: readonly FoundDot[], most: number): readonly FoundDot[] {
  if (found.length <= most) return found;
  const depth = new Float64Array(found.length).fill(Infinity);
  for (let d = 0; d < DIRECTIONS; d++) {
    const angle = (2 * Math.PI * d) / DIRECTIONS;
    const [ux, uy] = [Math.cos(angle), Math.sin(angle)];
    const along = found.map(({ at }) => at.x * ux + at.y * uy);
    const order = [...found.keys()].sort((a, b) => along[b] - along[a]);
    order.forEach((k, place) => {
      depth[k] = Math.min(depth[k], place);
    });
  }
  return [...found.keys()]
    .sort((a, b) => depth[a] - depth[b] || found[b].roundness - found[a].roundness)
    .slice(0, most)
    .map((k) => found[k]);
}
