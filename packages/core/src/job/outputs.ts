import type { Drawing, FontMetrics } from '../draw/types.js';
import type { ProofReport } from '../proof/types.js';
import { InputError } from '../units/input-error.js';
import { clothPicture, cutGuideDrawing, placementMapDrawing, printSheetDrawings, stencilDrawings } from './drawings.js';
import { proofDrawing, proofFormDrawings, proofMapDrawing, secondCutStripDrawings } from './proof-drawings.js';
import type { JobResult } from './result.js';

/** What a job hands over as drawings. */
export type Output = 'cloth' | 'sheets' | 'guide' | 'stencil' | 'map';

/** What it hands over of a proof. */
export type ProofOutput = 'strips' | 'form' | 'map' | 'report';

/** A drawing under the name of its file, without an ending. */
export interface NamedDrawing {
  readonly name: string;
  readonly drawing: Drawing;
}

export interface OutputOptions {
  /** Read only where something is written: the cloth needs no font. */
  readonly font: () => FontMetrics;
  /** A name of the person's own. */
  readonly stem?: string;
}

const NAMES = { cloth: 'cloth', sheets: 'sheets', guide: 'guide', stencil: 'stencil', map: 'plan' } as const;

/**
 * What is drawn of a job, and under which names: one drawing, or one for each of its sheets. Throws an `InputError` where the
 * printer's paper leaves no room, or the cloth can't be planned.
 */
export function outputs(result: JobResult, what: Output, options: OutputOptions): NamedDrawing[] {
  return numbered(options.stem ?? NAMES[what], drawn(result, what, options));
}

function drawn(result: JobResult, what: Output, { font }: OutputOptions): readonly Drawing[] {
  switch (what) {
    case 'cloth':
      return [clothPicture(result)];
    case 'sheets':
      return printSheetDrawings(result, font());
    case 'guide':
      return [cutGuideDrawing(result, font())];
    case 'stencil':
      return stencilDrawings(result, font());
    case 'map':
      return [placementMapDrawing(result, result.plan, font())];
  }
}

const PROOF_NAMES = { strips: 'second-cut-strips', form: 'proof-form', map: 'proof-map', report: 'proof' } as const;

/**
 * What is drawn of the proof of one sheet (0 for the first), and under which name. Strips follow the offsets that the job keeps; with a report they show the
 * print beyond the seam.
 */
export function proofOutput(
  result: JobResult,
  what: ProofOutput,
  { index, report, font }: { readonly index: number; readonly report: ProofReport | null; readonly font: FontMetrics },
): NamedDrawing {
  const { sheets } = result;
  const sheet = sheets[index];
  if (sheet === undefined) throw new InputError(`The job has no stencil ${index + 1}.`);
  const own = (drawings: readonly Drawing[]): NamedDrawing => numbered(PROOF_NAMES[what], drawings)[index];
  switch (what) {
    case 'strips':
      return own(
        secondCutStripDrawings(result, font, { reports: sheets.map((_, k) => (k === index ? report : null)) }),
      );
    case 'form':
      return own(proofFormDrawings(result, font));
    case 'map':
      return { name: PROOF_NAMES.map, drawing: proofMapDrawing(result, font) };
    case 'report': {
      if (report === null) throw new InputError('There is no proof to report of: compare a scan of it first.');
      const drawing = proofDrawing(result, { sheet, report }, font);
      return own(sheets.map(() => drawing));
    }
  }
}

/** `stencil` alone, else `stencil-1`, `stencil-2`, … */
function numbered(stem: string, drawings: readonly Drawing[]): NamedDrawing[] {
  return drawings.map((drawing, k) => ({ name: drawings.length === 1 ? stem : `${stem}-${k + 1}`, drawing }));
}
