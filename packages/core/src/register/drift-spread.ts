import { dot, minus, plus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { driftModelFor } from './drift.js';
import { type LaidStep, lastPath, type PlacePath } from './drift-paths.js';
import type { DriftModel, DriftOptions, DriftSheet, DriftStep } from './drift-types.js';

const DEG = 180 / Math.PI;

/** Errors of dots beyond this, mm, are no errors but another sheet. */
const ERROR_MAX_MM = 50;

/** Standard deviations, mm. */
export interface DotErrors {
  /** Of where a hole is punched, in x and in y alike, every hole on its own. Made once, and the same in every placement. */
  readonly punchErrorMm: number;
  /** Of where the first dot is laid against its mark, in x and in y alike, and of how far the second is laid beside its line. Made anew in every placement. */
  readonly layingErrorMm: number;
}

export interface SpreadOptions extends DotErrors, Pick<DriftOptions, 'down' | 'across' | 'lines'> {}

/** Standard deviations of where the last placement of a line lies and of how it is turned, by one kind of error. */
export interface Spread {
  /** Along the step and sideways of it, mm. */
  readonly alongMm: number;
  readonly sidewaysMm: number;
  readonly turnDeg: number;
}

export interface LineSpread {
  readonly steps: number;
  readonly punching: Spread;
  readonly laying: Spread;
}

/** The last placement: by one kind of error. */
export interface LastSpread {
  /** Standard deviations of its upper left corner, mm, and of its turn. */
  readonly xMm: number;
  readonly yMm: number;
  readonly turnDeg: number;
  /** Root mean square of the join with the placement before it in its line, at the worse end, mm; null where there is none. */
  readonly joinMm: number | null;
}

export interface DriftSpread {
  /** Down the first column (in `rows` across the first row); null where it has one placement. */
  readonly within: LineSpread | null;
  /** Steps from line to line, straight on; null where there is one line. */
  readonly between: LineSpread | null;
  readonly last: { readonly punching: LastSpread; readonly laying: LastSpread };
}

/**
 * How far a true sheet drifts by errors of punching and of laying, kept apart, linearised (turns small: sin φ = φ). The pattern is where the job has
 * it and only holes are off, or dots are laid off their marks.
 *
 * One step. Let v be the job's step, û and d the direction and length from first dot to second, n̂ = Jû with J the quarter turn. Punched with errors δ (first and second
 * dot f, g; first and second mark F, G) the step is off by the shift τ = δF − δf and the turn θ = n̂·(δG − δF − δg + δf)/d, alike in every placement. Laid
 * with errors ε (first dot) and η (second) it is off by ε and θ = n̂·(η − ε)/d, anew in every placement. The second dot's error along its line does nothing.
 *
 * N steps. A turn θ made at step k swings all that follow, the N − k steps to the last placement, by θ·(N − k)·Jv. So the last is off by
 * Σₖ (shiftₖ + θₖ (N − k) Jv). Along v only shifts count. Sideways, with a = |v|/d and c = v̂·û (0 where the dots lie square to the step, as with corner holes):
 *
 *     punching  along  N σ√2          turn  N · 2σ/d
 *               sideways²  σ² [2N² − 2 a c N²(N−1) + a² N²(N−1)²]
 *     laying    along  √N σ           turn  √N · √2 σ/d
 *               sideways²  σ² [N − a c N(N−1) + a² N(N−1)(2N−1)/3]
 *
 * (the middle terms come from τ or ε turning the sheet too). For large N that is N along and N² sideways for punching, √N and N^1.5 for laying. The last
 * placement's figures are the same sum over the steps of its own way, with holes that serve both steps counted once. Throws an `InputError` for errors that are below zero or no numbers.
 */
export function driftSpread(sheet: DriftSheet, options: SpreadOptions): DriftSpread {
  checkErrors(options);
  const { down, across, punchErrorMm, layingErrorMm } = options;
  const model = trueModel(sheet, options);
  const [lines, length] = model.lines === 'columns' ? [across, down] : [down, across];
  const { last, before } = lastPath(model, { down, across });
  const line = (step: DriftStep | null, steps: number): LineSpread | null =>
    step === null || steps === 0 ? null : lineSpread(step, steps, options);
  return {
    within: line(model.within, length - 1),
    between: line(model.between, lines - 1),
    last: {
      punching: lastSpread(model, { last, before }, (path, at) => punchingTerms(path, at, punchErrorMm)),
      laying: lastSpread(model, { last, before }, (path, at) => layingTerms(path, at, layingErrorMm)),
    },
  };
}

/** The model of a sheet whose holes are all where the job has them. */
export function trueModel(sheet: DriftSheet, options: Pick<DriftOptions, 'down' | 'across' | 'lines'>): DriftModel {
  const { widthMm: w, heightMm: h, extra: _measured, ...rest } = sheet;
  const holes = {
    upperLeft: { x: 0, y: 0 },
    upperRight: { x: w, y: 0 },
    lowerRight: { x: w, y: h },
    lowerLeft: { x: 0, y: h },
  };
  return driftModelFor(holes, { widthMm: w, heightMm: h, ...rest }, options);
}

/** Refuses errors that are below zero, not numbers or out of all reason. */
export function checkErrors({ punchErrorMm, layingErrorMm }: DotErrors): void {
  for (const [what, mm] of [
    ['punching', punchErrorMm],
    ['laying', layingErrorMm],
  ] as const) {
    if (mm >= 0 && mm <= ERROR_MAX_MM) continue;
    throw new InputError(
      `The error of ${what} is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: give a standard deviation from 0 to ${ERROR_MAX_MM} mm.`,
    );
  }
}

function lineSpread({ vector, laying }: DriftStep, n: number, { punchErrorMm, layingErrorMm }: DotErrors): LineSpread {
  const base = minus(laying.second.dot, laying.first.dot);
  const [length, d] = [Math.hypot(vector.x, vector.y), Math.hypot(base.x, base.y)];
  const a = length / d;
  const c = dot(vector, base) / (length * d);
  const [p, l] = [punchErrorMm, layingErrorMm];
  const squares = n * n * (2 - 2 * a * c * (n - 1) + a * a * (n - 1) ** 2);
  const sums = n - a * c * n * (n - 1) + (a * a * n * (n - 1) * (2 * n - 1)) / 3;
  return {
    steps: n,
    punching: { alongMm: n * p * Math.SQRT2, sidewaysMm: p * Math.sqrt(squares), turnDeg: ((2 * n * p) / d) * DEG },
    laying: {
      alongMm: Math.sqrt(n) * l,
      sidewaysMm: l * Math.sqrt(sums),
      turnDeg: ((Math.sqrt(2 * n) * l) / d) * DEG,
    },
  };
}

/**
 * What one independent error (two coordinates of one standard deviation) does: the shift of a place by the error's x and by its y, and the turn by each.
 * Errors of one name are one error.
 */
interface Term {
  readonly name: string;
  readonly byX: Point;
  readonly byY: Point;
  readonly turn: Point;
}

type Terms = (path: PlacePath, at: Point) => Term[];

function lastSpread(
  model: DriftModel,
  { last, before }: { readonly last: PlacePath; readonly before: PlacePath | null },
  terms: Terms,
): LastSpread {
  const home = jobPlace(model, last.step);
  const own = spreadOf(terms(last, home));
  return {
    xMm: Math.sqrt(own.xx),
    yMm: Math.sqrt(own.yy),
    turnDeg: Math.sqrt(own.turn) * DEG,
    joinMm: before === null ? null : joinSpread(model, { last, before }, terms),
  };
}

/** A join moves by what the errors do to the one placement and not to the other. */
function joinSpread(
  model: DriftModel,
  { last, before }: { readonly last: PlacePath; readonly before: PlacePath },
  terms: Terms,
): number {
  const home = jobPlace(model, last.step);
  const [next] = model.neighbours;
  return Math.max(
    ...next.contacts.map(({ onLater }) => {
      const at = plus(home, onLater);
      const all = [...terms(last, at), ...terms(before, at).map(negative)];
      const { xx, yy } = spreadOf(all);
      return Math.sqrt(xx + yy);
    }),
  );
}

function negative({ name, byX, byY, turn }: Term): Term {
  return {
    name,
    byX: { x: -byX.x, y: -byX.y },
    byY: { x: -byY.x, y: -byY.y },
    turn: { x: -turn.x, y: -turn.y },
  };
}

/** Variances of the sum of all terms. */
function spreadOf(terms: readonly Term[]): { readonly xx: number; readonly yy: number; readonly turn: number } {
  const sums = new Map<string, Term>();
  for (const term of terms) {
    const sum = sums.get(term.name);
    sums.set(
      term.name,
      sum === undefined
        ? term
        : {
            name: term.name,
            byX: plus(sum.byX, term.byX),
            byY: plus(sum.byY, term.byY),
            turn: plus(sum.turn, term.turn),
          },
    );
  }
  let [xx, yy, turn] = [0, 0, 0];
  for (const { byX, byY, turn: t } of sums.values()) {
    xx += byX.x ** 2 + byY.x ** 2;
    yy += byX.y ** 2 + byY.y ** 2;
    turn += t.x ** 2 + t.y ** 2;
  }
  return { xx, yy, turn };
}

/** Laying errors along a way, each of its own name, at a place of the cloth. */
function layingTerms(path: PlacePath, at: Point, sigma: number): Term[] {
  return path.laid.flatMap((laid) => {
    const swing = swingOf(laid, at);
    return [
      term(`${laid.name} first`, { shift: 1, swing: -1 }, swing, sigma),
      term(`${laid.name} second`, { shift: 0, swing: 1 }, swing, sigma),
    ];
  });
}

/** Punching errors of the holes that a way uses, at a place of the cloth. A hole used in many steps is one error. */
function punchingTerms(path: PlacePath, at: Point, sigma: number): Term[] {
  return path.laid.flatMap((laid) => {
    const swing = swingOf(laid, at);
    const { first, second } = laid.names;
    return [
      term(first.mark, { shift: 1, swing: -1 }, swing, sigma),
      term(first.dot, { shift: -1, swing: 1 }, swing, sigma),
      term(second.mark, { shift: 0, swing: 1 }, swing, sigma),
      term(second.dot, { shift: 0, swing: -1 }, swing, sigma),
    ];
  });
}

interface Swing {
  /** Turn by a mm of error in x and in y at the second dot. */
  readonly turn: Point;
  /** What a radian of turn about the mark does to the place, mm. */
  readonly lever: Point;
}

function swingOf({ laying, mark }: LaidStep, at: Point): Swing {
  const base = minus(laying.second.dot, laying.first.dot);
  const d2 = dot(base, base);
  const arm = minus(at, mark);
  return { turn: { x: -base.y / d2, y: base.x / d2 }, lever: { x: -arm.y, y: arm.x } };
}

function term(
  name: string,
  { shift, swing }: { readonly shift: number; readonly swing: number },
  { turn, lever }: Swing,
  sigma: number,
): Term {
  const [tx, ty] = [swing * turn.x * sigma, swing * turn.y * sigma];
  return {
    name,
    byX: { x: shift * sigma + lever.x * tx, y: lever.y * tx },
    byY: { x: lever.x * ty, y: shift * sigma + lever.y * ty },
    turn: { x: tx, y: ty },
  };
}

function jobPlace({ sheet: { repeat, widthMm, heightMm } }: DriftModel, step: LatticeStep): Point {
  return latticePoint(makeLattice(repeat, widthMm, heightMm), step);
}
