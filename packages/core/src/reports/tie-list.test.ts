import { expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import type { Box } from '../geometry/types.js';
import { jobForMotif } from '../job-file/read.js';
import { madeOpening, madeSheet } from '../stencil/made-sheet.test-help.js';
import type { Sheet, SheetOpening } from '../stencil/types.js';
import type { SuggestedTies } from '../ties/suggested.js';
import { listTies } from './tie-list.js';
import { tiesDocument } from './ties-document.js';
import { tiesReport } from './ties-report.js';

const INK = '#000000';

function opening(number: number, box: Box, cut: 'firstCut' | 'secondCut' = 'firstCut'): SheetOpening {
  return madeOpening(number, { [cut]: [boxContour(box)] });
}

/** The field begins at 40, 30. */
const sheet = (openings: readonly SheetOpening[]): Sheet =>
  madeSheet({
    ink: INK,
    widthMm: 300,
    heightMm: 200,
    field: { x0: 40, y0: 30, x1: 240, y1: 130 },
    openings,
  });

const { job } = jobForMotif({ file: 'rings.svg' });
const suggestions: SuggestedTies = {
  ink: INK,
  accepted: [{ id: 'T2', kind: 'printed', from: { x: 100, y: 0 }, to: { x: 100, y: 4 } }],
  suggested: [
    {
      id: 'T3',
      kind: 'release',
      from: { x: 10, y: 12 },
      to: { x: 12.5, y: 12 },
      island: '1',
      lengthMm: 2.5,
      hidden: true,
    },
    {
      id: 'T4',
      kind: 'printed',
      from: { x: 150, y: 50 },
      to: { x: 150, y: 54 },
      island: null,
      lengthMm: 4,
      hidden: false,
    },
  ],
  impossible: [{ island: '2', areaMm2: 7.12346, atMm: { x: 70, y: 80 }, reason: 'it is narrower than a tie of 2 mm' }],
};
const openings = [
  opening(14, { x0: 50, y0: 40, x1: 60, y1: 60 }),
  opening(15, { x0: 40, y0: 30, x1: 45, y1: 35 }),
  opening(21, { x0: 180, y0: 80, x1: 200, y1: 90 }, 'secondCut'),
];

it('lists ties with the opening under each, first those of the job', () => {
  const { ties } = listTies({ job, inks: [INK], sheets: [sheet(openings)] }, [suggestions]);
  expect(ties.map(({ id, accepted, opening: number, island }) => [id, accepted, number, island])).toEqual([
    ['T2', true, null, null],
    ['T3', false, 14, '1'],
    ['T4', false, 21, null],
  ]);
  expect(ties[0]).toMatchObject({ lengthMm: 4, widthMm: 2, atMm: { x: 100, y: 2 }, hidden: null, stencil: 1 });
  expect(listTies({ job, inks: [INK], sheets: [] }, [suggestions]).ties).toHaveLength(3);
});

it('makes a document that is plain JSON with every key', () => {
  const list = listTies({ job, inks: [INK], sheets: [sheet(openings)] }, [suggestions]);
  const document = tiesDocument(list);
  expect(JSON.parse(JSON.stringify(document))).toEqual(document);
  expect(document.ties[1]).toEqual({
    id: 'T3',
    kind: 'release',
    ink: INK,
    stencil: 1,
    island: '1',
    opening: 14,
    lengthMm: 2.5,
    widthMm: 2,
    atMm: { x: 11.25, y: 12 },
    hidden: true,
    accepted: false,
  });
  expect(document.impossible).toEqual([
    {
      island: '2',
      ink: INK,
      stencil: 1,
      areaMm2: 7.1235,
      atMm: { x: 70, y: 80 },
      reason: 'it is narrower than a tie of 2 mm',
    },
  ]);
  expect(tiesDocument({ ties: [], impossible: [] })).toEqual({ ties: [], impossible: [] });
});

it('writes a list that a person reads at a table', () => {
  const list = listTies({ job, inks: [INK], sheets: [sheet(openings)] }, [suggestions]);
  expect(tiesReport(list, job).split('\n')).toEqual([
    'ties 2 mm wide; lengths and places in mm, the middle of each from the left and the top of the field',
    '',
    'in the job: 1',
    '  id  kind     for  opening  length  from left  from top',
    '  T2  printed  -          -    4.00      100.0       2.0',
    '',
    'suggested: 2',
    '  id  kind     for           opening  length  from left  from top',
    '  T3  release  island 1           14    2.50       11.3      12.0  hidden where the drawing breaks',
    '  T4  printed  long opening       21    4.00      150.0      52.0',
    '',
    'no tie can hold: 1',
    '  island 2, 7.12 mm² at 70, 80 mm: it is narrower than a tie of 2 mm',
    '',
  ]);
});

it('says where nothing is to be held, where units repeat, and which stencil', () => {
  expect(tiesReport({ ties: [], impossible: [] }, job)).toBe('No tie is in the job, and none is needed.\n');
  const list = listTies({ job, inks: [INK], sheets: [] }, [suggestions]);
  expect(tiesReport(list, { ...job, across: 2, down: 3 })).toContain('each stands in all 6 units of the sheet');
  const two = listTies({ job, inks: ['#0072b2', INK], sheets: [] }, [
    { ink: '#0072b2', accepted: [], suggested: [], impossible: suggestions.impossible },
    suggestions,
  ]);
  expect(tiesReport(two, job)).toContain('  stencil 2: T3  release');
  expect(tiesReport(two, job)).toContain('  stencil 1: island 2,');
  expect(tiesReport({ ties: [], impossible: two.impossible.slice(0, 1) }, job)).toMatch(/^no tie can hold: 1\n/);
});
