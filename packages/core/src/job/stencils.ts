import { middle } from '../geometry/points.js';
import type { Box } from '../geometry/types.js';
import type { JobSlice } from '../job-file/job-slice.js';
import { stencilKey } from '../job-file/practice.js';
import type { StrandedTie } from '../job-file/types.js';
import type { Ink } from '../motif/types.js';
import type { Cell } from '../repeat/cell.js';
import { withoutSlight, withSlight } from '../repeat/cuttable-cell.js';
import { openingNames } from '../repeat/opening-names.js';
import { type CellOpening, findOpenings } from '../repeat/openings.js';
import { BLADE_MM } from '../repeat/slight.js';
import { subtractStrips } from '../repeat/strips.js';
import { doubleCells } from '../stencil/double-sheets.js';
import type { LeftOut } from '../stencil/dropped.js';
import { fitTies, leadsAcross } from '../stencil/fit-ties.js';
import { placeTies } from '../stencil/place-ties.js';
import type { Sheet } from '../stencil/types.js';
import type { SheetTie, Tie } from '../strength/types.js';
import { type StandingTie, tieShape } from '../ties/tie-shape.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import type { DoublePlan } from './double-plan.js';

/** One sheet of paper to be cut. */
export interface Stencil {
  readonly ink: Ink;
  /** Place of the ink among the cell's inks. */
  readonly inkIndex: number;
  readonly part: Sheet['part'];
  /** Under this name its numbers are kept and ticked off in the job. */
  readonly key: string;
  /** What is cut: with all its ties standing. */
  readonly cell: Cell;
  readonly openings: readonly CellOpening[];
  /** The same without release ties; null where there are none. */
  readonly released: Cell | null;
  readonly ties: readonly SheetTie[];
  /** What is too slight to be cut and therefore no longer in the cell. */
  readonly leftOut: readonly LeftOut[];
  /** The strips of its ties, unit mm: each stands in every unit. */
  readonly strips: readonly StandingTie[];
}

/** The pattern as it prints: with its printed ties standing; with two sheets for an ink none of them shows. */
export interface Pattern {
  readonly cloth: Cell;
  /** The same with what is too slight to be cut: how the drawing comes to the seams. */
  readonly drawn: Cell;
  readonly openings: readonly CellOpening[];
  /** Ties that can't come to stand where the job puts them, and are left out. */
  readonly strandedTies: readonly StrandedTie[];
  /** Without any tie, and what of it is too slight to be cut. */
  readonly bare: Cell;
  readonly slight: LeftOut;
  /** The ties of every ink of the cell that stand. */
  readonly standing: readonly (readonly Standing[])[];
  /** What was left out beside the printed ties too. */
  readonly leftOut: readonly LeftOut[];
}

/** What the pattern takes of a job; ties at the present size of the unit. */
export type PatternJob = JobSlice<'ties' | 'double.on' | 'paper.tie'>;

/** Leaves the paper of the job's printed ties standing in the pattern. With two sheets for an ink the pattern stays whole. */
export function layPattern(laid: Cell, job: PatternJob): Pattern {
  const { cell: bare, slight } = withoutSlight(laid);
  refuseNothingWideEnough(bare, laid);
  const before: LeftOut = { cell: laid, slight };
  const { standing, strandedTies } = standingTies(bare, job);
  const printed = leaveTies(bare, standing, [before], (tie) => !job.double.on && tie.kind === 'printed');
  const drawn = withSlight(
    printed.cell,
    printed.leftOut.flatMap((left) => left.slight),
  );
  const { cell: cloth, openings, leftOut } = printed;
  return { cloth, drawn, openings, strandedTies, bare, slight: before, standing, leftOut };
}

function standingTies(
  bare: Cell,
  { ties: tiesOf, paper }: Pick<PatternJob, 'ties' | 'paper'>,
): Pick<Pattern, 'standing' | 'strandedTies'> {
  const strandedTies: StrandedTie[] = [];
  const { widthMm, flareMm } = paper.tie;
  const all = bare.inks.map(({ ink }, k) => {
    const ties = tiesOf[ink] ?? [];
    const standing = fitTies(bare, k, ties, { widthMm, flareMm });
    for (const tie of ties.filter((_, n) => standing[n] === null)) {
      const { id, from, to } = tie;
      const atMm = middle(from, to);
      strandedTies.push({ ink, id, why: leadsAcross(bare, k, tie) ? 'broad' : 'astray', atMm });
    }
    return standing.filter((tie) => tie !== null);
  });
  return { standing: all, strandedTies };
}

/** What the sheets take of a job. */
export type StencilsJob = JobSlice<'double' | 'paper.tie' | 'paper.rules'>;

/**
 * The sheets that print a pattern: with all its ties standing, release ties on the sheets alone. With two sheets for an ink they share it as `shares` says.
 * `reach` is the part of the cloth that a sheet holds, unit mm.
 */
export function layStencils(
  pattern: Pattern,
  { job, reach, shares = null }: { job: StencilsJob; reach: Box; shares?: DoublePlan | null },
): Stencil[] {
  const { bare, slight: before, openings } = pattern;
  const byInk =
    shares === null ? pattern.standing : standingTies(bare, { ties: shares.ties, paper: job.paper }).standing;
  if (!job.double.on) {
    const { cell, openings, leftOut } = leaveTies(bare, byInk, [before], () => true);
    return bare.inks.map(({ ink }, k) => ({
      ink,
      inkIndex: k,
      part: null,
      key: stencilKey({ ink, part: null }),
      cell,
      openings,
      leftOut,
      released: byInk[k].some(({ kind }) => kind === 'release') ? pattern.cloth : null,
      ties: placeTies(bare, k, byInk[k], reach),
      strips: byInk[k],
    }));
  }
  return bare.inks.flatMap(({ ink }, k): Stencil[] => {
    const ties = byInk[k];
    const { a, b } = doubleCells(bare, k, ties, {
      overlapMm: job.double.overlapMm,
      neckMm: job.paper.rules.neckMm,
      onB: shares?.onB.get(ink) ?? new Set(),
    });
    return (['A', 'B'] as const).map((part) => {
      const side = part === 'A' ? a : b;
      const { cell, from, slight } = withoutSlight(side.cell);
      const whole = new Map([[ink, from[k].map((piece) => side.from[piece])]]);
      return {
        ink,
        inkIndex: k,
        part,
        key: stencilKey({ ink, part }),
        cell,
        leftOut: [before, { cell: side.cell, slight }],
        openings: openingNames(openings, findOpenings(cell), whole),
        released: null,
        ties: part === 'A' ? placeTies(bare, k, ties, reach) : [],
        strips: part === 'A' ? ties : [],
      };
    });
  });
}

type Standing = Tie & StandingTie;

/** The cell with some ties of every ink left standing, and its openings; those that ties divide keep the name of the whole. */
function leaveTies(
  bare: Cell,
  byInk: readonly (readonly Standing[])[],
  before: readonly LeftOut[],
  stands: (tie: Tie) => boolean,
): { cell: Cell; openings: readonly CellOpening[]; leftOut: readonly LeftOut[] } {
  let tied = bare;
  const from = new Map<Ink, readonly number[]>();
  byInk.forEach((ties, k) => {
    const strips = ties.filter(stands).map((tie) => tieShape(tie, tie));
    if (strips.length === 0) return;
    const left = subtractStrips(tied, k, strips);
    tied = left.cell;
    from.set(bare.inks[k].ink, left.from);
  });
  if (from.size === 0) return { cell: bare, openings: findOpenings(bare), leftOut: before };
  // Ties leave crumbs of an opening beside them.
  const { cell, slight, from: kept } = withoutSlight(tied);
  tied.inks.forEach(({ ink }, k) => {
    const whole = from.get(ink);
    if (whole)
      from.set(
        ink,
        kept[k].map((piece) => whole[piece]),
      );
  });
  return {
    cell,
    openings: openingNames(findOpenings(bare), findOpenings(cell), from),
    leftOut: [...before, { cell: tied, slight }],
  };
}

/** A drawing of hairlines alone has nothing for a knife. */
function refuseNothingWideEnough(cuttable: Cell, { inks }: Cell): void {
  if (cuttable.inks.some(({ pieces }) => pieces.length > 0) || inks.every(({ pieces }) => pieces.length === 0)) return;
  throw new InputError(
    `There is nothing to cut: all of the artwork is narrower than ${formatMm(BLADE_MM)}, too narrow for any blade; draw its lines wider, or make the unit larger.`,
  );
}
