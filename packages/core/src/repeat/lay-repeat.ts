import type { Ink, Shape } from '../motif/types.js';
import { InputError } from '../units/input-error.js';
import { type Cell, type CutChoice, cutCell, layCell } from './cell.js';
import { latticeGrid } from './lattice-grid.js';
import { shapeAreas } from './shape-area.js';
import { decideSpill, type SpillOptions, type SpillReport } from './spill.js';
import type { Lattice } from './types.js';

/** What is cut of a motif on its repeat. */
export interface LaidRepeat {
  /** The cut inks only. */
  readonly cell: Cell;
  /** What was decided about artwork that pokes out of the unit. */
  readonly spill: SpillReport;
}

/**
 * Lays a motif's shapes on the unit of a lattice and takes what is cut of it. Throws `InputError` where there is nothing to cut, or where
 * `cut` names an ink that the artwork does not show.
 */
export function layRepeat(
  shapes: readonly Shape[],
  lattice: Lattice,
  options: CutChoice & Omit<SpillOptions, 'paperColour'>,
): LaidRepeat {
  const grid = latticeGrid(lattice);
  const areas = shapeAreas(shapes, grid);
  const { readings, report } = decideSpill(shapes, areas, lattice, grid, options);
  const laid = layCell(areas, lattice, { readings, paperColour: options.paperColour });
  const cell = cutCell(laid, options);
  refuseNothingToCut(cell, laid, options);
  return { cell, spill: report };
}

function refuseNothingToCut(
  cell: Cell,
  laid: Cell,
  { cut, paperColour }: { cut: readonly Ink[] | null; paperColour: Ink },
): void {
  if (cut) {
    const there = laid.inks.map((i) => i.ink);
    const missing = cut.filter((ink) => !there.includes(ink));
    if (missing.length > 0) {
      throw new InputError(
        `The artwork shows nothing in ${missing.join(', ')}, which the job says to cut; it has ${there.join(', ') || 'no ink at all'}: name one of these.`,
      );
    }
  }
  if (cell.inks.every((i) => i.pieces.length === 0)) {
    throw new InputError(
      `There is nothing to cut: all of the artwork is in the paper colour ${paperColour} or covered by it; draw what is cut in another colour, or set the paper colour.`,
    );
  }
}
