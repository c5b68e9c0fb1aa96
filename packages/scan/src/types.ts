import type { Contour, Point } from '@okuri/core';
import type { Homography } from '@okuri/core/inside';

/** Where the scale of a picture was taken from. */
export type ScaleSource =
  /** The resolution that the file states. */
  | 'file'
  /** A resolution that the person gave. */
  | 'resolution'
  /** Four drawn or punched dots of known distance, found in the picture. */
  | 'dots'
  /** Four places of known distance that the person pointed out. */
  | 'points'
  /** Two places and the length between them. */
  | 'ruler';

/** How places of a picture (px) lie on the paper (mm). */
export interface PictureScale {
  readonly toMm: Homography;
  readonly from: ScaleSource;
  /** In the middle of the picture, by area: √(px² a mm²). */
  readonly pixelsPerMm: number;
  /** Whether a slanting view was set right, not just turned and scaled. */
  readonly perspective: boolean;
  /** How it is said, such as "300 dpi, as the file says". */
  readonly words: string;
}

/** A closed line of equal grey, dark to its right hand as seen with y down (so outer rings turn clockwise and have a positive area). */
export interface GreyRing {
  /** `x0 y0 x1 y1 …`, px; the last point joins the first, which is not repeated. Points lie about a pixel apart. */
  readonly points: Float64Array;
  /** Whether it is light inside of it. */
  readonly hole: boolean;
  /** Number, in the list of all rings, of the ring next around it, which stands before it; -1 for none. */
  readonly inside: number;
}

/** Small areas that a trace leaves out. */
export interface LeftOut {
  readonly count: number;
  readonly areaMm2: number;
}

/** What a picture holds, as outlines. */
export interface Trace {
  /** Dark areas in mm, holes included (nonzero); chains of cubics. */
  readonly contours: readonly Contour[];
  /** Corners between cubics, of all contours. */
  readonly nodes: number;
  /** Dark areas smaller than a speck, and light ones smaller than a pinhole. */
  readonly specks: LeftOut;
  readonly pinholes: LeftOut;
  /** Grey at which ink begins after the light was evened: 0 black, 1 white. */
  readonly level: number;
  /** Standard deviation of the grey values of even paper, 0 to 1. */
  readonly noise: number;
  /** Middle grey of paper and of ink after the light was evened. */
  readonly paper: number;
  readonly ink: number;
}

/** A round dark mark, found in a picture. */
export interface FoundDot {
  /** Its middle by grey values, px. */
  readonly at: Point;
  /** px. */
  readonly diameter: number;
  /** 1 for a true circle: 4π · area / perimeter². */
  readonly roundness: number;
}
