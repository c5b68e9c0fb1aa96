import { circleContour, type Finding, type JudgedSheet, type PaperReport } from '@okuri/core';
import { expect, it } from 'vitest';
import { stencilOfFinding, viewOfFinding } from '../state/go-to-finding';
import { cutSheet } from './cut-sheet.test-help';
import { findingOf, namesOfFindings, placeOfFinding, sheetPlaces } from './sheet-places';

const narrow = (x: number, widthMm: number, weak: boolean) => ({
  widthMm,
  from: { x, y: 50 },
  to: { x: x + widthMm, y: 50 },
  atMm: { x: x + widthMm / 2, y: 50 },
  lengthMm: widthMm,
  openings: [1, 2] as const,
  weak,
  hangsMm2: weak ? 400 : 0,
});

const ONE = cutSheet({ field: { x0: 40, y0: 30, x1: 140, y1: 90 }, zones: [], openings: [] });

const paper: PaperReport = {
  rules: { neckMm: 1, slitMm: 0.5, spanMm: 50, tongueRatio: 3, stroke: 'down', turnMm: 0.5 },
  groundCut: false,
  islands: [
    {
      id: '7',
      opening: 3,
      outline: circleContour({ x: 60, y: 70 }, 4),
      box: { x0: 56, y0: 66, x1: 64, y1: 74 },
      areaMm2: 50,
      at: { x: 60, y: 70 },
      within: null,
      depth: 0,
      span: null,
      dropsAt: 'first',
    },
  ],
  necks: [narrow(80, 0.9, false), narrow(90, 0.5, true)],
  slits: [narrow(100, 0.3, false)],
  tongues: [
    // Against a downward stroke, and with it.
    { rootMm: 2, lengthMm: 20, root: { x: 110, y: 60 }, tip: { x: 110, y: 40 }, opening: 4 },
    { rootMm: 2, lengthMm: 20, root: { x: 120, y: 40 }, tip: { x: 120, y: 60 }, opening: 4 },
  ],
  longOpenings: [],
  cutAway: { share: 0.1, weakestBand: { x0: 40, y0: 30, x1: 50, y1: 90 }, bandShare: 0.2 },
  work: { lengthMm: 0, corners: 0, tightMm: 0, tightPlaces: 0, jerks: 0, minutes: 0, blades: 0 },
  pace: { mmPerMinute: 150, secondsPerCorner: 3, bladeMm: 1500 },
  workOf: [],
};

function sheetOf(index: number, count: number): JudgedSheet {
  return { ...ONE, index, count, paper };
}

it('names places as the cut guide does, on the field, the worst first', () => {
  const places = sheetPlaces(sheetOf(1, 1), []);
  // W8 hangs 400 mm² on one neck; W10 is merely narrow. A tongue along the stroke is no place.
  expect(places.map(({ name, severity }) => [name, severity])).toEqual([
    ['W7', 'fix'],
    ['W8', 'fix'],
    ['W9', 'look'],
    ['W10', 'note'],
    ['W11', 'note'],
  ]);
  expect(places[0].at).toEqual({ x: 20, y: 40 });
  expect(places[1].across).toEqual([
    { x: 50, y: 20 },
    { x: 50.5, y: 20 },
  ]);
});

it('goes from a place to its line in the list and back, of several sheets each to its own', () => {
  const places = sheetPlaces(sheetOf(1, 2), []);
  const line = (sheet: number, at: { x: number; y: number }, code = 'neck'): Finding => ({
    code,
    topic: 'paper',
    severity: 'fix',
    message: '',
    atMm: at,
    measure: { sheet },
  });
  const findings = [line(2, places[1].at), line(1, places[1].at), line(1, { x: 1, y: 1 })];
  expect(findingOf(places[1], sheetOf(1, 2), findings)).toBe(1);
  expect(findingOf(places[1], sheetOf(2, 2), findings)).toBe(0);
  // Folded into another line.
  expect(findingOf(places[0], sheetOf(1, 2), findings)).toBeNull();
  expect(placeOfFinding(findings[1], sheetOf(1, 2), places)?.name).toBe('W8');
  expect(placeOfFinding(findings[0], sheetOf(1, 2), places)).toBeNull();
  expect([...namesOfFindings(sheetOf(1, 2), findings)]).toEqual([[1, 'W8']]);
  expect(stencilOfFinding(findings[0], [sheetOf(1, 2), sheetOf(2, 2)], 0)).toBe(1);
  expect(stencilOfFinding({ ...findings[0], measure: null }, [sheetOf(1, 2), sheetOf(2, 2)], 5)).toBe(1);
});

it('marks dots and ties that lie astray by their own names', () => {
  const more: Finding[] = [
    {
      code: 'dot-in-opening',
      topic: 'margin',
      severity: 'look',
      message: '',
      atMm: { x: 0, y: 0 },
      measure: { dot: 'C' },
    },
    { code: 'tie-astray', topic: 'paper', severity: 'fix', message: '', atMm: { x: 5, y: 5 }, measure: { tie: 'T4' } },
    { code: 'join-off', topic: 'joins', severity: 'fix', message: '', atMm: { x: 9, y: 9 }, measure: null },
  ];
  const names = sheetPlaces(ONE, more).map(({ name }) => name);
  expect(names).toEqual(['T4', 'C']);
});

it('shows joins and spill on the cloth, paper and dots on the sheet', () => {
  const topics = ['joins', 'repeat', 'paper', 'margin', 'proof', 'cloth'] as const;
  const views = topics.map((topic) => viewOfFinding({ topic }));
  expect(views).toEqual(['cloth', 'cloth', 'sheet', 'sheet', 'sheet', 'cloth']);
});
