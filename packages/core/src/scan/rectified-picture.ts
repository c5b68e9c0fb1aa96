import type { Box } from '../geometry/types.js';
import { invertHomography } from './homography.js';
import { bicubicAt } from './sample-grey.js';
import type { GreyImage, PictureScale } from './types.js';

export interface RectifiedOptions {
  /** Of the new picture. */
  readonly pixelsPerMm: number;
  /** What it shows. */
  readonly boxMm: Box;
}

/** Largest view, px: 100 million, three A4 sheets at 600 dpi. */
const PIXELS_MAX = 100_000_000;

/** Samples along each side of a new pixel, at the most; beyond, a view so much smaller is coarse anyway. */
const FINE_MAX = 8;

/**
 * The picture as seen from straight above, at true scale: for people to look at beside a drawing, not for measuring (sampling blurs a little). Cubic
 * convolution (Keys, IEEE ASSP 29 (1981) 1153), several samples to a pixel where the view is coarser than the picture; white where the picture shows nothing. Throws a
 * `RangeError` for a view without pixels, with too many, or through a scale that can't be turned round.
 */
export function rectifiedPicture(
  image: GreyImage,
  scale: PictureScale,
  { pixelsPerMm, boxMm }: RectifiedOptions,
): GreyImage {
  const width = Math.round((boxMm.x1 - boxMm.x0) * pixelsPerMm);
  const height = Math.round((boxMm.y1 - boxMm.y0) * pixelsPerMm);
  if (!(width >= 1 && height >= 1 && width * height <= PIXELS_MAX)) {
    throw new RangeError(`got a view of ${width} × ${height} px, expected 1 to ${PIXELS_MAX} px in all`);
  }
  const h = invertHomography(scale.toMm);
  if (h === null)
    throw new RangeError(`got a scale ${JSON.stringify(scale.toMm)}, expected one that can be turned round`);
  const fine = Math.min(FINE_MAX, Math.max(1, Math.round(scale.pixelsPerMm / pixelsPerMm)));
  const side = scaleOfDenominator(h, boxMm);
  const { white } = image;
  const values = white === 255 ? new Uint8Array(width * height) : new Uint16Array(width * height);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let sum = 0;
      for (let b = 0; b < fine; b++) {
        const y = boxMm.y0 + (j + (b + 0.5) / fine) / pixelsPerMm;
        for (let a = 0; a < fine; a++) {
          const x = boxMm.x0 + (i + (a + 0.5) / fine) / pixelsPerMm;
          const w = h[6] * x + h[7] * y + h[8];
          // Beyond the horizon the same numbers come again, upside down.
          if (!(w * side > 0)) sum += white;
          else sum += shownAt(image, (h[0] * x + h[1] * y + h[2]) / w, (h[3] * x + h[4] * y + h[5]) / w);
        }
      }
      values[j * width + i] = Math.min(white, Math.max(0, Math.round(sum / fine ** 2)));
    }
  }
  return { width, height, values, white };
}

/** The denominator's sign in front of the camera: that of the middle of what is shown. */
function scaleOfDenominator(h: readonly number[], { x0, y0, x1, y1 }: Box): number {
  return Math.sign((h[6] * (x0 + x1)) / 2 + (h[7] * (y0 + y1)) / 2 + h[8]);
}

/** Cubic convolution inside the picture, white beyond it. */
function shownAt(image: GreyImage, x: number, y: number): number {
  const inside = x >= 0 && y >= 0 && x <= image.width && y <= image.height;
  return inside ? bicubicAt(image, x, y) : image.white;
}
