import { type JobResult, type ProofReport, proofOutput } from '@okuri/core';
import type { MadeFile, ProofPaper } from './protocol';
import type { EngineTools } from './tools';

/** What is made of a stencil's proof, named as the command names it. */
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
  const { name, drawing } = proofOutput(result, what, { index, report, font: tools.fontMetrics });
  return [{ name: `${name}.pdf`, type: 'application/pdf', bytes: await tools.toPdf(drawing) }];
}
