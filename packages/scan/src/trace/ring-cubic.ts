/** A cubic between two places, and how far it lies from the samples between them. px and radians. */
export interface CubicFit {
  /** Lengths of the first and of the second handle. */
  readonly a: number;
  readonly b: number;
  /** Ways of travel at its ends: as given, or turned where an end is free. */
  readonly angle0: number;
  readonly angle1: number;
  readonly worst: number;
  readonly rms: number;
}

/** An end of a cubic: its place and the way of travel there. */
export interface CubicEnd {
  readonly x: number;
  readonly y: number;
  readonly angle: number;
  /** At a corner, standard deviations of its place (px) and of the way of travel: the samples may move it. */
  readonly free?: { readonly spread: number; readonly slope: number };
}

/** Samples looked at on one cubic: it has few free numbers only. */
const LOOKS = 14;
const ROUNDS = 5;
/** Handles that change by less than this share of the length are settled. */
const SETTLED = 2e-3;
/** Handles stay within these shares of the samples' length, so that no cubic turns into a loop or is pinched at an end. */
const LEAST_HANDLE = 0.14;
const MOST_HANDLE = 0.7;
/** A handle of twice its length is as bad as samples that lie off by this, px: tells only where the samples say nothing (on straight runs). */
const PULL_PX = 0.02;
/** Unknowns of one cubic: two handles, and at either end a turn and a shift across. */
const MOST = 6;
/** Standard deviation of samples against which the freedom of ends is weighed, px. */
const SAMPLE_PX = 0.05;

/**
 * The cubic nearest to the samples between two ends: least squares of the distances along the normals, by Gauss and Newton, the feet of the
 * samples moved in every round (after P. Schneider, An algorithm for automatically fitting digitized curves, Graphics Gems, 1990, whose
 * rounds move the feet alone). `from` and `to` are the indices of the ends, which at corners lie beyond the samples. A cubic that is `hopelessPx` off is given up early.
 *
 * Kept whole: it runs for every piece and every guess, and its sums share their values.
 */
export function fitCubic(
  p: CubicEnd,
  q: CubicEnd,
  x: Float64Array,
  y: Float64Array,
  { from, to, length, hopelessPx = Infinity }: { from: number; to: number; length: number; hopelessPx?: number },
): CubicFit {
  const low = Math.max(from, -1);
  const inner = Math.max(0, Math.min(to, x.length) - low - 1);
  const looks = Math.min(LOOKS, inner);
  const third = length / 3;
  const held = looks * (PULL_PX / third) ** 2;
  let [a, b, angle0, angle1, shift0, shift1] = [third, third, p.angle, q.angle, 0, 0];
  for (let k = 0; k < looks; k++) {
    const i = low + Math.round(((k + 1) * (inner + 1)) / (looks + 1));
    lookX[k] = x[i];
    lookY[k] = y[i];
    foot[k] = (i - from) / (to - from);
  }
  // Free ends come after the handles: turn, then shift.
  const free0 = p.free ? 2 : -1;
  const free1 = q.free ? (p.free ? 4 : 2) : -1;
  const n = 2 + (p.free ? 2 : 0) + (q.free ? 2 : 0);
  let worst = 0;
  let sum = 0;
  let settled = false;
  for (let round = 0; looks > 0; round++) {
    // The feet are good from the second round on: a cubic far off then stays far off.
    const last = settled || round === ROUNDS || (round > 2 && worst > hopelessPx);
    const ux0 = Math.cos(angle0);
    const uy0 = Math.sin(angle0);
    const ux1 = Math.cos(angle1);
    const uy1 = Math.sin(angle1);
    // Ends shift across the given way of travel.
    const x0 = p.x - shift0 * Math.sin(p.angle);
    const y0 = p.y + shift0 * Math.cos(p.angle);
    const ex = q.x - shift1 * Math.sin(q.angle) - x0;
    const ey = q.y + shift1 * Math.cos(q.angle) - y0;
    const cx = 3 * a * ux0;
    const cy = 3 * a * uy0;
    const hx = 3 * b * ux1;
    const hy = 3 * b * uy1;
    // Power form around the first end: c t + p t² + q t³.
    const px = 3 * ex - 2 * cx - hx;
    const py = 3 * ey - 2 * cy - hy;
    const qx = cx + hx - 2 * ex;
    const qy = cy + hy - 2 * ey;
    matrix.fill(0);
    right.fill(0);
    pull(0, third - a, held);
    pull(1, third - b, held);
    if (p.free) pullFree(free0, p.angle - angle0, -shift0, p.free);
    if (q.free) pullFree(free1, q.angle - angle1, -shift1, q.free);
    worst = 0;
    sum = 0;
    // Sums of the two handles, which most cubics have alone: kept out of the arrays, where they take a third of the time.
    let [aa, ab, bb, ar, br] = [0, 0, 0, 0, 0];
    for (let k = 0; k < looks; k++) {
      const wx = lookX[k] - x0;
      const wy = lookY[k] - y0;
      let t = foot[k];
      let dx = cx + t * (2 * px + 3 * t * qx);
      let dy = cy + t * (2 * py + 3 * t * qy);
      let rx = wx - t * (cx + t * (px + t * qx));
      let ry = wy - t * (cy + t * (py + t * qy));
      const speed = dx * dx + dy * dy - (rx * (2 * px + 6 * t * qx) + ry * (2 * py + 6 * t * qy));
      if (speed > 0) {
        t = Math.max(0, Math.min(1, t + Math.max(-0.2, Math.min(0.2, (rx * dx + ry * dy) / speed))));
        foot[k] = t;
        dx = cx + t * (2 * px + 3 * t * qx);
        dy = cy + t * (2 * py + 3 * t * qy);
        rx = wx - t * (cx + t * (px + t * qx));
        ry = wy - t * (cy + t * (py + t * qy));
      }
      const len = Math.sqrt(dx * dx + dy * dy) || 1;
      const nx = -dy / len;
      const ny = dx / len;
      const r = nx * rx + ny * ry;
      const far = last ? Math.sqrt(rx * rx + ry * ry) : Math.abs(r);
      if (far > worst) worst = far;
      sum += far * far;
      const u = 1 - t;
      const b1 = 3 * u * u * t;
      const b2 = 3 * u * t * t;
      const rowA = b1 * (nx * ux0 + ny * uy0);
      const rowB = -b2 * (nx * ux1 + ny * uy1);
      if (n === 2) {
        aa += rowA * rowA;
        ab += rowA * rowB;
        bb += rowB * rowB;
        ar += rowA * r;
        br += rowB * r;
        continue;
      }
      row[0] = rowA;
      row[1] = rowB;
      if (p.free) {
        row[free0] = b1 * a * (ny * ux0 - nx * uy0);
        row[free0 + 1] = (u * u * u + b1) * (ny * ux0 - nx * uy0);
      }
      if (q.free) {
        row[free1] = -b2 * b * (ny * ux1 - nx * uy1);
        row[free1 + 1] = (t * t * t + b2) * (ny * ux1 - nx * uy1);
      }
      for (let i = 0; i < n; i++) {
        right[i] += row[i] * r;
        for (let j = 0; j <= i; j++) matrix[i * MOST + j] += row[i] * row[j];
      }
    }
    if (n === 2) {
      matrix[0] += aa;
      matrix[MOST] += ab;
      matrix[MOST + 1] += bb;
      right[0] += ar;
      right[1] += br;
    }
    if (last || !solve(n)) break;
    const [nextA, nextB] = [within(a + right[0], length), within(b + right[1], length)];
    settled = round > 0 && Math.abs(nextA - a) + Math.abs(nextB - b) < SETTLED * length;
    a = nextA;
    b = nextB;
    if (p.free) {
      angle0 += right[free0];
      shift0 += right[free0 + 1];
    }
    if (q.free) {
      angle1 += right[free1];
      shift1 += right[free1 + 1];
    }
  }
  return { a, b, angle0, angle1, worst, rms: looks > 0 ? Math.sqrt(sum / looks) : 0 };
}

/** Samples and steps with which a finished cubic is judged. */
const JUDGED = 40;
const STEPS = 4;

/** Parts of a cubic between which its length is taken as even. */
const PARTS = 16;
const lengths = new Float64Array(PARTS + 1);

/**
 * The parameters at given shares of a cubic's length, which must rise, written over them: from where the nearest places to even samples are found in a few steps, however uneven the handles.
 */
export function parametersAlong(
  p: CubicEnd,
  q: CubicEnd,
  { a, b }: { readonly a: number; readonly b: number },
  shares: Float64Array,
): void {
  const [cx, cy] = [3 * a * Math.cos(p.angle), 3 * a * Math.sin(p.angle)];
  const [hx, hy] = [3 * b * Math.cos(q.angle), 3 * b * Math.sin(q.angle)];
  const [ex, ey] = [q.x - p.x, q.y - p.y];
  const [px, py] = [3 * ex - 2 * cx - hx, 3 * ey - 2 * cy - hy];
  const [qx, qy] = [cx + hx - 2 * ex, cy + hy - 2 * ey];
  let [lastX, lastY] = [0, 0];
  for (let k = 1; k <= PARTS; k++) {
    const t = k / PARTS;
    const x = t * (cx + t * (px + t * qx));
    const y = t * (cy + t * (py + t * qy));
    lengths[k] = lengths[k - 1] + Math.hypot(x - lastX, y - lastY);
    [lastX, lastY] = [x, y];
  }
  const total = lengths[PARTS] || 1;
  let k = 0;
  for (let i = 0; i < shares.length; i++) {
    const want = Math.max(0, Math.min(1, shares[i])) * total;
    while (k < PARTS - 1 && lengths[k + 1] < want) k++;
    const part = lengths[k + 1] - lengths[k];
    shares[i] = (k + (part > 0 ? (want - lengths[k]) / part : 0)) / PARTS;
  }
}

/** How far a cubic lies from the samples between its ends. */
export function cubicMisfit(
  p: CubicEnd,
  q: CubicEnd,
  handles: { readonly a: number; readonly b: number },
  x: Float64Array,
  y: Float64Array,
  { from, to }: { from: number; to: number },
): { worst: number; rms: number } {
  const cx = 3 * handles.a * Math.cos(p.angle);
  const cy = 3 * handles.a * Math.sin(p.angle);
  const hx = 3 * handles.b * Math.cos(q.angle);
  const hy = 3 * handles.b * Math.sin(q.angle);
  const ex = q.x - p.x;
  const ey = q.y - p.y;
  const px = 3 * ex - 2 * cx - hx;
  const py = 3 * ey - 2 * cy - hy;
  const qx = cx + hx - 2 * ex;
  const qy = cy + hy - 2 * ey;
  const looks = Math.min(JUDGED, x.length);
  const sample = (k: number) => (looks > 1 ? Math.round((k * (x.length - 1)) / (looks - 1)) : 0);
  const start = Float64Array.from({ length: looks }, (_, k) => (sample(k) - from) / (to - from));
  parametersAlong(p, q, handles, start);
  let worst = 0;
  let sum = 0;
  for (let k = 0; k < looks; k++) {
    const i = sample(k);
    let t = start[k];
    let far = Infinity;
    for (let step = 0; step <= STEPS; step++) {
      const dx = cx + t * (2 * px + 3 * t * qx);
      const dy = cy + t * (2 * py + 3 * t * qy);
      const rx = x[i] - p.x - t * (cx + t * (px + t * qx));
      const ry = y[i] - p.y - t * (cy + t * (py + t * qy));
      far = Math.min(far, Math.sqrt(rx * rx + ry * ry));
      const speed = dx * dx + dy * dy - (rx * (2 * px + 6 * t * qx) + ry * (2 * py + 6 * t * qy));
      if (!(speed > 0)) break;
      t = Math.max(0, Math.min(1, t + (rx * dx + ry * dy) / speed));
    }
    if (far > worst) worst = far;
    sum += far * far;
  }
  return { worst, rms: looks > 0 ? Math.sqrt(sum / looks) : 0 };
}

const lookX = new Float64Array(LOOKS);
const lookY = new Float64Array(LOOKS);
const foot = new Float64Array(LOOKS);
const matrix = new Float64Array(MOST * MOST);
const right = new Float64Array(MOST);
const row = new Float64Array(MOST);

function pull(i: number, way: number, weight: number): void {
  matrix[i * MOST + i] += weight;
  right[i] += weight * way;
}

function pullFree(i: number, turn: number, shift: number, { spread, slope }: { spread: number; slope: number }): void {
  pull(i, turn, (SAMPLE_PX / slope) ** 2);
  pull(i + 1, shift, (SAMPLE_PX / spread) ** 2);
}

/** Solves the normal equations in place by Cholesky's factors; false where they are singular. */
function solve(n: number): boolean {
  for (let i = 0; i < n; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i * MOST + j];
      for (let k = 0; k < j; k++) sum -= matrix[i * MOST + k] * matrix[j * MOST + k];
      if (i > j) matrix[i * MOST + j] = sum / matrix[j * MOST + j];
      else if (sum > 0) matrix[i * MOST + i] = Math.sqrt(sum);
      else return false;
    }
  }
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) right[i] -= matrix[i * MOST + k] * right[k];
    right[i] /= matrix[i * MOST + i];
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) right[i] -= matrix[k * MOST + i] * right[k];
    right[i] /= matrix[i * MOST + i];
  }
  return true;
}

function within(handle: number, length: number): number {
  return Math.max(LEAST_HANDLE * length, Math.min(MOST_HANDLE * length, handle));
}
