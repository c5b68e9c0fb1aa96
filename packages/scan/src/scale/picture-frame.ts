import { type Box, type GreyImage, InputError, type Point } from '@okuri/core';
import { boxCorners, boxOf, distance, growBox } from '@okuri/core/inside';
import type { FoundDot, PictureScale } from '../types.js';
import { DOT_PX_MIN, findDots, likelyDots } from './find-dots.js';
import { applyHomography } from './homography.js';
import { fourOuterDots } from './outer-dots.js';
import { type Resolution, sayMm, scaleFromResolution, scaleFromRuler } from './picture-scale.js';
import { scaleFromDots, scaleFromPoints } from './scale-from-points.js';

/** How the scale of a picture is to be found. Places are px of the upright picture, lengths mm. */
export type ScaleRequest =
  | { readonly from: 'file' | 'resolution'; readonly resolution: Resolution }
  | { readonly from: 'dots'; readonly widthMm: number; readonly heightMm: number }
  | {
      readonly from: 'points';
      readonly points: readonly Point[];
      readonly widthMm: number;
      readonly heightMm: number;
    }
  | { readonly from: 'ruler'; readonly points: readonly Point[]; readonly lengthMm: number };

/** A picture laid on the paper: its scale, and which rectangle of it is the motif's own. */
export interface FramedPicture {
  readonly scale: PictureScale;
  /** What becomes the unit: the whole picture, what the four places enclose, or the part that is to be kept. mm. */
  readonly frame: Box;
  /** Four corners of what is looked at, in turn: ink that touches a side goes on beyond what can be seen. mm. */
  readonly seen: readonly Point[];
  /** What lies outside is no drawing; null where all of the picture may be. mm. */
  readonly region: Box | null;
  /** Dots by which the scale was found: no part of the drawing. mm. */
  readonly dots: readonly { readonly atMm: Point; readonly diameterMm: number }[];
}

/** Along the edges of a sheet of paper this is left out, mm: a sheet that does not lie flat shows its shadow, and the table, inside its straight sides. */
export const PAPER_EDGE_MM = 1;

/** Dots at places that a person pointed out are looked for this far around, mm: a hand that points is good to some pixels. */
const POINT_REACH_MM = 4;
/** Diameters of dots, mm. */
const DOT_MM = { min: 0.6, max: 7 } as const;

/** Finds a picture's scale and frame. `keep`: the part of the drawing that is wanted, mm. Throws an `InputError` where the scale can't be found. */
export function framePicture(
  image: GreyImage,
  request: ScaleRequest,
  { keep = null }: { readonly keep?: Box | null } = {},
): FramedPicture {
  const found = findScale(image, request);
  const { scale } = found;
  const whole = boxCorners({ x0: 0, y0: 0, x1: image.width, y1: image.height }).map((p) =>
    applyHomography(scale.toMm, p),
  );
  const dots = found.dots.map(({ at, diameter }) => ({
    atMm: applyHomography(scale.toMm, at),
    diameterMm: diameter / scale.pixelsPerMm,
  }));
  if (keep !== null) {
    checkKept(keep, whole);
    return { scale, frame: keep, seen: boxCorners(keep), region: keep, dots };
  }
  if (request.from === 'dots' || request.from === 'points') {
    const frame = { x0: 0, y0: 0, x1: request.widthMm, y1: request.heightMm };
    if (dots.length > 0) return { scale, frame, seen: whole, region: null, dots };
    const region = growBox(frame, -PAPER_EDGE_MM);
    return { scale, frame, seen: boxCorners(region), region, dots };
  }
  const [{ x: x0, y: y0 }, , { x: x1, y: y1 }] = whole;
  return { scale, frame: { x0, y0, x1, y1 }, seen: whole, region: null, dots };
}

function findScale(
  image: GreyImage,
  request: ScaleRequest,
): { readonly scale: PictureScale; readonly dots: readonly FoundDot[] } {
  switch (request.from) {
    case 'file':
    case 'resolution':
      return { scale: scaleFromResolution(request.resolution, request.from), dots: [] };
    case 'ruler':
      checkInside(request.points, image);
      return { scale: scaleFromRuler(request.points, request.lengthMm), dots: [] };
    case 'dots': {
      const dots = fourOuterDots(findDots(image, likelyDots(image)), request);
      return { scale: scaleFromDots(dots, { ...request, picture: image }), dots };
    }
    case 'points': {
      const byHand = scaleFromPoints(request.points, { ...request, picture: image, from: 'points' });
      const dots = request.points.map((at) => dotNear(image, at, byHand.pixelsPerMm));
      if (!dots.every((dot) => dot !== null)) return { scale: byHand, dots: [] };
      const { words, ...fine } = scaleFromDots(dots, { ...request, picture: image });
      return { scale: { ...fine, from: 'points', words: `${words}, at the places given` }, dots };
    }
  }
}

/** The round dot nearest to a place; null where there is none. */
function dotNear(image: GreyImage, at: Point, pixelsPerMm: number): FoundDot | null {
  const reach = Math.ceil((POINT_REACH_MM + DOT_MM.max) * pixelsPerMm);
  const [left, top] = [Math.max(0, Math.floor(at.x) - reach), Math.max(0, Math.floor(at.y) - reach)];
  const part = cutOut(image, {
    left,
    top,
    right: Math.min(image.width, Math.ceil(at.x) + reach),
    bottom: Math.min(image.height, Math.ceil(at.y) + reach),
  });
  const found = findDots(part, {
    minDiameterPx: Math.max(DOT_PX_MIN, DOT_MM.min * pixelsPerMm),
    maxDiameterPx: Math.max(2 * DOT_PX_MIN, DOT_MM.max * pixelsPerMm),
  }).map((dot) => ({ ...dot, at: { x: dot.at.x + left, y: dot.at.y + top } }));
  const away = ({ at: p }: FoundDot) => distance(p, at);
  const [nearest] = found.sort((a, b) => away(a) - away(b));
  return nearest !== undefined && away(nearest) <= POINT_REACH_MM * pixelsPerMm ? nearest : null;
}

function cutOut(
  { width, values, white }: GreyImage,
  { left, top, right, bottom }: { left: number; top: number; right: number; bottom: number },
): GreyImage {
  const size = (right - left) * (bottom - top);
  const part = white === 255 ? new Uint8Array(size) : new Uint16Array(size);
  for (let j = top; j < bottom; j++) {
    part.set(values.subarray(j * width + left, j * width + right), (j - top) * (right - left));
  }
  return { width: right - left, height: bottom - top, values: part, white };
}

function checkInside(points: readonly Point[], { width, height }: GreyImage): void {
  const outside = points.find(({ x, y }) => !(x >= 0 && y >= 0 && x <= width && y <= height));
  if (outside === undefined) return;
  throw new InputError(
    `The place ${outside.x},${outside.y} px lies outside the picture, which is ${width} × ${height} px: give places within it.`,
  );
}

function checkKept(keep: Box, whole: readonly Point[]): void {
  const box = boxOf(whole);
  // What a person writes is rounded.
  const slack = 0.5;
  if (
    keep.x0 >= box.x0 - slack &&
    keep.y0 >= box.y0 - slack &&
    keep.x1 <= box.x1 + slack &&
    keep.y1 <= box.y1 + slack
  ) {
    return;
  }
  throw new InputError(
    `The part to keep, ${sayMm(keep.x1 - keep.x0)} × ${sayMm(keep.y1 - keep.y0)} mm at ${sayMm(keep.x0)}, ${sayMm(keep.y0)}, reaches beyond the picture, which ` +
      `goes from ${sayMm(box.x0)}, ${sayMm(box.y0)} to ${sayMm(box.x1)}, ${sayMm(box.y1)} mm: give a part within it.`,
  );
}
