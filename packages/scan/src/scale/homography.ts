import type { Box, Matrix, Point } from '@okuri/core';
import { boxCorners, type Homography } from '@okuri/core/inside';
import { similarityFrom } from './similarity.js';

/** Where a place goes. On the map's horizon (denominator 0) the result is infinite or not a number: see `horizonCrosses`. */
export function applyHomography(h: Homography, { x, y }: Point): Point {
  const w = h[6] * x + h[7] * y + h[8];
  return { x: (h[0] * x + h[1] * y + h[2]) / w, y: (h[3] * x + h[4] * y + h[5]) / w };
}

/** The inverse map, or null where the map flattens the plane. */
export function invertHomography(h: Homography): Homography | null {
  const [a, b, c, d, e, f, g, i, j] = h;
  const cofactors = [
    e * j - f * i,
    c * i - b * j,
    b * f - c * e,
    f * g - d * j,
    a * j - c * g,
    c * d - a * f,
    d * i - e * g,
    b * g - a * i,
    a * e - b * d,
  ] as const;
  const det = determinant(h);
  if (!Number.isFinite(det) || det === 0) return null;
  return scaled(cofactors, 1 / det);
}

/** `outer ∘ inner`: the inner map is applied first. */
export function composeHomography(outer: Homography, inner: Homography): Homography {
  const at = (row: number, column: number): number =>
    outer[3 * row] * inner[column] + outer[3 * row + 1] * inner[3 + column] + outer[3 * row + 2] * inner[6 + column];
  return scaled([at(0, 0), at(0, 1), at(0, 2), at(1, 0), at(1, 1), at(1, 2), at(2, 0), at(2, 1), at(2, 2)], 1);
}

/** The same map as numbers with h8 = 1, the form in which maps are published; where h8 is 0 the largest number is 1. */
export function tidyHomography(h: Homography): Homography {
  const largest = Math.max(...h.map(Math.abs));
  const by = h[8] === 0 ? largest : h[8];
  return scaled(h, 1 / by);
}

/** An affine map as a homography. */
export function homographyOf([a, b, c, d, e, f]: Matrix): Homography {
  return [a, c, e, b, d, f, 0, 0, 1];
}

/** How much a small area at a place grows (the Jacobian determinant, det H / w³): units of the image² a unit². Below zero where the map mirrors. */
export function localAreaScale(h: Homography, { x, y }: Point): number {
  return determinant(h) / (h[6] * x + h[7] * y + h[8]) ** 3;
}

/**
 * Whether a part of the box has no image in front of the camera: the denominator changes its sign in it (Hartley & Zisserman, Multiple View
 * Geometry, §21: the map is not quasi-affine there).
 */
export function horizonCrosses(h: Homography, box: Box): boolean {
  const signs = boxCorners(box).map(({ x, y }) => Math.sign(h[6] * x + h[7] * y + h[8]));
  return signs.some((sign) => sign === 0 || sign !== signs[0]);
}

/**
 * How far a map is from simpler ones over a box: the farthest that the image of a corner lies from its place under the similarity (turn, scale,
 * shift) and under the affine map that fit the four corners best. Units of the image.
 */
export function departureOver(
  h: Homography,
  box: Box,
): { readonly fromSimilarity: number; readonly fromAffine: number } {
  const corners = boxCorners(box);
  const images = corners.map((p) => applyHomography(h, p));
  const [a, b, c, d] = images;
  // Four corners leave an affine map one vector over, shared alike: a − b + c − d.
  const fromAffine = Math.hypot(a.x - b.x + c.x - d.x, a.y - b.y + c.y - d.y) / 4;
  const similar = similarityFrom(corners.map((from, k) => ({ from, to: images[k] })));
  return { fromSimilarity: similar === null ? Number.POSITIVE_INFINITY : similar.worst, fromAffine };
}

function determinant([a, b, c, d, e, f, g, i, j]: Homography): number {
  return a * (e * j - f * i) - b * (d * j - f * g) + c * (d * i - e * g);
}

function scaled([a, b, c, d, e, f, g, i, j]: Homography, by: number): Homography {
  return [a * by, b * by, c * by, d * by, e * by, f * by, g * by, i * by, j * by];
}
