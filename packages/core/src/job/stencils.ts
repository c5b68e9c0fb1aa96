import type { Box } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import type { Ink } from '../motif/types.js';
import { type StandingTie, tieShape } from '../paper/tie-shape.js';
import type { SheetTie, Tie } from '../paper/types.js';
import type { Cell } from '../repeat/cell.js';
import { leavePaper } from '../repeat/leave-paper.js';
import { openingNames } from '../repeat/opening-names.js';
import { type CellOpening, findOpenings } from '../repeat/openings.js';
import { doubleCells } from '../stencil/double-sheets.js';
import { placeTies } from '../stencil/place-ties.js';
import { leadsAcross, standTies } from '../stencil/stand-ties.js';
import type { Sheet } from '../stencil/types.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import type { DoublePlan } from './double-plan.js';
import { stencilKey } from './practice.js';
import type { Job } from './types.js';

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
  /** The strips of its ties, unit mm: each stands in every unit. */
  readonly strips: readonly StandingTie[];
}

/** The pattern as it prints, and the sheets that print it. */
export interface Stencils {
  /** With printed ties standing; with two sheets for an ink none of them shows. */
  readonly cloth: Cell;
  readonly openings: readonly CellOpening[];
  readonly stencils: readonly Stencil[];
  readonly findings: readonly Finding[];
}

/**
 * Leaves the paper of the job's ties standing: printed ties in the pattern itself, release ties on the sheets alone. With two sheets for an ink
 * the pattern stays whole, and the sheets share it, `onB` saying which openings are cut in the second. `reach` is the part of the cloth that a sheet holds, unit mm. Throws an `InputError` for a tie that is wider than the paper on which it lands.
 */
export function layStencils(
  bare: Cell,
  { job, reach, onB = new Map() }: { job: Job; reach: Box; onB?: DoublePlan['onB'] | undefined },
): Stencils {
  const findings: Finding[] = [];
  const byInk = bare.inks.map(({ ink }, k) => {
    const ties = job.ties[ink] ?? [];
    const { widthMm, flareMm } = job.paper.tie;
    const standing = standTies(bare, k, ties, { widthMm, flareMm });
    for (const tie of ties.filter((_, n) => standing[n] === null)) {
      if (leadsAcross(bare, k, tie)) throw tooBroad(tie, ink, widthMm);
      findings.push(astray(tie, widthMm));
    }
    return standing.filter((tie) => tie !== null);
  });
  const printed = leaveTies(bare, byInk, (tie) => !job.double.on && tie.kind === 'printed');
  const all = leaveTies(bare, byInk, () => !job.double.on);
  const loose = byInk.some((ties) => ties.some(({ kind }) => kind === 'release'));
  const openings = printed.openings;
  const stencils = bare.inks.flatMap(({ ink }, k): Stencil[] => {
    const ties = byInk[k];
    if (!job.double.on) {
      const placed = placeTies(bare, k, ties, reach);
      const released = loose && ties.some(({ kind }) => kind === 'release') ? printed.cell : null;
      return [
        {
          ink,
          inkIndex: k,
          part: null,
          key: stencilKey({ ink, part: null }),
          ...all,
          released,
          ties: placed,
          strips: ties,
        },
      ];
    }
    const { a, b } = doubleCells(bare, k, ties, {
      overlapMm: job.double.overlapMm,
      neckMm: job.paper.rules.neckMm,
      onB: onB.get(ink) ?? new Set(),
    });
    return (['A', 'B'] as const).map((part) => {
      const side = part === 'A' ? a : b;
      return {
        ink,
        inkIndex: k,
        part,
        key: stencilKey({ ink, part }),
        cell: side.cell,
        openings: openingNames(openings, findOpenings(side.cell), new Map([[ink, side.from]])),
        released: null,
        ties: part === 'A' ? placeTies(bare, k, ties, reach) : [],
        strips: part === 'A' ? ties : [],
      };
    });
  });
  return { cloth: printed.cell, openings, stencils, findings };
}

type Standing = Tie & StandingTie;

/** The cell with some ties of every ink left standing, and its openings; those that ties divide keep the name of the whole. */
function leaveTies(
  bare: Cell,
  byInk: readonly (readonly Standing[])[],
  stands: (tie: Tie) => boolean,
): { cell: Cell; openings: readonly CellOpening[] } {
  let cell = bare;
  const from = new Map<Ink, readonly number[]>();
  byInk.forEach((ties, k) => {
    const strips = ties.filter(stands).map((tie) => tieShape(tie, tie));
    if (strips.length === 0) return;
    const left = leavePaper(cell, k, strips);
    cell = left.cell;
    from.set(bare.inks[k].ink, left.from);
  });
  const openings = findOpenings(cell);
  return { cell, openings: from.size === 0 ? openings : openingNames(findOpenings(bare), openings, from) };
}

function tooBroad({ id, from, to }: Tie, ink: Ink, widthMm: number): InputError {
  const at = `${formatMm((from.x + to.x) / 2)}, ${formatMm((from.y + to.y) / 2)}`;
  return new InputError(
    `Tie ${id} of "ties.${ink}" (at ${at}) is ${formatMm(widthMm)} wide, wider than the paper on which it lands: make "paper.tieWidth" smaller, or take it out with okuri ties --drop ${id}.`,
  );
}

function astray({ id, from, to }: Tie, widthMm: number): Finding {
  const at = { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
  return {
    code: 'tie-astray',
    severity: 'fix',
    message: `Tie ${id} finds no two banks of paper for its ${widthMm} mm where the job puts it, and is left out: take it out with okuri ties --drop ${id}, and see what is suggested now.`,
    atMm: at,
    measure: { tie: id, widthMm },
  };
}
