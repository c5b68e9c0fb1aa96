import { join } from 'node:path';
import {
  type JobResult,
  type ProofReport,
  type ProofSheet,
  proofDrawing,
  proofFormDrawings,
  proofMapDrawing,
  secondCutStripDrawings,
  writtenProof,
} from '@okuri/core';
import { runEngine } from './engine.js';
import type { Loaded } from './load.js';
import type { ProgressLine } from './progress.js';
import type { OutputFile } from './write-files.js';

/** What is drawn after a proof, by the offsets as they are then (`loaded.job`); `result` is the job as it was before. */
export async function proofFiles(
  loaded: Loaded,
  result: JobResult,
  {
    report,
    chosen,
    output,
    progress,
  }: {
    readonly report: ProofReport | null;
    readonly chosen: ProofSheet | null;
    readonly output: string;
    readonly progress: ProgressLine;
  },
): Promise<OutputFile[]> {
  const { fontMetrics, toPdf } = await import('@okuri/writer');
  const font = fontMetrics();
  const same = JSON.stringify(writtenProof(loaded.job.proof)) === JSON.stringify(writtenProof(result.job.proof));
  const after = same ? result : await runEngine(loaded, progress);
  progress.show('drawing');
  const which = chosen === null ? [...after.sheets.keys()] : [chosen.sheet.index - 1];
  const reports = after.sheets.map((_, k) => (k === which[0] && which.length === 1 ? report : null));
  const [strips, forms] = [secondCutStripDrawings(after, font, { reports }), proofFormDrawings(after, font)];
  const named = (name: string, k: number): string =>
    join(output, after.sheets.length === 1 ? `${name}.pdf` : `${name}-${k + 1}.pdf`);
  const files: OutputFile[] = [];
  const put = async (path: string, drawing: Parameters<typeof toPdf>[0]): Promise<void> => {
    files.push({ path, kind: 'pdf', content: await toPdf(drawing) });
  };
  if (report !== null && chosen !== null) {
    await put(named('proof', which[0]), proofDrawing(after, { sheet: chosen.sheet, report }, font));
  }
  for (const k of which) {
    await put(named('second-cut-strips', k), strips[k]);
    if (report === null) await put(named('proof-form', k), forms[k]);
  }
  await put(join(output, 'proof-map.pdf'), proofMapDrawing(after, font));
  return files;
}
