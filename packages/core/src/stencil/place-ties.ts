import { moveBox } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { contourArea, contoursBox } from '../geometry/contour.js';
import { toMm } from '../geometry/grid.js';
import { insidePoint } from '../geometry/inside.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { Cell } from '../repeat/cell.js';
import { latticePoint, stepsOnto } from '../repeat/lattice.js';
import { areaContours, patternIn } from '../repeat/pattern.js';
import { intersectStrips } from '../repeat/strips.js';
import type { SheetTie, Tie } from '../strength/types.js';
import { type StandingTie, tieShape } from '../ties/tie-shape.js';

/** A tie on one of its places on the cloth. */
interface TieCopy {
  readonly tie: number;
  readonly by: Point;
  readonly box: Box;
}

/**
 * What ties cover of an ink's openings in every place where they stand in a part of the cloth (`reach`, unit mm), by tie and place. A tie at the
 * edge of that part is cut there. Where two ties lie over each other, the first has what both cover. `cell` is the one without the ties.
 */
export function placeTies(cell: Cell, inkIndex: number, ties: readonly (Tie & StandingTie)[], reach: Box): SheetTie[] {
  const strips = ties.map((tie) => tieShape(tie, tie));
  const copies = strips.flatMap((strip, tie) => copiesIn(strip, tie, cell, reach));
  if (copies.length === 0) return [];
  const covered = intersectStrips(cell, inkIndex, strips).cell;
  const ink = covered.inks[inkIndex];
  const { areas, book } = patternIn(covered, ink, ink.pieces, reach);
  const index = boxIndex(copies.map((c) => c.box));
  const placed = new Map<number, Contour[]>();
  for (const area of areas) {
    const at = toMm(insidePoint(area), cell.grid);
    const copy = index
      .search(at.x, at.y, at.x, at.y)
      .sort((a, b) => a - b)
      .find((k) => {
        const { tie, by } = copies[k];
        return insideContours([strips[tie]], { x: at.x - by.x, y: at.y - by.y });
      });
    if (copy === undefined) continue;
    const outline = areaContours([area], book, covered)[0];
    const list = placed.get(copy);
    if (list) list.push(outline);
    else placed.set(copy, [outline]);
  }
  return copies.flatMap(({ tie, by }, k) =>
    (placed.get(k) ?? [])
      .sort((a, b) => contourArea(b) - contourArea(a))
      .map((outline): SheetTie => {
        const { id, kind, from, to } = ties[tie];
        const move = (p: Point): Point => ({ x: p.x + by.x, y: p.y + by.y });
        return { id, kind, from: move(from), to: move(to), outline };
      }),
  );
}

function copiesIn(strip: Contour, tie: number, { lattice }: Cell, reach: Box): TieCopy[] {
  const box = contoursBox([strip]) as Box;
  return stepsOnto(lattice, box, reach).map((step) => {
    const by = latticePoint(lattice, step);
    return { tie, by, box: moveBox(box, by) };
  });
}
