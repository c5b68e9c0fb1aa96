import type { Box, Contour, FillRule, Stroke } from '../geometry/types.js';

/** A flat colour, `#rrggbb` in lower case. */
export type Ink = string;

export type { Stroke };

/** An area that limits what is seen of a shape. Several contours with one rule; a shape's clips all apply at once. */
export interface Clip {
  readonly contours: readonly Contour[];
  readonly rule: FillRule;
}

/**
 * One inked area: the fill of an outline, or (with `stroke`) its stroke. An element that has both gives two shapes, in
 * paint order. Coordinates are mm, origin at the upper left of the unit.
 */
export interface Shape {
  /** The source element's id, or a name made from its place in the drawing (`path[12]`). */
  readonly id: string;
  readonly ink: Ink;
  readonly contours: readonly Contour[];
  readonly rule: FillRule;
  readonly stroke?: Stroke;
  readonly clips: readonly Clip[];
}

/** Where the size of the unit was read from. */
export type FrameSource = 'shape' | 'rectangle' | 'page' | 'artwork';

/** The rectangle that repeats, as read: its upper left is the origin of all shapes. */
export interface Frame {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly from: FrameSource;
  /** Pixels an inch assumed for a drawing without a physical size; null where the drawing states its size. */
  readonly assumedPpi: number | null;
}

/** Artwork, still symbolic, and what could not be read of it. Shapes are in paint order, the first lowest. */
export interface Motif {
  readonly frame: Frame;
  readonly shapes: readonly Shape[];
  readonly notices: readonly Notice[];
}

/** Something the reader has to say about one element of the artwork. */
export interface Notice {
  /** Stable, e.g. `image-left-out`. */
  readonly code: string;
  /** `look` where the picture may differ from what the artist sees, else `note`. */
  readonly severity: 'look' | 'note';
  readonly message: string;
  /** The element, as `<tag id="…">` or `tag[n]`. */
  readonly element: string;
  readonly boxMm?: Box;
}

/**
 * Grey values of a picture, row by row from the upper left: 0 is black, `white` is white. Pixel (i, j) covers the square from (i, j) to (i + 1, j + 1):
 * places in pixels (px) are measured from the picture's upper left corner, not from the middle of its first pixel.
 */
export interface GreyImage {
  /** px. */
  readonly width: number;
  readonly height: number;
  /** `width · height` values. */
  readonly values: Uint8Array | Uint16Array;
  /** 255, or 65535 for pictures of 16 bits. */
  readonly white: 255 | 65535;
}
