import { SEAM_SNAP_MM } from '../repeat/cell.js';
import { POINT_MM } from './options.js';
import type { Run, RunEnd } from './runs.js';
import { type Seam, wrap } from './seam.js';

/**
 * What closes within this beyond the seam, mm, only touches it. Two outlines followed straight on meet at up to four times the depth at which
 * an arc between them turns round (twice where they are the arc's both ends, more where another outline cuts it short), and an arc less
 * deep than the snap is not seen beyond the seam at all.
 */
const CLOSES_MM = 4 * SEAM_SNAP_MM;

/**
 * Ends of mere touches among those that nothing near meets: of stretches of an opening, or of the paper between two openings, that are points or
 * close as soon as they are past the seam. Beyond it nothing is left of them to meet. `runs` are those of one side, `unmet` ends among theirs.
 */
export function touchesAmong(unmet: readonly RunEnd[], runs: readonly Run[], seam: Seam): ReadonlySet<RunEnd> {
  const open = new Set(unmet);
  const touches = new Set<RunEnd>();
  const pass = (from: RunEnd | null, to: RunEnd | null, widthMm: number): void => {
    if (from === null || to === null || !open.has(from) || !open.has(to)) return;
    if (widthMm < POINT_MM || closes(from, to, widthMm, seam)) touches.add(from).add(to);
  };
  for (const run of runs) pass(run.from, run.to, run.widthMm);
  const ascending = [...runs].sort((p, q) => placeOf(p) - placeOf(q));
  ascending.forEach((run, k) => {
    const last = k === ascending.length - 1;
    if (last && !seam.circular) return;
    const next = ascending[last ? 0 : k + 1];
    if (run.to === null || next.from === null) return;
    // Ends refined on their curves may have changed places where nearly nothing lies between them.
    const apart = next.from.atMm - run.to.atMm;
    pass(run.to, next.from, last ? wrap(apart + POINT_MM, seam.lengthMm) - POINT_MM : apart);
  });
  return touches;
}

function placeOf(run: Run): number {
  return run.from?.atMm ?? 0;
}

/** Whether the two outlines, `from` before `to` along the seam, run together within `CLOSES_MM` beyond it. */
function closes(from: RunEnd, to: RunEnd, widthMm: number, { name, along }: Seam): boolean {
  const slope = ({ tangent }: RunEnd) => tangent.x * along.x + tangent.y * along.y;
  const out = ({ tangent }: RunEnd) => Math.abs(name === 'right' ? tangent.x : tangent.y);
  if (slope(from) <= 0 && slope(to) >= 0) return false;
  const nearing = slope(from) * out(to) - slope(to) * out(from);
  const both = out(from) * out(to);
  return both === 0 ? nearing >= 0 : nearing > 0 && (widthMm * both) / nearing <= CLOSES_MM;
}
