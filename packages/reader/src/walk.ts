import { type Box, InputError, type Matrix } from '@okuri/core';
import { multiply, transformBox, translation } from '@okuri/core/inside';
import type { INode } from 'svgson';
import { MAX_DRAW_DEPTH } from './caps.js';
import type { Declared } from './cascade.js';
import { boxClip, clipPlace, withClip } from './clip.js';
import { drawOutline } from './draw.js';
import { parseLength } from './length.js';
import { measure } from './measure.js';
import { noteOpacity, readOpacity } from './paint.js';
import { countCopy, countVisit, labelOf, own, type Place, type Sink, type SvgReading } from './reading.js';
import { isRepeatLabelled } from './repeat-label.js';
import { SHAPE_NAMES, shapeContours } from './shapes.js';
import { inheritStyle } from './style.js';
import { drawText } from './text.js';
import { aboutPoint, parseTransform } from './transform.js';
import { parseAspectRatio, parseViewBox, viewBoxMatrix } from './viewport.js';

/** Elements that have no ink of their own. */
const SILENT: ReadonlySet<string> = new Set(
  (
    'defs title desc metadata style linearGradient radialGradient pattern clipPath marker mask filter symbol view stop ' +
    'solidcolor hatch cursor color-profile font font-face'
  ).split(' '),
);
const CONTAINERS: ReadonlySet<string> = new Set(['g', 'a']);
const ANIMATIONS: ReadonlySet<string> = new Set([
  'animate',
  'animateTransform',
  'animateMotion',
  'animateColor',
  'set',
]);
const LEFT_OUT: Readonly<Record<string, readonly [code: string, said: string]>> = {
  image: ['image-left-out', 'is a raster image and is left out: trace it in the drawing program'],
  foreignObject: ['foreign-object-left-out', 'holds no SVG graphics and is left out'],
  script: ['script-left-out', 'is a program and is not run'],
  flowRoot: ['text-left-out', 'is flowed text and is left out: turn it into paths in the drawing program'],
};

/**
 * What an `svg` or `symbol` is shown in: the size that a `use` asks of it, or, for the outermost `svg`, the matrix and the
 * size of its user space.
 */
export type Viewport =
  | { readonly kind: 'asked'; readonly width: number | null; readonly height: number | null }
  | { readonly kind: 'page'; readonly matrix: Matrix; readonly view: Place['view'] };

/** Draws one element and all within it. Throws `InputError` for loops, transforms that can't be read, and beyond caps. */
export function visit(reading: SvgReading, node: INode, outer: Place, viewport: Viewport | null = null): void {
  if (node.type !== 'element' || node.name.includes(':')) return;
  if (SILENT.has(node.name) && !(node.name === 'symbol' && viewport !== null)) return;
  countVisit(reading);
  const element = labelOf(reading, node);
  if (outer.depth > MAX_DRAW_DEPTH) {
    throw new InputError(
      `The drawing nests more than ${MAX_DRAW_DEPTH} elements when its copies are followed (at ${element}).`,
    );
  }
  const declared = reading.cascade.declared(node);
  let place: Place = {
    ...outer,
    depth: outer.depth + 1,
    style: inheritStyle(outer.style, declared),
    ctm: multiply(outer.ctm, ownTransform(node, declared, outer, element)),
  };
  const named = reading.mode === 'paint' && isRepeatLabelled(node);
  if (named && viewport?.kind !== 'page' && seeRepeat(reading, node, place, element)) return;
  if (place.hidden && !holdsPlace(node)) return;
  const hides = own(declared, place, 'display')?.toLowerCase() === 'none';
  if (hides && !place.hidden) {
    if (reading.mode === 'clip') return;
    if (reading.mode === 'paint') note(reading, element, 'note', 'hidden-left-out', 'is not displayed and is left out');
    place = { ...place, hidden: true };
  }
  if (reading.mode === 'paint' && !place.hidden) {
    const opacity = readOpacity(own(declared, place, 'opacity'));
    if (opacity <= 0) {
      note(reading, element, 'note', 'hidden-left-out', 'is fully transparent and is left out');
      place = { ...place, hidden: true };
    } else {
      if (opacity < 1) noteOpacity(reading, element, 'the whole', opacity);
      noteEffects(reading, declared, place, element);
    }
  }
  if (!place.hidden && reading.mode !== 'outline') place = clipPlace(reading, node, place, visit);
  drawKind(reading, node, declared, place, viewport);
}

function drawKind(reading: SvgReading, node: INode, declared: Declared, place: Place, viewport: Viewport | null): void {
  const { name } = node;
  const element = labelOf(reading, node);
  if (SHAPE_NAMES.has(name)) {
    if (!place.hidden) drawOutline(reading, node, declared, place, shapeContours(reading, node, declared, place));
  } else if (CONTAINERS.has(name)) {
    // A clip path shows shapes, texts and `use`, no groups (SVG 1.1, 14.3.5).
    if (reading.mode !== 'clip') visitAll(reading, node, place);
    else note(reading, element, 'look', 'clip-group-left-out', 'is a group in a clip path, which clips nothing there');
  } else if (name === 'text') {
    if (!place.hidden) drawText(reading, node, place);
  } else if (name === 'use') visitUse(reading, node, declared, place, element);
  else if (name === 'svg' || name === 'symbol') visitViewport(reading, node, declared, place, viewport);
  else if (name === 'switch') visitSwitch(reading, node, place, element);
  else if (ANIMATIONS.has(name))
    note(reading, element, 'note', 'animation-left-out', 'is an animation: the picture is read as it stands');
  else if (!place.hidden) {
    const [code, said] = LEFT_OUT[name] ?? ['element-left-out', 'is no shape that can be read and is left out'];
    const boxPx = name === 'image' ? imageBox(reading, node, declared, place) : undefined;
    reading.notices.add({
      code,
      severity: name === 'script' ? 'note' : 'look',
      message: `${element} ${said}.`,
      element,
      ...(boxPx === undefined ? {} : { boxPx }),
    });
  }
}

function visitAll(reading: SvgReading, node: INode, place: Place): void {
  for (const child of node.children) if (child.type === 'element') visit(reading, child, place);
}

function holdsPlace(node: INode): boolean {
  return CONTAINERS.has(node.name) || node.name === 'svg' || node.name === 'switch';
}

function note(reading: SvgReading, element: string, severity: 'look' | 'note', code: string, said: string): void {
  reading.notices.add({ code, severity, message: `${element} ${said}.`, element });
}

const EFFECTS: readonly (readonly [property: string, code: string, said: string])[] = [
  ['filter', 'filter-left-out', 'has a filter: it is read without it'],
  ['mask', 'mask-left-out', 'has a mask: it is read without it'],
];

function noteEffects(reading: SvgReading, declared: Declared, place: Place, element: string): void {
  for (const [property, code, said] of EFFECTS) {
    const value = own(declared, place, property)?.toLowerCase();
    if (value !== undefined && value !== 'none') note(reading, element, 'look', code, said);
  }
  const blend = own(declared, place, 'mix-blend-mode')?.toLowerCase();
  if (blend !== undefined && blend !== 'normal') {
    note(reading, element, 'look', 'blend-read-as-full', `has the blend mode "${blend}": it is read as full ink`);
  }
}

function ownTransform(node: INode, declared: Declared, outer: Place, element: string): Matrix {
  const text = own(declared, outer, 'transform');
  if (text === undefined) return [1, 0, 0, 1, 0, 0];
  const read = parseTransform(text);
  if (read === null) {
    throw new InputError(
      `The transform "${text.slice(0, 60)}" of ${element} can't be read: mend or flatten it in the drawing.`,
    );
  }
  const origin = own(declared, outer, 'transform-origin')?.split(/\s+/);
  if (origin === undefined || node.name === 'clipPath') return read;
  const [x, y] = [
    originPart(origin[0], outer.view.width, outer),
    originPart(origin[1] ?? '50%', outer.view.height, outer),
  ];
  return aboutPoint(read, x, y);
}

function originPart(text: string, full: number, place: Place): number {
  const share = { left: 0, top: 0, center: 0.5, right: 1, bottom: 1 }[text.toLowerCase()];
  return share === undefined
    ? (parseLength(text, { percent: full, fontSize: place.style.fontSize }) ?? 0)
    : share * full;
}

/** Takes an element named `repeat` as the frame where it is one shape; false where it holds more, as a layer does. */
function seeRepeat(reading: SvgReading, node: INode, place: Place, element: string): boolean {
  const sink: Sink = { shapes: [], rectangles: [], repeats: [] };
  drawKind(
    { ...reading, sink, mode: 'outline' },
    node,
    reading.cascade.declared(node),
    { ...place, hidden: false },
    null,
  );
  if (sink.shapes.length === 1) {
    reading.sink.repeats.push({ element, contours: sink.shapes[0].contours });
    return true;
  }
  const holds = sink.shapes.length === 0 ? 'has no outline' : `holds ${sink.shapes.length} shapes`;
  note(
    reading,
    element,
    'look',
    'repeat-is-no-shape',
    `is named "repeat" but ${holds}: it is not taken as the box that repeats`,
  );
  return false;
}

function visitUse(reading: SvgReading, node: INode, declared: Declared, place: Place, element: string): void {
  const href = (node.attributes.href ?? node.attributes['xlink:href'] ?? '').trim();
  const target = href.startsWith('#') ? reading.byId.get(href.slice(1)) : undefined;
  if (place.hidden) return;
  if (target === undefined) {
    const where =
      href.startsWith('#') || href === '' ? 'is not in the drawing' : 'is outside the drawing and is not fetched';
    note(
      reading,
      element,
      'look',
      'use-left-out',
      `refers to "${href.slice(0, 60)}", which ${where}: nothing is drawn for it`,
    );
    return;
  }
  if (place.open.includes(node) || place.open.includes(target)) {
    throw new InputError(
      `${element} copies something that holds itself (${labelOf(reading, target)}): undo that loop in the drawing.`,
    );
  }
  countCopy(reading, element);
  const x = measure(reading, node, declared, place, 'x', 'x') ?? 0;
  const y = measure(reading, node, declared, place, 'y', 'y') ?? 0;
  const inside: Place = {
    ...place,
    ctm: multiply(place.ctm, translation(x, y)),
    open: [...place.open, target, node],
    depth: place.depth + 1,
  };
  const width = measure(reading, node, declared, place, 'width', 'x');
  const height = measure(reading, node, declared, place, 'height', 'y');
  visit(reading, target, inside, { kind: 'asked', width, height });
}

/** Draws what is in an inner `svg` or a `symbol`, within its viewport. */
function visitViewport(
  reading: SvgReading,
  node: INode,
  declared: Declared,
  place: Place,
  viewport: Viewport | null,
): void {
  if (viewport?.kind === 'page') {
    visitAll(reading, node, { ...place, ctm: multiply(place.ctm, viewport.matrix), view: viewport.view });
    return;
  }
  const x = measure(reading, node, declared, place, 'x', 'x') ?? 0;
  const y = measure(reading, node, declared, place, 'y', 'y') ?? 0;
  const width = viewport?.width ?? measure(reading, node, declared, place, 'width', 'x') ?? place.view.width;
  const height = viewport?.height ?? measure(reading, node, declared, place, 'height', 'y') ?? place.view.height;
  const element = labelOf(reading, node);
  if (!(width > 0 && height > 0)) {
    note(reading, element, 'note', 'flattened-away', 'has no size and is left out with all that is in it');
    return;
  }
  const box = parseViewBox(node.attributes.viewBox);
  if (box === 'invalid') {
    throw new InputError(
      `The viewBox "${node.attributes.viewBox}" of ${element} is not four numbers with a positive size.`,
    );
  }
  const origin = multiply(place.ctm, translation(x, y));
  const overflow = own(declared, place, 'overflow')?.toLowerCase() ?? 'hidden';
  const open = overflow === 'visible' || overflow === 'auto' || reading.mode === 'outline';
  const clipped = open ? place : withClip(place, boxClip({ x0: 0, y0: 0, x1: width, y1: height }, origin), element);
  const ratio = parseAspectRatio(node.attributes.preserveAspectRatio);
  const view = box === null ? { width, height } : { width: box.x1 - box.x0, height: box.y1 - box.y0 };
  const ctm = multiply(origin, viewBoxMatrix(box, width, height, ratio));
  visitAll(reading, node, { ...clipped, ctm, view });
}

/** Draws the first child that can be read: without special demands and in any of the reader's languages. */
function visitSwitch(reading: SvgReading, node: INode, place: Place, element: string): void {
  for (const child of node.children) {
    if (child.type !== 'element' || SILENT.has(child.name) || child.name.includes(':')) continue;
    const { requiredExtensions, systemLanguage } = child.attributes;
    if (child.name === 'foreignObject' || (requiredExtensions !== undefined && requiredExtensions.trim() !== ''))
      continue;
    if (systemLanguage !== undefined && !/(?:^|,)\s*en(?:-|\s*,|\s*$)/i.test(systemLanguage)) continue;
    visit(reading, child, place);
    return;
  }
  note(reading, element, 'look', 'element-left-out', 'offers nothing that can be read and is left out');
}

function imageBox(reading: SvgReading, node: INode, declared: Declared, place: Place): Box | undefined {
  const get = (name: string, axis: 'x' | 'y') => measure(reading, node, declared, place, name, axis) ?? 0;
  const [x, y, w, h] = [get('x', 'x'), get('y', 'y'), get('width', 'x'), get('height', 'y')];
  return transformBox({ x0: x, y0: y, x1: x + w, y1: y + h }, place.ctm);
}
