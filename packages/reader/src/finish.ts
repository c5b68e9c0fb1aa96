import { type Box, type Clip, type Contour, InputError, type Matrix, type Shape, transformContour } from '@okuri/core';
import { boxWithin } from '@okuri/core/inside';
import { MAX_COORDINATE_MM } from './caps.js';
import { inkBox, strokedBox } from './frame.js';
import { asKnifeLine, strokeWidthMm } from './knife-lines.js';
import type { RawNotice } from './notices.js';
import { uprightRectangle } from './outline.js';
import type { RawShape } from './reading.js';

/** Shapes in mm, and what has to be said of how they were read. */
export interface Finished {
  readonly shapes: readonly Shape[];
  readonly notices: readonly RawNotice[];
}

/**
 * Brings shapes from pixels of the page to mm with the frame's upper left as origin; reads hairlines as areas where that is
 * asked; leaves out clips that cut nothing off and shapes that their clips hide.
 */
export function finishShapes(
  raw: readonly RawShape[],
  frame: Box,
  options: { mmPerPx: number; hairlines: 'area' | 'line' },
): Finished {
  const k = options.mmPerPx;
  const toMm: Matrix = [k, 0, 0, k, -frame.x0 * k, -frame.y0 * k];
  const clips = new Map<Clip, { clip: Clip; box: Box | null }>();
  const shapes: Shape[] = [];
  const notices: RawNotice[] = [];
  const put = (shape: RawShape) => {
    const seen = inkBox(shape);
    const { element } = shape;
    if (seen === null) {
      const message = `${element} is hidden by its clip path and is left out.`;
      notices.push({ code: 'clipped-away', severity: 'note', message, element });
      return;
    }
    const reach = shape.stroke?.join === 'miter' ? Math.max(1.5, shape.stroke.miterLimit) : 1.5;
    const whole = strokedBox(shape, reach) as Box;
    const kept: Clip[] = [];
    for (const clip of shape.clips) {
      let known = clips.get(clip);
      if (known === undefined) {
        const contours = clip.contours.map((contour) => scaled(contour, toMm, element, false));
        known = { clip: { contours, rule: clip.rule }, box: uprightRectangle(clip.contours) };
        clips.set(clip, known);
      }
      if (known.box === null || !boxWithin(whole, known.box)) kept.push(known.clip);
    }
    const [a, b, c, d] = shape.stroke?.pen ?? toMm;
    shapes.push({
      id: shape.id,
      ink: shape.ink,
      contours: shape.contours.map((contour) => scaled(contour, toMm, element, true)),
      rule: shape.rule,
      ...(shape.stroke === null
        ? {}
        : { stroke: { ...shape.stroke, pen: [k * a, k * b, k * c, k * d, 0, 0] as Matrix } }),
      clips: kept,
    });
  };
  for (const shape of raw) {
    const knife = options.hairlines === 'area' ? asKnifeLine(shape, k) : null;
    if (knife === null) {
      put(shape);
      continue;
    }
    const { element } = shape;
    const width = Number(strokeWidthMm(shape, k).toFixed(3));
    const message =
      `${element} is a closed line ${width} mm wide without a fill: it is read as a line to cut along, ` +
      'that is, as the area inside it.';
    notices.push({ code: 'knife-line', severity: 'note', message, element, ...boxOf(shape) });
    put(knife.area);
    if (knife.rest !== null) put(knife.rest);
  }
  return { shapes, notices };
}

function boxOf(shape: RawShape): { boxPx?: Box } {
  const boxPx = inkBox(shape);
  return boxPx === null ? {} : { boxPx };
}

function scaled(contour: Contour, toMm: Matrix, element: string, limited: boolean): Contour {
  const out = transformContour(contour, toMm);
  for (const value of out.coords) {
    if (!Number.isFinite(value) || (limited && Math.abs(value) > MAX_COORDINATE_MM)) {
      throw new InputError(
        `${element} reaches ${Number.isFinite(value) ? 'more than a kilometre away' : 'to infinity'}: ` +
          'mend its coordinates or delete it in the drawing.',
      );
    }
  }
  return out;
}
