import type { Contour, Point, Side } from '../geometry/types.js';
import type { Ink } from '../motif/types.js';

/** A reduced fraction `0 <= p/q < 1`. */
export interface Fraction {
  readonly p: number;
  readonly q: number;
}

/**
 * How the unit repeats. `drop`: the column to the right sits lower by `step · H`. `brick`: the row below sits to the
 * right by `step · W`. `straight` has step 0/1. A half-drop is a drop of 1/2.
 */
export interface Repeat {
  readonly kind: 'straight' | 'drop' | 'brick';
  readonly step: Fraction;
}

/** A repeat with its size: the lattice has the basis `a` (to the right) and `b` (down), both in mm. */
export interface Lattice {
  readonly repeat: Repeat;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly a: Point;
  readonly b: Point;
}

/** A lattice vector by its whole coordinates: `i·a + j·b`. */
export interface LatticeStep {
  readonly i: number;
  readonly j: number;
}

/** An end of a stretch in which an opening touches a seam. */
export interface SeamEnd {
  /** Place along the seam, mm from the unit's upper left corner: y on the left and right, x on the top and bottom. */
  readonly atMm: number;
  /** Going along the seam in the direction of growing `atMm`, the opening begins or ends here. */
  readonly kind: 'begin' | 'end';
  /**
   * Unit tangent of the outline at the seam, pointing **out of** the unit (its component across the seam is >= 0).
   * From the source curve, not from its flattening. Where the outline turns to run along the seam, the tangent of the part
   * inside the unit.
   */
  readonly tangent: Point;
  /** The artwork's outline goes on past the seam (more than `seamSnapMm`); false where it ends flush or turns along it. */
  readonly runsOn: boolean;
  /** The stretch reaches the corner of the unit here: the end is the seam's own, not the outline's. */
  readonly corner: boolean;
  /**
   * The stretch ends where a corner was moved onto the seam from within its snap (absent: no): what the outline does between there and the seam, another
   * corner of it or another outline that takes over, is not seen.
   */
  readonly moved?: boolean;
  /** The outline was carried over the seams; where not said, what the stretch says. */
  readonly carried?: boolean;
}

/** A stretch of a unit's side along which an opening touches it, `from.atMm < to.atMm`. */
export interface SeamStretch {
  readonly side: Side;
  readonly ink: Ink;
  readonly from: SeamEnd;
  readonly to: SeamEnd;
  /** Carried shapes meet by construction; this is false where the shape was drawn up to the edge and trimmed there. */
  readonly carried: boolean;
  /** What touches the side here is too small or too narrow within the unit to be cut: only what lies across the seam is (absent: no). */
  readonly slight?: boolean;
}

/** What an opening does on the cloth: 0 closes on itself, 1 runs on for ever one way, 2 runs on both ways. */
export type WindingRank = 0 | 1 | 2;

/**
 * An area bounded by closed contours, in mm: one outer contour (positive area) and its holes (negative areas).
 */
export interface Area {
  readonly outer: Contour;
  readonly holes: readonly Contour[];
}

/** A connected cut-out of the pattern, followed across the seams. */
export interface Opening {
  /** Stable from run to run for the same artwork and repeat: `1`, `2`, … in reading order (with `ink-` before it for several inks). */
  readonly id: string;
  readonly ink: Ink;
  readonly rank: WindingRank;
  /** Exact on the source curves to about 1e-4 of itself; `areaBoundMm2` bounds the error. */
  readonly areaMm2: number;
  readonly areaBoundMm2: number;
  /** The box of the whole opening, unit mm, its upper left inside the unit; null where the rank is not 0. */
  readonly boxMm: { readonly x0: number; readonly y0: number; readonly x1: number; readonly y1: number } | null;
  /** The seams it goes through. */
  readonly crosses: readonly ('right' | 'bottom')[];
  /** A point inside the opening, in the unit. */
  readonly atMm: Point;
}

/** What the cloth repeats: a rectangle of whole units that tiles the plane straight, and the openings in it. */
export interface ClothTile {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Openings over the tile and a little beyond its edges (`bleedMm`), one list an ink, nonzero. */
  readonly inks: readonly { readonly ink: Ink; readonly contours: readonly Contour[] }[];
  readonly bleedMm: number;
}
