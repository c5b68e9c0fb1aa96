import type { Samples } from './samples.js';

/**
 * A bank is looked for within this angle of the normal: cosine of 45°. So neighbours on the same smooth bank are never taken for the other one
 * (they lie at right angles to the normal), however coarse or jagged the outline is, and tips blunter than 90° have no banks.
 */
const LEAST_COSINE = Math.SQRT1_2;

/** For every sample the bank across the material. */
export interface Across {
  /** Diameter of the largest disc that touches the sample's bank there and lies in the material, mm; infinite where it is wider than was looked for. */
  readonly width: Float64Array;
  /** The sample that the disc touches on the other bank; -1 for none. */
  readonly mate: Int32Array;
  /** Centre of the disc. */
  readonly cx: Float64Array;
  readonly cy: Float64Array;
}

/**
 * The largest disc in the material that touches the outline at each sample, up to the diameter `reachMm`: the strip's width there, seen along its
 * middle line (H. Blum's medial axis, 1967; the disc is found by the closest contact along the normal as in J. Ma et al., The Visual Computer 28, 2012).
 * Widths are too large by at most `spacing² / (2 width)`, as samples only are looked at; `closestSpan` gives them exactly.
 */
export function lookAcross(samples: Samples, { reachMm }: { reachMm: number }): Across {
  const { count, x, y, nx, ny, mx, my } = samples;
  const width = new Float64Array(count).fill(Infinity);
  const mate = new Int32Array(count).fill(-1);
  const cx = new Float64Array(count);
  const cy = new Float64Array(count);
  const table = hashSamples(samples, Math.max(reachMm / 2, 1e-3));
  for (let i = 0; i < count; i++) {
    if (nx[i] === 0 && ny[i] === 0) continue;
    const fan = nx[i] !== mx[i] || ny[i] !== my[i];
    const middle = Math.hypot(nx[i] + mx[i], ny[i] + my[i]) || 1;
    const half = reachMm / 2;
    // A fan's discs lie all around the corner; a smooth place has its one on the normal.
    const aheadX = fan ? x[i] : x[i] + ((nx[i] + mx[i]) / middle) * half;
    const aheadY = fan ? y[i] : y[i] + ((ny[i] + my[i]) / middle) * half;
    const reach = fan ? reachMm : half;
    let best = reachMm;
    table.visit(aheadX - reach, aheadY - reach, aheadX + reach, aheadY + reach, (q) => {
      const dx = x[q] - x[i];
      const dy = y[q] - y[i];
      const d2 = dx * dx + dy * dy;
      if (d2 === 0) return;
      const d = Math.sqrt(d2);
      const along = fan ? fanReach(samples, i, dx, dy, d) : dx * nx[i] + dy * ny[i];
      if (along < LEAST_COSINE * d) return;
      const size = d2 / along;
      // The other bank must face this one; a corner without a normal faces nothing.
      if (size >= best || !faces(samples, q, dx, dy)) return;
      best = size;
      mate[i] = q;
      width[i] = size;
      const grow = fan && along >= d - 1e-12 ? 0.5 : size / 2;
      [cx[i], cy[i]] = fan ? fanCentre(samples, i, dx, dy, along, d, size) : [x[i] + nx[i] * grow, y[i] + ny[i] * grow];
    });
  }
  return { width, mate, cx, cy };
}

/** Length of the way `dx, dy` along that normal of a corner's fan which lies nearest to it. */
function fanReach({ nx, ny, mx, my }: Samples, i: number, dx: number, dy: number, d: number): number {
  const a = nx[i] * dy - ny[i] * dx;
  const b = dx * my[i] - dy * mx[i];
  const turn = nx[i] * my[i] - ny[i] * mx[i];
  const inFan = turn >= 0 ? a >= 0 && b >= 0 : a <= 0 && b <= 0;
  if (inFan) return d;
  return Math.max(dx * nx[i] + dy * ny[i], dx * mx[i] + dy * my[i]);
}

function fanCentre(
  { x, y, nx, ny, mx, my }: Samples,
  i: number,
  dx: number,
  dy: number,
  along: number,
  d: number,
  size: number,
): [number, number] {
  if (along >= d) return [x[i] + dx / 2, y[i] + dy / 2];
  const first = dx * nx[i] + dy * ny[i] >= dx * mx[i] + dy * my[i];
  return [x[i] + ((first ? nx[i] : mx[i]) * size) / 2, y[i] + ((first ? ny[i] : my[i]) * size) / 2];
}

function faces({ nx, ny, mx, my }: Samples, q: number, dx: number, dy: number): boolean {
  return nx[q] * dx + ny[q] * dy < 0 || mx[q] * dx + my[q] * dy < 0;
}

/** Samples in square cells, so that those within a box are found at once. */
function hashSamples({ count, x, y }: Samples, cell: number) {
  const column = (v: number): number => Math.floor(v / cell);
  const cells = new Map<number, number[]>();
  // Rows of cells are told apart by more columns than any sheet has.
  const ROW = 4_194_304;
  for (let i = 0; i < count; i++) {
    const key = column(y[i]) * ROW + column(x[i]);
    const list = cells.get(key);
    if (list) list.push(i);
    else cells.set(key, [i]);
  }
  return {
    visit(x0: number, y0: number, x1: number, y1: number, see: (i: number) => void): void {
      for (let r = column(y0); r <= column(y1); r++) {
        for (let c = column(x0); c <= column(x1); c++) {
          for (const i of cells.get(r * ROW + c) ?? []) see(i);
        }
      }
    },
  };
}
