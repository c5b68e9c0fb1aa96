import type { Job } from '../job-file/types.js';
import type { Ink } from '../motif/types.js';

/** What is cut and how it prints, in whole sentences that every output carries. `inks` are the inks that are cut. */
export function statementsOf(job: Job, inks: readonly Ink[]): string[] {
  const light = cutsTheLight(job);
  const drawn =
    job.drawn === 'cut'
      ? 'The dark of the drawing is what the knife cuts out.'
      : light
        ? 'The dark of the drawing is what shall be dark on the cloth, so the light of it is cut out.'
        : 'The dark of the drawing is what shall be dark on the cloth, and it is cut out.';
  const print =
    job.method === 'resist'
      ? 'Printed with resist paste: openings stay the colour of the cloth, all around them takes the dye.'
      : 'Printed directly: openings take the colour, all around them stays the colour of the cloth.';
  const stencils =
    inks.length > 1 ? [`There are ${inks.length} stencils, one for each colour: ${inks.join(', ')}.`] : [];
  const double = job.double.on
    ? [
        'Two sheets print together what one would with its ties: the sheet with the ties first, and when it is dry the other one on the same dots; no tie shows.',
      ]
    : [];
  return [drawn, print, ...stencils, ...double];
}

/** Drawn for the cloth and printed by resist, the light is what the knife takes out. */
export function cutsTheLight(job: Pick<Job, 'drawn' | 'method'>): boolean {
  return job.drawn === 'cloth' && job.method === 'resist';
}
