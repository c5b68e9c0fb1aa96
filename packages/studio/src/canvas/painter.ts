import type { Drawing } from '@okuri/core';
import * as Comlink from 'comlink';
import { packed } from '../engine/pack';
import type { ClothArea } from './cloth-painter';
import type { PainterThread, PaintView } from './painter-worker';
import type { UnitPicture } from './unit-picture';

/** Paints a part of a plane on another thread. */
export type PaintSource = (view: PaintView) => Promise<ImageBitmap>;

/** One thread that paints, so that the window never waits for a picture. */
export class Painter {
  private readonly thread = Comlink.wrap<PainterThread>(
    new Worker(new URL('./painter-worker.ts', import.meta.url), { type: 'module' }),
  );
  private readonly ids = new WeakMap<object, number>();
  private next = 1;

  /** A cloth laid with a picture of its unit; `lattice` and `scale` may differ from the picture's own, for a first look at another size or repeat. */
  cloth(
    picture: UnitPicture,
    area: ClothArea,
    { lattice, scale }: Pick<UnitPicture, 'lattice' | 'scale'> = picture,
  ): PaintSource {
    const id = () =>
      this.idOf(picture, (fresh) => {
        const { value, buffer } = packed(picture);
        void this.thread.setCloth(fresh, Comlink.transfer(value, [buffer]));
      });
    return (view) => this.thread.paintCloth(id(), area, lattice, scale, view);
  }

  /** A page of a drawing. */
  page(drawing: Drawing, page: number): PaintSource {
    const id = () =>
      this.idOf(drawing, (fresh) => {
        const { value, buffer } = packed(drawing);
        void this.thread.setDrawing(fresh, Comlink.transfer(value, [buffer]));
      });
    return (view) => this.thread.paintPage(id(), page, view);
  }

  private last: number[] = [];

  private idOf(subject: object, send: (id: number) => void): number {
    const known = this.ids.get(subject);
    if (known !== undefined && this.last.includes(known)) {
      this.last = [...this.last.filter((one) => one !== known), known];
      return known;
    }
    const id = this.next++;
    this.ids.set(subject, id);
    send(id);
    // A few subjects are kept, those that were painted last: the views one goes back and forth between. Others are sent again when they are painted again.
    this.last.push(id);
    if (this.last.length > KEPT_SUBJECTS) void this.thread.forget(this.last.shift() as number);
    return id;
  }
}

const KEPT_SUBJECTS = 6;
