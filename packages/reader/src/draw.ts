import { type Contour, type FillRule, InputError, type Stroke, transformContour } from '@okuri/core';
import type { INode } from 'svgson';
import { MAX_COORDINATE_PX } from './caps.js';
import type { Declared } from './cascade.js';
import { parseLength, parseNumbers } from './length.js';
import { percentBase, refuseEndless } from './measure.js';
import { contourLength, filledContours, isPoint, uprightRectangle } from './outline.js';
import { readPaint } from './paint.js';
import { countSegments, labelOf, own, type Place, type RawShape, type SvgReading, shapeId } from './reading.js';

/**
 * Puts the fill and the stroke of an outline (user units) into the sink, in paint order. `rule` overrides the fill rule,
 * as glyphs do.
 */
export function drawOutline(
  reading: SvgReading,
  node: INode,
  declared: Declared,
  place: Place,
  local: readonly Contour[],
  options: { rule?: FillRule } = {},
): void {
  if (local.length === 0) return;
  const element = labelOf(reading, node);
  const [a, b, c, d] = place.ctm;
  if (a * d - b * c === 0) {
    const message = `${element} is squeezed to nothing by its transform and is left out.`;
    reading.notices.add({ code: 'flattened-away', severity: 'note', message, element });
    return;
  }
  const { values } = place.style;
  const contours = local.map((contour) => transformContour(contour, place.ctm));
  refuseFarAway(contours, element);
  countSegments(
    reading,
    contours.reduce((sum, contour) => sum + (contour.coords.length - 2) / 6, 0),
  );
  const base = { id: shapeId(reading, node), element, clips: place.clips, stroke: null, bare: false };
  if (reading.mode !== 'paint') {
    const rule = options.rule ?? asRule(reading.mode === 'clip' ? values['clip-rule'] : values['fill-rule']);
    const kept = reading.mode === 'clip' ? filledContours(contours) : contours;
    if (kept.length > 0) reading.sink.shapes.push({ ...base, ink: '#000000', contours: kept, rule });
    return;
  }
  if (place.hidden) return;
  if (values.visibility !== 'visible') {
    const message = `${element} is not visible (visibility: ${values.visibility}) and is left out.`;
    reading.notices.add({ code: 'hidden-left-out', severity: 'note', message, element });
    return;
  }
  if (node.name !== 'text' && hasMarkers(values)) {
    const message = `The markers (arrow heads) of ${element} are left out: turn them into paths in the drawing program.`;
    reading.notices.add({ code: 'markers-left-out', severity: 'look', message, element });
  }

  const fill = readPaint(reading, node, place, 'fill');
  const pen = readStroke(reading, node, declared, place, local);
  const line = pen === null ? null : readPaint(reading, node, place, 'stroke');
  const rule = options.rule ?? asRule(values['fill-rule']);
  const made: RawShape[] = [];
  if (fill !== null) {
    const filled = filledContours(contours);
    if (filled.length > 0) made.push({ ...base, ink: fill, contours: filled, rule });
  }
  if (pen !== null && line !== null) {
    const kept = pen.cap === 'butt' ? contours.filter((contour) => !isPoint(contour)) : contours;
    if (kept.length > 0) made.push({ ...base, ink: line, contours: kept, rule, stroke: pen, bare: fill === null });
  }
  if (strokeFirst(values['paint-order'])) made.reverse();
  reading.sink.shapes.push(...made);
  if (fill === null) {
    const box = uprightRectangle(contours);
    if (box !== null) reading.sink.rectangles.push({ box, element, shape: made[0] ?? null });
  }
}

function refuseFarAway(contours: readonly Contour[], element: string): void {
  for (const { coords } of contours) {
    for (const value of coords) {
      if (Math.abs(value) <= MAX_COORDINATE_PX) continue;
      throw new InputError(
        `${element} reaches ${Number.isFinite(value) ? 'absurdly far away' : 'to infinity'}: mend its coordinates or delete ` +
          'it in the drawing.',
      );
    }
  }
}

function asRule(text: string): FillRule {
  return text.trim().toLowerCase() === 'evenodd' ? 'evenodd' : 'nonzero';
}

function strokeFirst(order: string): boolean {
  const words = order.toLowerCase().split(/\s+/);
  const fill = words.indexOf('fill');
  const stroke = words.indexOf('stroke');
  return stroke >= 0 && (fill < 0 || stroke < fill);
}

function hasMarkers(values: Place['style']['values']): boolean {
  return [values['marker-start'], values['marker-mid'], values['marker-end']].some((text) => text.includes('url('));
}

function readStroke(
  reading: SvgReading,
  node: INode,
  declared: Declared,
  place: Place,
  local: readonly Contour[],
): Stroke | null {
  const { values } = place.style;
  if (values.stroke.trim().toLowerCase() === 'none') return null;
  const width = strokeLength(reading, node, place, 'stroke-width', 1);
  if (!(width > 0)) return null;
  const [a, b, c, d] = place.ctm;
  const fixed = own(declared, place, 'vector-effect')?.toLowerCase() === 'non-scaling-stroke';
  const cap = values['stroke-linecap'].toLowerCase();
  const join = values['stroke-linejoin'].toLowerCase();
  if (join === 'arcs' || join === 'miter-clip') {
    const element = labelOf(reading, node);
    const message = `The line join "${join}" of ${element} is read as "miter".`;
    reading.notices.add({ code: 'join-read-as-miter', severity: 'look', message, element });
  }
  const limit = Number(values['stroke-miterlimit']);
  const dash = readDash(reading, node, place, local);
  return {
    width,
    cap: cap === 'round' || cap === 'square' ? cap : 'butt',
    join: join === 'round' || join === 'bevel' ? join : 'miter',
    miterLimit: limit >= 1 ? limit : 4,
    dash: dash.lengths,
    dashOffset: dash.lengths.length === 0 ? 0 : strokeLength(reading, node, place, 'stroke-dashoffset', 0) * dash.scale,
    pen: fixed ? [1, 0, 0, 1, 0, 0] : [a, b, c, d, 0, 0],
  };
}

function strokeLength(
  reading: SvgReading,
  node: INode,
  place: Place,
  name: 'stroke-width' | 'stroke-dashoffset',
  initial: number,
): number {
  const text = place.style.values[name];
  const base = { percent: percentBase(place, 'other'), fontSize: place.style.fontSize };
  const value = parseLength(text, base);
  if (value !== null && (value >= 0 || name === 'stroke-dashoffset')) return value;
  const element = labelOf(reading, node);
  refuseEndless(text, name, element);
  const message = `The ${name} "${text.slice(0, 40)}" of ${element} is not understood: it is read as ${initial}.`;
  reading.notices.add({ code: 'value-not-understood', severity: 'look', message, element });
  return initial;
}

function readDash(
  reading: SvgReading,
  node: INode,
  place: Place,
  local: readonly Contour[],
): { lengths: readonly number[]; scale: number } {
  const text = place.style.values['stroke-dasharray'].trim();
  if (text === '' || text.toLowerCase() === 'none') return { lengths: [], scale: 1 };
  const base = { percent: percentBase(place, 'other'), fontSize: place.style.fontSize };
  const read = text.split(/[\s,]+/).map((part) => parseLength(part, base));
  if (read.some((value) => value === null || value < 0)) {
    const element = labelOf(reading, node);
    refuseEndless(text, 'stroke-dasharray', element);
    const message = `The dashes "${text.slice(0, 40)}" of ${element} are not understood: the line is read as unbroken.`;
    reading.notices.add({ code: 'value-not-understood', severity: 'look', message, element });
    return { lengths: [], scale: 1 };
  }
  const stated = parseNumbers(node.attributes.pathLength ?? '')?.[0] ?? 0;
  // Dashes count in the length that the author states for the path (SVG 2, 9.6.1).
  const scale = stated > 0 ? local.reduce((sum, contour) => sum + contourLength(contour), 0) / stated : 1;
  const lengths = (read as number[]).map((value) => value * scale);
  if (lengths.reduce((sum, value) => sum + value, 0) <= 0) return { lengths: [], scale };
  return { lengths: lengths.length % 2 === 0 ? lengths : [...lengths, ...lengths], scale };
}
