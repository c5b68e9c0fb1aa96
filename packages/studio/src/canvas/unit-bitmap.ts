import { latticePoint, stepsOnto } from '@okuri/core/inside';
import { paintUnit } from './paint-unit';
import { coveredBox, type UnitPicture } from './unit-picture';

/** Units side by side that are painted as one. */
export interface UnitGroup {
  readonly across: number;
  readonly down: number;
}

/** Smaller units are painted in groups of at least so many pixels a side, so that they are not laid one by one in their thousands. */
const LEAST_SIDE_PX = 16;
/** Larger units are drawn as outlines: then no more than one is in sight. */
const MOST_SIDE_PX = 1_500;

/** Whether units at this scale (px a mm) are laid as pictures. */
export function fitsBitmap({ lattice }: UnitPicture, scale: number): boolean {
  return Math.max(lattice.widthMm, lattice.heightMm) * scale <= MOST_SIDE_PX;
}

/** How many units are painted as one at this scale. Units of a drop or a brick are grouped along the way in which they lie straight. */
export function unitGroup({ lattice }: UnitPicture, scale: number): UnitGroup {
  const { widthMm, heightMm, repeat } = lattice;
  const together = (sideMm: number): number => Math.max(1, Math.ceil(LEAST_SIDE_PX / (sideMm * scale)));
  return {
    across: repeat.kind === 'drop' ? 1 : together(widthMm),
    down: repeat.kind === 'brick' ? 1 : together(heightMm),
  };
}

/** A group of units as a picture of so many pixels, with all that reaches in from their neighbours: copies lie side by side without a transparent edge. */
export function unitBitmap(
  picture: UnitPicture,
  { across, down }: UnitGroup,
  { width, height }: { readonly width: number; readonly height: number },
): OffscreenCanvas {
  const { lattice, ground } = picture;
  const whole = { x0: 0, y0: 0, x1: across * lattice.widthMm, y1: down * lattice.heightMm };
  const [scaleX, scaleY] = [width / whole.x1, height / whole.y1];
  const image = new OffscreenCanvas(width, height);
  const context = image.getContext('2d', { alpha: false });
  if (context === null) throw new Error('this browser gives no canvas');
  context.fillStyle = ground;
  context.fillRect(0, 0, width, height);
  for (const step of stepsOnto(lattice, coveredBox(picture), whole)) {
    const { x, y } = latticePoint(lattice, step);
    context.setTransform(scaleX, 0, 0, scaleY, x * scaleX, y * scaleY);
    paintUnit(context, picture, { x0: -x, y0: -y, x1: whole.x1 - x, y1: whole.y1 - y });
  }
  return image;
}
