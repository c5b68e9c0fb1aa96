import { boxesOverlap } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { pathsBox } from '../geometry/grid.js';
import { CurveMarks } from '../geometry/marks.js';
import { combine, type GridArea, unmarkedPaths } from '../geometry/polygons.js';
import type { Box } from '../geometry/types.js';
import type { Cell } from '../repeat/cell.js';
import { gluePieces } from '../repeat/glue.js';
import { findOpenings } from '../repeat/openings.js';
import { intersectStrips, type StripCell, subtractStrips } from '../repeat/strips.js';
import { type StandingTie, tieShape } from '../ties/tie-shape.js';
import { tiePatches } from './tie-patches.js';

/** How far the openings of the two sheets run over each other at the edges they share, mm. */
export const OVERLAP_MM = 0.6;

export interface DoubleOptions {
  /** How far the second sheet's openings run on into the first's, mm, >= 0. */
  readonly overlapMm?: number;
  /** Where less paper than this would stay between the second sheet's openings under neighbouring ties, they become one, mm; 0 by default. */
  readonly neckMm?: number;
  /** Openings (by the names that `findOpenings` gives them on `cell`) that are cut in the second sheet, and patched in the first. */
  readonly onB?: ReadonlySet<string>;
}

/** Two sheets whose openings together are those of one. Printed over each other they show no tie. */
export interface DoubleCells {
  readonly a: StripCell;
  readonly b: StripCell;
}

/**
 * Parts the openings of an ink over two sheets. The first has them with the strips of the ties left standing; the second has openings where
 * those stand, wider by the overlap and bounded by the original opening everywhere else (see `tiePatches`). Openings named in `onB` change places. Ties are in
 * unit mm, wherever they lie on the cloth. Throws `RangeError` for an ink that the cell has not, and as `tieShape` does.
 */
export function doubleCells(
  cell: Cell,
  inkIndex: number,
  ties: readonly StandingTie[],
  { overlapMm = OVERLAP_MM, neckMm = 0, onB = new Set() }: DoubleOptions = {},
): DoubleCells {
  const moved = new Set(
    onB.size === 0
      ? []
      : findOpenings(cell)
          .filter((o) => o.ink === cell.inks[inkIndex]?.ink && onB.has(o.id))
          .flatMap((o) => o.pieces),
  );
  const strips = ties.map((tie) => tieShape(tie, tie));
  const patches = tiePatches(cell, inkIndex, ties, { overlapMm, neckMm });
  const under = intersectStrips(cell, inkIndex, strips).cell.inks[inkIndex].pieces;
  const side = (whole: (piece: number) => boolean): StripCell => {
    const tied = subtractStrips(cell, inkIndex, strips, { meant: whole });
    const patched = intersectStrips(tied.cell, inkIndex, patches, { meant: (k) => !whole(tied.from[k]) });
    const from = patched.from.map((k) => tied.from[k]);
    return dropStray({ cell: patched.cell, from }, inkIndex, under, whole);
  };
  return { a: side((k) => !moved.has(k)), b: side((k) => moved.has(k)) };
}

/** Leaves out patches under which no tie stands: parts of the opening, or of others, that the wider strip only brushes. */
function dropStray(
  { cell, from }: StripCell,
  inkIndex: number,
  under: readonly GridArea[],
  whole: (piece: number) => boolean,
): StripCell {
  const ink = cell.inks[inkIndex];
  const boxes = under.map((a) => pathsBox([a.outer]) as Box);
  const index = boxes.length > 0 ? boxIndex(boxes) : null;
  const { forest } = gluePieces(ink, cell);
  const wanted = new Set<number>();
  ink.pieces.forEach((piece, k) => {
    const { root } = forest.find(k);
    if (wanted.has(root)) return;
    if (whole(from[k]) || touchesTie(piece)) wanted.add(root);
  });
  const kept = ink.pieces.map((_, k) => k).filter((k) => wanted.has(forest.find(k).root));
  const inks = cell.inks.map((other, k) =>
    k === inkIndex ? { ...ink, pieces: kept.map((p) => ink.pieces[p]) } : other,
  );
  return { cell: { ...cell, inks }, from: kept.map((k) => from[k]) };

  function touchesTie(piece: GridArea): boolean {
    const box = pathsBox([piece.outer]) as Box;
    const near = index?.search(box.x0, box.y0, box.x1, box.y1).filter((u) => boxesOverlap(boxes[u], box)) ?? [];
    if (near.length === 0) return false;
    const shared = combine('intersection', unmarkedPaths([piece]), unmarkedPaths(near.map((u) => under[u])), {
      book: new CurveMarks(),
    });
    return shared.length > 0;
  }
}
