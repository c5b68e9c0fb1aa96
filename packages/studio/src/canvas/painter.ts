import * as Comlink from 'comlink';
import type { ShownDrawing } from '../engine/protocol';
import type { ClothArea } from './cloth-painter';
import type { PainterThread, PaintView } from './painter-worker';
import type { UnitOutlines } from './unit-outlines';
import type { UnitPicture } from './unit-picture';

/** Paints a part of a plane on another thread. */
export interface PaintSource {
  (view: PaintView): Promise<ImageBitmap>;
  /** It paints as finely as it can whether the view rests or not. */
  readonly alwaysFine?: boolean;
}

/** Outlines of so many units are kept on the other thread, those that were painted last. Others are sent again when they are painted again. */
const KEPT_OUTLINES = 6;

/** One thread that paints, so that the window never waits for a picture. */
export class Painter {
  private readonly thread = Comlink.wrap<PainterThread>(
    new Worker(new URL('./painter-worker.ts', import.meta.url), { type: 'module' }),
  );
  private readonly ids = new WeakMap<UnitOutlines, number>();
  private next = 1;
  private last: number[] = [];

  /** Takes drawings from an engine's thread. */
  listen(port: MessagePort): void {
    void this.thread.listen(Comlink.transfer(port, [port]));
  }

  /** A cloth laid with a picture of its unit. */
  cloth({ outlines, ...laying }: UnitPicture, area: ClothArea): PaintSource {
    return (view) => this.thread.paintCloth(this.idOf(outlines), area, laying, view);
  }

  /** A page of a drawing. */
  page({ name }: ShownDrawing, page: number): PaintSource {
    const paint = (view: PaintView): Promise<ImageBitmap> => this.thread.paintPage(name, page, view);
    return Object.assign(paint, { alwaysFine: true });
  }

  private idOf(outlines: UnitOutlines): number {
    const known = this.ids.get(outlines);
    if (known !== undefined && this.last.includes(known)) {
      this.last = [...this.last.filter((one) => one !== known), known];
      return known;
    }
    const id = this.next++;
    this.ids.set(outlines, id);
    void this.thread.setOutlines(id, outlines);
    this.last.push(id);
    if (this.last.length > KEPT_OUTLINES) void this.thread.forgetOutlines(this.last.shift() as number);
    return id;
  }
}
