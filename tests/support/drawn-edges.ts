import type { Box, Contour, Point } from '@okuri/core';
import { contourArea } from '@okuri/core/inside';
import { Resvg } from '@resvg/resvg-js';
import type { PaperDrawing } from './paper-scan.js';

/** The drawing is rendered this fine by resvg. */
const PX_PER_MM = 20;
/** Places on a traced outline lie this far apart, mm; an edge is looked for this far to both sides, in these steps. */
const APART_MM = 0.2;
const REACH_MM = 0.6;
const STEP_MM = 0.01;
/** Nearer to the sheet's edge nothing is measured, mm. */
const RIM_MM = 1;

/** How far traced outlines lie from the edges of what was drawn, mm. */
export interface EdgeErrors {
  /** Middle one with its sign: above zero outside of the ink. */
  readonly medianMm: number;
  /** Without its sign: of 95 and 99 in 100 places, and the largest. */
  readonly p95Mm: number;
  readonly p99Mm: number;
  readonly maxMm: number;
  /** Share of places that have no true edge within 0.6 mm. */
  readonly falseShare: number;
}

export function edgeErrors(
  traced: readonly Contour[],
  drawing: PaperDrawing,
  toSheet: (p: Point) => Point,
): EdgeErrors {
  const inkAt = inkOf(drawing);
  const offsets: number[] = [];
  let lost = 0;
  for (const { at, out } of placesOn(traced)) {
    const p = toSheet(at);
    const q = toSheet({ x: at.x + STEP_MM * out.x, y: at.y + STEP_MM * out.y });
    if (!(p.x > RIM_MM && p.y > RIM_MM && p.x < drawing.widthMm - RIM_MM && p.y < drawing.heightMm - RIM_MM)) continue;
    const [nx, ny] = [(q.x - p.x) / STEP_MM, (q.y - p.y) / STEP_MM];
    const inked = inkAt(p.x, p.y) >= 0.5;
    let offset = Number.NaN;
    for (let r = 0; r <= REACH_MM && Number.isNaN(offset); r += STEP_MM) {
      if (inkAt(p.x + r * nx, p.y + r * ny) >= 0.5 !== inked) offset = -r;
      else if (inkAt(p.x - r * nx, p.y - r * ny) >= 0.5 !== inked) offset = r;
    }
    if (Number.isNaN(offset)) lost++;
    else offsets.push(offset);
  }
  const signed = [...offsets].sort((a, b) => a - b);
  const sizes = offsets.map(Math.abs).sort((a, b) => a - b);
  const of = (sorted: number[], share: number): number =>
    sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))];
  return {
    medianMm: of(signed, 0.5),
    p95Mm: of(sizes, 0.95),
    p99Mm: of(sizes, 0.99),
    maxMm: of(sizes, 1),
    falseShare: lost / (lost + offsets.length),
  };
}

export function areaOf(contours: readonly Contour[]): number {
  return contours.reduce((sum, contour) => sum + contourArea(contour), 0);
}

/** Places on outlines with unit vectors that lead out of the dark (to the left of travel, y down). */
function* placesOn(contours: readonly Contour[]): Generator<{ at: Point; out: Point }> {
  for (const { coords: q } of contours) {
    for (let o = 0; o + 7 < q.length; o += 6) {
      const n = Math.max(1, Math.ceil(Math.hypot(q[o + 6] - q[o], q[o + 7] - q[o + 1]) / APART_MM));
      for (let k = 0; k < n; k++) {
        const t = (k + 0.5) / n;
        const u = 1 - t;
        const at = (c: number) =>
          u ** 3 * q[o + c] + 3 * u * u * t * q[o + 2 + c] + 3 * u * t * t * q[o + 4 + c] + t ** 3 * q[o + 6 + c];
        const way = (c: number) =>
          u * u * (q[o + 2 + c] - q[o + c]) +
          2 * u * t * (q[o + 4 + c] - q[o + 2 + c]) +
          t * t * (q[o + 6 + c] - q[o + 4 + c]);
        const length = Math.hypot(way(0), way(1));
        if (length > 0) yield { at: { x: at(0), y: at(1) }, out: { x: way(1) / length, y: -way(0) / length } };
      }
    }
  }
}

/** A drawing as resvg renders it, 0 … 255 of ink. */
function rendered({ widthMm, heightMm, ink }: PaperDrawing) {
  const [width, height] = [Math.round(widthMm * PX_PER_MM), Math.round(heightMm * PX_PER_MM)];
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="0 0 ${widthMm} ${heightMm}" preserveAspectRatio="none"><rect width="100%" height="100%" fill="#fff"/>${ink}</svg>`;
  const { pixels } = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  const values = new Uint8Array(width * height);
  for (let k = 0; k < values.length; k++) values[k] = 255 - pixels[4 * k];
  return { width, height, values };
}

/** Share of ink at a place of the sheet, mm. */
function inkOf(drawing: PaperDrawing): (x: number, y: number) => number {
  const { width, height, values } = rendered(drawing);
  return (mmX, mmY) => {
    const [x, y] = [(mmX / drawing.widthMm) * width - 0.5, (mmY / drawing.heightMm) * height - 0.5];
    const [i, j] = [Math.floor(x), Math.floor(y)];
    if (i < 0 || j < 0 || i + 1 >= width || j + 1 >= height) return 0;
    const [u, v] = [x - i, y - j];
    const k = j * width + i;
    const above = values[k] + u * (values[k + 1] - values[k]);
    const below = values[k + width] + u * (values[k + width + 1] - values[k + width]);
    return (above + v * (below - above)) / 255;
  };
}

/** Inked area of a part of the sheet, mm², from resvg's pixels. */
export function inkArea(drawing: PaperDrawing, { x0, y0, x1, y1 }: Box): number {
  const { width, values } = rendered(drawing);
  let sum = 0;
  for (let y = Math.round(y0 * PX_PER_MM); y < Math.round(y1 * PX_PER_MM); y++) {
    for (let x = Math.round(x0 * PX_PER_MM); x < Math.round(x1 * PX_PER_MM); x++) sum += values[y * width + x];
  }
  return sum / 255 / PX_PER_MM ** 2;
}

/** How many pieces of ink, and of paper, resvg's pixels hang together in by their sides; bits of under `leastMm2` are not counted. */
export function partsOf(drawing: PaperDrawing, leastMm2: number): { readonly ink: number; readonly paper: number } {
  const { width, height, values } = rendered(drawing);
  const seen = new Uint8Array(values.length);
  const counts = { ink: 0, paper: 0 };
  for (let first = 0; first < values.length; first++) {
    if (seen[first] === 1) continue;
    const inked = values[first] >= 128;
    const open = [first];
    seen[first] = 1;
    let size = 0;
    for (let k = open.pop(); k !== undefined; k = open.pop()) {
      size++;
      const x = k % width;
      for (const next of [x > 0 ? k - 1 : -1, x < width - 1 ? k + 1 : -1, k - width, k + width]) {
        if (next < 0 || next >= width * height || seen[next] === 1 || values[next] >= 128 !== inked) continue;
        seen[next] = 1;
        open.push(next);
      }
    }
    if (size >= leastMm2 * PX_PER_MM ** 2) counts[inked ? 'ink' : 'paper']++;
  }
  return counts;
}
