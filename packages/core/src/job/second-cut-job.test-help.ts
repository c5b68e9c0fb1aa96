import { boxContour, circleContour, polyline } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { readJob } from '../job-file/read.js';
import type { ProofOffset } from '../proof/types.js';
import type { JobResult } from './result.js';
import { runJob } from './run.js';

/** A disc that lies in the held margin whole, mm on the unit: its centre and radius. */
export const HELD_DISC = { x: 585, y: 700, r: 9 } as const;

/** Bars and slanting bands over both seams of a unit of 600 × 900 mm, and a few discs in its held margins. */
const SHAPES: readonly Contour[] = [
  ...[60, 240, 420, 610, 800].map((y) => boxContour({ x0: 540, y0: y, x1: 660, y1: y + 14 })),
  ...[90, 310, 480].map((x) =>
    polyline(
      [
        { x, y: 850 },
        { x: x + 12, y: 850 },
        { x: x + 30, y: 960 },
        { x: x + 18, y: 960 },
      ],
      { closed: true },
    ),
  ),
  ...[HELD_DISC, { x: 584, y: 150, r: 3 }, { x: 200, y: 888, r: 6 }].map((d) => circleContour(d, d.r)),
];

/** A job on these shapes; `proof` are offsets of its only sheet. */
export function secondCutJob(keys: object = {}, proof: readonly ProofOffset[] = []): JobResult {
  const file = { okuri: 1, motif: 'bars.svg', date: '2026-05-04', title: 'Reed bars', spill: 'carry', ...keys };
  const { job } = readJob(JSON.stringify(file), { file: 'bars.okuri.json' });
  const shapes = SHAPES.map((contour, k) => ({
    id: `s${k}`,
    ink: '#000000',
    contours: [contour],
    rule: 'nonzero' as const,
    clips: [],
  }));
  const frame = { widthMm: 600, heightMm: 900, from: 'page', assumedPpi: null } as const;
  return runJob({ frame, shapes, notices: [] }, { ...job, proof: proof.length > 0 ? { '#000000': proof } : {} });
}

/** Made-up offsets at every end of a sheet that a proof can show. */
export function someOffsets({ sheets }: Pick<JobResult, 'sheets'>): ProofOffset[] {
  const { joins, firstCutEnds } = sheets[0].ends;
  const shown = joins.filter(({ leadCut }) => leadCut !== 'second');
  const stops = new Set(firstCutEnds.map(({ name }) => name));
  return [...shown, ...firstCutEnds].map(({ name }, k) => ({
    name,
    offsetMm: [0.4, -0.3, 0.8, 0][k % 4] * (stops.has(name) ? 0.5 : 1),
    turnDeg: 0,
    place: null,
  }));
}
