import { contoursBox, transformContour } from '../geometry/contour.js';
import { multiply } from '../geometry/matrix.js';
import type { Matrix } from '../geometry/types.js';
import type { Clip, Motif, Notice, Shape } from './types.js';

/** Sizes nearer to each other than this, mm, are the same size. */
const SAME_SIZE_MM = 1e-6;

/**
 * The motif at the size of its unit. `widthMm` scales the artwork evenly; `heightMm` then re-frames it without stretching, and a notice
 * says what gap or overlap that makes. null leaves a size as it is. Sizes must be > 0.
 */
export function sizeMotif(
  motif: Motif,
  { widthMm = null, heightMm = null }: { widthMm?: number | null; heightMm?: number | null },
): Motif {
  const scale = widthMm === null ? 1 : widthMm / motif.frame.widthMm;
  const shapes = Math.abs(scale - 1) < 1e-12 ? motif.shapes : motif.shapes.map((s) => scaleShape(s, scale));
  const frame = {
    ...motif.frame,
    widthMm: widthMm ?? motif.frame.widthMm,
    heightMm: motif.frame.heightMm * scale,
  };
  if (heightMm === null || Math.abs(heightMm - frame.heightMm) < SAME_SIZE_MM) return { ...motif, shapes, frame };
  return {
    frame: { ...frame, heightMm },
    shapes,
    notices: [...motif.notices, reframeNotice(frame.heightMm, heightMm, shapes)],
  };
}

function reframeNotice(from: number, to: number, shapes: readonly Shape[]): Notice {
  const box = contoursBox(shapes.flatMap((s) => s.contours));
  const grown = to - from;
  const below = box ? to - box.y1 : grown;
  const what =
    grown > 0
      ? `${mm(grown)} mm are added at the bottom${below > 0 ? `, so that ${mm(below)} mm stay empty below the artwork` : ''}`
      : `the units overlap by ${mm(-grown)} mm${box && box.y1 > to ? `, and artwork reaches ${mm(box.y1 - to)} mm past the bottom seam` : ''}`;
  return {
    code: 'height-reframed',
    severity: 'look',
    message: `The unit is made ${mm(to)} mm high instead of ${mm(from)} mm without stretching the artwork: ${what}.`,
    element: 'unit',
  };
}

function mm(v: number): string {
  return String(Math.round(v * 100) / 100);
}

function scaleShape(shape: Shape, scale: number): Shape {
  const by: Matrix = [scale, 0, 0, scale, 0, 0];
  const clips: Clip[] = shape.clips.map((c) => ({ ...c, contours: c.contours.map((k) => transformContour(k, by)) }));
  return {
    ...shape,
    contours: shape.contours.map((c) => transformContour(c, by)),
    clips,
    ...(shape.stroke ? { stroke: { ...shape.stroke, pen: multiply(by, shape.stroke.pen) } } : {}),
  };
}
