import { type Contour, circleContour, type Point, polyline, transformContour } from '@okuri/core';
import type { INode } from 'svgson';
import { ellipsePieces } from './arc.js';
import { MAX_PATH_CHARS, MAX_SEGMENTS } from './caps.js';
import type { Declared } from './cascade.js';
import { ContourBuilder } from './contour-builder.js';
import { parseNumbers } from './length.js';
import { type Axis, measure, refuseEndless } from './measure.js';
import { parsePathData } from './path-data.js';
import { labelOf, own, type Place, type SvgReading, tooManySegments } from './reading.js';

export const SHAPE_NAMES: ReadonlySet<string> = new Set([
  'path',
  'rect',
  'circle',
  'ellipse',
  'line',
  'polyline',
  'polygon',
]);

/** The outlines of a basic shape or a path in user units. Empty for shapes without size, as SVG has it. */
export function shapeContours(reading: SvgReading, node: INode, declared: Declared, place: Place): readonly Contour[] {
  const get = (name: string, axis: Axis) => measure(reading, node, declared, place, name, axis);
  switch (node.name) {
    case 'path':
      return pathContours(reading, node, declared, place);
    case 'rect':
      return rectContours(get);
    case 'circle': {
      const r = get('r', 'other') ?? 0;
      return r > 0 ? [circleContour({ x: get('cx', 'x') ?? 0, y: get('cy', 'y') ?? 0 }, r)] : [];
    }
    case 'ellipse': {
      const rx = get('rx', 'x') ?? get('ry', 'y') ?? 0;
      const ry = get('ry', 'y') ?? rx;
      if (!(rx > 0 && ry > 0)) return [];
      const unit = circleContour({ x: 0, y: 0 }, 1);
      return [transformContour(unit, [rx, 0, 0, ry, get('cx', 'x') ?? 0, get('cy', 'y') ?? 0])];
    }
    case 'line': {
      const out = new ContourBuilder();
      out.move({ x: get('x1', 'x') ?? 0, y: get('y1', 'y') ?? 0 });
      out.line({ x: get('x2', 'x') ?? 0, y: get('y2', 'y') ?? 0 });
      return out.finish();
    }
    default:
      return pointsContours(reading, node);
  }
}

function pathContours(reading: SvgReading, node: INode, declared: Declared, place: Place): readonly Contour[] {
  const written = own(declared, place, 'd') ?? '';
  const data = /^path\(\s*["']([\s\S]*)["']\s*\)$/.exec(written)?.[1] ?? written;
  if (data.trim() === '' || data.trim() === 'none') return [];
  if (data.length > MAX_PATH_CHARS) throw tooManySegments();
  const read = parsePathData(data, { maxSegments: MAX_SEGMENTS - reading.counters.segments });
  if (read.fault === null) return read.contours;
  if (read.fault.limit) throw tooManySegments();
  const element = labelOf(reading, node);
  refuseEndless(read.fault.text, 'path data', element);
  reading.notices.add({
    code: 'path-cut-short',
    severity: 'look',
    message:
      `The path data of ${element} can't be read from character ${read.fault.at + 1} on ` +
      `("${read.fault.text}"): only what comes before is drawn.`,
    element,
  });
  return read.contours;
}

function rectContours(get: (name: string, axis: Axis) => number | null): readonly Contour[] {
  const x = get('x', 'x') ?? 0;
  const y = get('y', 'y') ?? 0;
  const w = get('width', 'x') ?? 0;
  const h = get('height', 'y') ?? 0;
  if (!(w > 0 && h > 0)) return [];
  const askedX = positive(get('rx', 'x'));
  const askedY = positive(get('ry', 'y'));
  const rx = Math.min(askedX ?? askedY ?? 0, w / 2);
  const ry = Math.min(askedY ?? askedX ?? 0, h / 2);
  const out = new ContourBuilder();
  if (rx === 0 || ry === 0) {
    out.move({ x, y });
    out.line({ x: x + w, y });
    out.line({ x: x + w, y: y + h });
    out.line({ x, y: y + h });
    out.close();
    return out.finish();
  }
  // SVG 2, 10.2: from the upper left clockwise, a quarter of an ellipse at each corner.
  const corner = (cx: number, cy: number, quarter: number, to: Point) => {
    const arc = { centre: { x: cx, y: cy }, rx, ry, phi: 0, start: (quarter * Math.PI) / 2, delta: Math.PI / 2 };
    for (const [a, b, c] of ellipsePieces(arc, 2, to)) out.cubic(a, b, c);
  };
  out.move({ x: x + rx, y });
  out.line({ x: x + w - rx, y });
  corner(x + w - rx, y + ry, -1, { x: x + w, y: y + ry });
  out.line({ x: x + w, y: y + h - ry });
  corner(x + w - rx, y + h - ry, 0, { x: x + w - rx, y: y + h });
  out.line({ x: x + rx, y: y + h });
  corner(x + rx, y + h - ry, 1, { x, y: y + h - ry });
  out.line({ x, y: y + ry });
  corner(x + rx, y + ry, 2, { x: x + rx, y });
  out.close();
  return out.finish();
}

function positive(value: number | null): number | null {
  return value !== null && value >= 0 ? value : null;
}

function pointsContours(reading: SvgReading, node: INode): readonly Contour[] {
  const text = node.attributes.points ?? '';
  const element = labelOf(reading, node);
  if (text.length > MAX_PATH_CHARS) throw tooManySegments();
  const numbers = parseNumbers(text, { max: 2 * MAX_SEGMENTS });
  if (numbers !== null && numbers.length > 2 * MAX_SEGMENTS) throw tooManySegments();
  if (numbers === null) refuseEndless(text, 'points', element);
  const values = numbers ?? leadingNumbers(text);
  if (numbers === null || values.length % 2 === 1) {
    reading.notices.add({
      code: 'path-cut-short',
      severity: 'look',
      message: `The points of ${element} can't all be read: only those before the fault are drawn.`,
      element,
    });
  }
  const points: Point[] = [];
  for (let k = 0; k + 1 < values.length; k += 2) {
    const p = { x: values[k], y: values[k + 1] };
    const last = points.at(-1);
    if (last?.x !== p.x || last.y !== p.y) points.push(p);
  }
  const closed = node.name === 'polygon';
  const [first, last] = [points[0], points.at(-1)];
  if (closed && points.length > 1 && first.x === last?.x && first.y === last.y) points.pop();
  return points.length < 2 ? [] : [polyline(points, { closed })];
}

function leadingNumbers(text: string): number[] {
  const out: number[] = [];
  for (const part of text.trim().split(/[\s,]+/)) {
    const value = Number(part);
    if (part === '' || !Number.isFinite(value)) break;
    out.push(value);
  }
  return out;
}
