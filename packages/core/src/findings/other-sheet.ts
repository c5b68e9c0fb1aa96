import { isSameSize, sizeText, type UnitSize } from '../job-file/taken-at.js';
import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { counted } from '../units/words.js';

/**
 * What does not count because it was taken on a sheet of another size (`marksOfSheet`). Codes: `done-other-sheet`, `proof-other-sheet` (both `look`).
 */
export function otherSheetFindings(
  { done, proof, takenAt }: Pick<Job, 'done' | 'proof' | 'takenAt'>,
  now: UnitSize,
): Finding[] {
  const findings: Finding[] = [];
  const say = (
    code: string,
    topic: Finding['topic'],
    { at, count, words }: { at: UnitSize | null; count: number; words: (from: string, now: string) => string },
  ): void => {
    if (at === null || count === 0 || isSameSize(at, now)) return;
    findings.push({
      code,
      topic,
      severity: 'look',
      message: words(sizeText(at), sizeText(now)),
      atMm: null,
      measure: { count, takenWidthMm: at.widthMm, takenHeightMm: at.heightMm },
    });
  };
  const cut = sum(done);
  say('done-other-sheet', 'print', {
    at: takenAt.done,
    count: cut,
    words: (from, to) =>
      `${counted(cut, 'opening')} ${cut === 1 ? 'was' : 'were'} marked as cut on a sheet with a unit of ${from}; this unit is ${to}, so it is a new sheet, of which nothing is cut yet.`,
  });
  const shown = sum(proof);
  say('proof-other-sheet', 'proof', {
    at: takenAt.proof,
    count: shown,
    words: (from, to) =>
      `The proof was printed from a sheet with a unit of ${from}; this unit is ${to}, so it is a new sheet, and the second cut is as planned (${counted(shown, 'offset')} left out): print a proof of the new sheet and measure it.`,
  });
  return findings;
}

function sum(lists: Readonly<Record<string, readonly unknown[]>>): number {
  return Object.values(lists).reduce((count, list) => count + list.length, 0);
}
