import { type Box, type Clip, contoursBox, type FrameSource, InputError } from '@okuri/core';
import { boxArea, joinBoxes } from '@okuri/core/inside';
import type { RawNotice } from './notices.js';
import { isPolygonal, uprightRectangle } from './outline.js';
import type { RawShape, RepeatSeen, Sink } from './reading.js';

/** The least share of the artwork's boxes that lies inside a rectangle which counts as drawn around it. */
const AROUND_SHARE = 0.75;
/** How far artwork may poke out of such a rectangle on each side, as a share of that side: spill of a repeat. */
const AROUND_POKE = 0.5;

/** The box that repeats, in pixels of the page, and the shape that only drew it. */
export interface FoundFrame {
  readonly box: Box;
  readonly from: FrameSource;
  readonly drawnBy: RawShape | null;
  readonly notices: readonly RawNotice[];
}

/**
 * Which box repeats: an element named `repeat`, else an unfilled rectangle around the artwork, else the page, else the
 * artwork's box. Throws `InputError` where two elements are named `repeat`, or that one is turned or has no area.
 */
export function findFrame(sink: Sink, page: Box | null): FoundFrame {
  if (sink.repeats.length > 0) return frameOfRepeat(sink.repeats);
  const boxes = new Map(sink.shapes.map((shape) => [shape, inkBox(shape)]));
  let best: FoundFrame | null = null;
  for (const { box, element, shape } of sink.rectangles) {
    if (!liesAround(box, sink.shapes, shape, boxes)) continue;
    if (best !== null && boxArea(best.box) <= boxArea(box)) continue;
    const message = `${element} is an unfilled rectangle around the artwork: it is read as the box that repeats and is not cut.`;
    best = {
      box,
      from: 'rectangle',
      drawnBy: shape,
      notices: [{ code: 'frame-from-rectangle', severity: 'note', message, element }],
    };
  }
  if (best !== null) return best;
  if (page !== null) return { box: page, from: 'page', drawnBy: null, notices: [] };
  let all: Box | null = null;
  for (const box of boxes.values()) if (box !== null) all = all === null ? box : joinBoxes(all, box);
  if (all === null || !(boxArea(all) > 0)) {
    throw new InputError(
      'The drawing states no size and its artwork has no area: set the page size in the drawing program.',
    );
  }
  return { box: all, from: 'artwork', drawnBy: null, notices: [] };
}

function frameOfRepeat(repeats: readonly RepeatSeen[]): FoundFrame {
  const [first, second] = repeats;
  if (second !== undefined) {
    throw new InputError(
      `Two elements are named "repeat", ${first.element} and ${second.element}: leave that name to one.`,
    );
  }
  const { element, contours } = first;
  const upright = uprightRectangle(contours);
  const box = upright ?? contoursBox(contours);
  if (box === null || !(boxArea(box) > 0)) {
    throw new InputError(
      `The element named "repeat", ${element}, has no area: draw it as a rectangle around one unit.`,
    );
  }
  if (upright !== null) return { box, from: 'shape', drawnBy: null, notices: [] };
  if (isPolygonal(contours)) {
    throw new InputError(
      `The element named "repeat", ${element}, is no upright rectangle: a unit can't be turned or slanted, so turn the ` +
        'whole drawing back until the rectangle stands upright.',
    );
  }
  const message = `The element named "repeat", ${element}, is no rectangle: the box around it is read as the box that repeats.`;
  return {
    box,
    from: 'shape',
    drawnBy: null,
    notices: [{ code: 'repeat-is-no-rectangle', severity: 'look', message, element }],
  };
}

function liesAround(
  frame: Box,
  shapes: readonly RawShape[],
  own: RawShape | null,
  boxes: ReadonlyMap<RawShape, Box | null>,
): boolean {
  const px = AROUND_POKE * (frame.x1 - frame.x0);
  const py = AROUND_POKE * (frame.y1 - frame.y0);
  let inside = 0;
  let all = 0;
  for (const shape of shapes) {
    const box = shape === own ? null : (boxes.get(shape) ?? null);
    if (box === null) continue;
    if (box.x0 < frame.x0 - px || box.x1 > frame.x1 + px || box.y0 < frame.y0 - py || box.y1 > frame.y1 + py)
      return false;
    all += boxArea(box);
    const w = Math.min(box.x1, frame.x1) - Math.max(box.x0, frame.x0);
    const h = Math.min(box.y1, frame.y1) - Math.max(box.y0, frame.y0);
    if (w > 0 && h > 0) inside += w * h;
  }
  return all > 0 && inside >= AROUND_SHARE * all;
}

/** The box of what is seen of a shape: its stroke's reach included, its clips' boxes taken off. Null where nothing is. */
export function inkBox(shape: RawShape): Box | null {
  const box = strokedBox(shape, 1);
  return shape.clips.reduce<Box | null>((left, clip) => (left === null ? null : meet(left, clipBox(clip))), box);
}

/** The box of a shape grown by `reach` half widths of its pen. */
export function strokedBox(shape: Pick<RawShape, 'contours' | 'stroke'>, reach: number): Box | null {
  const box = contoursBox(shape.contours);
  if (box === null || shape.stroke === null) return box;
  const [a, b, c, d] = shape.stroke.pen;
  const half = (reach * shape.stroke.width) / 2;
  const x = half * Math.hypot(a, c);
  const y = half * Math.hypot(b, d);
  return { x0: box.x0 - x, y0: box.y0 - y, x1: box.x1 + x, y1: box.y1 + y };
}

function clipBox(clip: Clip): Box | null {
  return contoursBox(clip.contours);
}

function meet(a: Box, b: Box | null): Box | null {
  if (b === null) return null;
  const box = {
    x0: Math.max(a.x0, b.x0),
    y0: Math.max(a.y0, b.y0),
    x1: Math.min(a.x1, b.x1),
    y1: Math.min(a.y1, b.y1),
  };
  return box.x1 >= box.x0 && box.y1 >= box.y0 ? box : null;
}
