import type { Point, Side } from '../geometry/types.js';
import type { Lattice } from '../repeat/types.js';

/** One of the two seams of a unit. Its own side is the right or the bottom, its partner side the left or the top. */
export interface Seam {
  readonly name: 'right' | 'bottom';
  readonly ownSide: Side;
  readonly partnerSide: Side;
  /** Length along the seam, mm. */
  readonly lengthMm: number;
  /** Own place = partner place + this, along the seam. */
  readonly shiftMm: number;
  /** The seam closes on itself: a place at its end is the same as one at its start. */
  readonly circular: boolean;
  /** Unit vector along the seam, towards growing places. */
  readonly along: Point;
}

/**
 * The seams of a lattice, the right one first. In a straight repeat both close on themselves; in a drop the bottom seam is
 * cut off by the columns beside it and only the column seam closes; in a brick it is the other way round.
 */
export function seamsOf(lattice: Lattice): readonly [right: Seam, bottom: Seam] {
  const stepped = lattice.repeat.step.p !== 0;
  return [
    {
      name: 'right',
      ownSide: 'right',
      partnerSide: 'left',
      lengthMm: lattice.heightMm,
      shiftMm: lattice.a.y,
      circular: !(stepped && lattice.repeat.kind === 'brick'),
      along: { x: 0, y: 1 },
    },
    {
      name: 'bottom',
      ownSide: 'bottom',
      partnerSide: 'top',
      lengthMm: lattice.widthMm,
      shiftMm: lattice.b.x,
      circular: !(stepped && lattice.repeat.kind === 'drop'),
      along: { x: 1, y: 0 },
    },
  ];
}

/** `value` brought into `[0, period)`. */
export function wrap(value: number, period: number): number {
  const rest = value - period * Math.floor(value / period);
  return rest >= period ? 0 : rest;
}

/** The difference of two places on a circle, in `[-period/2, period/2]`. */
export function wrapSigned(value: number, period: number): number {
  return value - period * Math.round(value / period);
}

/** A place on the seam's own side, from a place (mm) on either side. */
export function ownPlace(seam: Seam, side: Side, atMm: number): number {
  if (side === seam.ownSide) return atMm;
  return seam.circular ? wrap(atMm + seam.shiftMm, seam.lengthMm) : atMm + seam.shiftMm;
}

/** The place on the seam's partner side that lies opposite a place (mm) on its own side. */
export function partnerPlace(seam: Seam, atMm: number): number {
  return seam.circular ? wrap(atMm - seam.shiftMm, seam.lengthMm) : atMm - seam.shiftMm;
}

/** The side's place as a point of the unit, mm from its upper left. */
export function pointOnSide(lattice: Lattice, side: Side, atMm: number): Point {
  switch (side) {
    case 'left':
      return { x: 0, y: atMm };
    case 'right':
      return { x: lattice.widthMm, y: atMm };
    case 'top':
      return { x: atMm, y: 0 };
    case 'bottom':
      return { x: atMm, y: lattice.heightMm };
  }
}
