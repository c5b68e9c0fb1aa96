import type { Box, Lattice, Point, Sheet } from '@okuri/core';
import { drySheet, type LatticeStep, latticePoint, stepsOnto, unitOf } from '@okuri/core/inside';

/** How places of the unit lie on what is shown: on the cloth, or on a sheet as it is drawn. */
export interface Plane {
  readonly lattice: Lattice;
  /** Where the upper left of the first unit lies, mm on the plane. */
  readonly origin: Point;
  /** mm on the plane to a mm of the print, across and down: not 1 on a sheet whose paper moves when it is soaked. */
  readonly scale: Point;
  /** What of the pattern is there, mm from the upper left of the first unit. */
  readonly reach: Box;
}

/** The cloth: its first unit lies in its upper left. */
export function clothPlane(
  lattice: Lattice,
  { widthMm, lengthMm }: { readonly widthMm: number; readonly lengthMm: number },
): Plane {
  return {
    lattice,
    origin: { x: 0, y: 0 },
    scale: { x: 1, y: 1 },
    reach: { x0: 0, y0: 0, x1: widthMm, y1: lengthMm },
  };
}

/** A sheet as it is drawn and cut: dry. Its field begins with the first unit. */
export function sheetPlane(sheet: Sheet, lattice: Lattice): Plane {
  const dry = drySheet({ ...sheet, openings: [] });
  const wide = sheet.field.x1 - sheet.field.x0;
  const high = sheet.field.y1 - sheet.field.y0;
  return {
    lattice,
    origin: { x: dry.field.x0, y: dry.field.y0 },
    scale: { x: (dry.field.x1 - dry.field.x0) / wide, y: (dry.field.y1 - dry.field.y0) / high },
    reach: { x0: 0, y0: 0, x1: wide, y1: high },
  };
}

/** A place of the pattern (mm from the upper left of the first unit) on the plane. */
export function toShown({ origin, scale }: Plane, { x, y }: Point): Point {
  return { x: origin.x + x * scale.x, y: origin.y + y * scale.y };
}

/** A place of the plane on the pattern, mm from the upper left of the first unit. */
export function toPattern({ origin, scale }: Plane, { x, y }: Point): Point {
  return { x: (x - origin.x) / scale.x, y: (y - origin.y) / scale.y };
}

/** A part of the plane on the pattern. */
export function boxToPattern(plane: Plane, { x0, y0, x1, y1 }: Box): Box {
  const a = toPattern(plane, { x: x0, y: y0 });
  const b = toPattern(plane, { x: x1, y: y1 });
  return { x0: a.x, y0: a.y, x1: b.x, y1: b.y };
}

/** A place of the pattern that was moved by a step, and back where `by` is -1. */
export function stepped(lattice: Lattice, { x, y }: Point, step: LatticeStep, by: 1 | -1 = 1): Point {
  const v = latticePoint(lattice, step);
  return { x: x + by * v.x, y: y + by * v.y };
}

/** The unit in which a place of the pattern lies, and the place on it. */
export function onUnit(lattice: Lattice, place: Point): { readonly step: LatticeStep; readonly at: Point } {
  const step = unitOf(lattice, place);
  return { step, at: stepped(lattice, place, step, -1) };
}

/** Where the first copy of a place of the unit lies on the plane, by reading order; null where none does. */
export function firstShown(plane: Plane, at: Point): Point | null {
  const spot = { x0: at.x - TOUCH_MM, y0: at.y - TOUCH_MM, x1: at.x + TOUCH_MM, y1: at.y + TOUCH_MM };
  const [step] = stepsOnto(plane.lattice, spot, plane.reach);
  return step === undefined ? null : toShown(plane, stepped(plane.lattice, at, step));
}

/** A place on the edge of what is shown counts as shown, mm: rounding only. */
const TOUCH_MM = 1e-3;
