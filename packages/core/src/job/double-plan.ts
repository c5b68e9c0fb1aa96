import { leftTogether } from '../findings/ties.js';
import type { JobSlice } from '../job-file/job-slice.js';
import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import type { Ink } from '../motif/types.js';
import type { Cell } from '../repeat/cell.js';
import { wholeOpeningId } from '../repeat/opening-names.js';
import type { CellOpening } from '../repeat/openings.js';
import type { Lattice } from '../repeat/types.js';
import { shareOut } from '../stencil/share-out.js';
import { type SheetCut, type SheetNumbers, wholeOutlines } from '../stencil/sheet.js';
import { isSevere } from '../strength/severe.js';
import type { NarrowPlace, Tie } from '../strength/types.js';
import { suggestTies } from './suggest.js';

/** How an ink is shared out over two sheets. */
export interface DoublePlan {
  /** The job's ties; for an ink without any, those that would be suggested. */
  readonly ties: Job['ties'];
  /** Openings that are cut in sheet B, by ink. */
  readonly onB: ReadonlyMap<Ink, ReadonlySet<string>>;
  readonly findings: readonly Finding[];
}

/** The job as one sheet an ink, from which `planDouble` tells how two would share it. Ties do not show, so the shortest are the best. */
export function singleSheets<J extends Job>(job: J): J {
  return {
    ...job,
    paper: { ...job.paper, tie: { ...job.paper.tie, hide: false } },
    double: { ...job.double, on: false },
  };
}

/** A job cut as one sheet an ink. */
interface SingleSheets {
  readonly laid: { readonly lattice: Lattice; readonly cell: Cell };
  readonly pattern: { readonly openings: readonly CellOpening[] };
  readonly cut: readonly SheetCut[];
  readonly numbers: readonly SheetNumbers[];
  readonly necks: readonly (readonly NarrowPlace[])[];
}

/**
 * Shares every ink of a job out over two sheets: its ties (suggested ones where the job names none), and which openings go to the second sheet, so
 * that no two stand in one sheet with a strip of paper between them that tears.
 */
export function planDouble(
  job: JobSlice<'ties' | 'paper' | 'practice.gauze' | 'method'>,
  { laid, pattern, cut, numbers, necks }: SingleSheets,
): DoublePlan {
  const suggested = suggestTies({
    job,
    lattice: laid.lattice,
    inks: laid.cell.inks.map(({ ink }) => ink),
    sheets: cut.map((sheet) => ({ ...sheet, part: null })),
    cutOut: cut.map((sheet, k) => wholeOutlines(sheet, numbers[k])),
  });
  const found = suggested.filter(({ accepted }) => accepted.length === 0);
  const ties = { ...job.ties, ...Object.fromEntries(found.map((one) => [one.ink, one.suggested.map(printed)])) };
  const onB = new Map<Ink, Set<string>>();
  const findings: Finding[] = [];
  cut.forEach((sheet, k) => {
    const ids = [...new Set(pattern.openings.filter((o) => o.ink === sheet.ink).map((o) => wholeOpeningId(o.id)))];
    const place = new Map(ids.map((id, n) => [id, n]));
    const owner = sheet.openings.map((o) => place.get(wholeOpeningId(o.openingId)));
    const apart = necks[k].filter(isSevere).flatMap(({ openings: [a, b] }) => {
      const [p, q] = [owner[a], owner[b]];
      return p === undefined || q === undefined || p === q ? [] : [[p, q] as const];
    });
    const shares = shareOut(ids.length, apart);
    onB.set(sheet.ink, new Set(ids.filter((_, n) => shares.onB[n])));
    if (shares.left.length > 0) findings.push(leftTogether(shares.left.length));
  });
  return { ties, onB, findings };
}

function printed({ id, from, to }: Tie): Tie {
  return { id, kind: 'printed', from, to };
}
