import { expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import type { CheckedJob } from '../job/result.js';
import { jobForMotif } from '../job-file/read.js';
import type { Finding } from '../motif/finding.js';
import { bySeverity, mustMend } from '../motif/finding.js';
import { madeOpening, madeSheet, SOUND } from '../stencil/made-sheet.test-help.js';
import { checkDocument } from './check-document.js';
import { briefReport, checkReport } from './check-report.js';

const finding = (severity: Finding['severity'], code: string): Finding => ({
  code,
  topic: 'paper',
  severity,
  message: `The ${code}.`,
  atMm: severity === 'fix' ? { x: 12.34567, y: -0 } : null,
  measure: { offsetMm: 0.123456 },
});

const contour = boxContour({ x0: 0, y0: 0, x1: 10, y1: 10 });

/** Made by hand: a half-drop with one leaf that is held and one winding vine. */
const result: CheckedJob = {
  job: jobForMotif({ file: 'leaves.svg' }).job,
  motif: {
    frame: { widthMm: 250, heightMm: 310, from: 'page', assumedPpi: null },
    shapes: ['#000000', '#000000', '#0072b2'].map((ink, k) => ({
      id: `path[${k}]`,
      ink,
      contours: [contour],
      rule: 'nonzero',
      clips: [],
    })),
    notices: [
      {
        code: 'image-left-out',
        severity: 'look',
        message: 'A picture is left out.',
        element: '<image id="p">',
      },
    ],
  },
  lattice: {
    repeat: { kind: 'drop', step: { p: 1, q: 2 } },
    widthMm: 250,
    heightMm: 310,
    a: { x: 250, y: 155 },
    b: { x: 0, y: 310 },
  },
  openings: [
    {
      id: '1',
      ink: '#000000',
      rank: 0,
      areaMm2: 100.00004999,
      areaBoundMm2: 0.01,
      boxMm: { x0: 0, y0: 0, x1: 10, y1: 10 },
      crosses: ['right'],
      atMm: { x: 5, y: 5 },
    },
    {
      id: '2',
      ink: '#000000',
      rank: 1,
      areaMm2: 5,
      areaBoundMm2: 0,
      boxMm: null,
      crosses: ['bottom'],
      atMm: { x: 1, y: 1 },
    },
  ],
  joins: [
    {
      seam: 'right',
      ink: '#000000',
      atMm: 20,
      at: { x: 250, y: 20 },
      offsetMm: 0.5,
      gapMm: 0.4,
      kinkDeg: 3,
      state: 'off',
      flush: false,
      widthMm: 4,
    },
    {
      seam: 'bottom',
      ink: '#000000',
      atMm: 30,
      at: { x: 30, y: 310 },
      offsetMm: null,
      gapMm: null,
      kinkDeg: Number.NaN,
      state: 'open',
      flush: true,
      widthMm: 4,
    },
  ],
  sheets: [
    madeSheet({
      widthMm: 315,
      heightMm: 375,
      field: { x0: 40, y0: 40, x1: 290, y1: 350 },
      dots: [{ name: 'A', at: { x: 40, y: 40 }, diameterMm: 1, lead: true }],
      measures: [
        { what: 'width', from: 'A', to: 'B', mm: 250, inches: '9 27/32', inchErrorMm: 0.03125 },
        { what: 'diagonal', from: 'A', to: 'C', mm: Math.hypot(250, 310), inches: '15 43/64', inchErrorMm: -0.1805 },
      ],
      openings: [madeOpening(1, { firstCut: [contour], secondCut: [contour] })],
    }),
  ],
  strength: [SOUND],
  kept: {},
  findings: [finding('note', 'first'), finding('look', 'second'), finding('fix', 'third'), finding('look', 'fourth')],
  statements: ['The dark of the drawing is what the knife cuts out.'],
  inks: ['#000000'],
};

it('makes a document that is plain JSON with every key', () => {
  const document = checkDocument(result, 'leaves.svg');
  expect(JSON.parse(JSON.stringify(document))).toEqual(document);
  expect(document.motif).toMatchObject({ file: 'leaves.svg', widthMm: 250, heightMm: 310, shapes: 3 });
  expect(document.motif.inks).toEqual(['#000000', '#0072b2']);
  expect(document.motif.notices).toHaveLength(1);
  expect(document.repeat).toEqual({
    kind: 'half-drop',
    step: '1/2',
    widthMm: 250,
    heightMm: 310,
    basisMm: [
      [250, 155],
      [0, 310],
    ],
  });
  expect(document.openings.map(({ id, rank, boxMm, held, areaMm2 }) => [id, rank, boxMm, held, areaMm2])).toEqual([
    ['1', 0, { x0: 0, y0: 0, x1: 10, y1: 10 }, true, 100],
    ['2', 1, null, false, 5],
  ]);
  expect(document.joins[1]).toMatchObject({
    seam: 'bottom',
    offsetMm: null,
    kinkDeg: null,
    state: 'open',
    flush: true,
  });
  expect(document.sheet?.targets).toMatchObject({ widthMm: 250, heightMm: null, diagonalMm: 398.2462 });
  expect(document.sheet?.targets.measures).toHaveLength(2);
  expect(document.summary).toMatchObject({
    joins: { meets: 0, bends: 0, off: 1, open: 1 },
    findings: { stop: 0, fix: 1, look: 2, note: 1 },
    ready: false,
  });
  expect(document.findings[0]).toEqual({
    code: 'third',
    topic: 'paper',
    severity: 'fix',
    message: 'The third.',
    atMm: { x: 12.3457, y: 0 },
    measure: { offsetMm: 0.1235 },
  });
});

it('puts the worst first and keeps the order otherwise', () => {
  expect(bySeverity(result.findings).map(({ code }) => code)).toEqual(['third', 'second', 'fourth', 'first']);
});

it('has to be mended for a stop or a fix only', () => {
  expect(mustMend(result.findings)).toBe(true);
  expect(mustMend([finding('stop', 'a')])).toBe(true);
  expect(mustMend([finding('look', 'a'), finding('note', 'b')])).toBe(false);
  expect(mustMend([])).toBe(false);
});

it('reports what was read first, then the repeat, what is cut, and the findings', () => {
  const lines = checkReport(result).split('\n');
  expect(lines[0]).toBe('unit 250 × 310 mm, from the page');
  expect(lines[1]).toBe('half-drop: steps (250, 155) and (0, 310) mm');
  expect(lines[2]).toBe('The dark of the drawing is what the knife cuts out.');
  const text = lines.join('\n');
  expect(text).toContain('2 openings, 1 of them running on over the cloth; 2 joins: 0 meet, 1 off, 1 open');
  expect(text).toContain('A picture is left out. (<image id="p">)');
  expect(text.indexOf('fix  The third.  [at 12.35, 0 mm]')).toBeGreaterThan(text.indexOf('Findings:'));
  expect(text.indexOf('look  The second.')).toBeGreaterThan(text.indexOf('fix  The third.'));
});

it('keeps the brief report to what must be mended', () => {
  const text = briefReport(result, result.findings);
  expect(text).toContain('unit 250 × 310 mm, from the page');
  expect(text).toContain('The third.');
  expect(text).not.toContain('The second.');
  expect(text).toContain('3 findings to look at or to know');
});
