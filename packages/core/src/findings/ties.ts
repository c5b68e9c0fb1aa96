import { sizeText, type UnitSize } from '../job-file/taken-at.js';
import type { StrandedTie } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { formatMm } from '../units/format.js';

/** Says of ties that are left out what is wrong with them. `from` is the size of the unit at which they were taken, where that was another. */
export function strandedFindings(
  ties: readonly StrandedTie[],
  of: { readonly widthMm: number; readonly from: UnitSize | null; readonly now: UnitSize },
): Finding[] {
  return ties.map((tie) => strandedFinding(tie, of));
}

/** Codes: `tie-astray`, `tie-broad`. */
function strandedFinding(
  { id, why, atMm }: StrandedTie,
  { widthMm, from, now }: { readonly widthMm: number; readonly from: UnitSize | null; readonly now: UnitSize },
): Finding {
  const width = formatMm(widthMm);
  const since = from === null ? '' : ` now that the unit is ${sizeText(now)} (it was set at ${sizeText(from)})`;
  const message =
    why === 'astray'
      ? `Tie ${id} finds no two banks of paper for its ${width} where the job puts it${since}, and is left out: take it out of the job, and see which ties are suggested now.`
      : `Tie ${id} is ${width} wide, wider than the paper on which it lands${since}, and is left out: make ties narrower, or take it out of the job.`;
  return {
    code: `tie-${why}`,
    topic: 'paper',
    severity: 'fix',
    message,
    atMm,
    measure: {
      tie: id,
      widthMm,
      ...(from === null ? {} : { takenWidthMm: from.widthMm, takenHeightMm: from.heightMm }),
    },
  };
}

/** Pairs of openings that two sheets can't part. Code: `double-together`. */
export function leftTogether(pairs: number): Finding {
  return {
    code: 'double-together',
    topic: 'paper',
    severity: 'look',
    message: `Two sheets are too few to part all openings with weak paper between them: ${pairs === 1 ? 'one pair stays' : `${pairs} pairs stay`} in one sheet; glue a strip there, or move the openings apart.`,
    atMm: null,
    measure: { pairs },
  };
}
