import { polyline } from '../geometry/contour.js';
import { type JobReading, readJob } from '../job-file/read.js';
import type { Finding } from '../motif/finding.js';
import type { Motif } from '../motif/types.js';
import type { JobResult } from './result.js';
import { runJob } from './run.js';

/** A leaf on a unit of 120 × 90 mm, its tip near the upper left corner. */
const LEAF: Motif = {
  frame: { widthMm: 120, heightMm: 90, from: 'page', assumedPpi: null },
  shapes: [
    {
      id: 'leaf',
      ink: '#000000',
      contours: [
        polyline(
          [
            { x: 10, y: 8 },
            { x: 40, y: 20 },
            { x: 70, y: 60 },
            { x: 30, y: 40 },
          ],
          { closed: true },
        ),
      ],
      rule: 'nonzero',
      clips: [],
    },
  ],
  notices: [],
};

/** A job file of the leaf, with these keys. */
export function jobOf(keys: object): JobReading {
  return readJob(JSON.stringify({ okuri: 1, motif: 'leaf.svg', ...keys }), { file: 'leaf.okuri.json' });
}

export function ran(keys: object): JobResult {
  return runJob(LEAF, jobOf(keys).job);
}

export function findingsOf(keys: object): readonly Finding[] {
  return ran(keys).findings;
}
