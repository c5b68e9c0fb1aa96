import { paintUnit } from './paint-unit';
import { coveredBox, type UnitPicture } from './unit-picture';

/** A picture of so many units side by side, in whole pixels, without a transparent edge. */
export interface UnitBitmap {
  readonly image: OffscreenCanvas;
  /** Units across and down that it holds. */
  readonly across: number;
  readonly down: number;
  /** Pixels a mm, each way: so that the units' sides are whole pixels. */
  readonly scaleX: number;
  readonly scaleY: number;
}

/** A unit smaller than this on the screen is gathered with its neighbours, so that whole pixels change its size by less than a five-hundredth. */
const LEAST_SIDE_PX = 250;
/** Larger units are drawn as outlines. */
export const MOST_SIDE_PX = 3_000;

/** Whether units at this scale (px a mm) are laid as pictures. */
export function fitsBitmap({ lattice }: UnitPicture, scale: number): boolean {
  return Math.max(lattice.widthMm, lattice.heightMm) * scale <= MOST_SIDE_PX;
}

/**
 * Straight-laid units as one picture at about `scale` px a mm. Sides are whole pixels, so that copies laid side by side show no seam that is not in the
 * pattern. Only for pictures whose lattice is straight.
 */
export function unitBitmap(picture: UnitPicture, scale: number): UnitBitmap {
  const { lattice, ground } = picture;
  const box = coveredBox(picture);
  const { widthMm, heightMm } = lattice;
  const across = Math.max(1, Math.ceil(LEAST_SIDE_PX / (widthMm * scale)));
  const down = Math.max(1, Math.ceil(LEAST_SIDE_PX / (heightMm * scale)));
  const width = Math.max(1, Math.round(across * widthMm * scale));
  const height = Math.max(1, Math.round(down * heightMm * scale));
  const [scaleX, scaleY] = [width / (across * widthMm), height / (down * heightMm)];
  const image = new OffscreenCanvas(width, height);
  const context = image.getContext('2d', { alpha: false });
  if (context === null) throw new Error('this browser gives no canvas');
  context.fillStyle = ground;
  context.fillRect(0, 0, width, height);
  const first = { i: Math.floor(-box.x1 / widthMm) + 1, j: Math.floor(-box.y1 / heightMm) + 1 };
  for (let i = first.i; i * widthMm + box.x0 < across * widthMm; i++) {
    for (let j = first.j; j * heightMm + box.y0 < down * heightMm; j++) {
      context.setTransform(scaleX, 0, 0, scaleY, i * widthMm * scaleX, j * heightMm * scaleY);
      paintUnit(context, picture, null);
    }
  }
  return { image, across, down, scaleX, scaleY };
}
