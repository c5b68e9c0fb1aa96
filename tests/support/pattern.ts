import type { Contour, Finding, Join, Lattice, Motif, Opening, Shape } from '@okuri/core';
import {
  type Cell,
  checkJoins,
  clothTile,
  findOpenings,
  JOIN_DEFAULTS,
  joinFindings,
  layRepeat,
  makeLattice,
  type Repeat,
  type SeamStretch,
  seamStretches,
  spillFindings,
} from '@okuri/core/inside';

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

/** Lays shapes on a repeat; `spill` as in a job. Throws `InputError` where nothing is cut. */
export function layPattern(
  shapes: readonly Shape[],
  size: { readonly widthMm: number; readonly heightMm: number },
  { repeat = STRAIGHT, spill = 'auto' }: { repeat?: Repeat; spill?: 'auto' | 'carry' | 'trim' } = {},
): Pattern {
  const lattice = makeLattice(repeat, size.widthMm, size.heightMm);
  const { cell, spill: report } = layRepeat(shapes, lattice, {
    spill,
    reachMm: JOIN_DEFAULTS.reachMm,
    drawn: 'cut',
    method: 'direct',
    paperColour: PAPER,
    cut: null,
  });
  const stretches = seamStretches(cell);
  const joined = checkJoins(stretches, lattice, JOIN_DEFAULTS);
  return {
    lattice,
    cell,
    openings: findOpenings(cell),
    stretches,
    joins: joined.joins,
    findings: [...spillFindings(report), ...joinFindings(joined.told, lattice, JOIN_DEFAULTS)],
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
