import { circleContour, type JudgedSheet, readJob, runJob } from '@okuri/core';
import { judgedSheets } from '@okuri/core/inside';

/** The sheet of a job that cuts one disc out of a unit of 100 × 60 mm, but for what is given. */
export function cutSheet(own: Partial<JudgedSheet> = {}): JudgedSheet {
  const { job } = readJob(JSON.stringify({ okuri: 1, motif: 'disc.svg', gauze: false }), { file: 'disc.okuri.json' });
  const disc = circleContour({ x: 50, y: 20 }, 5);
  const shape = { id: 'disc', ink: '#000000', contours: [disc], rule: 'nonzero' as const, clips: [] };
  const frame = { widthMm: 100, heightMm: 60, from: 'page' as const, assumedPpi: null };
  const [sheet] = judgedSheets(runJob({ frame, shapes: [shape], notices: [] }, job));
  return { ...sheet, ...own };
}
