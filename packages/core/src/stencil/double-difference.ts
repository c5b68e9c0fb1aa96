import { controlBox } from '../geometry/boxes.js';
import { boxIndex, clusterBoxes } from '../geometry/cluster.js';
import { contoursBox } from '../geometry/contour.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { type GridPath, ringArea } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { areaPaths, combine, type GridArea } from '../geometry/polygons.js';
import type { Box, Contour } from '../geometry/types.js';
import type { Cell, CellInk } from '../repeat/cell.js';
import { pieceContours } from '../repeat/piece-contours.js';

/** How far two sheets together are from the openings they came from. */
export interface DoubleDifference {
  /** What lies in the original openings and in neither sheet's, or the other way about, mm². */
  readonly areaMm2: number;
  /** Length of the original openings' outlines in one unit, mm; lines along seams are none. */
  readonly outlineMm: number;
}

/** Outlines that differ are flattened to this for the comparison, mm: two ways of dividing one curve differ by less than two thirds of it. */
const COMPARE_MM = 5e-5;
/** Grid of the comparison, units a mm: its rounding is a hundredth of the flattening. */
const FINE_UNITS_PER_MM = 1e6;

/**
 * The symmetric difference of the openings of an ink and of what two other cells have of it together, over one unit of the repeat. Measured on
 * the outlines as they are cut, curves and all. Throws `RangeError` where one of the cells lacks the ink.
 */
export function doubleDifference(cell: Cell, a: Cell, b: Cell, inkIndex: number): DoubleDifference {
  const cells = [cell, a, b];
  if (cells.some((c) => !c.inks[inkIndex]))
    throw new RangeError(`got ink ${inkIndex}, which not all of the cells have`);
  const items = cells.flatMap((from, k) =>
    from.inks[inkIndex].pieces.map((piece) => {
      const { contours } = pieceContours(piece, from);
      return { piece, contours, box: contoursBox(contours) as Box, original: k === 0 };
    }),
  );
  let areaMm2 = 0;
  for (const group of clusterBoxes(items.map((item) => item.box))) {
    const members = group.map((k) => items[k]);
    if (isUnchanged(members)) continue;
    const whole = wholeCurves(members);
    const side = (original: boolean): GridPath[] =>
      members.filter((m) => m.original === original).flatMap((m) => m.contours.map((c) => fineRing(c, whole)));
    const apart = combine('xor', side(true), side(false), { book: new CurveMarks() });
    areaMm2 += apart.reduce((sum, ring) => sum + ringArea(ring), 0) / FINE_UNITS_PER_MM ** 2;
  }
  return { areaMm2, outlineMm: outlineLength(cell.inks[inkIndex], cell) };
}

/** One piece of the original by itself, and the very same piece on one of the sheets. */
function isUnchanged(members: readonly { readonly piece: GridArea; readonly original: boolean }[]): boolean {
  return members.length === 2 && members[0].piece === members[1].piece && members[0].original !== members[1].original;
}

/**
 * The curves (by `curveKey`) that the original and the sheets have alike, and beside which nothing else runs: they make no difference however
 * roughly they are flattened.
 */
function wholeCurves(
  members: readonly { readonly contours: readonly Contour[]; readonly original: boolean }[],
): Set<string> {
  const owners = new Map<string, { box: Box; original: boolean; sheets: boolean }>();
  for (const { contours, original } of members) {
    for (const { coords } of contours) {
      for (let o = 0; o + 7 < coords.length; o += 6) {
        const key = curveKey(coords, o);
        const known = owners.get(key) ?? { box: controlBox(coords, o, 2 * FLATTEN_MM), original: false, sheets: false };
        known[original ? 'original' : 'sheets'] = true;
        owners.set(key, known);
      }
    }
  }
  const all = [...owners];
  const changed = all.filter(([, c]) => !(c.original && c.sheets)).map(([, c]) => c.box);
  if (changed.length === 0) return new Set(owners.keys());
  const index = boxIndex(changed);
  const clear = all.filter(
    ([, { original, sheets, box }]) => original && sheets && index.search(box.x0, box.y0, box.x1, box.y1).length === 0,
  );
  return new Set(clear.map(([key]) => key));
}

/** The numbers of a cubic to a nanometre. */
function curveKey(coords: Float64Array, o: number): string {
  return Array.from(coords.subarray(o, o + 8), (v) => Math.round(v * 1e6)).join();
}

/** An outline on the fine grid, without marks: only areas count here. */
function fineRing({ coords }: Contour, whole: ReadonlySet<string>): GridPath {
  const ring: GridPath = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const toleranceMm = whole.has(curveKey(coords, o)) ? FLATTEN_MM : COMPARE_MM;
    flattenCubic(coords, o, toleranceMm, (x, y) =>
      ring.push({ x: Math.round(x * FINE_UNITS_PER_MM), y: Math.round(y * FINE_UNITS_PER_MM) }),
    );
  }
  return ring;
}

/** Along the pieces' polygons: shorter than the curves by some 1e-5 of itself. */
function outlineLength(ink: CellInk, { grid }: Cell): number {
  const lines = {
    x: new Set([0, grid.width, ...ink.cuts.filter((c) => c.axis === 'x').map((c) => c.at)]),
    y: new Set([0, grid.height, ...ink.cuts.filter((c) => c.axis === 'y').map((c) => c.at)]),
  };
  let sum = 0;
  for (const ring of areaPaths(ink.pieces)) {
    let o = ring[ring.length - 1];
    for (const p of ring) {
      const along = (['x', 'y'] as const).some((axis) => o[axis] === p[axis] && lines[axis].has(p[axis]));
      if (!along) sum += Math.hypot((p.x - o.x) / grid.sx, (p.y - o.y) / grid.sy);
      o = p;
    }
  }
  return sum;
}
