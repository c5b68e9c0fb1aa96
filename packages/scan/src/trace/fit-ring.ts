import { type Contour, type Point, polyline } from '@okuri/core';
import { findCorners } from './ring-corners.js';
import { layOutline } from './ring-lay.js';
import { ringNoise } from './ring-noise.js';
import { outlineContour } from './ring-outline.js';
import { refineOutline } from './ring-refine.js';
import { sampleRing } from './ring-samples.js';

export interface FitOptions {
  /** Side of a pixel on the paper, mm. */
  readonly pixelMm: number;
  /** Standard deviation of the points across the line, mm. */
  readonly noiseMm: number;
  /** Standard deviation of the picture's blur, mm: what it has rounded more was round in the drawing. Two thirds of a pixel unless given. */
  readonly blurMm?: number;
  /** How far the curves may lie from the line once noise is taken out, mm; a twelfth of a pixel unless given. */
  readonly toleranceMm?: number;
  /** Bends that turn less than this are smooth, degrees. */
  readonly cornerDeg?: number;
}

/** A twelfth of a pixel: banks of a line stay even within a hundredth of a millimetre at 300 dpi, and fewer curves would not do for much more. */
export const FIT_TOLERANCE_PX = 0.08;
/** Blur of a good scanner, px. */
export const FIT_BLUR_PX = 0.65;
/** Least turn of a corner: a pen that turns less leaves a bend that nobody would call a corner. */
export const FIT_CORNER_DEG = 22;
/** Points of a clean picture lie no better than this on their line, px. */
const LEAST_NOISE_PX = 0.02;
/** A ring's own noise may be taken for too little by this factor, where neighbouring points err together. */
const OWN_NOISE = 1.4;
/** Rings shorter than this are too small for any curve to show, px: they stay polygons. */
const TINY_PX = 12;

/**
 * The calm outline behind a traced ring: corners where two smooth runs meet, carried on past the blur, and the fewest cubics between them. `points` are
 * `x0 y0 x1 y1 …` of a closed ring, mm, about a pixel apart; the contour turns the same way. Rings too small for curves, and lines there and back, stay the polygons they are.
 */
export function fitRing(points: Float64Array, options: FitOptions): Contour {
  const { pixelMm, noiseMm, cornerDeg = FIT_CORNER_DEG } = options;
  if (!(pixelMm > 0) || !Number.isFinite(pixelMm)) throw new RangeError(`pixelMm: got ${pixelMm}, expected above 0`);
  if (!(noiseMm >= 0) || !Number.isFinite(noiseMm)) throw new RangeError(`noiseMm: got ${noiseMm}, expected 0 or more`);
  const middle = middleOf(points);
  const scale = { pixelMm, originX: middle.x, originY: middle.y };
  const ring = sampleRing(points, scale);
  if (!ring || ring.count < TINY_PX) return polyline(pointsOf(points), { closed: true });
  // A small ring may be calmer than the picture as a whole.
  const noisePx = Math.max(LEAST_NOISE_PX, Math.min(noiseMm / pixelMm, OWN_NOISE * ringNoise(ring)));
  const tolerancePx = options.toleranceMm === undefined ? FIT_TOLERANCE_PX : options.toleranceMm / pixelMm;
  const blurPx = options.blurMm === undefined ? FIT_BLUR_PX : options.blurMm / pixelMm;
  const corners = findCorners(ring, { noisePx, blurPx, cornerDeg });
  const outline = layOutline(ring, corners, { noisePx, tolerancePx });
  // A line there and back has no place where a curve could be divided.
  if (outline.nodes.length < 2) return polyline(pointsOf(points), { closed: true });
  return outlineContour(refineOutline(outline, ring, { noisePx, tolerancePx }), scale);
}

function middleOf(points: Float64Array): Point {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let k = 0; k + 1 < points.length; k += 2) {
    x0 = Math.min(x0, points[k]);
    x1 = Math.max(x1, points[k]);
    y0 = Math.min(y0, points[k + 1]);
    y1 = Math.max(y1, points[k + 1]);
  }
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
}

function pointsOf(points: Float64Array): Point[] {
  return Array.from({ length: points.length >> 1 }, (_, k) => ({ x: points[2 * k], y: points[2 * k + 1] }));
}
