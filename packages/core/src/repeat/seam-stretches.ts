import { pathsBox } from '../geometry/grid.js';
import type { GridArea } from '../geometry/polygons.js';
import { type LineStretch, stretchesOnLine } from '../geometry/sides.js';
import type { Box, Side } from '../geometry/types.js';
import type { CutLine } from '../geometry/union.js';
import type { Ink } from '../motif/types.js';
import type { Cell } from './cell.js';
import { type TracedEnd, traceEnd } from './seam-ends.js';
import { isSlightPiece } from './slight.js';
import type { SeamStretch } from './types.js';

export const SIDES: readonly Side[] = ['left', 'right', 'top', 'bottom'];

/** A seam stretch whose ends know the shapes they come from. */
export interface TracedStretch extends SeamStretch {
  readonly from: TracedEnd;
  readonly to: TracedEnd;
}

/** Stretches that overlap or come nearer than this, grid units, are one: rounding of two pieces cut along a line. */
const ABUT = 2;

/** The line of a side and on which side of it the unit lies. */
export function sideLine(side: Side, cell: Cell): { axis: 'x' | 'y'; at: number; unit: 'low' | 'high' } {
  if (side === 'left') return { axis: 'x', at: 0, unit: 'high' };
  if (side === 'right') return { axis: 'x', at: cell.grid.width, unit: 'low' };
  if (side === 'top') return { axis: 'y', at: 0, unit: 'high' };
  return { axis: 'y', at: cell.grid.height, unit: 'low' };
}

/** The stretches of one piece on one side of the unit. */
export function pieceStretches(piece: GridArea, side: Side, cell: Cell): LineStretch[] {
  const { axis, at, unit } = sideLine(side, cell);
  return stretchesOnLine(piece, axis, at).filter((s) => s.side === unit);
}

/** Where the openings of every ink touch the unit's sides, ends refined on their source curves; by ink, side and place. */
export function seamStretches(cell: Cell): TracedStretch[] {
  const out: TracedStretch[] = [];
  for (const { ink, pieces, cuts } of cell.inks) {
    const boxes = pieces.map((p) => pathsBox([p.outer]));
    for (const side of SIDES) {
      const { axis, at } = sideLine(side, cell);
      const found: PieceStretch[] = [];
      pieces.forEach((piece, k) => {
        const box = boxes[k];
        if (!box || (axis === 'x' ? box.x0 > at || box.x1 < at : box.y0 > at || box.y1 < at)) return;
        // A piece that abuts a line where its union was cut in two is only a part of something.
        const slight = (): boolean => !cuts.some((cut) => liesOn(box, cut)) && isSlightPiece(piece, cell);
        for (const s of pieceStretches(piece, side, cell)) found.push({ ...s, slight: slight() });
      });
      for (const s of mergeStretches(found)) out.push(traceStretch(s, ink, side, cell));
    }
  }
  return out;
}

/** A stretch of one piece, and whether that is too slight to be cut. */
interface PieceStretch extends LineStretch {
  readonly slight: boolean;
}

function liesOn(box: Box, { axis, at }: CutLine): boolean {
  return axis === 'x' ? box.x0 === at || box.x1 === at : box.y0 === at || box.y1 === at;
}

function mergeStretches(stretches: readonly PieceStretch[]): PieceStretch[] {
  const sorted = [...stretches].sort((a, b) => a.from.at - b.from.at);
  const out: PieceStretch[] = [];
  for (const s of sorted) {
    const last = out[out.length - 1];
    if (last && s.from.at - last.to.at <= ABUT) {
      const slight = last.slight && s.slight;
      out[out.length - 1] = { ...last, slight, ...(s.to.at > last.to.at ? { to: s.to } : {}) };
    } else out.push(s);
  }
  return out;
}

function traceStretch(s: PieceStretch, ink: Ink, side: Side, cell: Cell): TracedStretch {
  const end = (at: LineStretch['from'], kind: 'begin' | 'end'): TracedEnd => {
    const traced = traceEnd(at, kind, side, cell);
    return { ...traced, carried: cell.carried.has(traced.owner) };
  };
  const from = end(s.from, 'begin');
  const to = end(s.to, 'end');
  // A corner of the unit is no outline's end: whose it is says nothing.
  const carried = [from, to].every((end) => end.corner || cell.carried.has(end.owner));
  return { side, ink, from, to, carried, ...(s.slight ? { slight: true } : {}) };
}
