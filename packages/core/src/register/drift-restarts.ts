import { minus, plus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { checkTolerance, JOIN_ROUNDING_MM } from './drift.js';
import { joinErrorMm, worstJoinMm } from './drift-joins.js';
import { linePlace, slidBy, stepAt } from './drift-model.js';
import type { RigidMotion } from './drift-motion.js';
import type { Drift, DriftModel, DriftStep } from './drift-types.js';
import { type Walk, type WalkedPlacement, walkPlacements } from './drift-walk.js';

export interface RestartOptions {
  /**
   * How the ground line is marked. `sheet` (default): with the sheet's own steps, its lean and growth in them, so that a fresh start takes out only the turn,
   * which is what spoils joins. `job`: with the job's measures; then lean and growth open a join at every fresh start.
   */
  readonly marks?: 'sheet' | 'job';
}

/** Where to start afresh from a ground line instead of stepping on. */
export interface GroundLineRestarts {
  /** Placements of a line (of a column; in `rows` of a row) from one fresh start to the next; null where it need never be. */
  readonly placementsEvery: number | null;
  /** The fewest lines from one fresh line to the next; null where it need never be. */
  readonly linesEvery: number | null;
  /** Places in the line, and lines, that start afresh, counted from 0; the first is no fresh start. */
  readonly placementStarts: readonly number[];
  readonly lineStarts: readonly number[];
  /** The worst join that is left, mm. */
  readonly worstJoinMm: number;
  /** False: even with every placement laid from the ground line joins are above the tolerance, and the sheet must be punched again. */
  readonly within: boolean;
}

/**
 * The longest runs that can be stepped dot on dot so that all joins stay within a tolerance, those at the fresh starts too. A fresh start is a
 * placement laid by measure, true to the first one's direction, at its place on the ground line; a fresh line has one at its own start and at every fresh
 * place. First the longest run within a line is taken, then with such runs the most lines that can be stepped from their neighbours. Throws an
 * `InputError` for a tolerance that is not above zero.
 */
export function groundLineRestarts(
  drift: Drift,
  toleranceMm: number = drift.toleranceMm,
  { marks = 'sheet' }: RestartOptions = {},
): GroundLineRestarts {
  checkTolerance(toleranceMm);
  const { model } = drift;
  const [lines, length] = model.lines === 'columns' ? [drift.across, drift.down] : [drift.down, drift.across];
  const place = groundPlaces(model, marks);
  const run = longestRun({ model, place }, length, toleranceMm);
  const every = Math.max(run.count, 1);
  const runs = lineRuns({ model, place, lines, length, every }, toleranceMm);
  const lineStarts = runs.slice(1).map(({ start }) => start);
  return {
    placementsEvery: every < length ? every : null,
    linesEvery: lineStarts.length === 0 ? null : Math.min(...runs.slice(0, -1).map(({ count }) => Math.max(count, 1))),
    placementStarts: Array.from({ length: Math.ceil(length / every) - 1 }, (_, k) => (k + 1) * every),
    lineStarts,
    worstJoinMm: Math.max(run.worstMm, ...runs.map(({ worstMm }) => worstMm)),
    within: run.count >= 1 && runs.every(({ count }) => count >= 1),
  };
}

/** Where a placement laid from the ground line has the origin of its frame, mm. */
type Places = (step: LatticeStep) => Point;

interface Run {
  /** How many can be stepped; 0 where even one is too many. */
  readonly count: number;
  /** The worst join with runs of that many (at least one). */
  readonly worstMm: number;
}

interface Block {
  readonly model: DriftModel;
  readonly place: Places;
  readonly lines: number;
  readonly length: number;
  /** Placements of a line between fresh starts. */
  readonly every: number;
}

/** The most placements of the first line before the join with a fresh one is off. */
function longestRun({ model, place }: Pick<Block, 'model' | 'place'>, length: number, toleranceMm: number): Run {
  const walk = walkPlacements(
    model,
    Array.from({ length }, (_, pos) => stepAt(model.lines, 0, pos)),
  );
  const line = walk.get(0) as ReadonlyMap<number, WalkedPlacement>;
  const [next] = model.neighbours;
  let stepped = 0;
  let best: Run = { count: 0, worstMm: 0 };
  for (let count = 1; count <= length; count++) {
    const last = line.get(count - 1) as WalkedPlacement;
    stepped = Math.max(stepped, worstJoinMm(model, walk, last));
    const fresh = { angleRad: 0, ...place(stepAt(model.lines, 0, count)) };
    const worstMm = Math.max(stepped, count < length ? joinErrorMm(next, last.motion, fresh) : 0);
    const over = worstMm > toleranceMm + JOIN_ROUNDING_MM;
    if (count === 1 || !over) best = { count: over ? 0 : count, worstMm };
    if (over) break;
  }
  return best;
}

/** Runs of lines stepped from their neighbours, each as long as may be. Runs that begin alike in the repeat are alike. */
function lineRuns(block: Block, toleranceMm: number): (Run & { readonly start: number })[] {
  const { p, q } = block.model.sheet.repeat.step;
  const known = new Map<number, Run>();
  const runs: (Run & { start: number })[] = [];
  for (let start = 0; start < block.lines; ) {
    const phase = (start * p) % q;
    const run = known.get(phase) ?? mostLines(block, start, toleranceMm);
    known.set(phase, run);
    runs.push({ ...run, start });
    start += Math.max(run.count, 1);
  }
  return runs;
}

/** The most lines that can be stepped on from a fresh one before a join between them, or with the next fresh line, is off. */
function mostLines(block: Block, start: number, toleranceMm: number): Run {
  const { model, lines, length, every } = block;
  const count = lines - start;
  const run = Math.min(every, length);
  const steps = Array.from({ length: count }, (_, l) =>
    Array.from({ length: run }, (_, k) => stepAt(model.lines, start + l, k - slidBy(model.sheet, start + l))),
  ).flat();
  const walk = walkPlacements(model, steps);
  let stepped = 0;
  let best: Run = { count: 0, worstMm: 0 };
  for (let line = start; line < lines; line++) {
    const around = { block, walk, start, line };
    stepped = Math.max(stepped, worstJoinAt(around, line));
    const worstMm = line + 1 < lines ? Math.max(stepped, worstJoinAt(around, line + 1)) : stepped;
    const over = worstMm > toleranceMm + JOIN_ROUNDING_MM;
    if (line === start || !over) best = { count: over ? 0 : line - start + 1, worstMm };
    if (over) break;
  }
  return best;
}

interface Around {
  readonly block: Block;
  readonly walk: Walk;
  /** The run of lines begins at `start`; `line` is the last that is stepped, the one after it is fresh. */
  readonly start: number;
  readonly line: number;
}

/** The worst join of the placements in the first run of line `around.line` with all placements of line `other` and of its own, mm. */
function worstJoinAt(around: Around, other: number): number {
  const { block, line } = around;
  const { model, every, length } = block;
  let worst = 0;
  for (let row = 0; row < Math.min(every, length); row++) {
    const step = stepAt(model.lines, line, row - slidBy(model.sheet, line));
    const here = laidAt(around, step);
    if (here === null) continue;
    for (const neighbour of model.neighbours) {
      for (const sign of [1, -1]) {
        const there = { i: step.i + sign * neighbour.by.i, j: step.j + sign * neighbour.by.j };
        const { line: thereLine, pos } = linePlace(model.lines, there);
        // Up to the line itself all that is stepped counts, beyond it only the fresh line.
        if (other === line ? thereLine > line : thereLine !== other) continue;
        const thereRow = pos + slidBy(model.sheet, thereLine);
        // A run before this one stands for one after it, if there is one.
        if (thereRow >= length || (thereRow < 0 && row + every >= length)) continue;
        const motion = laidAt(around, there);
        if (motion === null) continue;
        worst = Math.max(worst, sign > 0 ? joinErrorMm(neighbour, here, motion) : joinErrorMm(neighbour, motion, here));
      }
    }
  }
  return worst;
}

/** Where a placement lies that is stepped in its run of its line (or in a fresh line); null outside the run of lines. */
function laidAt({ block, walk, start, line: lastLine }: Around, step: LatticeStep): RigidMotion | null {
  const { model, place, every } = block;
  const { line, pos } = linePlace(model.lines, step);
  if (line < start || line > lastLine + 1) return null;
  const row = pos + slidBy(model.sheet, line);
  const run = Math.floor(row / every);
  const fresh = line === lastLine + 1;
  // A fresh line is the first of its own run of lines: it is stepped as that one is.
  const twinLine = fresh ? start : line;
  const twin = walk.get(twinLine)?.get(row - run * every - slidBy(model.sheet, twinLine));
  if (twin === undefined) return null;
  const began = stepAt(model.lines, start, -slidBy(model.sheet, start));
  const { repeat, widthMm, heightMm } = model.sheet;
  const from = latticePoint(makeLattice(repeat, widthMm, heightMm), began);
  const homeLine = fresh ? line : start;
  const to = place(stepAt(model.lines, homeLine, run * every - slidBy(model.sheet, homeLine)));
  const shift = minus(to, from);
  return { angleRad: twin.motion.angleRad, ...plus(twin.motion, shift) };
}

/** Places on the ground line; the first placement's is the frame's own. */
function groundPlaces(model: DriftModel, marks: 'sheet' | 'job'): Places {
  const { repeat, widthMm, heightMm } = model.sheet;
  const lattice = makeLattice(repeat, widthMm, heightMm);
  if (marks === 'job') return (step) => latticePoint(lattice, step);
  const vector = (step: DriftStep | null): Point =>
    step === null ? { x: 0, y: 0 } : minus(step.laying.first.mark, step.laying.first.dot);
  const [within, between] = [vector(model.within), vector(model.between)];
  const slide = model.between === null ? 0 : linePlace(model.lines, model.between.by).pos;
  return (step) => {
    const { line, pos } = linePlace(model.lines, step);
    const rest = pos - line * slide;
    return { x: line * between.x + rest * within.x, y: line * between.y + rest * within.y };
  };
}
