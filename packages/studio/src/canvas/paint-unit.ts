import type { Box, Contour, Stroke } from '@okuri/core';
import { boxWithin } from '@okuri/core/inside';
import type { UnitOutlines } from './unit-outlines';
import type { UnitPicture } from './unit-picture';

/** The drawing context of a page or of a worker. */
export type Context = CanvasRenderingContext2D | OffscreenCanvasRenderingContext2D;

/** How far a mitred corner may stick out, as a share of the pen's width. */
const MITER_REACH = 4;

/** What is made of outlines once and used again and again where they are painted. */
interface Prepared {
  /** Box of each outline: x0, y0, x1, y1. */
  readonly boxes: Float64Array;
  /** The whole of each layer as one path; made when it is first wanted. */
  readonly paths: (Path2D | undefined)[];
  /** Box of each layer. */
  readonly layerBoxes: readonly Box[];
}

const prepared = new WeakMap<UnitOutlines, Prepared>();

/** Paints one unit on a canvas whose units are mm; of large ones only what lies in `within` (mm from the unit's corner). Its ground is not painted. */
export function paintUnit(context: Context, { outlines, colours, scale }: UnitPicture, within: Box | null): void {
  context.scale(scale, scale);
  const sight =
    within === null
      ? null
      : { x0: within.x0 / scale, y0: within.y0 / scale, x1: within.x1 / scale, y1: within.y1 / scale };
  const ready = prepare(outlines);
  for (let layer = 0; layer + 1 < outlines.layers.length; layer++) {
    const special = outlines.special.get(layer);
    const stroke = special?.stroke ?? null;
    const reach = stroke === null ? 0 : stroke.width * Math.max(...stroke.pen.slice(0, 4).map(Math.abs)) * MITER_REACH;
    const whole = ready.layerBoxes[layer];
    if (sight !== null && !touches(whole, sight, reach)) continue;
    context.fillStyle = colours[outlines.inkOf[layer]];
    const rule = outlines.evenOdd[layer] === 1 ? 'evenodd' : 'nonzero';
    if (special === undefined) {
      if (sight === null || boxWithin(whole, sight)) context.fill(layerPath(outlines, ready, layer), rule);
      else if (traceSeen(context, outlines, ready, { layer, sight, reach })) context.fill(rule);
      continue;
    }
    context.save();
    for (const clip of special.clips) {
      trace(context, clip.contours);
      context.clip(clip.rule);
    }
    if (stroke === null) context.fill(layerPath(outlines, ready, layer), rule);
    else if (traceSeen(context, outlines, ready, { layer, sight: sight ?? whole, reach })) {
      drawStroke(context, stroke, colours[outlines.inkOf[layer]]);
    }
    context.restore();
  }
}

/** The outline stands in mm; the pen is round in its own space. */
function drawStroke(context: Context, stroke: Stroke, colour: string): void {
  const [a, b, c, d] = stroke.pen;
  context.transform(a, b, c, d, 0, 0);
  context.strokeStyle = colour;
  context.lineWidth = stroke.width;
  context.lineCap = stroke.cap;
  context.lineJoin = stroke.join;
  context.miterLimit = stroke.miterLimit;
  context.setLineDash([...stroke.dash]);
  context.lineDashOffset = stroke.dashOffset;
  context.stroke();
}

/** A hole lies within the box of its outline: what is out of sight can be left out ring by ring. False where nothing is in sight. */
function traceSeen(
  context: Context,
  outlines: UnitOutlines,
  { boxes }: Prepared,
  { layer, sight, reach }: { readonly layer: number; readonly sight: Box; readonly reach: number },
): boolean {
  let any = false;
  for (let k = outlines.layers[layer]; k < outlines.layers[layer + 1]; k++) {
    const [x0, y0, x1, y1] = [boxes[4 * k], boxes[4 * k + 1], boxes[4 * k + 2], boxes[4 * k + 3]];
    if (x0 - reach >= sight.x1 || x1 + reach <= sight.x0 || y0 - reach >= sight.y1 || y1 + reach <= sight.y0) continue;
    if (!any) context.beginPath();
    any = true;
    follow(context, outlines.coords, outlines.starts[k], outlines.starts[k + 1], outlines.closed[k] === 1);
  }
  return any;
}

function layerPath(outlines: UnitOutlines, { paths }: Prepared, layer: number): Path2D {
  const known = paths[layer];
  if (known !== undefined) return known;
  const path = new Path2D();
  for (let k = outlines.layers[layer]; k < outlines.layers[layer + 1]; k++) {
    follow(path, outlines.coords, outlines.starts[k], outlines.starts[k + 1], outlines.closed[k] === 1);
  }
  paths[layer] = path;
  return path;
}

function prepare(outlines: UnitOutlines): Prepared {
  const known = prepared.get(outlines);
  if (known !== undefined) return known;
  const { coords, starts, layers } = outlines;
  const boxes = new Float64Array(4 * (starts.length - 1));
  for (let k = 0; k + 1 < starts.length; k++) {
    // Control points hold the curve between them.
    const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
    for (let i = starts[k]; i + 1 < starts[k + 1]; i += 2) stretch(box, coords[i], coords[i + 1]);
    boxes.set([box.x0, box.y0, box.x1, box.y1], 4 * k);
  }
  const layerBoxes = Array.from({ length: layers.length - 1 }, (_, layer) => {
    const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
    for (let k = layers[layer]; k < layers[layer + 1]; k++) {
      stretch(box, boxes[4 * k], boxes[4 * k + 1]);
      stretch(box, boxes[4 * k + 2], boxes[4 * k + 3]);
    }
    return box;
  });
  const ready = { boxes, paths: [], layerBoxes };
  prepared.set(outlines, ready);
  return ready;
}

function stretch(box: { x0: number; y0: number; x1: number; y1: number }, x: number, y: number): void {
  box.x0 = Math.min(box.x0, x);
  box.y0 = Math.min(box.y0, y);
  box.x1 = Math.max(box.x1, x);
  box.y1 = Math.max(box.y1, y);
}

function touches(a: Box, b: Box, reach: number): boolean {
  return a.x0 - reach < b.x1 && a.x1 + reach > b.x0 && a.y0 - reach < b.y1 && a.y1 + reach > b.y0;
}

/** Outlines as the canvas's present path. */
function trace(context: Context, contours: readonly Contour[]): void {
  context.beginPath();
  for (const { closed, coords } of contours) follow(context, coords, 0, coords.length, closed);
}

/** One outline added to a path: its start, then three points for every curve. */
function follow(path: Context | Path2D, coords: Float64Array, from: number, to: number, closed: boolean): void {
  if (to - from < 2) return;
  path.moveTo(coords[from], coords[from + 1]);
  for (let k = from + 2; k + 5 < to; k += 6) {
    path.bezierCurveTo(coords[k], coords[k + 1], coords[k + 2], coords[k + 3], coords[k + 4], coords[k + 5]);
  }
  if (closed) path.closePath();
}
