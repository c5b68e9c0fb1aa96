// From a drawing to its findings and its print sheets, without the command: node tests/examples/from-svg-to-pdf.ts DRAWING.svg SHEETS.pdf
import { readFileSync, writeFileSync } from 'node:fs';
import { bySeverity, InputError, inVoice, jobForMotif, mustMend, outputs, runJob } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import { fontMetrics, toPdf } from '@okuri/writer';

/** Writes the print sheets of a drawing in half-drop, 300 mm wide, and gives what a person should know of it, worst first. */
export async function sheetsOf(drawing: string, pdf: string): Promise<{ ready: boolean; sentences: string[] }> {
  const { job } = jobForMotif({
    file: drawing,
    date: '2026-05-04',
    overrides: [
      { path: ['repeat'], value: 'half-drop', name: 'the repeat' },
      { path: ['width'], value: '300mm', name: 'the width' },
    ],
  });
  const motif = readSvg(readFileSync(drawing), { widthMm: job.size.widthMm });
  const result = runJob(motif, job);
  const [sheets] = outputs(result, 'sheets', { font: fontMetrics });
  if (sheets === undefined) throw new InputError('The drawing has nothing to cut.');
  writeFileSync(pdf, await toPdf(sheets.drawing));
  const sentences = bySeverity(result.findings).map((finding) => `${finding.severity}: ${inVoice(finding, 'window')}`);
  return { ready: !mustMend(result.findings), sentences };
}
