import type { GreyImage, Point } from '@okuri/core';
import { distance, SquareIndex } from '@okuri/core/inside';
import { evenPaper } from '../join/even-paper.js';
import type { FoundDot } from '../types.js';
import { type Blob, blobsBelow } from './blobs.js';
import { measureDot } from './measure-dot.js';

export interface FindDotsOptions {
  /** Diameters that are looked for, px. Of a dot of known size take a half and twice as much. */
  readonly minDiameterPx: number;
  readonly maxDiameterPx: number;
  /** Least 4π · area / perimeter²: 1 a circle, 0.98 one seen at a slant of 35°, 0.91 a hexagon, 0.79 a square. */
  readonly minRoundness?: number;
}

export const ROUNDNESS_MIN = 0.87;

/** Smallest diameter that is a dot and not a speck of noise, px. */
export const DOT_PX_MIN = 3;

/** The quick look is made at a size at which the smallest dot has this many pixels across. */
const LOOK_PX = 4;

/** Shares of the paper's grey at which dark areas are looked for: from ink in even light to pencil and to ink in a shadow. */
const LEVELS = [0.5, 0.66, 0.34, 0.82];

/** A blob may be this much smaller and larger than the dots that are looked for, by its box. */
const BLOB_SMALLER = 0.6;
const BLOB_LARGER = 1.4;

/** Longer side of a blob's box to the shorter, and its area as a share of the box (a disc: 0.785). */
const BOX_RATIO_MAX = 1.9;
const BOX_FILL_MIN = 0.5;

/**
 * Round dark marks with paper all round: drawn dots, punched and printed ones. Found by a quick look at dark areas, at several levels, then measured
 * on the picture itself (`measureDot`). From upper left to lower right by rows of the picture. Throws a `RangeError` for diameters that can't be.
 */
export function findDots(
  image: GreyImage,
  { minDiameterPx, maxDiameterPx, minRoundness = ROUNDNESS_MIN }: FindDotsOptions,
): FoundDot[] {
  if (!(minDiameterPx >= DOT_PX_MIN && maxDiameterPx >= minDiameterPx && Number.isFinite(maxDiameterPx))) {
    throw new RangeError(
      `got dots from ${minDiameterPx} to ${maxDiameterPx} px, expected ${DOT_PX_MIN} px or more and the larger last`,
    );
  }
  const factor = Math.max(1, Math.floor(minDiameterPx / LOOK_PX));
  const look = evenPaper(image, { factor, tilePx: 2.5 * maxDiameterPx });
  const [smallest, largest] = [(BLOB_SMALLER * minDiameterPx) / factor, (BLOB_LARGER * maxDiameterPx) / factor + 2];
  const keep = ({ area, x0, y0, x1, y1 }: Blob): boolean => {
    const [long, short] = [Math.max(x1 - x0, y1 - y0), Math.min(x1 - x0, y1 - y0)];
    // Boxes are whole pixels: one either way is no shape.
    return (
      short >= smallest &&
      long <= largest &&
      long - 1 <= BOX_RATIO_MAX * short &&
      area >= BOX_FILL_MIN * (x1 - x0) * (y1 - y0)
    );
  };
  const dots: FoundDot[] = [];
  const known = new SquareIndex<FoundDot>(maxDiameterPx);
  const covered = (p: Point): boolean => known.around(p).some(({ at, diameter }) => distance(at, p) < diameter / 2);
  for (const level of LEVELS) {
    for (const blob of blobsBelow(look, level, keep)) {
      const near = { x: blob.x * factor, y: blob.y * factor };
      if (covered(near)) continue;
      const dot = measureDot(image, near, Math.sqrt(blob.area / Math.PI) * factor);
      if (dot === null || dot.diameter < minDiameterPx || dot.diameter > maxDiameterPx) continue;
      if (dot.roundness < minRoundness || covered(dot.at)) continue;
      dots.push(dot);
      known.add(dot, dot.at);
    }
  }
  return dots.sort((a, b) => a.at.y - b.at.y || a.at.x - b.at.x);
}

/** Where round dots may lie in a picture of unknown scale: 0.5 to 6 mm on sheets of 250 to 900 mm. Diameters, px. */
export function likelyDots({ width, height }: { readonly width: number; readonly height: number }): {
  readonly minDiameterPx: number;
  readonly maxDiameterPx: number;
} {
  const long = Math.max(width, height);
  return { minDiameterPx: Math.max(DOT_PX_MIN + 1, long / 900), maxDiameterPx: Math.max(24, long / 40) };
}
