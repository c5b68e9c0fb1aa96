import { type Box, latticePoint, stepsOnto } from '@okuri/core';
import { type Camera, seen, toWindow, type WindowSize } from './camera';
import { type Context, paintUnit } from './paint-unit';
import { fitsBitmap, type UnitBitmap, unitBitmap } from './unit-bitmap';
import { coveredBox, type UnitPicture } from './unit-picture';

/** The cloth, mm: its upper left is the origin. */
export interface ClothArea {
  readonly widthMm: number;
  readonly lengthMm: number;
}

/** A bitmap is laid larger or smaller than it was made by at most this factor while the view moves; it is made anew when the view rests. */
const STRETCH = { least: 0.6, most: 1.6 } as const;

/** Paints a cloth again and again as the view moves, keeping the picture of its unit as long as it serves. */
export class ClothPainter {
  private kept: { picture: UnitPicture; bitmap: UnitBitmap } | null = null;

  /** `resting`: the view stands still, so that the picture may be made as fine as the screen. Device pixels in all of it: `ratio` of them to a px. */
  paint(
    context: Context,
    picture: UnitPicture,
    cloth: ClothArea,
    view: {
      readonly camera: Camera;
      readonly window: WindowSize;
      readonly ratio: number;
      readonly resting: boolean;
      readonly outlines?: boolean;
    },
  ): void {
    const { camera, window, ratio, resting, outlines = false } = view;
    const { widthMm, lengthMm } = cloth;
    const whole: Box = { x0: 0, y0: 0, x1: widthMm, y1: lengthMm };
    const corner = toWindow(camera, { x: 0, y: 0 }, window);
    const far = toWindow(camera, { x: widthMm, y: lengthMm }, window);
    context.setTransform(1, 0, 0, 1, 0, 0);
    context.save();
    context.beginPath();
    context.rect(corner.x * ratio, corner.y * ratio, (far.x - corner.x) * ratio, (far.y - corner.y) * ratio);
    context.clip();
    context.fillStyle = picture.ground;
    context.fillRect(0, 0, window.width * ratio, window.height * ratio);
    const view0 = seen(camera, window);
    const shown: Box = {
      x0: Math.max(whole.x0, view0.x0),
      y0: Math.max(whole.y0, view0.y0),
      x1: Math.min(whole.x1, view0.x1),
      y1: Math.min(whole.y1, view0.y1),
    };
    if (shown.x0 < shown.x1 && shown.y0 < shown.y1) {
      const scale = camera.pxPerMm * ratio;
      if (!outlines && picture.lattice.repeat.kind === 'straight' && fitsBitmap(picture, scale)) {
        this.layBitmaps(context, picture, {
          scale,
          shown,
          origin: { x: corner.x * ratio, y: corner.y * ratio },
          resting,
        });
      } else {
        layOutlines(context, picture, { scale, shown, origin: { x: corner.x * ratio, y: corner.y * ratio } });
      }
    }
    context.restore();
  }

  private layBitmaps(
    context: Context,
    picture: UnitPicture,
    {
      scale,
      shown,
      origin,
      resting,
    }: { scale: number; shown: Box; origin: { x: number; y: number }; resting: boolean },
  ): void {
    const bitmap = this.bitmapFor(picture, scale, resting);
    const { widthMm, heightMm } = picture.lattice;
    const { image, across, down } = bitmap;
    const [wide, high] = [across * widthMm, down * heightMm];
    // At rest the bitmap lies pixel on pixel; the view moves by less than half a pixel for it.
    const exact = resting || (bitmap.scaleX / scale > 0.998 && bitmap.scaleX / scale < 1.002);
    const [sx, sy] = exact ? [bitmap.scaleX, bitmap.scaleY] : [scale, scale];
    const at = exact ? { x: Math.round(origin.x), y: Math.round(origin.y) } : origin;
    context.imageSmoothingEnabled = !exact;
    for (let i = Math.floor(shown.x0 / wide); i * wide < shown.x1; i++) {
      for (let j = Math.floor(shown.y0 / high); j * high < shown.y1; j++) {
        context.drawImage(image, at.x + i * wide * sx, at.y + j * high * sy, wide * sx, high * sy);
      }
    }
  }

  private bitmapFor(picture: UnitPicture, scale: number, resting: boolean): UnitBitmap {
    const { kept } = this;
    if (kept !== null && isSame(kept.picture, picture)) {
      const stretch = scale / kept.bitmap.scaleX;
      const serves = resting ? Math.abs(stretch - 1) < 0.004 : stretch > STRETCH.least && stretch < STRETCH.most;
      if (serves) return kept.bitmap;
    }
    const bitmap = unitBitmap(picture, scale);
    this.kept = { picture, bitmap };
    return bitmap;
  }
}

/** Near to the cloth: the outlines themselves, only those in sight. */
function layOutlines(
  context: Context,
  picture: UnitPicture,
  { scale, shown, origin }: { scale: number; shown: Box; origin: { x: number; y: number } },
): void {
  for (const step of stepsOnto(picture.lattice, coveredBox(picture), shown)) {
    const v = latticePoint(picture.lattice, step);
    context.setTransform(scale, 0, 0, scale, origin.x + v.x * scale, origin.y + v.y * scale);
    paintUnit(context, picture, { x0: shown.x0 - v.x, y0: shown.y0 - v.y, x1: shown.x1 - v.x, y1: shown.y1 - v.y });
  }
}

/** The same outlines, laid alike: a bitmap of the one serves for the other. */
function isSame(a: UnitPicture, b: UnitPicture): boolean {
  return (
    a.layers === b.layers &&
    a.ground === b.ground &&
    a.scale === b.scale &&
    a.lattice.widthMm === b.lattice.widthMm &&
    a.lattice.heightMm === b.lattice.heightMm &&
    a.lattice.repeat.kind === b.lattice.repeat.kind
  );
}
