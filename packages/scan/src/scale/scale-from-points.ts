import { type Box, InputError, type Point } from '@okuri/core';
import { boxCorners, type Homography } from '@okuri/core/inside';
import type { FoundDot, PictureScale } from '../types.js';
import { dotCentres } from './dot-centres.js';
import { homographyFrom, lineOf } from './fit-homography.js';
import { departureOver, horizonCrosses, invertHomography, localAreaScale } from './homography.js';
import { checkPixelsPerMm, sayMm } from './picture-scale.js';
import { similarityFrom } from './similarity.js';

export interface PaperPoints {
  /** Distances on the paper: upper left to upper right, upper left to lower left. */
  readonly widthMm: number;
  readonly heightMm: number;
  /** px. */
  readonly picture: { readonly width: number; readonly height: number };
}

/** Four places closer than this can't carry a scale: ±0.5 px is 1 %. */
const SIDE_MIN_PX = 50;

/** A slant is told from errors of the places when it moves a corner by more than this, px. */
const SLANT_PX = 0.5;

/** A stretch is told when across and down differ by more than this share: a scanner's feed is good to some 0.1 %. */
const STRETCH_TOLD = 0.002;

/** Pixels a mm may differ between the nearest and the farthest of the four places by this factor: farther, the view is too flat to measure in. */
const NEAR_FAR_MAX = 4;

/** Given distances are the wrong way round if the other way fits this much better, and itself to this share of the diagonal. */
const SWAPPED_BETTER = 5;
const SWAPPED_FIT = 0.02;

/** Rounds in which the middles of slanting dots settle; the second changes them by less than 1e-4 px. */
const CENTRE_ROUNDS = 3;

const NAMES = ['upper left', 'upper right', 'lower right', 'lower left'] as const;

/**
 * The scale by four places (px): upper left, upper right, lower right, lower left **of the paper**, however it is turned in the picture. Turn, scale and
 * slant are removed; the paper's upper left place is the origin, its upper side runs along x. Throws an `InputError` for places that fix no view of a rectangle.
 */
export function scaleFromPoints(
  points: readonly Point[],
  options: PaperPoints & { readonly from: 'dots' | 'points' },
): PictureScale {
  const { widthMm, heightMm, picture, from } = options;
  const what = from === 'dots' ? 'dots' : 'places';
  checkSizes(options, what);
  checkPlaces(points, picture, what);
  const paper = paperCorners(widthMm, heightMm);
  checkNotSwapped(points, options, what);
  // Errors lie in the picture: paper → px is fitted, and turned round.
  const toPicture = homographyFrom(paper.map((at, k) => ({ from: at, to: points[k] })));
  const toMm = toPicture === null ? null : invertHomography(toPicture);
  if (toPicture === null || toMm === null) throw noRectangle(points, what);
  const box = { x0: 0, y0: 0, x1: picture.width, y1: picture.height };
  if (horizonCrosses(toMm, box)) {
    throw new InputError(
      `By the four ${what} (${say(points)} px) the paper's horizon lies in the picture, so part of it shows no paper: take the picture from above, or crop it to the drawing.`,
    );
  }
  checkNearFar(points, toMm, what);
  const middle = { x: picture.width / 2, y: picture.height / 2 };
  const pixelsPerMm = 1 / Math.sqrt(Math.abs(localAreaScale(toMm, middle)));
  const distances = `four ${what} ${sayMm(widthMm)} × ${sayMm(heightMm)} mm apart`;
  checkPixelsPerMm(pixelsPerMm, `The distance of the ${distances}`);
  const sheet = { x0: 0, y0: 0, x1: widthMm, y1: heightMm };
  const perspective = departureOver(toPicture, sheet).fromAffine > SLANT_PX;
  return {
    toMm,
    from,
    pixelsPerMm,
    perspective,
    words: `${distances}${perspective ? ', slanting view set right' : sayStretch(toPicture, sheet)}`,
  };
}

/** As `scaleFromPoints`, from dots as they were found: in a slanting view their true middles are not those of their pictures (`dotCentres`). */
export function scaleFromDots(dots: readonly FoundDot[], options: PaperPoints): PictureScale {
  let scale = scaleFromPoints(
    dots.map(({ at }) => at),
    { ...options, from: 'dots' },
  );
  for (let round = 0; round < CENTRE_ROUNDS && scale.perspective; round++) {
    const toPicture = invertHomography(scale.toMm);
    if (toPicture === null) break;
    scale = scaleFromPoints(dotCentres(dots, { toMm: scale.toMm, toPicture }), { ...options, from: 'dots' });
  }
  return scale;
}

function checkSizes({ widthMm, heightMm }: PaperPoints, what: string): void {
  for (const mm of [widthMm, heightMm]) {
    if (Number.isFinite(mm) && mm > 0) continue;
    throw new InputError(`The four ${what} can't be ${widthMm} × ${heightMm} mm apart: give two lengths above 0 mm.`);
  }
}

function checkPlaces(points: readonly Point[], { width, height }: PaperPoints['picture'], what: string): void {
  if (points.length !== 4) {
    throw new InputError(`Four ${what} are needed and ${points.length} were given: ${NAMES.join(', ')} of the paper.`);
  }
  const outside = points.find(({ x, y }) => !(x >= 0 && y >= 0 && x <= width && y <= height));
  if (outside !== undefined) {
    throw new InputError(
      `The place ${say([outside])} px lies outside the picture, which is ${width} × ${height} px: give places within it.`,
    );
  }
  for (const [k, p] of points.entries()) {
    const next = (k + 1) % 4;
    const px = Math.hypot(points[next].x - p.x, points[next].y - p.y);
    if (px >= SIDE_MIN_PX) continue;
    throw new InputError(
      `The ${NAMES[k]} and ${NAMES[next]} ${what} (${say([p, points[next]])} px) are ${px.toFixed(0)} px apart, too close to tell a scale: choose ${what} round the whole drawing.`,
    );
  }
  const line = lineOf(points);
  if (line !== null) {
    throw new InputError(
      `The ${line.map((k) => NAMES[k]).join(', ')} ${what} (${say(line.map((k) => points[k]))} px) lie on one line: give the four corners of a rectangle.`,
    );
  }
  const turns = points.map((p, k) => turnOf(p, points[(k + 1) % 4], points[(k + 2) % 4]));
  const clockwise = turns.filter((turn) => turn > 0).length;
  if (clockwise === 4) return;
  if (clockwise === 0) {
    throw new InputError(
      `The four ${what} (${say(points)} px) run anticlockwise: give them in the order ${NAMES.join(', ')}, or mirror a picture that shows the paper's back.`,
    );
  }
  throw noRectangle(points, what);
}

function noRectangle(points: readonly Point[], what: string): InputError {
  const crossing = points.filter((p, k) => turnOf(p, points[(k + 1) % 4], points[(k + 2) % 4]) > 0).length === 2;
  return new InputError(
    crossing
      ? `The lines between the four ${what} (${say(points)} px) cross each other: give them in the order ${NAMES.join(', ')}.`
      : `The four ${what} (${say(points)} px) can't be a view of a rectangle, for one lies between the others: give the four corners of a rectangle.`,
  );
}

function checkNotSwapped(points: readonly Point[], { widthMm, heightMm }: PaperPoints, what: string): void {
  const off = (w: number, h: number): number =>
    (similarityFrom(paperCorners(w, h).map((to, k) => ({ from: points[k], to })))?.worst ?? Number.POSITIVE_INFINITY) /
    Math.hypot(w, h);
  const [given, swapped] = [off(widthMm, heightMm), off(heightMm, widthMm)];
  if (swapped <= SWAPPED_FIT && given > SWAPPED_BETTER * swapped && given > SWAPPED_FIT) {
    throw new InputError(
      `The four ${what} are ${sayMm(widthMm)} × ${sayMm(heightMm)} mm apart as given, but lie in the picture as if ${sayMm(heightMm)} × ${sayMm(widthMm)} mm: give the distance across first, or begin with the paper's own upper left.`,
    );
  }
}

function checkNearFar(points: readonly Point[], toMm: Homography, what: string): void {
  const sizes = points.map((p) => Math.sqrt(Math.abs(localAreaScale(toMm, p))));
  const ratio = Math.max(...sizes) / Math.min(...sizes);
  if (ratio <= NEAR_FAR_MAX) return;
  throw new InputError(
    `The four ${what} (${say(points)} px) are seen at so flat a slant that the far side is ${ratio.toFixed(1)} times smaller than the near one: take the picture from above.`,
  );
}

function sayStretch(toPicture: Homography, { x1, y1 }: Box): string {
  const across = Math.hypot(toPicture[0], toPicture[3]);
  const down = Math.hypot(toPicture[1], toPicture[4]);
  const share = across / down - 1;
  const slope = Math.abs(toPicture[0] * toPicture[1] + toPicture[3] * toPicture[4]) / (across * down);
  if (Math.abs(share) > STRETCH_TOLD) {
    return `, drawn out ${(100 * Math.max(share, 1 / (1 + share) - 1)).toFixed(1)} % ${share > 0 ? 'across' : 'down'} and set right`;
  }
  // Dots that were measured out by hand lean a little: told when a corner moves by more than half a millimetre.
  return slope * Math.min(x1, y1) > 0.5 ? ', leaning and set right' : '';
}

function paperCorners(w: number, h: number): readonly Point[] {
  return boxCorners({ x0: 0, y0: 0, x1: w, y1: h });
}

function turnOf(a: Point, b: Point, c: Point): number {
  return Math.sign((b.x - a.x) * (c.y - b.y) - (b.y - a.y) * (c.x - b.x));
}

function say(points: readonly Point[]): string {
  return points.map(({ x, y }) => `${Math.round(x)},${Math.round(y)}`).join(' ');
}
