import { cross, dot, minus, plus } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import { InputError } from '../units/input-error.js';
import { composeMotions, layingMotion, moveBy, type RigidMotion, STAYS } from './drift-motion.js';
import { type LaidStep, lastPath, type PlacePath } from './drift-paths.js';
import { type RandomNumbers, randomNumbers } from './drift-random.js';
import {
  checkErrors,
  type DriftSpread,
  type LastSpread,
  type LineSpread,
  type Spread,
  type SpreadOptions,
  trueModel,
} from './drift-spread.js';
import type { DriftModel, DriftSheet, DriftStep } from './drift-types.js';

/** Sheets laid in one simulation: some seconds' work. */
const LAYINGS_MAX = 20_000_000;

const RUNS = 2000;

const DEG = 180 / Math.PI;

export interface SimulateOptions extends SpreadOptions {
  /** Cloths that are laid. Default: 2000, by which standard deviations come out true to about 1.6 % (1/√(2·runs)). */
  readonly runs?: number;
}

/**
 * The same figures as `driftSpread` from cloths laid one by one with random errors (normal, seeded, nothing linearised): root mean squares about
 * the job's places. The same seed (a whole number) gives the same figures. Throws an `InputError` for errors, counts or runs that make no sense.
 */
export function simulateDrift(seed: number, sheet: DriftSheet, options: SimulateOptions): DriftSpread {
  checkErrors(options);
  const { down, across, punchErrorMm, layingErrorMm, runs = RUNS } = options;
  const model = trueModel(sheet, options);
  const [lines, length] = model.lines === 'columns' ? [across, down] : [down, across];
  const paths = lastPath(model, { down, across });
  checkRuns(seed, { runs, layings: 2 * (lines + length + 2 * paths.last.laid.length) });
  // Every figure has numbers of its own, so that none depends on what else is asked.
  const errors = (what: Kind, figure: number): ErrorSource => ({
    what,
    random: randomNumbers(6 * seed + 2 * figure + (what === 'laying' ? 1 : 0)),
    sigma: what === 'laying' ? layingErrorMm : punchErrorMm,
  });
  const line = (step: DriftStep | null, steps: number, figure: number): LineSpread | null => {
    if (step === null || steps === 0) return null;
    const one = (what: Kind): Spread => simulateLine(step, { steps, runs }, errors(what, figure));
    return { steps, punching: one('punching'), laying: one('laying') };
  };
  return {
    within: line(model.within, length - 1, 0),
    between: line(model.between, lines - 1, 1),
    last: {
      punching: simulateLast(model, { ...paths, runs }, errors('punching', 2)),
      laying: simulateLast(model, { ...paths, runs }, errors('laying', 2)),
    },
  };
}

type Kind = 'punching' | 'laying';

interface ErrorSource {
  readonly what: Kind;
  readonly random: RandomNumbers;
  readonly sigma: number;
}

/** Errors of one cloth by name, drawn when first asked for. */
type Errors = (name: string) => Point;

function drawErrors({ random, sigma }: ErrorSource): Errors {
  const drawn = new Map<string, Point>();
  return (name) => {
    const known = drawn.get(name);
    if (known !== undefined) return known;
    const error = { x: sigma * random.normal(), y: sigma * random.normal() };
    drawn.set(name, error);
    return error;
  };
}

function simulateLine(
  step: DriftStep,
  { steps, runs }: { readonly steps: number; readonly runs: number },
  source: ErrorSource,
): Spread {
  const length = Math.hypot(step.vector.x, step.vector.y);
  const [one, other] = step.pairs;
  const names = { first: { dot: one.from, mark: one.to }, second: { dot: other.from, mark: other.to } };
  const home = step.laying.first.dot;
  const there = { x: home.x + steps * step.vector.x, y: home.y + steps * step.vector.y };
  let [along, sideways, turn] = [0, 0, 0];
  for (let run = 0; run < runs; run++) {
    const errors = drawErrors(source);
    let at = STAYS;
    for (let k = 1; k <= steps; k++) {
      const laid = { name: String(k), laying: step.laying, names };
      at = composeMotions(at, wrongMotion(laid, source.what, errors));
    }
    const off = minus(moveBy(at, home), there);
    along += (dot(off, step.vector) / length) ** 2;
    sideways += (cross(step.vector, off) / length) ** 2;
    turn += at.angleRad ** 2;
  }
  return {
    alongMm: Math.sqrt(along / runs),
    sidewaysMm: Math.sqrt(sideways / runs),
    turnDeg: Math.sqrt(turn / runs) * DEG,
  };
}

function simulateLast(
  model: DriftModel,
  { last, before, runs }: { readonly last: PlacePath; readonly before: PlacePath | null; readonly runs: number },
  source: ErrorSource,
): LastSpread {
  const { repeat, widthMm, heightMm } = model.sheet;
  const home = latticePoint(makeLattice(repeat, widthMm, heightMm), last.step);
  const { contacts } = model.neighbours[0];
  let [xx, yy, turn] = [0, 0, 0];
  const joins = contacts.map(() => 0);
  for (let run = 0; run < runs; run++) {
    const errors = drawErrors(source);
    const end = wrongEnd(last, source.what, errors);
    const off = minus(moveBy(end, { x: 0, y: 0 }), home);
    xx += off.x ** 2;
    yy += off.y ** 2;
    turn += end.angleRad ** 2;
    if (before === null) continue;
    const neighbour = wrongEnd(before, source.what, errors);
    for (const [k, { onEarlier, onLater }] of contacts.entries()) {
      const gap = minus(moveBy(neighbour, onEarlier), moveBy(end, onLater));
      joins[k] += gap.x ** 2 + gap.y ** 2;
    }
  }
  return {
    xMm: Math.sqrt(xx / runs),
    yMm: Math.sqrt(yy / runs),
    turnDeg: Math.sqrt(turn / runs) * DEG,
    joinMm: before === null ? null : Math.sqrt(Math.max(...joins) / runs),
  };
}

function wrongEnd(path: PlacePath, what: Kind, errors: Errors): RigidMotion {
  return path.laid.reduce((at, laid) => composeMotions(at, wrongMotion(laid, what, errors)), STAYS);
}

/** A sheet laid with its holes off, or off its marks. */
function wrongMotion({ name, laying, names }: Omit<LaidStep, 'mark'>, what: Kind, errors: Errors): RigidMotion {
  const { first, second } = laying;
  if (what === 'laying') {
    return layingMotion({
      first: { dot: first.dot, mark: plus(first.mark, errors(`${name} first`)) },
      second: { dot: second.dot, mark: plus(second.mark, errors(`${name} second`)) },
    });
  }
  const punched = (pair: LaidStep['laying']['first'], holes: LaidStep['names']['first']): typeof pair => ({
    dot: plus(pair.dot, errors(holes.dot)),
    mark: plus(pair.mark, errors(holes.mark)),
  });
  return layingMotion({ first: punched(first, names.first), second: punched(second, names.second) });
}

function checkRuns(seed: number, { runs, layings }: { readonly runs: number; readonly layings: number }): void {
  if (!Number.isSafeInteger(seed)) throw new InputError(`The seed is ${seed}: give a whole number.`);
  if (!Number.isInteger(runs) || runs < 1) {
    throw new InputError(`The simulation is to lay ${runs} cloths: give a whole number of at least 1.`);
  }
  if (runs * layings <= LAYINGS_MAX) return;
  throw new InputError(
    `The simulation would lay ${runs * layings} sheets, more than ${LAYINGS_MAX}: give fewer runs or a smaller cloth.`,
  );
}
