import type { Drawing } from '@okuri/core';
import { type CanvasTarget, drawItems } from '@okuri/writer/canvas';
import * as Comlink from 'comlink';
import { type Camera, toWindow, type WindowSize } from './camera';
import { type ClothArea, ClothPainter } from './cloth-painter';
import { FONT_FAMILY, loadScreenFont } from './screen-font';
import type { UnitPicture } from './unit-picture';

/** What is to be painted: so much of a plane, in so many device pixels. */
export interface PaintView {
  readonly camera: Camera;
  readonly window: WindowSize;
  readonly ratio: number;
  readonly resting: boolean;
  /** Outlines themselves, for a small picture that is painted once; else copies of a picture of the unit may be laid. */
  readonly outlines?: boolean;
  /** The colour of the table around. */
  readonly around: string;
}

/** The painter's side of the thread. Subjects are sent once and named by a number. */
export interface PainterThread {
  setCloth(id: number, picture: UnitPicture): void;
  setDrawing(id: number, drawing: Drawing): void;
  forget(id: number): void;
  paintCloth(
    id: number,
    cloth: ClothArea,
    lattice: UnitPicture['lattice'],
    scale: number,
    view: PaintView,
  ): Promise<ImageBitmap>;
  paintPage(id: number, page: number, view: PaintView): Promise<ImageBitmap>;
}

const cloths = new Map<number, { picture: UnitPicture; painter: ClothPainter }>();
const drawings = new Map<number, Drawing>();

const thread: PainterThread = {
  setCloth(id, picture) {
    cloths.set(id, { picture, painter: new ClothPainter() });
  },
  setDrawing(id, drawing) {
    drawings.set(id, drawing);
  },
  forget(id) {
    cloths.delete(id);
    drawings.delete(id);
  },
  async paintCloth(id, cloth, lattice, scale, view) {
    const subject = cloths.get(id);
    const { canvas, context } = blank(view);
    if (subject !== undefined) {
      subject.painter.paint(context, { ...subject.picture, lattice, scale }, cloth, view);
    }
    return sent(canvas);
  },
  async paintPage(id, page, view) {
    await loadScreenFont();
    const drawing = drawings.get(id);
    const { canvas, context } = blank(view);
    const shown = drawing?.pages[page];
    if (drawing !== undefined && shown !== undefined) {
      const { camera, window, ratio } = view;
      const corner = toWindow(camera, { x: 0, y: 0 }, window);
      const scale = camera.pxPerMm * ratio;
      context.setTransform(scale, 0, 0, scale, corner.x * ratio, corner.y * ratio);
      context.fillStyle = '#ffffff';
      context.fillRect(0, 0, shown.widthMm, shown.heightMm);
      drawItems(context as CanvasTarget, drawing, shown.items, { fontFamily: FONT_FAMILY });
    }
    return sent(canvas);
  },
};

function blank({ window, ratio, around }: PaintView) {
  const canvas = new OffscreenCanvas(
    Math.max(1, Math.round(window.width * ratio)),
    Math.max(1, Math.round(window.height * ratio)),
  );
  const context = canvas.getContext('2d', { alpha: false });
  if (context === null) throw new Error('this browser gives no canvas');
  context.fillStyle = around;
  context.fillRect(0, 0, canvas.width, canvas.height);
  return { canvas, context };
}

function sent(canvas: OffscreenCanvas): ImageBitmap {
  const image = canvas.transferToImageBitmap();
  return Comlink.transfer(image, [image]);
}

Comlink.expose(thread);
