import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { checkTolerance } from './drift.js';
import { joinErrorMm, worstJoinOf } from './drift-joins.js';
import { linePlace, slidBy, stepAt } from './drift-model.js';
import { minus, moveBy, type RigidMotion, STAYS } from './drift-motion.js';
import type { Drift, DriftModel, DriftStep, SeamNeighbour } from './drift-types.js';
import { gridSteps, type Walk, type WalkedPlacement, walkPlacements } from './drift-walk.js';

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
  /** Lines from one fresh start to the next; null where it need never be. */
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
 * The longest runs that can be stepped dot on dot so that all joins stay within a tolerance, those at the fresh starts too. A fresh start is a placement laid by measure,
 * true to the first one's direction, at its place on the ground line. First the longest run within a line, then with such runs the most lines that can
 * be stepped from their neighbours. Throws an `InputError` for a tolerance that is not above zero.
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
  const walk = walkPlacements(model, gridSteps(model, drift.down, drift.across));
  const run = longestRun({ model, walk, place }, length, toleranceMm);
  const every = Math.max(run.count, 1);
  const block = blockWalk(model, { lines, length: Math.min(every, length) });
  const goesOn = every < length;
  const lineRun = mostLines({ model, walk: block, place }, { lines, every, goesOn }, toleranceMm);
  const linesEvery = Math.max(lineRun.count, 1);
  return {
    placementsEvery: goesOn ? every : null,
    linesEvery: linesEvery < lines ? linesEvery : null,
    placementStarts: starts(every, length),
    lineStarts: starts(linesEvery, lines),
    worstJoinMm: Math.max(run.worstMm, lineRun.worstMm),
    within: run.count >= 1 && lineRun.count >= 1,
  };
}

interface Ground {
  readonly model: DriftModel;
  readonly walk: Walk;
  /** Where a placement laid from the ground line lies. */
  readonly place: (step: LatticeStep) => RigidMotion;
}

interface Run {
  /** How many can be stepped; 0 where even one is too many. */
  readonly count: number;
  /** The worst join with runs of that many (at least one). */
  readonly worstMm: number;
}

/** The most placements of the first line before the join with a fresh one is off. */
function longestRun({ model, walk, place }: Ground, length: number, toleranceMm: number): Run {
  const line = walk.get(0) as ReadonlyMap<number, WalkedPlacement>;
  const [next] = model.neighbours;
  let stepped = 0;
  let best: Run = { count: 0, worstMm: 0 };
  for (let count = 1; count <= length; count++) {
    const last = line.get(count - 1) as WalkedPlacement;
    stepped = Math.max(stepped, worstJoinOf(model, walk, last)?.mm ?? 0);
    const fresh = count < length ? joinErrorMm(next, last.motion, place(stepAt(model.lines, 0, count))) : 0;
    const worstMm = Math.max(stepped, fresh);
    if (count === 1) best = { count: 0, worstMm };
    if (worstMm > toleranceMm) break;
    best = { count, worstMm };
  }
  return best;
}

/** The most lines of runs of `every` placements before a join between them, or with a fresh line, is off. */
function mostLines(
  ground: Ground,
  { lines, every, goesOn }: { readonly lines: number; readonly every: number; readonly goesOn: boolean },
  toleranceMm: number,
): Run {
  const { model, walk } = ground;
  const moved = goesOn ? nextBlock(ground, every) : null;
  let stepped = 0;
  let best: Run = { count: 0, worstMm: 0 };
  for (let line = 0; line < lines; line++) {
    for (const placement of walk.get(line)?.values() ?? []) {
      const joins = [
        worstJoinOf(model, walk, placement)?.mm ?? 0,
        ...(moved === null ? [] : seamsWith(model, placement, (one) => moved(one, placement))),
      ];
      stepped = Math.max(stepped, ...joins);
    }
    const worstMm = line + 1 < lines ? Math.max(stepped, freshLine(ground, line)) : stepped;
    if (line === 0) best = { count: 0, worstMm };
    if (worstMm > toleranceMm) break;
    best = { count: line + 1, worstMm };
  }
  return best;
}

/** Placements of the next run of each line: the same run, moved on along the ground line. */
function nextBlock(
  { model, walk, place }: Ground,
  every: number,
): (step: LatticeStep, from: WalkedPlacement) => RigidMotion | null {
  const shift = place(stepAt(model.lines, 0, every));
  return (step, from) => {
    const { line, pos } = linePlace(model.lines, step);
    if (walk.get(line)?.has(pos) || line > from.line) return null;
    const twin = walk.get(line)?.get(pos - every);
    return twin === undefined ? null : { ...twin.motion, x: twin.motion.x + shift.x, y: twin.motion.y + shift.y };
  };
}

/** The worst join of a line with the next one started afresh: its first placement from the ground line, the others of its run stepped. */
function freshLine({ model, walk, place }: Ground, line: number): number {
  const next = line + 1;
  const start = -slidBy(model.sheet, next);
  const first = walk.get(0) as ReadonlyMap<number, WalkedPlacement>;
  const shift = place(stepAt(model.lines, next, start));
  const at = (step: LatticeStep): RigidMotion | null => {
    const there = linePlace(model.lines, step);
    const twin = there.line === next ? first.get(there.pos - start) : undefined;
    return twin === undefined ? null : { ...twin.motion, x: twin.motion.x + shift.x, y: twin.motion.y + shift.y };
  };
  let worst = 0;
  for (const placement of walk.get(line)?.values() ?? []) worst = Math.max(worst, ...seamsWith(model, placement, at));
  return worst;
}

/** The join errors of a placement with later neighbours that lie somewhere else. */
function seamsWith(
  model: DriftModel,
  placement: WalkedPlacement,
  at: (step: LatticeStep) => RigidMotion | null,
): number[] {
  const step = stepAt(model.lines, placement.line, placement.pos);
  return model.neighbours.flatMap((neighbour: SeamNeighbour): number[] => {
    const later = at({ i: step.i + neighbour.by.i, j: step.j + neighbour.by.j });
    return later === null ? [] : [joinErrorMm(neighbour, placement.motion, later)];
  });
}

/** Places on the ground line as motions without a turn; the first placement's is the frame's own. */
function groundPlaces(model: DriftModel, marks: 'sheet' | 'job'): (step: LatticeStep) => RigidMotion {
  const { repeat, widthMm, heightMm } = model.sheet;
  const lattice = makeLattice(repeat, widthMm, heightMm);
  if (marks === 'job') return (step) => ({ ...STAYS, ...latticePoint(lattice, step) });
  const vector = (step: DriftStep | null): { x: number; y: number } =>
    step === null ? { x: 0, y: 0 } : minus(step.laying.first.mark, step.laying.first.dot);
  const [within, between] = [vector(model.within), vector(model.between)];
  const slide = model.between === null ? 0 : linePlace(model.lines, model.between.by).pos;
  return (step) => {
    const { line, pos } = linePlace(model.lines, step);
    const rest = pos - line * slide;
    return { ...STAYS, x: line * between.x + rest * within.x, y: line * between.y + rest * within.y };
  };
}

function blockWalk(model: DriftModel, { lines, length }: { readonly lines: number; readonly length: number }): Walk {
  const [down, across] = model.lines === 'columns' ? [length, lines] : [lines, length];
  return walkPlacements(model, gridSteps(model, down, across));
}

function starts(every: number, length: number): number[] {
  return Array.from({ length: Math.ceil(length / every) - 1 }, (_, k) => (k + 1) * every);
}
