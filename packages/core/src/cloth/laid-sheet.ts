import { transformBox } from '../geometry/boxes.js';
import { contoursBox, transformContour } from '../geometry/contour.js';
import { apply } from '../geometry/matrix.js';
import { distance } from '../geometry/points.js';
import type { Box, Contour, Matrix, Point } from '../geometry/types.js';
import type { Dot } from '../register/dots.js';
import { sheetRepeat } from '../register/dots.js';
import { fractionalPart } from '../repeat/fraction.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Lattice, Repeat } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import type { Direction } from './plan-types.js';

/** A wet opening of a sheet as it lies on the cloth: mm from the upper left of the field there. */
export interface LaidOpening {
  readonly contours: readonly Contour[];
  readonly box: Box;
  /** A point inside it. */
  readonly inside: Point;
}

/** A dot as it lies on the cloth: mm from the upper left of the field there. */
export interface LaidDot {
  readonly name: string;
  readonly at: Point;
}

/** A sheet as it lies on the cloth: mm from the upper left of its field there. */
export interface LaidSheet {
  /** The paper with its border. */
  readonly paper: Box;
  /** The first dot: the one nearest to the field's upper left when the sheet stands upright (that corner itself where there is no dot). */
  readonly firstDot: LaidDot;
  /** The dot nearest to the field's upper left as it lies on the cloth. */
  readonly cornerDot: LaidDot;
  readonly openings: readonly LaidOpening[];
}

/** Fields that differ by less are the same, mm: rounding. */
const SAME_MM = 1e-6;

/** A repeat that lies turned clockwise by a quarter: rows become columns, and what shifted down shifts to the left. */
export function turnedRepeat({ kind, step }: Repeat): Repeat {
  const back = fractionalPart({ p: -step.p, q: step.q });
  if (kind === 'drop') return { kind: 'brick', step: back };
  if (kind === 'brick') return { kind: 'drop', step: back };
  return { kind, step };
}

/** The repeat seen from the back of the cloth: a drop falls to the other side, a brick shifts the other way. */
export function reversedRepeat({ kind, step }: Repeat): Repeat {
  return { kind, step: fractionalPart({ p: -step.p, q: step.q }) };
}

/** The lattice of a unit as it lies on the cloth. */
export function laidLattice(lattice: Lattice, direction: Direction): Lattice {
  if (direction === 'along') return lattice;
  return makeLattice(turnedRepeat(lattice.repeat), lattice.heightMm, lattice.widthMm);
}

/**
 * The lattice by which sheets step on the cloth: that of their field, which may hold several units. Throws an `InputError` for no sheet, or
 * sheets whose fields differ.
 */
export function sheetLattice(sheets: readonly Sheet[], lattice: Lattice, direction: Direction): Lattice {
  const [first] = sheets;
  if (!first) throw new InputError('There is no sheet to plan with: the job has no ink to cut.');
  const [width, height] = fieldSize(first);
  for (const sheet of sheets) {
    const [w, h] = fieldSize(sheet);
    if (Math.abs(w - width) > SAME_MM || Math.abs(h - height) > SAME_MM) {
      throw new InputError(
        `The sheets of ink ${first.ink} and ink ${sheet.ink} have fields of different sizes: sheets that print one cloth must step alike.`,
      );
    }
  }
  const repeat = sheetRepeat(lattice.repeat, first.across, first.down);
  // From the lattice's own numbers: the field's corners carry the rounding of the border.
  return laidLattice(makeLattice(repeat, first.across * lattice.widthMm, first.down * lattice.heightMm), direction);
}

/** The sheet as it lies on the cloth. */
export function laidSheet(sheet: Sheet, direction: Direction): LaidSheet {
  const { field } = sheet;
  const [, height] = fieldSize(sheet);
  const turn: Matrix =
    direction === 'along' ? [1, 0, 0, 1, -field.x0, -field.y0] : [0, 1, -1, 0, height + field.y0, -field.x0];
  const corner = direction === 'along' ? { x: field.x0, y: field.y0 } : { x: field.x0, y: field.y1 };
  const laidDot = (near: Point): LaidDot => {
    const dot = nearestDot(sheet.dots, near);
    return { name: dot.name, at: apply(turn, dot.at) };
  };
  return {
    paper: transformBox({ x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm }, turn),
    firstDot: laidDot({ x: field.x0, y: field.y0 }),
    cornerDot: laidDot(corner),
    openings: sheet.openings.flatMap((opening) => {
      const contours = [...opening.firstCut, ...opening.secondCut].map((c) => transformContour(c, turn));
      const box = contoursBox(contours);
      return box === null ? [] : [{ contours, box, inside: apply(turn, opening.labelAt) }];
    }),
  };
}

function nearestDot(dots: readonly Dot[], near: Point): { name: string; at: Point } {
  const away = ({ at }: { at: Point }): number => distance(at, near);
  const [first, ...others] = dots;
  if (!first) return { name: 'A', at: near };
  return others.reduce((best, dot) => (away(dot) < away(best) ? dot : best), first);
}

function fieldSize({ field }: Sheet): [number, number] {
  return [field.x1 - field.x0, field.y1 - field.y0];
}
