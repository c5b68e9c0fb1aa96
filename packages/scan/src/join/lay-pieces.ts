import type { GreyImage, Matrix } from '@okuri/core';
import { bicubicAt } from '../trace/sample-grey.js';
import type { GreyLine } from './even-greys.js';
import { inverse } from './piece-fit.js';

/** Rows between two reports of progress. */
const REPORT_ROWS = 256;

/** A piece as it is laid into a picture. */
export interface LaidPiece {
  readonly image: GreyImage;
  /** Its px → px of the picture. */
  readonly motion: Matrix;
  readonly greys: GreyLine;
}

/** The picture that pieces are laid into. */
export interface LayOptions {
  /** px. */
  readonly width: number;
  readonly height: number;
  readonly white: 255 | 65535;
  /** What stands where no piece lies, 0 black … 1 white. */
  readonly ground: number;
  /** How wide the change from one piece to the other is along the line in the middle of their overlap, px. */
  readonly blendPx: number;
  readonly progress?: (share: number) => void;
}

/**
 * Lays pieces into one picture. Every place is taken from the piece in which it lies deepest, which makes the line between two pieces run in the middle
 * of their overlap, and for `blendPx` on either side of that line the two are mixed. A motion by whole pixels keeps greys as they are.
 */
export function layPieces(
  pieces: readonly LaidPiece[],
  { width, height, white, ground, blendPx, progress }: LayOptions,
): GreyImage {
  const values = white === 255 ? new Uint8Array(width * height) : new Uint16Array(width * height);
  const backs = pieces.map(({ motion }) => inverse(motion));
  const scales = pieces.map(({ image, greys }) => ({
    gain: (greys.gain * white) / image.white,
    offset: greys.offset * white,
  }));
  const deepest = new Float32Array(width);
  const weights = new Float32Array(width);
  const sums = new Float32Array(width);
  for (let row = 0; row < height; row++) {
    if (row % REPORT_ROWS === 0) progress?.(row / height);
    deepest.fill(0);
    weights.fill(0);
    sums.fill(0);
    const spans = pieces.map(({ image }, k) => rowSpan(image, backs[k], row + 0.5, width));
    for (const [k, { from, to }] of spans.entries()) {
      for (let i = from; i < to; i++) {
        const depth = depthAt(pieces[k].image, backs[k], i + 0.5, row + 0.5);
        if (depth > deepest[i]) deepest[i] = depth;
      }
    }
    for (const [k, { from, to }] of spans.entries()) {
      const { image } = pieces[k];
      const [c, s, , , e, f] = backs[k];
      const { gain, offset } = scales[k];
      for (let i = from; i < to; i++) {
        const depth = depthAt(image, backs[k], i + 0.5, row + 0.5);
        const weight = 1 - (deepest[i] - depth) / blendPx;
        if (weight <= 0 || depth <= 0) continue;
        const share = weight * Math.min(1, depth / blendPx) + Number.EPSILON;
        const x = c * (i + 0.5) - s * (row + 0.5) + e;
        const y = s * (i + 0.5) + c * (row + 0.5) + f;
        weights[i] += share;
        sums[i] += share * (gain * bicubicAt(image, x, y) + offset);
      }
    }
    const at = row * width;
    for (let i = 0; i < width; i++) {
      const value = weights[i] > 0 ? sums[i] / weights[i] : ground * white;
      values[at + i] = value <= 0 ? 0 : value >= white ? white : Math.round(value);
    }
  }
  progress?.(1);
  return { width, height, values, white };
}

/** How far a place of the picture lies inside of a piece, px; below zero outside. */
function depthAt({ width, height }: GreyImage, [c, s, , , e, f]: Matrix, x: number, y: number): number {
  const u = c * x - s * y + e;
  const v = s * x + c * y + f;
  return Math.min(u, width - u, v, height - v);
}

/** The pixels of a row whose middles lie in a piece. */
function rowSpan(
  { width, height }: GreyImage,
  [c, s, , , e, f]: Matrix,
  y: number,
  across: number,
): { from: number; to: number } {
  let low = 0.5;
  let high = across - 0.5;
  // Along the row, both coordinates of the piece change evenly: u = c x + …, v = s x + ….
  for (const [slope, base, size] of [
    [c, e - s * y, width],
    [s, f + c * y, height],
  ]) {
    if (slope === 0) {
      if (base < 0 || base > size) return { from: 0, to: 0 };
      continue;
    }
    const one = -base / slope;
    const other = (size - base) / slope;
    low = Math.max(low, Math.min(one, other));
    high = Math.min(high, Math.max(one, other));
  }
  return { from: Math.max(0, Math.ceil(low - 0.5)), to: Math.min(across, Math.floor(high - 0.5) + 1) };
}
