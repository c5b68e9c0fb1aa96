import type { Drawing } from '@okuri/core';
import { type CanvasTarget, drawItems } from '@okuri/writer/canvas';
import * as Comlink from 'comlink';
import { type Camera, toWindow, type WindowSize } from './camera';
import { type ClothArea, ClothPainter } from './cloth-painter';
import { FONT_FAMILY, loadScreenFont } from './screen-font';
import type { UnitOutlines } from './unit-outlines';
import type { Laying } from './unit-picture';

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

/** The painter's side of the thread. Outlines are sent once and named by a number; drawings come from the engine's thread under names of its own. */
export interface PainterThread {
  /** Drawings come in here. */
  listen(port: MessagePort): void;
  setOutlines(id: number, outlines: UnitOutlines): void;
  forgetOutlines(id: number): void;
  paintCloth(id: number, cloth: ClothArea, laying: Laying, view: PaintView): Promise<ImageBitmap>;
  paintPage(name: string, page: number, view: PaintView): Promise<ImageBitmap>;
}

/** What an engine's thread sends: a drawing, and its name. */
export interface SentDrawing {
  readonly name: string;
  readonly drawing: Drawing;
}

/** So many drawings are kept, the newest: the views have one or two each. */
const KEPT_DRAWINGS = 8;

const cloths = new Map<number, { outlines: UnitOutlines; painter: ClothPainter }>();
const drawings = new Map<string, Drawing>();
const awaited = new Map<string, (drawing: Drawing) => void>();

function takeDrawing({ name, drawing }: SentDrawing): void {
  drawings.set(name, drawing);
  awaited.get(name)?.(drawing);
  awaited.delete(name);
  const [oldest] = drawings.keys();
  if (drawings.size > KEPT_DRAWINGS) drawings.delete(oldest);
}

/** A drawing may be asked for before it has come: it takes another way than the question. */
function drawingOf(name: string): Promise<Drawing> {
  const known = drawings.get(name);
  if (known === undefined) return new Promise((resolve) => awaited.set(name, resolve));
  // Those that are looked at stay.
  drawings.delete(name);
  drawings.set(name, known);
  return Promise.resolve(known);
}

const thread: PainterThread = {
  listen(port) {
    port.onmessage = ({ data }) => takeDrawing(data as SentDrawing);
  },
  setOutlines(id, outlines) {
    cloths.set(id, { outlines, painter: new ClothPainter() });
  },
  forgetOutlines(id) {
    cloths.delete(id);
  },
  async paintCloth(id, cloth, laying, view) {
    const subject = cloths.get(id);
    const { canvas, context } = blank(view);
    if (subject !== undefined) {
      subject.painter.paint(context, { ...laying, outlines: subject.outlines }, cloth, view);
    }
    return sent(canvas);
  },
  async paintPage(name, page, view) {
    const [drawing] = await Promise.all([drawingOf(name), loadScreenFont()]);
    const { canvas, context } = blank(view);
    const shown = drawing.pages[page];
    if (shown !== undefined) {
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
