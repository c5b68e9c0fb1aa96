import {
  type Box,
  boxContour,
  type Clip,
  type Contour,
  contoursBox,
  type FillRule,
  InputError,
  type Matrix,
  transformContour,
} from '@okuri/core';
import { boxesOverlap, boxWithin, contourArea, IDENTITY, invert, multiply, reverseContour } from '@okuri/core/inside';
import type { INode } from 'svgson';
import { MAX_CLIPS, MAX_DRAW_DEPTH } from './caps.js';
import { MutedNotices } from './notices.js';
import { labelOf, own, type Place, type RawShape, type Sink, type SvgReading, styleInPlace } from './reading.js';
import { parseTransform } from './transform.js';

/** Draws one element and what is in it: the walk, handed in so that clip paths can use it. */
export type Visit = (reading: SvgReading, node: INode, place: Place) => void;

/** A place with one more clip. Throws `InputError` beyond the cap. */
export function withClip(place: Place, clip: Clip, element: string): Place {
  if (place.clips.length >= MAX_CLIPS) {
    throw new InputError(
      `More than ${MAX_CLIPS} clip paths lie on top of each other at ${element}: release some of them.`,
    );
  }
  return { ...place, clips: [...place.clips, clip] };
}

/** The clip of a viewport that hides what lies outside (nested `svg`, `symbol`). */
export function boxClip(box: Box, ctm: Matrix): Clip {
  return { contours: [transformContour(boxContour(box), ctm)], rule: 'nonzero' };
}

/** The place within the clip paths that the element names; `place` is the element's own user space. */
export function clipPlace(reading: SvgReading, node: INode, place: Place, visit: Visit): Place {
  return clipsOf(reading, node, node, place, visit).reduce(
    (inside, clip) => withClip(inside, clip, labelOf(reading, node)),
    place,
  );
}

/** The clips that the property on `holder` (the element, or a clip path that is clipped itself) lays on the element. */
function clipsOf(reading: SvgReading, node: INode, holder: INode, place: Place, visit: Visit): readonly Clip[] {
  const text = own(reading.cascade.declared(holder), place, 'clip-path')?.trim();
  if (text === undefined || text.toLowerCase() === 'none') return [];
  const element = labelOf(reading, holder);
  const href = /^url\(\s*["']?#?([^"')]*)["']?\s*\)$/.exec(text)?.[1];
  const source = href === undefined ? undefined : reading.byId.get(href);
  if (source?.name !== 'clipPath') {
    const kind =
      href === undefined
        ? 'is not a reference to a <clipPath>'
        : `refers to "${href}", which is no <clipPath> of the drawing`;
    const message = `The clip path of ${element} ${kind}: it is read without it.`;
    reading.notices.add({ code: 'clip-left-out', severity: 'look', message, element });
    return [];
  }
  if (place.open.includes(source)) {
    throw new InputError(`The clip path ${labelOf(reading, source)} refers to itself: undo that loop in the drawing.`);
  }
  if (place.depth > MAX_DRAW_DEPTH) {
    throw new InputError(
      `More than ${MAX_DRAW_DEPTH} clip paths hang on each other at ${element}: release some of them.`,
    );
  }
  const perBox = source.attributes.clipPathUnits === 'objectBoundingBox';
  const key = perBox ? null : `${place.ctm.join(' ')} ${place.view.width} ${place.view.height}`;
  const known = key === null ? undefined : reading.clips.get(source)?.get(key);
  if (known !== undefined) return known;
  const found = resolveClip(reading, node, source, place, visit);
  if (key !== null) {
    const kept = reading.clips.get(source) ?? new Map<string, readonly Clip[]>();
    reading.clips.set(source, kept.set(key, found));
  }
  return found;
}

function resolveClip(reading: SvgReading, node: INode, source: INode, place: Place, visit: Visit): readonly Clip[] {
  const declared = reading.cascade.declared(source);
  const opened: Place = { ...place, open: [...place.open, source], depth: place.depth + 1 };
  const turned = parseTransform(own(declared, place, 'transform') ?? '');
  if (turned === null) {
    throw new InputError(`The transform of ${labelOf(reading, source)} can't be read: mend it in the drawing.`);
  }
  const units = unitsMatrix(reading, node, source, place, visit);
  if (units === null) return [{ contours: [], rule: 'nonzero' }];
  const inside: Place = {
    ...opened,
    ctm: multiply(place.ctm, multiply(turned, units)),
    style: styleInPlace(reading, source),
    clips: [],
    hidden: false,
  };
  const sink: Sink = { shapes: [], rectangles: [], repeats: [] };
  const into: SvgReading = { ...reading, sink, mode: 'clip' };
  for (const child of source.children) if (child.type === 'element') visit(into, child, inside);
  const { clip, exact } = unite(sink.shapes);
  if (!exact) {
    const message =
      `The clip path ${labelOf(reading, source)} is made of overlapping parts that can't be joined exactly: ` +
      `look at ${labelOf(reading, node)}, or unite the parts in the drawing program.`;
    reading.notices.add({ code: 'clip-approximate', severity: 'look', message, element: labelOf(reading, node) });
  }
  const inner = sink.shapes.length === 1 ? sink.shapes[0].clips : [];
  return [clip, ...inner, ...clipsOf(reading, node, source, opened, visit)];
}

/** The map from the clip path's units to the element's user space; null where the element's box has no area. */
function unitsMatrix(reading: SvgReading, node: INode, source: INode, place: Place, visit: Visit): Matrix | null {
  if (source.attributes.clipPathUnits !== 'objectBoundingBox') return IDENTITY;
  const box = ownBox(reading, node, place, visit);
  return box === null ? null : [box.x1 - box.x0, 0, 0, box.y1 - box.y0, box.x0, box.y0];
}

/** The box of an element's geometry in its own user space, strokes and clips left out (SVG 2, 8.10). */
function ownBox(reading: SvgReading, node: INode, place: Place, visit: Visit): Box | null {
  const sink = { shapes: [] as RawShape[], rectangles: [], repeats: [] };
  const muted: SvgReading = { ...reading, sink, mode: 'outline', notices: new MutedNotices() };
  // The visit applies the element's own transform once more: it is taken back beforehand.
  const turned = parseTransform(own(reading.cascade.declared(node), place, 'transform') ?? '') ?? IDENTITY;
  const back = invert(turned);
  if (back === null) return null;
  visit(muted, node, { ...place, ctm: back, clips: [], hidden: false });
  return contoursBox(sink.shapes.flatMap((shape) => shape.contours));
}

/**
 * The union of a clip path's parts as contours under one rule. Exact where parts lie apart or each winds one way only;
 * `exact` is false where overlapping parts cross themselves or have clips of their own.
 */
export function unite(parts: readonly Pick<RawShape, 'contours' | 'rule' | 'clips'>[]): { clip: Clip; exact: boolean } {
  if (parts.length === 0) return { clip: { contours: [], rule: 'nonzero' }, exact: true };
  if (parts.length === 1) return { clip: { contours: parts[0].contours, rule: parts[0].rule }, exact: true };
  const boxes = parts.map((part) => contoursBox(part.contours));
  const apart = boxes.every((a, i) => boxes.every((b, j) => i >= j || a === null || b === null || !boxesOverlap(a, b)));
  const clipped = parts.some((part) => part.clips.length > 0);
  const rules = new Set(parts.map((part) => part.rule));
  if (apart && rules.size === 1) {
    return { clip: { contours: parts.flatMap((part) => part.contours), rule: parts[0].rule }, exact: !clipped };
  }
  const contours = parts.flatMap((part) => windPositive(part.contours, part.rule));
  const simple = parts.every((part) => part.contours.length === 1 && part.rule === 'nonzero');
  return { clip: { contours, rule: 'nonzero' }, exact: !clipped && simple };
}

/** The same area with winding number 1 inside: holes run against what holds them. */
function windPositive(contours: readonly Contour[], rule: FillRule): readonly Contour[] {
  if (rule === 'nonzero') {
    const sum = contours.reduce((total, contour) => total + contourArea(contour), 0);
    return sum < 0 ? contours.map(reverseContour) : contours;
  }
  const boxes = contours.map((contour) => contoursBox([contour]) as Box);
  return contours.map((contour, i) => {
    const around = boxes.filter((box, j) => j !== i && boxWithin(boxes[i], box)).length;
    return contourArea(contour) > 0 === (around % 2 === 0) ? contour : reverseContour(contour);
  });
}
