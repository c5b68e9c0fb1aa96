import type { Point } from '../geometry/types.js';
import type { Lattice } from '../repeat/types.js';
import type { LaidDot } from './laid-sheet.js';
import type { LaidPlacement } from './placements.js';
import type { CheckMark, GroundLine } from './plan-types.js';

/**
 * The line along the left dots of the column at the origin, and where the dot at the upper left of every `every`-th placement of each line of the repeat
 * belongs, measured from one zero: that dot of the placement at the origin. null where there is no placement.
 */
export function groundLine(
  placements: readonly LaidPlacement[],
  lattice: Lattice,
  { origin, every, dot }: { origin: Point; every: number; dot: LaidDot },
): GroundLine | null {
  if (placements.length === 0) return null;
  const brick = lattice.repeat.kind === 'brick';
  const zero = { x: origin.x + dot.at.x, y: origin.y + dot.at.y };
  let [from, to] = [Infinity, -Infinity];
  const marks: CheckMark[] = [];
  for (const { id, column, row, step, field } of placements) {
    if (brick || step.i === 0) {
      from = Math.min(from, field.y0);
      to = Math.max(to, field.y1);
    }
    // A brick is marked in every fifth row; other repeats at every fifth placement of a column.
    if ((row - 1) % every !== 0 || (brick && column !== 1)) continue;
    const at = { x: field.x0 + dot.at.x, y: field.y0 + dot.at.y };
    marks.push({ id, at, acrossMm: at.x - zero.x, alongMm: at.y - zero.y });
  }
  return { xMm: zero.x, fromMm: from, toMm: to, zero, dot: dot.name, every, marks };
}
