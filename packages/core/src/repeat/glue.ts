import { pathsBox } from '../geometry/grid.js';
import { type LineStretch, stretchesOnLine } from '../geometry/sides.js';
import type { Side } from '../geometry/types.js';
import type { Cell, CellInk } from './cell.js';
import { gridStep } from './lattice-grid.js';
import { OffsetForest } from './offset-forest.js';
import { pieceStretches } from './seam-stretches.js';
import type { LatticeStep } from './types.js';

/** Pieces connect through more than this length of seam, grid units: two, the rounding of a cut. A point holds nothing. */
const GLUE = 2;

interface PieceStretch {
  readonly piece: number;
  readonly from: number;
  readonly to: number;
}

/** Joins the pieces of one ink across the seams (and along the lines where large unions were cut); tells which seams each goes through. */
export function gluePieces(
  ink: CellInk,
  cell: Cell,
): { forest: OffsetForest; crosses: { right: ReadonlySet<number>; bottom: ReadonlySet<number> } } {
  const forest = new OffsetForest(ink.pieces.length);
  const right = new Set<number>();
  const bottom = new Set<number>();
  const { lattice, grid } = cell;
  const sides = (side: Side): PieceStretch[] => sideStretches(ink, side, cell);
  // The unit to the right is `a`, or the one above or below it in a drop; likewise below.
  for (const [own, across, seam, steps] of [
    [sides('right'), sides('left'), right, neighbours({ i: 1, j: 0 }, { i: 0, j: 1 })],
    [sides('bottom'), sides('top'), bottom, neighbours({ i: 0, j: 1 }, { i: 1, j: 0 })],
  ] as const) {
    for (const step of steps) {
      const v = gridStep(lattice, grid, step);
      const shift = seam === right ? v.y : v.x;
      overlaps(own, across, shift, (a, b) => {
        forest.join(a, b, step);
        seam.add(a);
        seam.add(b);
      });
    }
  }
  joinAlongCuts(ink, forest);
  return { forest, crosses: { right, bottom } };
}

/** Pieces that a cut line parted lie wholly on one side of it, so a side of their box is on the line. */
function joinAlongCuts(ink: CellInk, forest: OffsetForest): void {
  const lines = new Map<string, { low: PieceStretch[]; high: PieceStretch[] }>();
  for (const { axis, at } of ink.cuts) lines.set(`${axis}${at}`, { low: [], high: [] });
  if (lines.size === 0) return;
  ink.pieces.forEach((piece, k) => {
    const box = pathsBox([piece.outer]);
    if (!box) return;
    for (const [axis, at] of [
      ['x', box.x0],
      ['x', box.x1],
      ['y', box.y0],
      ['y', box.y1],
    ] as const) {
      const line = lines.get(`${axis}${at}`);
      if (line) for (const s of stretchesOnLine(piece, axis, at)) line[s.side].push(stretchOf(s, k));
    }
  });
  for (const { low, high } of lines.values()) overlaps(low, high, 0, (a, b) => forest.join(a, b, { i: 0, j: 0 }));
}

/** The steps to the units that can touch one side: straight on, and one along the seam either way. */
function neighbours(straightOn: LatticeStep, along: LatticeStep): LatticeStep[] {
  return [-1, 0, 1].map((n) => ({ i: straightOn.i + n * along.i, j: straightOn.j + n * along.j }));
}

function sideStretches(ink: CellInk, side: Side, cell: Cell): PieceStretch[] {
  const at = side === 'right' ? cell.grid.width : side === 'bottom' ? cell.grid.height : 0;
  const axis = side === 'left' || side === 'right' ? 'x' : 'y';
  return ink.pieces.flatMap((piece, k) => {
    if (!piece.outer.some((p) => p[axis] === at)) return [];
    return pieceStretches(piece, side, cell).map((s) => stretchOf(s, k));
  });
}

function stretchOf(s: LineStretch, piece: number): PieceStretch {
  return { piece, from: s.from.at, to: s.to.at };
}

/** Calls `found` for all pairs of stretches that share a length, `b` moved by `shift`. A sweep over sorted stretches. */
function overlaps(
  a: readonly PieceStretch[],
  b: readonly PieceStretch[],
  shift: number,
  found: (a: number, b: number) => void,
): void {
  const as = [...a].sort((p, q) => p.from - q.from);
  const bs = [...b].sort((p, q) => p.from - q.from);
  let start = 0;
  for (const s of as) {
    while (start < bs.length && bs[start].to + shift <= s.from) start++;
    for (let k = start; k < bs.length && bs[k].from + shift < s.to; k++) {
      const shared = Math.min(s.to, bs[k].to + shift) - Math.max(s.from, bs[k].from + shift);
      if (shared > GLUE) found(s.piece, bs[k].piece);
    }
  }
}
