import { segmentMiddle } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import { isSameSize, type UnitSize } from '../job-file/taken-at.js';
import type { Job } from '../job-file/types.js';
import type { Ink } from '../motif/types.js';
import type { Cell } from '../repeat/cell.js';
import { latticePoint, makeLattice, unitOf } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import { fitTies } from '../stencil/fit-ties.js';
import type { KeptNumber } from '../stencil/types.js';
import type { Tie } from '../strength/types.js';
import { rounded } from '../units/round.js';

/** Factors by which the artwork grew across and down. */
export type Growth = Point;

/** A job brought to the size that its unit has now. */
export interface FollowedJob<J = Job> {
  /** Its ties and numbers are at the present size, and `takenAt` says so of them; done marks and proofs stay as they are (see `marksOfSheet`). */
  readonly job: J;
  /** Kept numbers as they would be in other readings of the change of size, by stencil; the one that finds most openings again holds. */
  readonly otherNumbers: readonly Job['numbers'][];
  /** The size at which the ties were taken; null where that is the present one. */
  readonly tiesFrom: UnitSize | null;
}

/** What a change of size touches, and what tells whether ties stand. */
type SizedJob = Pick<Job, 'ties' | 'numbers' | 'takenAt'> & { readonly paper: Pick<Job['paper'], 'tie'> };

/** Places are kept to 0.1 µm, as the job file keeps them, so that a file written and read again gives the same job. */
const PLACE_DIGITS = 4;

/** Growths across and down nearer to each other than this are one: the rounding of lengths in job files. */
const SAME_GROWTH = 1e-6;

/**
 * Brings ties and kept numbers from the size at which they were taken to that of the lattice. The artwork follows the width evenly, and another height re-frames it
 * without stretching (`sizeMotif`): so places grow by the width alone, from the corner of the unit in which they lie, and units move apart as the lattice does.
 * Where the proportions of the unit changed, the drawing itself may have been stretched or got another page: then the other readings (each side for itself, evenly by the
 * height, not at all) are tried too, and the first that finds most ties between two banks of the `bare` cell holds. Widths of ties never grow. A group without
 * a size is taken at the present one.
 */
export function followSize<J extends SizedJob>(job: J, bare: Cell): FollowedJob<J> {
  const { lattice } = bare;
  const now: UnitSize = { widthMm: lattice.widthMm, heightMm: lattice.heightMm };
  const { ties: tiesAt, numbers: numbersAt } = job.takenAt;
  const tiesFrom = tiesAt === null || isSameSize(tiesAt, now) ? null : tiesAt;
  const numbersFrom = numbersAt === null || isSameSize(numbersAt, now) ? null : numbersAt;
  const ties = tiesFrom === null ? job.ties : followedTies(job, tiesFrom, bare);
  const numbers =
    numbersFrom === null
      ? [job.numbers]
      : growths(numbersFrom, now).map((growth) => grownNumbers(job.numbers, { from: numbersFrom, growth, lattice }));
  return {
    job: {
      ...job,
      ties,
      numbers: numbers[0],
      takenAt: { ties: now, numbers: now, done: job.takenAt.done ?? now, proof: job.takenAt.proof ?? now },
    },
    otherNumbers: numbers.slice(1),
    tiesFrom: Object.values(job.ties).some((list) => list.length > 0) ? tiesFrom : null,
  };
}

/**
 * What a job says of the sheets that are cut at a size of the unit: what is cut of them already, and what their proofs tell. A sheet of another size is another sheet of paper: nothing
 * of it is cut, and no proof shows its edges, so that what was taken at another size does not count (but stays in the job, and counts again when the
 * unit is given its old size back).
 */
export function marksOfSheet<T extends Pick<Job, 'done' | 'proof' | 'takenAt'>>(job: T, unit: UnitSize): T {
  const { done, proof } = job.takenAt;
  return {
    ...job,
    ...(done === null || isSameSize(done, unit) ? {} : { done: {} }),
    ...(proof === null || isSameSize(proof, unit) ? {} : { proof: {} }),
  };
}

/** Kept numbers of a lattice, brought to another size of its unit as the artwork follows the width. */
export function numbersAtSize(numbers: Job['numbers'], lattice: Lattice, size: UnitSize): Job['numbers'] {
  const [growth] = growths(lattice, size);
  const to = makeLattice(lattice.repeat, size.widthMm, size.heightMm);
  return grownNumbers(numbers, { from: lattice, growth, lattice: to });
}

/** Readings of a change of size, the likeliest first. */
function growths(from: UnitSize, now: UnitSize): Growth[] {
  const x = now.widthMm / from.widthMm;
  const y = now.heightMm / from.heightMm;
  const even = { x, y: x };
  if (Math.abs(x / y - 1) <= SAME_GROWTH) return [even];
  return [even, { x, y }, { x: y, y }, { x: 1, y: 1 }];
}

interface Change {
  readonly from: UnitSize;
  readonly growth: Growth;
  readonly lattice: Lattice;
}

function followedTies(job: SizedJob, from: UnitSize, bare: Cell): Job['ties'] {
  const now = { widthMm: bare.lattice.widthMm, heightMm: bare.lattice.heightMm };
  const readings = growths(from, now).map((growth) => grownTies(job.ties, { from, growth, lattice: bare.lattice }));
  return best(readings, (ties) => standing(ties, job, bare));
}

/** How many ties find their two banks. */
function standing(ties: Job['ties'], { paper }: SizedJob, bare: Cell): number {
  const { widthMm, flareMm } = paper.tie;
  return bare.inks.reduce(
    (count, { ink }, k) =>
      count + fitTies(bare, k, ties[ink] ?? [], { widthMm, flareMm }).filter((tie) => tie !== null).length,
    0,
  );
}

/** The first of those that count most; a single one is not counted. */
function best<T>(readings: readonly T[], count: (one: T) => number): T {
  if (readings.length === 1) return readings[0];
  const counts = readings.map(count);
  return readings[counts.indexOf(Math.max(...counts))];
}

function grownTies(ties: Job['ties'], change: Change): Job['ties'] {
  return mapped(ties, (list) =>
    list.map((tie): Tie => {
      const middle = segmentMiddle(tie);
      const move = grower(middle, change);
      return { ...tie, from: roundedPlace(move(tie.from)), to: roundedPlace(move(tie.to)) };
    }),
  );
}

function grownNumbers(numbers: Job['numbers'], change: Change): Job['numbers'] {
  const { growth } = change;
  return mapped(numbers, (list) =>
    list.map(
      (kept): KeptNumber => ({
        number: kept.number,
        ...roundedPlace(grower(kept, change)(kept)),
        areaMm2: kept.areaMm2 * growth.x * growth.y,
      }),
    ),
  );
}

function mapped<T>(groups: Readonly<Record<Ink, readonly T[]>>, map: (list: readonly T[]) => readonly T[]) {
  return Object.fromEntries(Object.entries(groups).map(([ink, list]) => [ink, map(list)]));
}

/** How places near one (of the old size) move: grown within its unit, which goes along with its copy. */
function grower(at: Point, { from, growth, lattice }: Change): (p: Point) => Point {
  const old = makeLattice(lattice.repeat, from.widthMm, from.heightMm);
  const step = unitOf(old, at);
  const [was, is] = [latticePoint(old, step), latticePoint(lattice, step)];
  return ({ x, y }) => ({ x: is.x + growth.x * (x - was.x), y: is.y + growth.y * (y - was.y) });
}

function roundedPlace({ x, y }: Point): Point {
  return { x: rounded(x, PLACE_DIGITS), y: rounded(y, PLACE_DIGITS) };
}
