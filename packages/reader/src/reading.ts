import { type Box, type Clip, type Contour, type FillRule, InputError, type Matrix, type Stroke } from '@okuri/core';
import type { INode } from 'svgson';
import { MAX_SEGMENTS, MAX_USE_COPIES, MAX_VISITS } from './caps.js';
import type { Cascade, Declared } from './cascade.js';
import type { FontBook } from './fonts.js';
import type { NoticeList } from './notices.js';
import { INITIAL_STYLE, inheritStyle, type Style, withVariables } from './style.js';

/** A shape in pixels of the page (96 an inch where the drawing states its size), before the frame is known. */
export interface RawShape {
  readonly id: string;
  readonly element: string;
  readonly ink: string;
  readonly contours: readonly Contour[];
  readonly rule: FillRule;
  readonly stroke: Stroke | null;
  readonly clips: readonly Clip[];
  /** The element has a stroke and no fill: it may be a line to cut along. */
  readonly bare: boolean;
}

/** An unfilled upright rectangle: it may be the box that repeats. */
export interface RectangleSeen {
  readonly box: Box;
  readonly element: string;
  /** Its own stroke, which is no artwork if it is the box. */
  readonly shape: RawShape | null;
}

/** An element that is named as the box that repeats. */
export interface RepeatSeen {
  readonly element: string;
  readonly contours: readonly Contour[];
}

/** What a walk over the drawing fills in. */
export interface Sink {
  readonly shapes: RawShape[];
  readonly rectangles: RectangleSeen[];
  readonly repeats: RepeatSeen[];
}

/** How much has been drawn; shared by all walks over one drawing. */
export interface Counters {
  segments: number;
  visits: number;
  copies: number;
}

/** One drawing while it is read. */
export interface SvgReading {
  readonly byId: ReadonlyMap<string, INode>;
  /** `<tag id="…">` or `tag[n]`. */
  readonly labels: ReadonlyMap<INode, string>;
  readonly cascade: Cascade;
  readonly parentOf: ReadonlyMap<INode, INode>;
  /** Clip paths that were resolved before, by where they were used. */
  readonly clips: Map<INode, Map<string, readonly Clip[]>>;
  readonly fonts: FontBook;
  readonly notices: NoticeList;
  readonly counters: Counters;
  readonly sink: Sink;
  /** `paint`: inked shapes. `outline`: all geometry, painted or not. `clip`: the geometry that a clip path shows. */
  readonly mode: 'paint' | 'outline' | 'clip';
}

/** Where the walk stands. */
export interface Place {
  readonly ctm: Matrix;
  readonly style: Style;
  /** The nearest viewport's size in user units: what percentages are of. */
  readonly view: { readonly width: number; readonly height: number };
  readonly clips: readonly Clip[];
  /** The `use` elements and clip paths that are open: finds loops. */
  readonly open: readonly INode[];
  readonly depth: number;
  /** Inside something that is not displayed: only the box that repeats is looked for. */
  readonly hidden: boolean;
}

/** The element, as notices and errors name it. */
export function labelOf(reading: SvgReading, node: INode): string {
  return reading.labels.get(node) ?? `<${node.name}>`;
}

/** The element's id, or its tag and number. */
export function shapeId(reading: SvgReading, node: INode): string {
  return node.attributes.id || labelOf(reading, node);
}

/** A value that is not inherited: as declared, variables filled in. */
export function own(declared: Declared, place: Place, name: string): string | undefined {
  const value = declared.get(name);
  return value?.includes('var(') ? withVariables(value, place.style.custom) : value;
}

/** The style of an element from its own ancestors, as what is referred to has it (SVG 2, 14.3). */
export function styleInPlace(reading: SvgReading, node: INode): Style {
  const parent = reading.parentOf.get(node);
  const above = parent === undefined ? INITIAL_STYLE : styleInPlace(reading, parent);
  return inheritStyle(above, reading.cascade.declared(node));
}

export function countSegments(reading: SvgReading, more: number): void {
  reading.counters.segments += more;
  if (reading.counters.segments > MAX_SEGMENTS) throw tooManySegments();
}

export function tooManySegments(): InputError {
  return new InputError(
    `The drawing has more than ${MAX_SEGMENTS} curves, copies included: simplify its paths or leave out what is too fine to cut.`,
  );
}

export function countVisit(reading: SvgReading): void {
  reading.counters.visits++;
  if (reading.counters.visits > MAX_VISITS) {
    throw new InputError(
      `The drawing comes to more than ${MAX_VISITS} elements when its copies are drawn: simplify it.`,
    );
  }
}

export function countCopy(reading: SvgReading, element: string): void {
  reading.counters.copies++;
  if (reading.counters.copies > MAX_USE_COPIES) {
    throw new InputError(
      `The drawing makes more than ${MAX_USE_COPIES} copies with <use> (at ${element}): simplify it.`,
    );
  }
}
