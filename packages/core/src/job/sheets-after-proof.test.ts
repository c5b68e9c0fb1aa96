import { expect, it } from 'vitest';
import { labelFont } from '../draw/label-font.test-help.js';
import { polyline } from '../geometry/contour.js';
import type { Motif } from '../motif/types.js';
import { checkDocument } from '../reports/check-document.js';
import { checkReport } from '../reports/check-report.js';
import { drySheet } from '../stencil/dry-sheet.js';
import { jobOf } from './leaf-job.test-help.js';
import { proofFormDrawings } from './proof-drawings.js';
import { proofSheet } from './proof-sheet.js';
import { runJob } from './run.js';
import { secondCutJob, someOffsets } from './second-cut-job.test-help.js';

const font = labelFont();

/** A slanting bar over the right seam of a unit of 120 × 90 mm. */
const BAR: Motif = {
  frame: { widthMm: 120, heightMm: 90, from: 'page', assumedPpi: null },
  shapes: [
    {
      id: 'bar',
      ink: '#000000',
      contours: [
        polyline(
          [
            { x: 80, y: 30 },
            { x: 140, y: 36 },
            { x: 140, y: 44 },
            { x: 80, y: 40 },
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
const run = (keys: object) => runJob(BAR, jobOf(keys).job);
const PROOF = [
  { at: 'X1', offset: '0.4mm', place: [120, 34] },
  { at: 'Y2', offset: '-0.2mm' },
];

it('cuts the second cut as the proof asks, and says so', () => {
  const planned = run({});
  const result = run({ proof: { '#000000': PROOF } });
  const [was, is] = [planned.sheets[0], result.sheets[0]];
  expect(was.secondCutFrom).toBe('plan');
  expect(is.secondCutFrom).toBe('proof');
  // Names and places are the plan's.
  expect(is.ends).toEqual(was.ends);
  const [x1] = is.ends.joins;
  const nodes = is.openings.flatMap(({ secondCut }) => secondCut.flatMap(({ coords }) => [...coords]));
  expect(nodes).toContain(x1.at.y + 0.4);
  const note = result.findings.find(({ code }) => code === 'proof-taken-in');
  expect(note?.measure).toMatchObject({ joins: 1, firstCutEnds: 1, mostMm: 0.4, end: 'J1' });
  expect(checkReport(result)).toContain('The second cut follows the proof at 1 of 2 joins and 1 of 2 stops');
  const document = checkDocument(result, 'bar.svg');
  expect(document.sheet?.secondCutFrom).toBe('proof');
  expect(document.findings.map(({ code }) => code)).toContain('proof-taken-in');
});

it('leaves every end its name and its place, whatever asks for them', () => {
  const planned = secondCutJob({ repeat: 'half-drop' });
  const offsets = someOffsets(planned);
  const proved = secondCutJob({ repeat: 'half-drop' }, offsets);
  const [{ ends }] = planned.sheets;
  expect(proved.sheets[0].secondCutFrom).toBe('proof');
  expect(proofSheet(proved, null)).toMatchObject({ ends, kept: offsets });
  // The form is as it was when the proof was measured by it.
  expect(proofFormDrawings(proved, font)).toEqual(proofFormDrawings(planned, font));
});

it('keeps offsets in the frame of the print: on dry paper they shrink with all else', () => {
  const soaked = { movement: { along: 1, across: 1 }, grain: 'upright' };
  const [sheet] = run({ ...soaked, proof: { '#000000': PROOF } }).sheets;
  const dry = drySheet(sheet);
  const [wetEnd, dryEnd] = [sheet.ends.joins[0], dry.ends.joins[0]];
  expect(dryEnd.at.y).toBeCloseTo(wetEnd.at.y / 1.01, 9);
  expect(dryEnd.step.x).toBeCloseTo(120 / 1.01, 9);
  const nodes = dry.openings.flatMap(({ secondCut }) => secondCut.flatMap(({ coords }) => [...coords]));
  expect(nodes.some((v) => Math.abs(v - (wetEnd.at.y + 0.4) / 1.01) < 1e-9)).toBe(true);
});

it('refuses ends that the sheet does not have, and says of proofs of no sheet', () => {
  expect(() => run({ proof: { '#000000': [{ at: 'X9', offset: '1mm' }] } }).sheets).toThrow(
    '"proof.#000000": The proof has an offset at X9, but this sheet has J1 to J4',
  );
  const stray = run({ proof: { '#c33': PROOF } });
  expect(stray.findings.map(({ code }) => code)).toContain('proof-no-sheet');
  expect(stray.sheets[0].secondCutFrom).toBe('plan');
});
