import type { GreyImage, Point } from '@okuri/core';

/**
 * How much of every pixel lies in a polygon, 0 … 255, row by row. Exact areas, by what each side adds to the pixels to its right (the signed-area coverage that font
 * rasterisers use; the method is described by R. Levien, Inside the fastest font renderer in the world, 2016). The polygon, px, turns either way and doesn't cross itself.
 */
export function polygonCoverage(polygon: readonly Point[], width: number, height: number): Uint8Array {
  const out = new Uint8Array(width * height);
  const row = new Float64Array(width + 2);
  for (let y = 0; y < height; y++) {
    row.fill(0);
    polygon.forEach((a, k) => {
      addSide(row, a, polygon[(k + 1) % polygon.length], y, width);
    });
    let sum = 0;
    for (let x = 0, k = y * width; x < width; x++, k++) {
      sum += row[x];
      out[k] = Math.round(255 * Math.min(1, Math.abs(sum)));
    }
  }
  return out;
}

/** Adds the share of a side that lies in row `y`. */
function addSide(row: Float64Array, a: Point, b: Point, y: number, width: number): void {
  const sign = a.y < b.y ? 1 : -1;
  const [p, q] = sign === 1 ? [a, b] : [b, a];
  const y0 = Math.max(p.y, y);
  const y1 = Math.min(q.y, y + 1);
  if (!(y1 > y0)) return;
  const slope = (q.x - p.x) / (q.y - p.y);
  const clamp = (x: number): number => Math.min(width, Math.max(0, x));
  const [u, v] = [p.x + (y0 - p.y) * slope, p.x + (y1 - p.y) * slope].sort((m, n) => m - n);
  // Parts of the side beyond the left edge count in full there, those beyond the right one nowhere.
  const total = sign * (y1 - y0);
  const parts = v > u ? [clamp(u), clamp(v)] : [clamp(u), clamp(u)];
  const per = v > u ? total / (v - u) : 0;
  const before = v > u ? per * Math.max(0, Math.min(v, 0) - u) : 0;
  row[0] += before;
  if (v === u) {
    addAt(row, parts[0], total);
    return;
  }
  for (let x = parts[0]; x < parts[1]; ) {
    const next = Math.min(parts[1], Math.floor(x) + 1);
    addAt(row, (x + next) / 2, per * (next - x));
    x = next;
  }
}

/** Height that begins, in the mean, at `x` fills that share of its pixel and the whole of those to the right. */
function addAt(row: Float64Array, x: number, height: number): void {
  const pixel = Math.floor(x);
  row[pixel] += height * (pixel + 1 - x);
  row[pixel + 1] += height * (x - pixel);
}

/** The picture with all that lies outside of the coverage turned into paper, by shares where the border runs. `paper`: 0 … 1. */
export function outsideAsPaper(image: GreyImage, coverage: Uint8Array, paper: number): GreyImage {
  const { width, height, white } = image;
  const middle = paper * white;
  const values = image.values.slice();
  for (let k = 0; k < values.length; k++) {
    const share = coverage[k];
    if (share !== 255) values[k] = Math.round(middle + (share / 255) * (values[k] - middle));
  }
  return { width, height, values, white };
}
