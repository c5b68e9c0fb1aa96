import { join } from 'node:path';
import { type JobResult, type ProofOutput, type ProofReport, proofOutput } from '@okuri/core';
import { type ProofSheet, writtenProof } from '@okuri/core/inside';
import { runEngine, type Working } from './engine.js';
import type { Loaded } from './load.js';
import type { OutputFile } from './write-files.js';

/** What is drawn after a proof, by the offsets as they are then (`loaded.job`); `result` is the job as it was before. */
export async function proofFiles(
  loaded: Loaded,
  result: JobResult,
  {
    report,
    chosen,
    output,
    run,
  }: {
    readonly report: ProofReport | null;
    readonly chosen: ProofSheet | null;
    readonly output: string;
    readonly run: Working;
  },
): Promise<OutputFile[]> {
  const { fontMetrics, toPdf } = await import('@okuri/writer');
  const font = fontMetrics();
  const same = JSON.stringify(writtenProof(loaded.job.proof)) === JSON.stringify(writtenProof(result.job.proof));
  const after = same ? result : await runEngine(loaded, run);
  run.progress.show('drawing');
  const which = chosen === null ? [...after.sheets.keys()] : [chosen.sheet.index - 1];
  const files: OutputFile[] = [];
  const put = async (what: ProofOutput, index: number): Promise<void> => {
    // What a print tells is told of the sheet that it was printed from.
    const { name, drawing } = proofOutput(what === 'report' ? result : after, what, { index, report, font });
    files.push({ path: join(output, `${name}.pdf`), kind: 'pdf', content: await toPdf(drawing) });
  };
  if (report !== null && chosen !== null) await put('report', which[0]);
  for (const k of which) {
    await put('strips', k);
    if (report === null) await put('form', k);
  }
  await put('map', which[0]);
  return files;
}
