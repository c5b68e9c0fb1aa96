import type { Box, Contour } from '@okuri/core';
import type { UnitLayer, UnitPicture } from './unit-picture';

/** The drawing context of a page or of a worker. */
export type Context = CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D;

/** Paints one unit on a canvas whose units are mm; of large ones only what lies in `within`. Its ground is not painted. */
export function paintUnit(context: Context, { layers, scale }: UnitPicture, within: Box | null): void {
  context.scale(scale, scale);
  if (within !== null) {
    const { x0, y0, x1, y1 } = within;
    within = { x0: x0 / scale, y0: y0 / scale, x1: x1 / scale, y1: y1 / scale };
  }
  for (const layer of layers) paintLayer(context, layer, within);
}

function paintLayer(context: Context, layer: UnitLayer, within: Box | null): void {
  const { fill, contours, boxes, rule, stroke, clips } = layer;
  const reach = stroke === null ? 0 : stroke.width * Math.max(...stroke.pen.slice(0, 4).map(Math.abs)) * MITER_REACH;
  // A hole lies within the box of its outline: what is out of sight can be left out ring by ring.
  const shown = within === null ? contours : contours.filter((_, k) => touches(boxes[k], within, reach));
  if (shown.length === 0) return;
  context.save();
  for (const clip of clips) {
    trace(context, clip.contours);
    context.clip(clip.rule);
  }
  trace(context, shown);
  if (stroke === null) {
    context.fillStyle = fill;
    context.fill(rule);
  } else {
    const [a, b, c, d] = stroke.pen;
    // The outline stands in mm; the pen is round in its own space.
    context.transform(a, b, c, d, 0, 0);
    context.strokeStyle = fill;
    context.lineWidth = stroke.width;
    context.lineCap = stroke.cap;
    context.lineJoin = stroke.join;
    context.miterLimit = stroke.miterLimit;
    context.setLineDash([...stroke.dash]);
    context.lineDashOffset = stroke.dashOffset;
    context.stroke();
  }
  context.restore();
}

/** How far a mitred corner may stick out, as a share of the pen's width. */
const MITER_REACH = 4;

function touches(a: Box, b: Box, reach: number): boolean {
  return a.x0 - reach < b.x1 && a.x1 + reach > b.x0 && a.y0 - reach < b.y1 && a.y1 + reach > b.y0;
}

/** Outlines as the canvas's present path. */
export function trace(context: Context, contours: readonly Contour[]): void {
  context.beginPath();
  for (const { closed, coords } of contours) {
    if (coords.length < 2) continue;
    context.moveTo(coords[0], coords[1]);
    for (let k = 2; k + 5 < coords.length; k += 6) {
      context.bezierCurveTo(coords[k], coords[k + 1], coords[k + 2], coords[k + 3], coords[k + 4], coords[k + 5]);
    }
    if (closed) context.closePath();
  }
}
