import type { GreyImage } from '@okuri/core';
import type { PictureScale } from '../types.js';

/** A picture of 8 bits from greys 0 (black) … 1 (white) at its pixels. */
export function pictureOf(width: number, height: number, grey: (x: number, y: number) => number): GreyImage {
  const values = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      values[y * width + x] = Math.round(255 * Math.min(1, Math.max(0, grey(x, y))));
    }
  }
  return { width, height, values, white: 255 };
}

/** The share of pixel (x, y) where `a · x + b · y < c`, exact: its square cut by the line. */
export function halfPlaneShare(x: number, y: number, line: { a: number; b: number; c: number }): number {
  const corners = [
    [x, y],
    [x + 1, y],
    [x + 1, y + 1],
    [x, y + 1],
  ];
  const side = ([px, py]: readonly number[]): number => line.c - line.a * px - line.b * py;
  const cut: number[][] = [];
  corners.forEach((p, k) => {
    const q = corners[(k + 1) % 4];
    const [s, t] = [side(p), side(q)];
    if (s > 0) cut.push(p);
    if (s > 0 !== t > 0) cut.push([p[0] + (s / (s - t)) * (q[0] - p[0]), p[1] + (s / (s - t)) * (q[1] - p[1])]);
  });
  let twice = 0;
  cut.forEach(([px, py], k) => {
    const [qx, qy] = cut[(k + 1) % cut.length];
    twice += px * qy - qx * py;
  });
  return twice / 2;
}

/** The share of pixel (x, y) inside a circle, by 16 × 16 samples. */
export function discShare(x: number, y: number, circle: { x: number; y: number; r: number }): number {
  const far = Math.hypot(x + 0.5 - circle.x, y + 0.5 - circle.y) - circle.r;
  if (Math.abs(far) > 0.75) return far < 0 ? 1 : 0;
  let inside = 0;
  for (let k = 0; k < 256; k++) {
    const [px, py] = [x + ((k & 15) + 0.5) / 16, y + ((k >> 4) + 0.5) / 16];
    if (Math.hypot(px - circle.x, py - circle.y) < circle.r) inside++;
  }
  return inside / 256;
}

/** Normal numbers (Box and Muller 1958) from a linear congruence (Numerical Recipes, 2nd ed., §7.1). */
export function normalNumbers(seed: number): () => number {
  let state = seed;
  const next = (): number => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return (state + 0.5) / 2 ** 32;
  };
  return () => Math.sqrt(-2 * Math.log(next())) * Math.cos(2 * Math.PI * next());
}

/** A picture lying straight on the paper. */
export function straightScale(pixelsPerMm: number): PictureScale {
  const mm = 1 / pixelsPerMm;
  return { toMm: [mm, 0, 0, 0, mm, 0, 0, 0, 1], from: 'file', pixelsPerMm, perspective: false, words: 'test' };
}
