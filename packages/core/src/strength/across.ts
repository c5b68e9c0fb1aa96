import type { Samples } from './samples.js';
import { sampleAfter, sampleBefore } from './samples.js';
import { gridSegments, type SegmentGrid } from './segment-grid.js';

/**
 * Unless said otherwise a bank is looked for within this angle of the normal only: cosine of 45°. So neighbours on the same smooth bank are
 * never taken for the other one (they lie at right angles to the normal), and tips blunter than 90° have no banks.
 */
const LEAST_COSINE = Math.SQRT1_2;
/**
 * A contact nearer to the tangent than to the normal (cosine of 60°) is on the same bank, bent: there the chords between samples would make
 * discs up to a tenth too small, so the samples alone are looked at.
 */
const SIDEWAYS = 0.5;
/**
 * Directions within one sample's fan (at most 12°) lie within 6° of its middle, so that the disc's centre is off by at most this part of the
 * radius.
 */
const FAN_SLIP = 0.11;
/** A contact nearer than this is the sample's own place, or another outline that touches it there, mm. */
const OWN_MM = 1e-9;

/** For every sample the bank across the material. */
export interface Across {
  /** Diameter of the largest disc that touches the sample's bank there and lies in the material, mm; infinite where it is wider than was looked for. */
  readonly width: Float64Array;
  /** The sample nearest to where the disc touches another place; -1 for none. */
  readonly mate: Int32Array;
  /** Cosine between the normal and the way to where it touches: 1 for parallel banks, near 0 where the bank itself bends. */
  readonly facing: Float64Array;
  /** Centre of the disc. */
  readonly cx: Float64Array;
  readonly cy: Float64Array;
}

export interface AcrossOptions {
  /** Largest diameter looked for. */
  readonly reachMm: number;
  /** Contacts at a smaller cosine to the normal are passed over. 0 sees them all, bends and corners of the same bank too. */
  readonly leastCosine?: number;
}

/**
 * The largest disc in the material that touches the outline at each sample, up to the diameter `reachMm`: the strip's width there, seen along its
 * middle line (H. Blum's medial axis, 1967; the disc is found by the closest contact along the normal as in J. Ma et al., The Visual Computer 28, 2012).
 * The banks are taken as chords between samples: widths are wrong by no more than the chords' rise, `spacing² / (8 radius)`; `closestSpan`
 * gives them exactly. Samples without a normal have no width. Cost: samples times what lies within their discs.
 */
export function localWidth(samples: Samples, { reachMm, leastCosine = LEAST_COSINE }: AcrossOptions): Across {
  const { count, nx, ny } = samples;
  const width = new Float64Array(count).fill(Infinity);
  const mate = new Int32Array(count).fill(-1);
  const facing = new Float64Array(count);
  const cx = new Float64Array(count);
  const cy = new Float64Array(count);
  const contact = lookFrom(samples, gridSegments(samples, { reachMm }), leastCosine);
  for (let i = 0; i < count; i++) {
    if (nx[i] === 0 && ny[i] === 0) continue;
    if (!contact.look(i, reachMm)) continue;
    const { size, segment, share, along, dirX, dirY } = contact.found;
    width[i] = size;
    facing[i] = along;
    cx[i] = samples.x[i] + (dirX * size) / 2;
    cy[i] = samples.y[i] + (dirY * size) / 2;
    mate[i] = nearestEnd(samples, segment, share, dirX, dirY);
  }
  return { width, mate, facing, cx, cy };
}

/** What was found last: one record that is written again and again, as millions of samples are looked at. */
interface Contact {
  size: number;
  segment: number;
  share: number;
  along: number;
  dirX: number;
  dirY: number;
}

/** Kept whole: it runs for every place of every outline, and its bounds shrink as it goes. */
function lookFrom(samples: Samples, grid: SegmentGrid, leastCosine: number) {
  const { x, y, nx, ny, mx, my, side } = samples;
  const { cell, columns, rows, x0, y0, first, items, longest, ex, ey } = grid;
  const found: Contact = { size: 0, segment: -1, share: 0, along: 0, dirX: 0, dirY: 0 };

  /** Tries the disc along the normal `ax, ay` against the place `vx, vy` seen from the sample. */
  function touch(q: number, share: number, vx: number, vy: number, ax: number, ay: number): void {
    const rise = vx * ax + vy * ay;
    if (rise <= 0) return;
    const d2 = vx * vx + vy * vy;
    const size = d2 / rise;
    if (size >= found.size) return;
    const d = Math.sqrt(d2);
    if (d < OWN_MM || rise < leastCosine * d) return;
    found.size = size;
    found.segment = q;
    found.share = share;
    found.along = rise / d;
    found.dirX = ax;
    found.dirY = ay;
  }

  /** The smallest disc along a normal that touches the segment `q`, whose start is seen at `vx, vy`. */
  function along(q: number, vx: number, vy: number, ax: number, ay: number): void {
    const sx = ex[q];
    const sy = ey[q];
    const vn = vx * ax + vy * ay;
    const sn = sx * ax + sy * ay;
    if (vn <= 0 && vn + sn <= 0) return;
    // Diameter |v|² / (v n) over v = start + share · segment: its derivative is a quadratic, of which one root has v n > 0.
    const ss = sx * sx + sy * sy;
    const vs = vx * sx + vy * sy;
    const a = ss * sn;
    const h = ss * vn;
    const c = 2 * vs * vn - (vx * vx + vy * vy) * sn;
    const root = Math.sqrt(Math.max(0, h * h - a * c));
    const raw = h > 0 ? -c / (root + h) : (root - h) / a;
    const share = raw > 0 ? Math.min(raw, 1) : 0;
    const wx = vx + share * sx;
    const wy = vy + share * sy;
    const rise = wx * ax + wy * ay;
    if (rise * rise >= SIDEWAYS * SIDEWAYS * (wx * wx + wy * wy)) {
      touch(q, share, wx, wy, ax, ay);
      return;
    }
    touch(q, 0, vx, vy, ax, ay);
    touch(q, 1, vx + sx, vy + sy, ax, ay);
  }

  function fan(i: number, q: number, vx: number, vy: number): void {
    const sx = ex[q];
    const sy = ey[q];
    const share = Math.min(1, Math.max(0, -(vx * sx + vy * sy) / (sx * sx + sy * sy)));
    const wx = vx + share * sx;
    const wy = vy + share * sy;
    const d = Math.hypot(wx, wy);
    const a = nx[i] * wy - ny[i] * wx;
    const b = wx * my[i] - wy * mx[i];
    const turn = nx[i] * my[i] - ny[i] * mx[i];
    if (d >= OWN_MM && (turn >= 0 ? a >= 0 && b >= 0 : a <= 0 && b <= 0)) touch(q, share, wx, wy, wx / d, wy / d);
    else {
      along(q, vx, vy, nx[i], ny[i]);
      along(q, vx, vy, mx[i], my[i]);
    }
  }

  /** Another chord comes to the sample's own place: if it is not the outline itself, and faces it, nothing is left between them. */
  function meet(i: number, q: number, share: number): void {
    const ax = nx[i] + mx[i];
    const ay = ny[i] + my[i];
    if (side * (ex[q] * ay - ey[q] * ax) >= 0 || ownPlace(samples, i, share === 0 ? q : sampleAfter(samples, q)))
      return;
    const d = Math.hypot(ax, ay) || 1;
    found.size = 0;
    found.segment = q;
    found.share = share;
    found.along = 1;
    found.dirX = ax / d;
    found.dirY = ay / d;
  }

  function tryChord(i: number, q: number, isFan: boolean): void {
    const vx = x[q] - x[i];
    const vy = y[q] - y[i];
    if (Math.abs(vx) < OWN_MM && Math.abs(vy) < OWN_MM) meet(i, q, 0);
    else if (Math.abs(vx + ex[q]) < OWN_MM && Math.abs(vy + ey[q]) < OWN_MM) meet(i, q, 1);
    // The other bank must face this one.
    if (side * (ex[q] * vy - ey[q] * vx) >= 0) return;
    if (isFan) fan(i, q, vx, vy);
    else along(q, vx, vy, nx[i], ny[i]);
  }

  /** Tries the chords of a cell, unless it lies off the disc found so far, whose centre lies in the direction `ax, ay`. */
  function tryCell(i: number, r: number, c: number, ax: number, ay: number, isFan: boolean): void {
    const bucket = r * columns + c;
    const end = first[bucket + 1];
    if (first[bucket] === end) return;
    const radius = found.size / 2;
    const dx = Math.abs(x[i] + ax * radius - (x0 + (c + 0.5) * cell));
    const dy = Math.abs(y[i] + ay * radius - (y0 + (r + 0.5) * cell));
    const free = radius + cell / 2 + longest / 2 + (isFan ? radius * FAN_SLIP : 0);
    if (dx > free || dy > free) return;
    for (let k = first[bucket]; k < end; k++) tryChord(i, items[k], isFan);
  }

  function look(i: number, reachMm: number): boolean {
    const warm = found.segment;
    found.size = reachMm;
    found.segment = -1;
    const px = x[i];
    const py = y[i];
    const isFan = nx[i] !== mx[i] || ny[i] !== my[i];
    const middle = Math.hypot(nx[i] + mx[i], ny[i] + my[i]) || 1;
    const ax = isFan ? (nx[i] + mx[i]) / middle : nx[i];
    const ay = isFan ? (ny[i] + my[i]) / middle : ny[i];
    // What the sample before has found is most often near to what this one will find.
    if (warm >= 0) {
      for (let q = Math.max(0, warm - 1); q <= Math.min(samples.count - 1, warm + 1); q++) tryChord(i, q, isFan);
    }
    if (found.segment < 0) {
      const column = Math.floor((px - x0) / cell);
      const row = Math.floor((py - y0) / cell);
      for (let r = Math.max(0, row - 1); r <= Math.min(rows - 1, row + 1); r++) {
        for (let c = Math.max(0, column - 1); c <= Math.min(columns - 1, column + 1); c++)
          tryCell(i, r, c, ax, ay, isFan);
      }
    }
    // All cells that the disc found so far reaches; as it shrinks, more and more of them are passed over.
    const radius = found.size / 2;
    const free = radius + longest / 2 + (isFan ? radius * FAN_SLIP : 0);
    const c0 = Math.max(0, Math.floor((px + ax * radius - free - x0) / cell));
    const c1 = Math.min(columns - 1, Math.floor((px + ax * radius + free - x0) / cell));
    const r0 = Math.max(0, Math.floor((py + ay * radius - free - y0) / cell));
    const r1 = Math.min(rows - 1, Math.floor((py + ay * radius + free - y0) / cell));
    for (let r = r0; r <= r1; r++) {
      for (let c = c0; c <= c1; c++) tryCell(i, r, c, ax, ay, isFan);
    }
    return found.segment >= 0;
  }
  return { found, look };
}

/** Whether two samples in one place are one corner of the outline. */
function ownPlace(samples: Samples, i: number, j: number): boolean {
  const { x, y, outline } = samples;
  if (outline[i] !== outline[j]) return false;
  for (const step of [sampleAfter, sampleBefore]) {
    let k = i;
    do {
      if (k === j) return true;
      k = step(samples, k);
    } while (k !== i && Math.abs(x[k] - x[i]) < OWN_MM && Math.abs(y[k] - y[i]) < OWN_MM);
  }
  return false;
}

/** The sample at the nearer end of a segment; of several in one corner the one whose fan looks back. */
function nearestEnd(samples: Samples, segment: number, share: number, dirX: number, dirY: number): number {
  const { x, y, nx, ny, mx, my } = samples;
  const end = share < 0.5 ? segment : sampleAfter(samples, segment);
  if (share > 0 && share < 1) return end;
  const first = samples.start[samples.outline[end]];
  const last = samples.start[samples.outline[end] + 1] - 1;
  let best = end;
  let most = -Infinity;
  let from = end;
  while (from > first && x[from - 1] === x[end] && y[from - 1] === y[end]) from--;
  for (let k = from; k <= last && x[k] === x[end] && y[k] === y[end]; k++) {
    const back = -(nx[k] + mx[k]) * dirX - (ny[k] + my[k]) * dirY;
    if (back > most) {
      most = back;
      best = k;
    }
  }
  return best;
}
