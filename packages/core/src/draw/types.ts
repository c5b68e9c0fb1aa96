import type { Box, Contour, FillRule, Matrix } from '../geometry/types.js';

/** `#rrggbb`. */
export type Colour = string;

export interface LineStyle {
  readonly colour: Colour;
  readonly widthMm: number;
  /** Lengths of dash and gap in turn, mm. */
  readonly dashMm?: readonly number[];
  readonly cap?: 'butt' | 'round' | 'square';
  readonly join?: 'miter' | 'round' | 'bevel';
}

/** Filled and/or drawn outlines. With neither `fill` nor `line` nothing is seen. */
export interface PathItem {
  readonly kind: 'path';
  readonly contours: readonly Contour[];
  readonly rule?: FillRule;
  readonly fill?: Colour;
  readonly line?: LineStyle;
}

/** One line of text; `x, y` is the anchor on the baseline, `sizeMm` the em size, `turn` degrees clockwise as seen. */
export interface TextItem {
  readonly kind: 'text';
  readonly text: string;
  readonly x: number;
  readonly y: number;
  readonly sizeMm: number;
  readonly colour: Colour;
  readonly anchor?: 'start' | 'middle' | 'end';
  readonly bold?: boolean;
  readonly turn?: number;
}

/** Items seen only inside an area. */
export interface ClipItem {
  readonly kind: 'clip';
  readonly contours: readonly Contour[];
  readonly rule?: FillRule;
  readonly items: readonly Item[];
}

/** A named layer, kept as such by writers that know layers. */
export interface LayerItem {
  readonly kind: 'layer';
  readonly id: string;
  readonly label: string;
  readonly items: readonly Item[];
}

/**
 * Copies of a named group, each under its own matrix. `tile` promises that every matrix is a pure translation, that the group
 * covers `tile` without a gap (its content runs on past the edges), and that the copies' tiles lie side by side: a raster
 * writer may then render the tile once.
 */
export interface PlaceItem {
  readonly kind: 'place';
  readonly group: string;
  readonly at: readonly Matrix[];
  readonly tile?: Box;
}

export type Item = PathItem | TextItem | ClipItem | LayerItem | PlaceItem;

export interface Page {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly items: readonly Item[];
}

/** An ordered display list in mm, y down, origin at each page's upper left. Groups are shared by all pages. */
export interface Drawing {
  readonly title: string;
  /** ISO date `YYYY-MM-DD`, from the job. */
  readonly date: string;
  readonly groups: Readonly<Record<string, readonly Item[]>>;
  readonly pages: readonly Page[];
}

/** Widths of one face of the bundled font, in font units. */
export interface FaceMetrics {
  readonly unitsPerEm: number;
  readonly ascent: number;
  readonly descent: number;
  readonly capHeight: number;
  /** Code point → advance. A character that is not in here can't be written. */
  readonly advances: ReadonlyMap<number, number>;
}

/** What core has to know of the bundled font to place text. */
export interface FontMetrics {
  readonly regular: FaceMetrics;
  readonly bold: FaceMetrics;
}
