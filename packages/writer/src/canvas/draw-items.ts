import type { Contour, Drawing, Item } from '@okuri/core';

/** The parts of a browser's 2D drawing context in use here, so that this compiles without a browser's types. */
export interface CanvasTarget {
  fillStyle: unknown;
  strokeStyle: unknown;
  lineWidth: number;
  lineCap: string;
  lineJoin: string;
  miterLimit: number;
  font: string;
  textAlign: string;
  textBaseline: string;
  save(): void;
  restore(): void;
  beginPath(): void;
  moveTo(x: number, y: number): void;
  lineTo(x: number, y: number): void;
  bezierCurveTo(x1: number, y1: number, x2: number, y2: number, x: number, y: number): void;
  closePath(): void;
  fill(rule?: 'nonzero' | 'evenodd'): void;
  stroke(): void;
  clip(rule?: 'nonzero' | 'evenodd'): void;
  setLineDash(lengths: number[]): void;
  transform(a: number, b: number, c: number, d: number, e: number, f: number): void;
  fillText(text: string, x: number, y: number): void;
}

export interface DrawItemsOptions {
  /** CSS family of the bundled font, as the page has loaded it. */
  readonly fontFamily: string;
}

/** Draws items of a drawing on a canvas whose units are already mm: the fourth writer beside SVG, PDF and PNG. */
export function drawItems(
  target: CanvasTarget,
  drawing: Pick<Drawing, 'groups'>,
  items: readonly Item[],
  options: DrawItemsOptions,
): void {
  for (const item of items) drawItem(target, drawing, item, options);
}

function drawItem(target: CanvasTarget, drawing: Pick<Drawing, 'groups'>, item: Item, options: DrawItemsOptions): void {
  switch (item.kind) {
    case 'path': {
      trace(target, item.contours);
      if (item.fill !== undefined) {
        target.fillStyle = item.fill;
        target.fill(item.rule ?? 'nonzero');
      }
      if (item.line !== undefined) {
        target.strokeStyle = item.line.colour;
        target.lineWidth = item.line.widthMm;
        target.lineCap = item.line.cap ?? 'butt';
        target.lineJoin = item.line.join ?? 'miter';
        target.miterLimit = MITER_LIMIT;
        target.setLineDash([...(item.line.dashMm ?? [])]);
        target.stroke();
      }
      return;
    }
    case 'text': {
      target.save();
      const turn = ((item.turn ?? 0) * Math.PI) / 180;
      target.transform(Math.cos(turn), Math.sin(turn), -Math.sin(turn), Math.cos(turn), item.x, item.y);
      // Browsers round small sizes: text is set large and scaled down.
      target.transform(item.sizeMm / TEXT_EM, 0, 0, item.sizeMm / TEXT_EM, 0, 0);
      target.font = `${item.bold ? 'bold ' : ''}${TEXT_EM}px ${options.fontFamily}`;
      target.textAlign = { start: 'left', middle: 'center', end: 'right' }[item.anchor ?? 'start'];
      target.textBaseline = 'alphabetic';
      target.fillStyle = item.colour;
      target.fillText(item.text, 0, 0);
      target.restore();
      return;
    }
    case 'clip': {
      target.save();
      trace(target, item.contours);
      target.clip(item.rule ?? 'nonzero');
      drawItems(target, drawing, item.items, options);
      target.restore();
      return;
    }
    case 'layer':
      drawItems(target, drawing, item.items, options);
      return;
    case 'place':
      for (const matrix of item.at) {
        target.save();
        target.transform(...matrix);
        drawItems(target, drawing, drawing.groups[item.group] ?? [], options);
        target.restore();
      }
  }
}

/** The default of SVG 1.1, 11.4, as in every writer. */
const MITER_LIMIT = 4;
/** px an em at which text is set before it is scaled. */
const TEXT_EM = 100;

function trace(target: CanvasTarget, contours: readonly Contour[]): void {
  target.beginPath();
  for (const { closed, coords } of contours) {
    if (coords.length < 2) continue;
    target.moveTo(coords[0], coords[1]);
    for (let k = 2; k + 5 < coords.length; k += 6) {
      target.bezierCurveTo(coords[k], coords[k + 1], coords[k + 2], coords[k + 3], coords[k + 4], coords[k + 5]);
    }
    if (closed) target.closePath();
  }
}
