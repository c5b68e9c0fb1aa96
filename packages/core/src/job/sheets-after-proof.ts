import { secondCutFindings, strayProofFinding } from '../findings/second-cut.js';
import { stencilKey } from '../job-file/practice.js';
import type { Job } from '../job-file/types.js';
import type { Finding } from '../motif/finding.js';
import { applyProof } from '../proof/second-cut.js';
import { sheetEnds } from '../proof/sheet-ends.js';
import type { Lattice } from '../repeat/types.js';
import type { CutSheet, Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { inVoice, said } from '../units/voice.js';

/**
 * The sheets with the ends at which proofs are measured, and with the second cut as the job's proofs make it. Sheets are those that print, soaked:
 * a proof shows them so, and what is drawn on dry paper is made from them after. Throws an `InputError` for an end that a sheet does not have.
 */
export function sheetsAfterProof(
  sheets: readonly CutSheet[],
  { proof }: Pick<Job, 'proof'>,
  lattice: Lattice,
): { sheets: Sheet[]; findings: Finding[] } {
  const keys = new Set(sheets.map(stencilKey));
  const stray = Object.keys(proof).filter((key) => !keys.has(key));
  const findings: Finding[] = stray.map(strayProofFinding);
  const done = sheets.map((sheet) => {
    const key = stencilKey(sheet);
    const after = namingSheet(key, () => applyProof(sheet, sheetEnds(sheet, lattice), proof[key] ?? []));
    findings.push(...secondCutFindings(after.told, sheet));
    return after.sheet;
  });
  return { sheets: done, findings };
}

/** Says of which sheet a refusal is. */
function namingSheet<T>(key: string, run: () => T): T {
  try {
    return run();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    throw new InputError(
      said((voice) => (voice === 'command' ? `"proof.${key}": ${error.message}` : inVoice(error, voice))),
    );
  }
}
