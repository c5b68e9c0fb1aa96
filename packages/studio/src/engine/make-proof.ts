import {
  type Drawing,
  InputError,
  type JobResult,
  type ProofReport,
  proofDrawing,
  proofFormDrawings,
  proofMapDrawing,
  secondCutStripDrawings,
} from '@okuri/core';
import type { MadeFile, ProofPaper } from './protocol';
import type { EngineTools } from './tools';

/** What is made of a stencil's proof, named as the command names it. The strips follow the offsets that the job keeps; with a report they show the print beyond the seam. */
export async function makeProofFiles(
  what: ProofPaper,
  {
    result,
    index,
    report,
    tools,
  }: {
    readonly result: JobResult;
    readonly index: number;
    readonly report: ProofReport | null;
    readonly tools: EngineTools;
  },
): Promise<MadeFile[]> {
  const { fontMetrics: font } = tools;
  const { sheets } = result;
  const sheet = sheets[index];
  if (sheet === undefined) throw new InputError(`The job has no stencil ${index + 1}.`);
  const pdf = async (stem: string, drawing: Drawing): Promise<MadeFile[]> => [
    { name: `${stem}.pdf`, type: 'application/pdf', bytes: await tools.toPdf(drawing) },
  ];
  const named = (stem: string): string => (sheets.length === 1 ? stem : `${stem}-${index + 1}`);
  switch (what) {
    case 'strips': {
      const reports = sheets.map((_, k) => (k === index ? report : null));
      return pdf(named('second-cut-strips'), secondCutStripDrawings(result, font, { reports })[index]);
    }
    case 'form':
      return pdf(named('proof-form'), proofFormDrawings(result, font)[index]);
    case 'map':
      return pdf('proof-map', proofMapDrawing(result, font));
    case 'report':
      if (report === null) throw new InputError('There is no proof to report of: compare a scan of it first.');
      return pdf(named('proof'), proofDrawing(result, { sheet, report }, font));
  }
}
