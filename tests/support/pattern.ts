import type { Contour, Finding, Join, Lattice, Motif, Opening, Repeat, SeamStretch, Shape } from '@okuri/core';
import { checkJoins } from '../../packages/core/src/joins/check-joins.js';
import { JOIN_DEFAULTS } from '../../packages/core/src/joins/options.js';
import { type Cell, cutCell, layCell } from '../../packages/core/src/repeat/cell.js';
import { makeLattice } from '../../packages/core/src/repeat/lattice.js';
import { latticeGrid } from '../../packages/core/src/repeat/lattice-grid.js';
import { findOpenings } from '../../packages/core/src/repeat/openings.js';
import { clothTile } from '../../packages/core/src/repeat/pattern.js';
import { seamStretches } from '../../packages/core/src/repeat/seam-stretches.js';
import { shapeAreas } from '../../packages/core/src/repeat/shape-area.js';
import { decideSpill } from '../../packages/core/src/repeat/spill.js';

export const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
export const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
export const HALF_BRICK: Repeat = { kind: 'brick', step: { p: 1, q: 2 } };

export const INK = '#000000';
export const PAPER = '#ffffff';

/** Artwork laid on a repeat, as a job without settings does it. */
export interface Pattern {
  readonly lattice: Lattice;
  readonly cell: Cell;
  readonly openings: readonly Opening[];
  readonly stretches: readonly SeamStretch[];
  readonly joins: readonly Join[];
  readonly findings: readonly Finding[];
}

/** Lays shapes on a repeat; `spill` as in a job. */
export function layPattern(
  shapes: readonly Shape[],
  size: { readonly widthMm: number; readonly heightMm: number },
  { repeat = STRAIGHT, spill = 'auto' }: { repeat?: Repeat; spill?: 'auto' | 'carry' | 'trim' } = {},
): Pattern {
  const lattice = makeLattice(repeat, size.widthMm, size.heightMm);
  const grid = latticeGrid(lattice);
  const areas = shapeAreas(shapes, grid);
  const decided = decideSpill(shapes, areas, lattice, grid, {
    spill,
    paperColour: PAPER,
    reachMm: JOIN_DEFAULTS.reachMm,
  });
  const laid = layCell(areas, lattice, { readings: decided.readings, paperColour: PAPER });
  const cell = cutCell(laid, { drawn: 'cut', method: 'direct', paperColour: PAPER, cut: null });
  const stretches = seamStretches(cell);
  const joined = checkJoins(stretches, lattice, JOIN_DEFAULTS);
  return {
    lattice,
    cell,
    openings: findOpenings(cell),
    stretches,
    joins: joined.joins,
    findings: [...decided.findings, ...joined.findings],
  };
}

export function layMotif(motif: Motif, options: { repeat?: Repeat; spill?: 'auto' | 'carry' | 'trim' } = {}): Pattern {
  return layPattern(motif.shapes, motif.frame, options);
}

/** A filled shape. */
export function filled(id: string, contours: readonly Contour[], ink = INK): Shape {
  return { id, ink, contours, rule: 'nonzero', clips: [] };
}

/** All ink of one unit, mm². */
export function openArea(openings: readonly Opening[]): number {
  return openings.reduce((sum, o) => sum + o.areaMm2, 0);
}

/** The outlines of a pattern's openings over the tile that the cloth repeats, mm. */
export function tileOf(pattern: Pattern) {
  return clothTile(pattern.cell);
}
