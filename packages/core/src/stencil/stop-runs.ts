import type { GridPath, GridPoint } from '../geometry/grid.js';
import { type HoldLine, type LineRun, runsOnLine } from './hold-line.js';

/** Ends of a stop on its two sides differ by no more than this, grid units: the rounding of two cuts. */
const SAME_CORNER = 2;
/** Before the hold line or past it, by the cut that takes what lies there. */
export type CutName = 'first' | 'second';

/** A connected area of one cut; its rings change as stops move. */
export interface Piece {
  side: CutName;
  outer: GridPath;
  holes: GridPath[];
}

/** A stretch of the hold line on which both cuts meet. */
export interface Stop {
  readonly runs: Readonly<Record<CutName, LineRun>>;
  readonly pieces: Readonly<Record<CutName, Piece>>;
}

/** Where the first cut stops, grid units. */
export interface StopLine {
  readonly from: GridPoint;
  readonly to: GridPoint;
}

/**
 * Pairs the runs of both cuts on the line. `others` are the stretches where both cuts meet, but not over the same run (an outline
 * lies on the line there): such stops stay.
 */
export function matchRuns(pieces: readonly Piece[], line: HoldLine): { stops: Stop[]; others: LineRun[] } {
  const found = pieces.flatMap((piece) => runsOnLine(piece.outer, line).map((run) => ({ piece, run })));
  const seconds = found.filter(({ piece }) => piece.side === 'second');
  const stops: Stop[] = [];
  const others: LineRun[] = [];
  const taken = new Set<LineRun>();
  for (const first of found.filter(({ piece }) => piece.side === 'first')) {
    const second = seconds.find(
      ({ run }) =>
        !taken.has(run) &&
        near(run.nodes[0], first.run.nodes[first.run.nodes.length - 1]) &&
        near(run.nodes[run.nodes.length - 1], first.run.nodes[0]),
    );
    if (second) {
      taken.add(second.run);
      stops.push({
        runs: { first: first.run, second: second.run },
        pieces: { first: first.piece, second: second.piece },
      });
    } else {
      others.push(...seconds.flatMap(({ run }) => sharedRuns(first.run, run)));
    }
  }
  return { stops, others };
}

function near(a: GridPoint, b: GridPoint): boolean {
  return Math.abs(a.x - b.x) <= SAME_CORNER && Math.abs(a.y - b.y) <= SAME_CORNER;
}

/** The stretches that two runs share. */
function sharedRuns(a: LineRun, b: LineRun): LineRun[] {
  const shared: LineRun[] = [];
  for (const p of straightParts(a)) {
    for (const q of straightParts(b)) {
      const level = p.from.y === p.to.y;
      if (level !== (q.from.y === q.to.y) || (level ? p.from.y !== q.from.y : p.from.x !== q.from.x)) continue;
      const key = level ? 'x' : 'y';
      const low = Math.max(Math.min(p.from[key], p.to[key]), Math.min(q.from[key], q.to[key]));
      const high = Math.min(Math.max(p.from[key], p.to[key]), Math.max(q.from[key], q.to[key]));
      if (high - low <= SAME_CORNER) continue;
      const place = (v: number): GridPoint => (level ? { x: v, y: p.from.y } : { x: p.from.x, y: v });
      shared.push({ nodes: [place(low), place(high)] });
    }
  }
  return shared;
}

/** A run as its straight parts: two where it goes round the corner of the line. */
export function straightParts({ nodes }: LineRun): StopLine[] {
  const parts: StopLine[] = [];
  let from = nodes[0];
  for (let k = 1; k < nodes.length; k++) {
    const next = nodes[k + 1];
    const level = from.y === nodes[k].y;
    if (next === undefined || (level ? next.y !== from.y : next.x !== from.x)) {
      parts.push({ from, to: nodes[k] });
      from = nodes[k];
    }
  }
  return parts;
}

export function other(side: CutName): CutName {
  return side === 'first' ? 'second' : 'first';
}
