import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { latticePoint, makeLattice, nearestStep } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import { type SheetStep, sheetDots, sheetSteps } from './dots.js';
import { layingMotion } from './drift-motion.js';
import type {
  DriftDot,
  DriftLines,
  DriftModel,
  DriftSheet,
  DriftStep,
  PlacedDot,
  SeamNeighbour,
} from './drift-types.js';
import { shapeOfHoles } from './shape.js';
import { CORNERS } from './spans.js';
import type { Corner, Holes } from './types.js';

/** Sides of a sheet, mm. */
const SHEET_MAX_MM = 20_000;

/** Two places of the job's sheet nearer than this are one, mm: rounding, far below the point of any punch. */
const SAME_PLACE_MM = 1e-6;

/** Two dots of a step nearer than this fix no direction, mm: a hole's own width. */
const APART_MIN_MM = 1;

/** Sides towards which the cloth goes on. */
export interface DriftSides {
  readonly right: boolean;
  readonly bottom: boolean;
}

/**
 * The sheet's dots where they really are, its steps as motions, and the seams that neighbours share. Corner holes are as measured; a dot
 * at another place is as measured in `sheet.extra`, or else assumed to divide the sides as on the job's sheet (bilinear between the corners). Throws
 * an `InputError` for holes that do not go clockwise round a sheet, sizes that are none, or unknown extra dots.
 */
export function driftModel(
  holes: Holes,
  sheet: DriftSheet,
  { sides = { right: true, bottom: true }, lines }: { readonly sides?: DriftSides; readonly lines?: DriftLines } = {},
): DriftModel {
  checkSizes(sheet);
  checkHoles(holes);
  const walk = linesOf(sheet, lines);
  const field = { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm };
  const jobDots: readonly PlacedDot[] =
    sheet.dots ?? sheetDots(field, sheet.repeat, { diameterMm: 1, ...(sheet.steps === undefined ? { sides } : {}) });
  const dots = placeDots(holes, sheet, jobDots);
  const steps = sheet.steps ?? defaultSteps(sheet, jobDots, sides);
  const step = (to: SheetStep['to']): DriftStep | null => {
    const found = steps.find((one) => one.to === to);
    return found === undefined || !sides[to] ? null : driftStep(sheet, found, dots);
  };
  const [right, bottom] = [step('right'), step('bottom')];
  refuseMissing(sides, { right, bottom });
  return {
    holes,
    sheet,
    lines: walk,
    dots,
    within: walk === 'columns' ? bottom : right,
    between: walk === 'columns' ? right : bottom,
    neighbours: seamNeighbours(holes, sheet, { dots, lines: walk }),
  };
}

/** A place of the job's sheet where it is on the measured one: the same share of the sides (bilinear between the holes). */
export function onHoles(holes: Holes, { widthMm, heightMm }: DriftSheet, at: Point): Point {
  const { upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d } = holes;
  const [u, v] = [at.x / widthMm, at.y / heightMm];
  const [wa, wb, wc, wd] = [(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v];
  return { x: wa * a.x + wb * b.x + wc * c.x + wd * d.x, y: wa * a.y + wb * b.y + wc * c.y + wd * d.y };
}

/** The line of a lattice step and its place in it, in the basis of the lattice. */
export function linePlace(lines: DriftLines, { i, j }: LatticeStep): { line: number; pos: number } {
  return lines === 'columns' ? { line: i, pos: j } : { line: j, pos: i };
}

export function stepAt(lines: DriftLines, line: number, pos: number): LatticeStep {
  return lines === 'columns' ? { i: line, j: pos } : { i: pos, j: line };
}

/** How many whole steps within a line the job's lattice has slid at a line: row r of column c is lattice place r − slid(c). */
export function slidBy({ repeat }: DriftSheet, line: number): number {
  return Math.floor((line * repeat.step.p) / repeat.step.q);
}

function linesOf({ repeat }: DriftSheet, lines: DriftLines | undefined): DriftLines {
  const natural = repeat.kind === 'brick' ? 'rows' : 'columns';
  if (lines === undefined || repeat.kind === 'straight' || lines === natural) return lines ?? natural;
  throw new InputError(
    `The ${repeat.kind === 'brick' ? 'columns of a brick' : 'rows of a drop'} are staggered: walk the cloth by ${natural}.`,
  );
}

function placeDots(holes: Holes, sheet: DriftSheet, jobDots: readonly PlacedDot[]): DriftDot[] {
  const { extra = [] } = sheet;
  for (const { name, at } of extra) {
    const dot = jobDots.find((one) => one.name === name);
    if (dot === undefined || cornerAt(sheet, dot.at) !== null) {
      throw new InputError(
        `The measured dot ${quote(name)} is no dot between the corners of this sheet: name one of ${
          jobDots
            .filter((one) => cornerAt(sheet, one.at) === null)
            .map((one) => one.name)
            .join(', ') || 'none, it has corner holes only'
        }.`,
      );
    }
    if (!Number.isFinite(at.x) || !Number.isFinite(at.y)) {
      throw new InputError(`The measured dot ${quote(name)} has a place that is no number: measure it again.`);
    }
  }
  return jobDots.map(({ name, at: jobAt }): DriftDot => {
    const corner = cornerAt(sheet, jobAt);
    if (corner !== null) return { name, jobAt, at: holes[corner], known: 'corner' };
    const measured = extra.find((one) => one.name === name);
    if (measured !== undefined) return { name, jobAt, at: measured.at, known: 'measured' };
    return { name, jobAt, at: onHoles(holes, sheet, jobAt), known: 'interpolated' };
  });
}

function cornerAt({ widthMm, heightMm }: DriftSheet, at: Point): Corner | null {
  const places: Readonly<Record<Corner, Point>> = {
    upperLeft: { x: 0, y: 0 },
    upperRight: { x: widthMm, y: 0 },
    lowerRight: { x: widthMm, y: heightMm },
    lowerLeft: { x: 0, y: heightMm },
  };
  return CORNERS.find((corner) => near(places[corner], at)) ?? null;
}

function defaultSteps(sheet: DriftSheet, jobDots: readonly PlacedDot[], sides: DriftSides): SheetStep[] {
  const field = { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm };
  const asDots = jobDots.map(({ name, at }) => ({ name, at, diameterMm: 1, lead: at.x === 0 || at.y === 0 }));
  try {
    return sheetSteps(field, sheet.repeat, asDots, sides);
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    throw new InputError('The dots of this sheet do not fix its steps: each step needs two pairs of dots of its own.');
  }
}

function driftStep(sheet: DriftSheet, { to, vector, pairs }: SheetStep, dots: readonly DriftDot[]): DriftStep {
  const at = (name: string): Point => {
    const found = dots.find((one) => one.name === name);
    if (found === undefined) {
      throw new InputError(`The step to the ${to} is laid by dot ${quote(name)}, which this sheet does not have.`);
    }
    return found.at;
  };
  const [one, other] = pairs;
  const laying = {
    first: { dot: at(one.from), mark: at(one.to) },
    second: { dot: at(other.from), mark: at(other.to) },
  };
  for (const key of ['dot', 'mark'] as const) {
    const apartMm = distance(laying.first[key], laying.second[key]);
    if (apartMm >= APART_MIN_MM) continue;
    throw new InputError(
      `The two dots that fix the step to the ${to} are only ${formatMm(apartMm)} apart: they give no direction; measure the holes again.`,
    );
  }
  const by = nearestStep(makeLattice(sheet.repeat, sheet.widthMm, sheet.heightMm), vector).step;
  return { to, by, vector, pairs, laying, motion: layingMotion(laying) };
}

function seamNeighbours(
  holes: Holes,
  sheet: DriftSheet,
  { dots, lines }: { readonly dots: readonly DriftDot[]; readonly lines: DriftLines },
): SeamNeighbour[] {
  const { widthMm: w, heightMm: h, repeat } = sheet;
  const lattice = makeLattice(repeat, w, h);
  const onSheet = (p: Point): Point => dots.find((one) => near(one.jobAt, p))?.at ?? onHoles(holes, sheet, p);
  const bys: LatticeStep[] = [
    { i: 0, j: 1 },
    { i: 1, j: 0 },
    ...(repeat.kind === 'drop' ? [{ i: 1, j: -1 }] : []),
    ...(repeat.kind === 'brick' ? [{ i: -1, j: 1 }] : []),
  ];
  // Within a line first: that is how placements are numbered.
  if (lines === 'rows') bys.sort((one, other) => one.j - other.j);
  return bys.map((by) => {
    const v = latticePoint(lattice, by);
    // What the field and the field moved by v share is a stretch of a seam; these are its ends.
    const ends = [
      { x: Math.max(0, v.x), y: Math.max(0, v.y) },
      { x: Math.min(w, w + v.x), y: Math.min(h, h + v.y) },
    ].map((p) => ({ onEarlier: onSheet(p), onLater: onSheet({ x: p.x - v.x, y: p.y - v.y }) }));
    return { by, contacts: [ends[0], ends[1]] };
  });
}

function refuseMissing(sides: DriftSides, steps: { readonly [to in keyof DriftSides]: DriftStep | null }): void {
  for (const to of ['right', 'bottom'] as const) {
    if (!sides[to] || steps[to] !== null) continue;
    throw new InputError(
      `The sheet has no step to the ${to}, and the cloth has placements there: give its pairs of dots.`,
    );
  }
}

function checkSizes({ widthMm, heightMm }: DriftSheet): void {
  for (const [name, mm] of [
    ['width', widthMm],
    ['height', heightMm],
  ] as const) {
    if (mm > 0 && mm <= SHEET_MAX_MM) continue;
    throw new InputError(
      `The sheet's ${name} is ${Number.isFinite(mm) ? formatMm(mm) : 'no number'}: it must be above zero and at most ${SHEET_MAX_MM / 1000} m.`,
    );
  }
}

function checkHoles(holes: Holes): void {
  if (CORNERS.some((corner) => !Number.isFinite(holes[corner].x) || !Number.isFinite(holes[corner].y))) {
    throw new InputError('A corner hole has a place that is no number: measure the sheet again.');
  }
  if (!shapeOfHoles(holes).convex) {
    throw new InputError(
      'The four corner holes do not go clockwise round a sheet from the upper left: see that they are named in order.',
    );
  }
}

function near(a: Point, b: Point): boolean {
  return distance(a, b) <= SAME_PLACE_MM;
}
