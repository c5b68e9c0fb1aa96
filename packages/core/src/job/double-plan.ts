import type { Finding } from '../motif/finding.js';
import type { Ink } from '../motif/types.js';
import { isGrave } from '../paper/narrow-findings.js';
import type { Tie } from '../paper/types.js';
import { wholeOpeningId } from '../repeat/opening-names.js';
import { shareOut } from '../stencil/share-out.js';
import type { JobResult } from './result.js';
import { suggestTies } from './suggest.js';
import type { Job } from './types.js';

/** How an ink is shared out over two sheets. */
export interface DoublePlan {
  /** The job's ties; for an ink without any, those that would be suggested. */
  readonly ties: Job['ties'];
  /** Openings that are cut in sheet B, by ink. */
  readonly onB: ReadonlyMap<Ink, ReadonlySet<string>>;
  readonly findings: readonly Finding[];
}

/** The job as one sheet an ink, from which `planDouble` tells how two would share it. Ties do not show, so the shortest are the best. */
export function singleSheets(job: Job): Job {
  return {
    ...job,
    paper: { ...job.paper, tie: { ...job.paper.tie, hide: false } },
    double: { ...job.double, on: false },
    // Proofs are of the sheets that are cut.
    proof: {},
  };
}

/**
 * Shares every ink of a job out over two sheets: its ties (suggested ones where the job names none), and which openings go to the second sheet, so
 * that no two stand in one sheet with a strip of paper between them that tears.
 */
export function planDouble(single: JobResult): DoublePlan {
  const { job, sheets, openings } = single;
  const found = suggestTies(single).filter(({ accepted }) => accepted.length === 0);
  const ties = { ...job.ties, ...Object.fromEntries(found.map((one) => [one.ink, one.suggested.map(printed)])) };
  const onB = new Map<Ink, Set<string>>();
  const findings: Finding[] = [];
  for (const sheet of sheets) {
    const ids = [...new Set(openings.filter((o) => o.ink === sheet.ink).map((o) => wholeOpeningId(o.id)))];
    const place = new Map(ids.map((id, k) => [id, k]));
    const owner = new Map(sheet.openings.map((o) => [o.number, place.get(wholeOpeningId(o.openingId))]));
    const apart = (sheet.paper?.necks ?? []).filter(isGrave).flatMap(({ openings: [a, b] }) => {
      const [p, q] = [owner.get(a), owner.get(b)];
      return p === undefined || q === undefined || p === q ? [] : [[p, q] as const];
    });
    const shares = shareOut(ids.length, apart);
    onB.set(sheet.ink, new Set(ids.filter((_, k) => shares.onB[k])));
    if (shares.left.length > 0) findings.push(leftTogether(shares.left.length));
  }
  return { ties, onB, findings };
}

function printed({ id, from, to }: Tie): Tie {
  return { id, kind: 'printed', from, to };
}

function leftTogether(pairs: number): Finding {
  return {
    code: 'double-together',
    severity: 'look',
    message: `Two sheets are too few to part all openings with weak paper between them: ${pairs === 1 ? 'one pair stays' : `${pairs} pairs stay`} in one sheet; glue a strip there, or move the openings apart.`,
    atMm: null,
    measure: { pairs },
  };
}
