import type { Box } from '@okuri/core';
import { latticePoint, stepsOnto } from '@okuri/core/inside';
import { type Camera, seen, toWindow, type WindowSize } from './camera';
import { type Context, paintUnit } from './paint-unit';
import { fitsBitmap, type UnitGroup, unitBitmap, unitGroup } from './unit-bitmap';
import { coveredBox, type UnitPicture } from './unit-picture';

/** The cloth, mm: its upper left is the origin. */
export interface ClothArea {
  readonly widthMm: number;
  readonly lengthMm: number;
}

/** Pictures are laid larger or smaller than they were made by at most this factor while the view moves; they are made anew when it rests. */
const STRETCH = { least: 0.6, most: 1.6 } as const;

/** A unit's pictures at one scale. Sides of units fall between pixels: each comes in two widths and two heights, so that every copy lies pixel on pixel. */
interface Kept {
  readonly picture: UnitPicture;
  readonly scale: number;
  readonly group: UnitGroup;
  /** By their size in pixels. */
  readonly images: Map<string, OffscreenCanvas>;
}

/** Paints a cloth again and again as the view moves, keeping the picture of its unit as long as it serves. */
export class ClothPainter {
  private kept: Kept | null = null;

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
      if (!outlines && fitsBitmap(picture, scale)) {
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
    const kept = this.keptFor(picture, scale, resting);
    const { widthMm, heightMm, repeat } = picture.lattice;
    const { across, down } = kept.group;
    const [wide, high] = [across * widthMm, down * heightMm];
    // In a hurry one picture serves for all copies, a pixel wider or narrower.
    const exact = resting && kept.picture === picture && kept.scale === scale;
    context.imageSmoothingEnabled = !exact;
    const lay = (x: number, y: number): void => {
      const [left, right] = [Math.round(origin.x + x * scale), Math.round(origin.x + (x + wide) * scale)];
      const [top, bottom] = [Math.round(origin.y + y * scale), Math.round(origin.y + (y + high) * scale)];
      const size = { width: right - left, height: bottom - top };
      if (size.width === 0 || size.height === 0) return;
      context.drawImage(imageOf(kept, size, exact), left, top, size.width, size.height);
    };
    const shift = (k: number): number => fraction((k * repeat.step.p) / repeat.step.q);
    if (repeat.kind === 'brick') {
      for (let j = Math.floor(shown.y0 / high); j * high < shown.y1; j++) {
        const along = shift(j) * widthMm;
        for (let i = Math.floor((shown.x0 - along) / wide); i * wide + along < shown.x1; i++) {
          lay(i * wide + along, j * high);
        }
      }
      return;
    }
    for (let i = Math.floor(shown.x0 / wide); i * wide < shown.x1; i++) {
      const along = repeat.kind === 'drop' ? shift(i) * heightMm : 0;
      for (let j = Math.floor((shown.y0 - along) / high); j * high + along < shown.y1; j++) {
        lay(i * wide, j * high + along);
      }
    }
  }

  private keptFor(picture: UnitPicture, scale: number, resting: boolean): Kept {
    const { kept } = this;
    if (kept !== null && isAlike(kept.picture, picture)) {
      // What was drawn for another size of the unit serves as well, larger or smaller.
      const by = picture.scale / kept.picture.scale;
      const stretch = (scale / kept.scale) * by;
      if (resting ? stretch === 1 && by === 1 : stretch > STRETCH.least && stretch < STRETCH.most) {
        return by === 1 && stretch === 1 ? { ...kept, picture } : kept;
      }
    }
    this.kept = { picture, scale, group: unitGroup(picture, scale), images: new Map() };
    return this.kept;
  }
}

/** The picture of this size, made when it is first wanted; in a hurry any other that is there already. */
function imageOf(
  { picture, group, images }: Kept,
  size: { readonly width: number; readonly height: number },
  exact: boolean,
): OffscreenCanvas {
  const key = `${size.width} ${size.height}`;
  const known = images.get(key) ?? (exact ? undefined : images.values().next().value);
  if (known !== undefined) return known;
  const image = unitBitmap(picture, group, size);
  images.set(key, image);
  return image;
}

function fraction(value: number): number {
  return value - Math.floor(value);
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

/** How far two sizes may differ and still be the same, as a share: rounding. */
const SAME = 1e-9;

/** The same outlines, laid alike but for their size. */
function isAlike(a: UnitPicture, b: UnitPicture): boolean {
  const by = b.scale / a.scale;
  const same = (x: number, y: number): boolean => Math.abs(x * by - y) <= SAME * y;
  const { repeat } = a.lattice;
  return (
    a.outlines === b.outlines &&
    a.ground === b.ground &&
    a.colours.every((colour, k) => colour === b.colours[k]) &&
    same(a.lattice.widthMm, b.lattice.widthMm) &&
    same(a.lattice.heightMm, b.lattice.heightMm) &&
    repeat.kind === b.lattice.repeat.kind &&
    repeat.step.p === b.lattice.repeat.step.p &&
    repeat.step.q === b.lattice.repeat.step.q
  );
}
