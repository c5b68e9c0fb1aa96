import { evaluateCubic } from '../geometry/curve.js';
import { distance } from '../geometry/points.js';
import type { Contour, Point } from '../geometry/types.js';
import type { CutSheet } from '../stencil/types.js';
import { cutLines, cutRuns, type LineChain, type OutlineRun, type RunEnd } from './cut-runs.js';
import { crossings } from './lead-ends.js';
import { type EndShift, runShift } from './run-shift.js';
import { nodeLengths, shiftOutline } from './shift-outline.js';
import type { ProofOffset, SheetEnds } from './types.js';

/** An end this near to a named place is that place, mm: some steps of the grid on which cuts are made. */
const SAME_PLACE_MM = 1e-3;

/** A run of a sheet's second cut, with the names of its ends. */
export interface NamedRun {
  readonly opening: number;
  readonly run: OutlineRun;
  /** Names of its ends; null where an end has none. */
  readonly from: string | null;
  readonly to: string | null;
}

/** A contour of a second cut: its runs, each followed by a chain of lines; without runs the contour as it is. */
export interface CutContour {
  readonly opening: number;
  readonly contour: Contour;
  readonly runs: readonly NamedRun[];
  readonly chains: readonly LineChain[];
}

/** Every contour of the sheet's second cuts, with the names of its ends. */
export function cutContours(sheet: CutSheet, ends: SheetEnds): CutContour[] {
  const lines = cutLines(sheet);
  const name = endNames(ends);
  return sheet.openings.flatMap(({ number, secondCut }) =>
    secondCut.map((contour): CutContour => {
      const { runs, chains } = cutRuns(contour, number, lines);
      return {
        opening: number,
        contour,
        runs: runs.map((run) => ({ opening: number, run, from: name(run.from, number), to: name(run.to, number) })),
        chains,
      };
    }),
  );
}

/** Finds the name of an end by its place. Two ends in one place take their names in turn. */
function endNames({ joins, firstCutEnds }: SheetEnds): (end: RunEnd, opening: number) => string | null {
  const taken = new Set<string>();
  const places = new Map<number, { name: string; at: Point; line: RunEnd['line'] }[]>();
  const add = (opening: number, place: { name: string; at: Point; line: RunEnd['line'] }): void => {
    const own = places.get(opening);
    if (own) own.push(place);
    else places.set(opening, [place]);
  };
  for (const { name, at, own, seam } of joins) add(own, { name, at, line: seam });
  for (const { name, at, opening } of firstCutEnds) add(opening, { name, at, line: 'stop' });
  return ({ at, line }, opening) => {
    const found = places
      .get(opening)
      ?.find((place) => place.line === line && distance(place.at, at) <= SAME_PLACE_MM && !taken.has(place.name));
    if (found === undefined) return null;
    taken.add(found.name);
    return found.name;
  };
}

/** How an end is moved: along its seam or stop, and turned. */
export interface EndMove {
  readonly by: Point;
  readonly turnDeg: number;
}

/** The moves of named ends. */
export function endMoves(ends: SheetEnds, offsets: readonly ProofOffset[]): Map<string, EndMove> {
  const atSeam = new Set(ends.joins.map(({ name }) => name));
  const along = new Map<string, Point>([
    ...ends.joins.map(({ name, seam }) => [name, seam === 'right' ? { x: 0, y: 1 } : { x: 1, y: 0 }] as const),
    ...ends.firstCutEnds.map((end) => [end.name, end.along] as const),
  ]);
  return new Map(
    offsets.flatMap(({ name, offsetMm, turnDeg }) => {
      const way = along.get(name);
      if (way === undefined) return [];
      // The tangent of a first cut's end is not known: only its place.
      const turn = atSeam.has(name) ? turnDeg : 0;
      return [[name, { by: { x: way.x * offsetMm + 0, y: way.y * offsetMm + 0 }, turnDeg: turn }] as const];
    }),
  );
}

/** The outline of a run under the moves of its ends: its own coordinates where neither end moves. */
export function movedRun(named: NamedRun, moves: ReadonlyMap<string, EndMove>, sheet: CutSheet): Float64Array {
  const { run, from, to } = named;
  const [a, b] = [moveOf(from, moves), moveOf(to, moves)];
  if (!doesMove(a) && !doesMove(b)) return run.coords;
  const lengths = nodeLengths(run.coords);
  const length = lengths[lengths.length - 1];
  if (length === 0) return run.coords;
  const last = run.coords.length - 8;
  const start = endShift(run.from, a, leadPlace(run, run.from, lengths, sheet) ?? 0, tangentAt(run.coords, 0, 0));
  const end = endShift(run.to, b, leadPlace(run, run.to, lengths, sheet) ?? length, tangentAt(run.coords, last, 1));
  return shiftOutline(run.coords, runShift(start, end, length));
}

const STAYS: EndMove = { by: { x: 0, y: 0 }, turnDeg: 0 };

function moveOf(name: string | null, moves: ReadonlyMap<string, EndMove>): EndMove {
  return (name === null ? undefined : moves.get(name)) ?? STAYS;
}

function doesMove({ by, turnDeg }: EndMove): boolean {
  return by.x !== 0 || by.y !== 0 || turnDeg !== 0;
}

function endShift({ line }: RunEnd, { by, turnDeg }: EndMove, atMm: number, tangent: Point): EndShift {
  return { kind: line === 'stop' ? 'stop' : 'seam', atMm, by, turnDeg, tangent };
}

/**
 * For an end in the lap, past a lead seam: the length along the run at which the outline first gets to that seam, from its other end. From there
 * on it is a lead edge, and as planned. Null for all other ends.
 */
function leadPlace(run: OutlineRun, end: RunEnd, lengths: readonly number[], { field }: CutSheet): number | null {
  if (end.line !== 'left' && end.line !== 'top') return null;
  const [axis, value] = end.line === 'left' ? ([0, field.x0] as const) : ([1, field.y0] as const);
  const places = crossings(run.coords, axis, value).map(({ u }) => {
    const k = Math.min(lengths.length - 2, Math.floor(u));
    return lengths[k] + (u - k) * (lengths[k + 1] - lengths[k]);
  });
  if (places.length === 0) return null;
  return end === run.to ? Math.min(...places) : Math.max(...places);
}

function tangentAt(coords: Float64Array, o: number, t: number): Point {
  const { dx, dy } = evaluateCubic(coords, o, t);
  const length = Math.hypot(dx, dy) || 1;
  return { x: dx / length, y: dy / length };
}

/** A contour put together again from its moved runs: the lines between them run from end to end, by way of their corners. */
export function joinedContour({ runs, chains }: CutContour, moved: readonly Float64Array[]): Contour {
  const coords: number[] = [moved[0][0], moved[0][1]];
  runs.forEach((_, k) => {
    coords.push(...moved[k].subarray(2));
    const next = moved[(k + 1) % moved.length];
    for (const p of [...chains[k].nodes.slice(1, -1), { x: next[0], y: next[1] }]) {
      const [x, y] = coords.slice(-2);
      coords.push((2 * x + p.x) / 3, (2 * y + p.y) / 3, (x + 2 * p.x) / 3, (y + 2 * p.y) / 3, p.x, p.y);
    }
  });
  return { closed: true, coords: Float64Array.from(coords) };
}
