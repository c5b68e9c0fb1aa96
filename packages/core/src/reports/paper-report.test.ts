import { expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import type { Box } from '../geometry/types.js';
import type { CheckedJob } from '../job/result.js';
import { jobForMotif } from '../job-file/read.js';
import { madeOpening, madeSheet } from '../stencil/made-sheet.test-help.js';
import type { JudgedSheet } from '../stencil/types.js';
import { USUAL_PACE } from '../strength/cutting-work.js';
import type { NarrowPlace, PaperReport } from '../strength/types.js';
import { checkDocument } from './check-document.js';
import { checkReport } from './check-report.js';
import { paperDocument } from './paper-document.js';
import { paperLines } from './paper-report.js';

const field: Box = { x0: 40, y0: 30, x1: 240, y1: 130 };

function narrow(x: number, widthMm: number, hangsMm2: number): NarrowPlace {
  return {
    widthMm,
    from: { x, y: 50 },
    to: { x: x + widthMm, y: 50 },
    atMm: { x: x + widthMm / 2, y: 50 },
    lengthMm: 4,
    openings: [0, 1],
    weak: hangsMm2 > 0,
    hangsMm2,
  };
}

function island(id: string, dropsAt: PaperReport['islands'][number]['dropsAt'], box: Box) {
  return {
    id,
    dropsAt,
    box,
    opening: 0,
    outline: boxContour(box),
    areaMm2: (box.x1 - box.x0) * (box.y1 - box.y0),
    at: { x: (box.x0 + box.x1) / 2, y: (box.y0 + box.y1) / 2 },
    within: null,
    depth: 0,
    span: null,
  };
}

/** Made by hand; places on the sheet, whose field begins at 40, 30. */
const paper: PaperReport = {
  rules: jobForMotif({ file: 'leaves.svg' }).job.paper.rules,
  groundCut: false,
  islands: [
    island('1', 'first', { x0: 50, y0: 50, x1: 60, y1: 55 }),
    island('2', 'second', { x0: 200, y0: 50, x1: 210, y1: 60 }),
  ],
  necks: [narrow(60, 0.8, 90), narrow(80, 0.5, 0)],
  slits: [narrow(100, 0.4, 0)],
  tongues: [{ rootMm: 2, lengthMm: 20, root: { x: 70, y: 80 }, tip: { x: 70, y: 60 }, opening: 1 }],
  longOpenings: [{ opening: 1, lengthMm: 130, at: { x: 140, y: 80 } }],
  cutAway: { share: 0.314, weakestBand: { x0: 40, y0: 60, x1: 240, y1: 110 }, bandShare: 0.44 },
  work: { lengthMm: 12_345, corners: 321, tightMm: 9, tightPlaces: 3, jerks: 1, minutes: 98.6, blades: 8.23 },
  workOf: [
    {
      opening: 14,
      jerkAt: null,
      tightAt: null,
      lengthMm: 40,
      corners: 4,
      tightMm: 0,
      tightPlaces: 0,
      jerks: 0,
      minutes: 1,
      blades: 0.03,
    },
  ],
  pace: USUAL_PACE,
};

const sheet = (more: Partial<JudgedSheet> = {}): JudgedSheet =>
  madeSheet({
    widthMm: 300,
    heightMm: 200,
    field,
    openings: [madeOpening(14, { firstCut: [boxContour({ x0: 40, y0: 30, x1: 50, y1: 40 })] })],
    paper,
    ...more,
  });

const result = (sheets: readonly JudgedSheet[]): CheckedJob => ({
  job: jobForMotif({ file: 'leaves.svg' }).job,
  motif: { frame: { widthMm: 200, heightMm: 100, from: 'page', assumedPpi: null }, shapes: [], notices: [] },
  lattice: {
    repeat: { kind: 'straight', step: { p: 0, q: 1 } },
    widthMm: 200,
    heightMm: 100,
    a: { x: 200, y: 0 },
    b: { x: 0, y: 100 },
  },
  openings: [],
  joins: [],
  sheets,
  strength: sheets.map((one) => one.paper),
  kept: {},
  findings: [],
  statements: [],
  inks: ['#000000'],
});

it('gives places from the upper left of the field', () => {
  const document = paperDocument(sheet());
  expect(document.islands).toEqual([
    { id: '1', areaMm2: 50, boxMm: { x0: 10, y0: 20, x1: 20, y1: 25 }, dropsAt: 'first' },
    { id: '2', areaMm2: 100, boxMm: { x0: 160, y0: 20, x1: 170, y1: 30 }, dropsAt: 'second' },
  ]);
  expect(document.necks[0]).toEqual({
    widthMm: 0.8,
    atMm: { x: 20.4, y: 20 },
    lengthMm: 4,
    weak: true,
    hangsMm2: 90,
  });
  expect(document.slits).toEqual([{ widthMm: 0.4, atMm: { x: 60.2, y: 20 }, lengthMm: 4 }]);
  expect(document.tongues).toEqual([{ rootMm: 2, lengthMm: 20, atMm: { x: 30, y: 30 } }]);
  expect(document.longOpenings).toEqual([{ lengthMm: 130, atMm: { x: 100, y: 50 } }]);
  expect(document.weakestBand.boxMm).toEqual({ x0: 0, y0: 30, x1: 200, y1: 80 });
  expect(document).toMatchObject({ groundCut: false, cutAwayShare: 0.314, cutLengthMm: 12_345 });
  expect(document.work).toMatchObject({ corners: 321, minutesEstimate: 98.6, bladesEstimate: 8.23 });
  expect(document.work.openings).toEqual([{ number: 14, lengthMm: 40, corners: 4, tightPlaces: 0, jerks: 0 }]);
});

it('puts the paper into the document of a check, once for one sheet, and of every sheet where there are several', () => {
  const one = checkDocument(result([sheet()]), 'leaves.svg');
  expect(JSON.parse(JSON.stringify(one))).toEqual(one);
  expect(one.paper?.necks).toHaveLength(2);
  expect(one).not.toHaveProperty('papers');
  expect(checkDocument(result([]), 'leaves.svg').paper).toBeNull();
  const two = checkDocument(result([sheet({ part: 'A' }), sheet({ part: 'B' })]), 'leaves.svg');
  expect(two.papers?.map(({ ink, part }) => [ink, part])).toEqual([
    ['#000000', 'A'],
    ['#000000', 'B'],
  ]);
  expect(two.papers?.[0].paper).toEqual(two.paper);
});

it('tells of the paper in two lines, the work as an estimate', () => {
  expect(paperLines([sheet()])).toEqual([
    'paper: 2 islands would fall out: 1 with the first cut, 1 with the second cut; 2 places of paper narrower than 1 mm, 1 of them weak, 1 place of openings narrower than 0.8 mm, 1 opening longer than 120 mm without a tie, 1 long tongue against the stroke; 31 % cut away, 44 % in the weakest band of 50 mm',
    'cutting: 12.35 m of outline, 321 corners, 3 curves tighter than the 1.5 mm that a blade turns, 1 place where the outline jerks; about 1 h 39 min and 9 blades (estimates at a usual pace of 150 mm a minute: nobody was timed)',
  ]);
  expect(checkReport(result([sheet()]))).toContain('\npaper: 2 islands');
});

it('says what is well, of each stencil by its name', () => {
  const sound: PaperReport = {
    ...paper,
    islands: [],
    necks: [],
    slits: [],
    tongues: [],
    longOpenings: [],
    work: { ...paper.work, corners: 1, tightPlaces: 0, jerks: 0, minutes: 0.2, blades: 1 },
  };
  expect(paperLines([sheet({ paper: sound })])).toEqual([
    'paper: no islands; no paper narrower than 1 mm; 31 % cut away, 44 % in the weakest band of 50 mm',
    'cutting: 12.35 m of outline, 1 corner; about 1 minute and 1 blade (estimates at a usual pace of 150 mm a minute: nobody was timed)',
  ]);
  expect(paperLines([sheet({ paper: { ...sound, groundCut: true } })])[0]).toContain(
    'paper: the ground itself is cut;',
  );
  const parts = [sheet({ part: 'A' }), sheet({ part: null, index: 2 })];
  expect(paperLines(parts).map((line) => line.split(':')[0])).toEqual([
    'paper of stencil 1 A',
    'cutting of stencil 1 A',
    'paper of stencil 2',
    'cutting of stencil 2',
  ]);
});
