import { driftFindings } from '../findings/drift.js';
import { squareFindings } from '../findings/squaring.js';
import type { Point } from '../geometry/types.js';
import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { checkSquare } from '../register/check-square.js';
import { cornerDots, dotFrame, type SheetStep, sheetRepeat, sheetSteps } from '../register/dots.js';
import { driftOf } from '../register/drift.js';
import { placeExtraDots } from '../register/drift-dots.js';
import type { Drift, DriftSheet, PlacedDot } from '../register/drift-types.js';
import { JOIN_TOLERANCE_MM, type StepRun } from '../register/limits.js';
import { movedDistance } from '../register/movement.js';
import { type PunchOrder, punchOrder, type RulerParts } from '../register/punch-order.js';
import { READING_ERROR_MM } from '../register/readings.js';
import { shapeOfHoles } from '../register/shape.js';
import { CORNERS, forCorners } from '../register/spans.js';
import type {
  Corner,
  ExtraDot,
  Holes,
  KnownSquareCheck,
  Measured,
  SheetMovement,
  SquareCheck,
  SquareTargets,
} from '../register/types.js';
import { provesMisjoins } from '../register/verdict-words.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import { oneColumn, printedWidth, registrationFindings, steppingOf } from './registration.js';
import type { JobResult } from './result.js';

/** The state of the paper when it is punched or measured. */
export type PaperState = 'dry' | 'wet';

/** A dot between the corners, mm from the upper left hole of the sheet as it prints. */
export interface SquareDot {
  readonly name: string;
  readonly at: Point;
}

/** What squaring has to know of a job's sheet. All sheets of a job have the same dots. */
export interface SquareSheet {
  readonly title: string;
  /** From hole to hole, as it prints. */
  readonly targets: SquareTargets;
  readonly names: Readonly<Record<Corner, string>>;
  readonly extra: readonly SquareDot[];
  readonly punch: PaperState;
  readonly movement: SheetMovement | null;
  /** The sheet is soaked before it prints. */
  readonly soaked: boolean;
  /** What its limits are worked out from. */
  readonly stepping: StepRun;
  /** How the sheet steps, and which dots land on which. */
  readonly repeat: Repeat;
  readonly steps: readonly SheetStep[];
  readonly placements: { readonly down: number; readonly across: number };
  readonly toleranceMm: number;
  /** What has to be said of its paper and dots before anything is measured. */
  readonly findings: readonly Finding[];
}

export interface JudgeSquareOptions {
  /** Null: the holes are judged alone. */
  readonly sheet?: SquareSheet | null;
  readonly readingErrorMm?: number;
  /** Readings of extra dots: two names of dots, and mm. */
  readonly extra?: readonly ExtraReadings[];
  /** In which state the sheet was measured; as it is punched by default. Of account only where its movement is known. */
  readonly measuredWhen?: PaperState | null;
  /** Placements down the cloth; by default as many as it takes. */
  readonly down?: number | null;
  readonly toleranceMm?: number | null;
}

/** Readings between two dots, one of which is a corner's. */
export interface ExtraReadings {
  readonly dots: readonly [string, string];
  readonly readingsMm: readonly number[];
}

interface Judged {
  readonly findings: readonly Finding[];
  readonly measuredWhen: PaperState | null;
}

/** What measurements tell of a sheet and of what it does on the cloth: drift is known exactly where the shape is. */
export type JudgedSquare =
  | (Judged & { readonly check: KnownSquareCheck; readonly drift: Drift })
  | (Judged & { readonly check: Exclude<SquareCheck, KnownSquareCheck>; readonly drift: null });

/** How many placements are looked at without a job. */
const WITHOUT_JOB = { down: 10, across: 3 } as const;

/** Longer cloth drifts on in the same way: so many placements tell it. */
const PLACEMENTS_MAX = { down: 500, across: 100 } as const;

/** A cloth longer by this share of a placement takes no more of them: rounding. */
const WHOLE = 1e-9;

/** The sheet of a job for squaring. Throws an `InputError` for a job without anything to cut. */
export function squareSheet({ job, sheets, lattice }: Pick<JobResult, 'job' | 'sheets' | 'lattice'>): SquareSheet {
  const [sheet] = sheets;
  if (sheet === undefined) throw new InputError('The job has nothing to cut, so it has no sheet to square.');
  const frame = dotFrame(sheet.dots);
  const { corners, extra } = cornerDots(sheet.dots);
  const [widthMm, heightMm] = [sheet.field.x1 - sheet.field.x0, sheet.field.y1 - sheet.field.y0];
  const repeat = sheetRepeat(lattice.repeat, sheet.across, sheet.down);
  // Along a cloth of one column nothing is stepped sideways, and there are no dots for it.
  const oneWide = oneColumn(job.cloth, widthMm);
  return {
    title: job.title,
    targets: { widthMm: frame.x1 - frame.x0, heightMm: frame.y1 - frame.y0 },
    names: forCorners((corner) => corners[corner].name),
    extra: extra.map(({ name, at }) => ({ name, at: { x: at.x - frame.x0, y: at.y - frame.y0 } })),
    punch: job.punch,
    movement: sheet.register.movement,
    soaked: job.practice.soak,
    stepping: steppingOf(job, { widthMm, heightMm }),
    repeat,
    steps: sheetSteps(sheet.field, repeat, sheet.dots, { right: !oneWide, bottom: true }),
    placements: placementsOn(job.cloth, { widthMm, heightMm }),
    toleranceMm: job.joins.gapMaxMm,
    findings: registrationFindings(job, sheets),
  };
}

/** How many sheets cover the cloth, in the sheet's own directions. */
function placementsOn(cloth: Job['cloth'], { widthMm, heightMm }: SquareTargets): SquareSheet['placements'] {
  const [across, down] =
    cloth.direction === 'along' ? [printedWidth(cloth), cloth.lengthMm] : [cloth.lengthMm, printedWidth(cloth)];
  const count = (lengthMm: number, sideMm: number, most: number): number =>
    Math.min(most, Math.max(1, Math.ceil(lengthMm / sideMm - WHOLE)));
  return { down: count(down, heightMm, PLACEMENTS_MAX.down), across: count(across, widthMm, PLACEMENTS_MAX.across) };
}

/** In which order to punch, for the state in which the job punches. */
export function squarePunchOrder(sheet: SquareSheet, rulerParts: RulerParts | null = null): PunchOrder {
  return punchOrder({
    ...sheet.targets,
    extra: sheet.extra,
    movement: sheet.punch === 'dry' ? sheet.movement : null,
    names: sheet.names,
    ...(rulerParts === null ? {} : { rulerParts }),
  });
}

/**
 * What measured distances tell of a sheet: whether they can be right, its shape, what to punch again, and how it drifts on the cloth when stepped dot
 * on dot. What was measured on dry paper is judged by dry measures, and its drift by what the paper becomes. Throws an `InputError` for
 * readings that can't be, dots that the job does not have, or placements that are no whole number.
 */
export function judgeSquare(measured: Measured, options: JudgeSquareOptions = {}): JudgedSquare {
  const { sheet = null, readingErrorMm = READING_ERROR_MM, extra = [] } = options;
  const measuredWhen = options.measuredWhen ?? sheet?.punch ?? null;
  const movement = measuredWhen === 'dry' ? (sheet?.movement ?? null) : null;
  const dots = extraDots(extra, sheet, movement);
  const stepped: DriftInput = { ...options, dots, movement };
  const check = checkSquare(measured, {
    targets: sheet && drySize(sheet.targets, movement),
    sizes: measuredWhen === 'wet' && sheet !== null && movesUnknown(sheet) ? 'free' : 'planned',
    readingErrorMm,
    extra: dots,
    names: sheet?.names ?? null,
    spoils: (holes) => driftOfHoles(holes, { ...stepped, dots: [] }).firstOver !== null,
  });
  const findings = squareFindings(check);
  if (check.shape === null) return { check, drift: null, findings, measuredWhen };
  const drift = driftOfHoles(check.holes, stepped);
  return { check, drift, findings: [...findings, ...driftedFindings(check, drift)], measuredWhen };
}

/** The holes were set dry for paper that has moved since, nobody knows how far. */
function movesUnknown({ soaked, punch, movement }: SquareSheet): boolean {
  return soaked && punch === 'dry' && movement === null;
}

interface DriftInput extends JudgeSquareOptions {
  readonly dots: readonly ExtraDot[];
  readonly movement: SheetMovement | null;
}

function driftOfHoles(holes: Holes, { sheet = null, dots, movement, ...options }: DriftInput): Drift {
  const toleranceMm = options.toleranceMm ?? sheet?.toleranceMm ?? JOIN_TOLERANCE_MM;
  const { down: byCloth, across } = sheet?.placements ?? WITHOUT_JOB;
  const counts = { down: options.down ?? byCloth, across, toleranceMm };
  const wet = (p: Point): Point => wetPoint(p, movement);
  // Without a job the sheet is taken for what it measures.
  const { widthMm, heightMm } = sheet?.targets ?? shapeOfHoles(holes);
  const base: DriftSheet = { widthMm, heightMm, repeat: sheet?.repeat ?? { kind: 'straight', step: { p: 0, q: 1 } } };
  const printed = forCorners((corner) => wet(holes[corner]));
  if (sheet === null) return driftOf(printed, base, counts);
  const dry = { ...base, ...drySize(base, movement) };
  const placed = placeExtraDots(dots, holes, dry).map(({ name, at }) => ({ name, at: wet(at) }));
  const [corners, extra] = [cornerPlaces(sheet), sheet.extra];
  return driftOf(printed, { ...base, dots: [...corners, ...extra], extra: placed, steps: sheet.steps }, counts);
}

/** Of a rectangle these are within the error of reading: nobody knows them. */
const UNKNOWN_OF_RECTANGLES: readonly string[] = ['drift-lean', 'drift-curve', 'drift-growth'];

/** What a sheet does on the cloth, as far as it is proved: what readings would do if they were exact has not to be mended. */
function driftedFindings(check: KnownSquareCheck, drift: Drift): Finding[] {
  const found = driftFindings(drift);
  if (provesMisjoins(check)) return found;
  const doubt =
    check.verdict === 'square'
      ? 'The holes are a rectangle within the error of reading: this is what they would do if the readings were exact.'
      : 'Within the error of reading all joins may meet: this is what the holes would do if the readings were exact.';
  // The first of them says so for all.
  const said = found.find(({ severity }) => severity === 'fix');
  return found
    .filter(({ code }) => check.verdict !== 'square' || !UNKNOWN_OF_RECTANGLES.includes(code))
    .map((one) => {
      if (one.severity !== 'fix') return one;
      return { ...one, severity: 'look', message: one === said ? `${one.message} ${doubt}` : one.message };
    });
}

function cornerPlaces({ targets: { widthMm: x, heightMm: y }, names }: SquareSheet): PlacedDot[] {
  const places: Holes = {
    upperLeft: { x: 0, y: 0 },
    upperRight: { x, y: 0 },
    lowerRight: { x, y },
    lowerLeft: { x: 0, y },
  };
  return CORNERS.map((corner) => ({ name: names[corner], at: places[corner] }));
}

/** Readings by dots as the check wants them; one of the two dots has to be a corner's. */
function extraDots(
  extra: readonly ExtraReadings[],
  sheet: SquareSheet | null,
  movement: SheetMovement | null,
): ExtraDot[] {
  if (extra.length === 0) return [];
  if (sheet === null) {
    throw new InputError('Dots between the corners are those of a job: name the job, or leave --extra out.');
  }
  const cornerOf = (name: string): Corner | undefined => CORNERS.find((corner) => sheet.names[corner] === name);
  const known = sheet.extra.map(({ name }) => name);
  const measured = new Map<string, { from: Corner; readingsMm: readonly number[] }[]>();
  for (const { dots, readingsMm } of extra) {
    const from = dots.map(cornerOf).find((corner) => corner !== undefined);
    const name = dots.find((dot) => known.includes(dot));
    if (from === undefined || name === undefined) {
      const strange = dots.find((dot) => !known.includes(dot) && cornerOf(dot) === undefined);
      throw new InputError(
        known.length === 0
          ? 'The sheet has no dots between its corners: leave --extra out.'
          : strange === undefined
            ? `${dots.join('-')} does not run from a corner (${Object.values(sheet.names).join(', ')}) to a dot between them (${known.join(', ')}): give sides and diagonals by their own options.`
            : `The sheet has no dot ${quote(strange)}: its corners are ${Object.values(sheet.names).join(', ')}, and between them it has ${known.join(', ')}.`,
      );
    }
    measured.set(name, [...(measured.get(name) ?? []), { from, readingsMm }]);
  }
  return sheet.extra.flatMap(({ name, at }) => {
    const own = measured.get(name);
    return own === undefined ? [] : [{ name, at: dryPoint(at, movement), measured: own }];
  });
}

/** What a sheet that prints at a size measures on dry paper. */
export function drySize({ widthMm, heightMm }: SquareTargets, movement: SheetMovement | null): SquareTargets {
  const { x, y } = dryPoint({ x: widthMm, y: heightMm }, movement);
  return { widthMm: x, heightMm: y };
}

function dryPoint({ x, y }: Point, movement: SheetMovement | null): Point {
  if (movement === null) return { x, y };
  return {
    x: movedDistance(x, movement.widthPercent, { to: 'dry' }),
    y: movedDistance(y, movement.heightPercent, { to: 'dry' }),
  };
}

function wetPoint({ x, y }: Point, movement: SheetMovement | null): Point {
  if (movement === null) return { x, y };
  return {
    x: movedDistance(x, movement.widthPercent, { to: 'wet' }),
    y: movedDistance(y, movement.heightPercent, { to: 'wet' }),
  };
}
