import { describe, expect, it } from 'vitest';
import { dotFindings } from '../findings/dots.js';
import { droppedFindings } from '../findings/dropped.js';
import { graverPaper, paperFindings } from '../findings/paper.js';
import { boxContour, circleContour, reverseContour } from '../geometry/contour.js';
import type { Box, Contour } from '../geometry/types.js';
import type { Dot } from '../register/dots.js';
import { makeLattice } from '../repeat/lattice.js';
import type { LooseIsland, NarrowPlace, OpeningWork, PaperReport } from '../strength/types.js';
import { madeOpening, madeSheet } from './made-sheet.test-help.js';
import { besideWeakPlaces, numberedReport } from './sheet-paper.js';
import type { DroppedPlace, JudgedSheet, SheetOpening } from './types.js';

const FIELD: Box = { x0: 30, y0: 20, x1: 330, y1: 220 };

/** A sheet on which there is nothing but what a test gives. */
const sheetWith = (some: Partial<JudgedSheet>): JudgedSheet =>
  madeSheet({
    field: FIELD,
    widthMm: FIELD.x1 + 25,
    heightMm: FIELD.y1 + 25,
    practice: { hand: 'right', transfer: 'carbon', grain: null, gauze: false, soak: true },
    ...some,
  });

describe('dots beside openings', () => {
  const dot = (name: string, x: number, y: number, diameterMm = 1): Dot => ({
    name,
    at: { x, y },
    diameterMm,
    lead: true,
  });
  const opening = (number: number, first: readonly Contour[], second: readonly Contour[] = []): SheetOpening => {
    return madeOpening(number, { firstCut: first, secondCut: second });
  };
  const square = opening(7, [boxContour({ x0: 100, y0: 60, x1: 140, y1: 80 })]);
  const find = (dots: Dot[], openings = [square]) => dotFindings(sheetWith({ dots, openings }));

  it('are told of within 2 mm of paper from their rim, on every side', () => {
    for (const [x, y] of [
      [100 - 2.4, 70],
      [140 + 2.4, 70],
      [120, 60 - 2.4],
      [120, 80 + 2.4],
    ]) {
      const [found, ...others] = find([dot('C', x, y)]);
      expect(others).toEqual([]);
      expect(found).toMatchObject({
        code: 'dot-near-opening',
        topic: 'margin',
        severity: 'look',
        atMm: { x: x - 30, y: y - 20 },
      });
      expect(found.measure).toEqual({ dot: 'C', opening: 7, roomMm: 1.9 });
      expect(found.message).toContain('Dot C is 1.9 mm from opening 7');
    }
    for (const [x, y] of [
      [100 - 2.51, 70],
      [140 + 2.51, 70],
      [120, 60 - 2.51],
      [120, 80 + 2.51],
      [98.2, 58.2],
    ])
      expect(find([dot('C', x, y)])).toEqual([]);
    // A larger dot reaches farther; at a corner the way is aslant.
    expect(find([dot('C', 100 - 2.9, 70, 2)])).toHaveLength(1);
    expect(find([dot('C', 98.4, 58.4)])).toHaveLength(1);
  });

  it('lie in an opening with their middle, not within paper that stands in it', () => {
    const [found] = find([dot('B', 101, 61)]);
    expect(found).toMatchObject({ code: 'dot-in-opening', atMm: { x: 71, y: 41 } });
    expect(found.measure?.roomMm).toBeLessThan(0);
    expect(found.message).toContain('lies in opening 7');
    const ring = opening(8, [
      circleContour({ x: 200, y: 100 }, 20),
      reverseContour(circleContour({ x: 200, y: 100 }, 10)),
    ]);
    expect(find([dot('B', 200, 100)], [ring])).toEqual([]);
    expect(find([dot('B', 215, 100)], [ring])[0].code).toBe('dot-in-opening');
    expect(find([dot('B', 208.5, 100)], [ring])[0].measure?.roomMm).toBeCloseTo(1, 2);
  });

  it('are held against both cuts, and against the opening that is nearest', () => {
    const later = opening(9, [], [boxContour({ x0: 144, y0: 60, x1: 170, y1: 80 })]);
    expect(find([dot('D', 142.2, 70)], [square, later])[0].measure).toEqual({ dot: 'D', opening: 9, roomMm: 1.3 });
    expect(find([dot('D', 141.8, 70)], [square, later])[0].measure).toEqual({ dot: 'D', opening: 7, roomMm: 1.3 });
    expect(
      find([dot('A', 10, 10), dot('D', 142.2, 70), dot('E', 120, 70)], [later, square]).map((f) => f.measure?.dot),
    ).toEqual(['D', 'E']);
  });
});

describe('what is drawn and not cut', () => {
  const lattice = makeLattice({ kind: 'drop', step: { p: 1, q: 4 } }, 100, 80);
  const place = (some: Partial<DroppedPlace>): DroppedPlace => ({
    why: 'too-narrow',
    contours: [],
    box: { x0: 60, y0: 40, x1: 64, y1: 46 },
    areaMm2: 1,
    widthMm: 0.1,
    lostMm2: 0,
    ...some,
  });
  const find = (...dropped: DroppedPlace[]) => droppedFindings([sheetWith({ dropped })], lattice);

  it('is nothing to tell of where all of it lies past the edges', () => {
    expect(droppedFindings([], lattice)).toEqual([]);
    expect(find()).toEqual([]);
    expect(find(place({ why: 'beyond-edge', lostMm2: 5 }))).toEqual([]);
  });

  it('is told of once, with all that is lost, at the place that loses most, on the unit', () => {
    const [found, ...others] = find(
      place({ lostMm2: 0.3, widthMm: 0.2 }),
      place({ lostMm2: 0.6, widthMm: 0.25, box: { x0: 160, y0: 120, x1: 180, y1: 122 } }),
      place({ why: 'beyond-edge', lostMm2: 9 }),
    );
    expect(others).toEqual([]);
    // In the field at (140, 101): one column right, a quarter of 80 mm lower, and one row down.
    expect(found.atMm).toEqual({ x: 40, y: 1 });
    expect(found.measure).toEqual({ lostMm2: 0.3 + 0.6, places: 2, widthMm: 0.25 });
    expect(found).toMatchObject({ code: 'too-slight-to-cut', topic: 'paper', severity: 'note' });
    expect(found.message).toMatch(/^2 places are narrower than 0\.3 mm.* 0\.9 mm² of the drawing will not print\.$/);
  });

  it('is to be looked at from a square millimetre in one place', () => {
    expect(find(place({ lostMm2: 0.99 }))[0].severity).toBe('note');
    const [found] = find(place({ lostMm2: 1 }));
    expect(found.severity).toBe('look');
    expect(found.message).toMatch(/^One place is .* drawn wider\.$/);
    expect(find(place({ lostMm2: 0.6 }), place({ lostMm2: 0.6 }))[0].severity).toBe('note');
    expect(find(place({ lostMm2: 0.004 }))[0].message).toContain('less than 0.01 mm²');
    expect(find(place({ lostMm2: 0.012 }))[0].message).toContain(' 0.01 mm²');
  });

  it('loses nothing where the other side of the seam is cut for it', () => {
    const one = find(place({}))[0].message;
    expect(one).toMatch(/^One end runs over the seam .* nothing is lost\.$/);
    expect(find(place({}), place({ lostMm2: 5e-5 }))[0].message).toMatch(/^2 ends run over the seam/);
    const both = find(place({}), place({ lostMm2: 2 }))[0].message;
    expect(both).toMatch(/^One place is .* drawn wider\. One end runs /);
  });
});

describe('what there is to say of a sheet’s paper', () => {
  const island = (some: Partial<LooseIsland>): LooseIsland => ({
    ...{
      id: '1',
      opening: 4,
      outline: circleContour({ x: 0, y: 0 }, 3),
      box: FIELD,
      areaMm2: 28,
      within: null,
      depth: 0,
    },
    ...{ at: { x: 90, y: 50 }, span: null, dropsAt: 'first' },
    ...some,
  });
  const work = (opening: number, some: Partial<OpeningWork> = {}): OpeningWork => ({
    ...{ opening, lengthMm: 9, corners: 0, tightMm: 0, tightPlaces: 0, jerks: 0, minutes: 1, blades: 0 },
    ...{ jerkAt: null, tightAt: null },
    ...some,
  });
  const neck = (some: Partial<NarrowPlace>): NarrowPlace => ({
    ...{ widthMm: 0.6, from: { x: 70, y: 60 }, to: { x: 70.6, y: 60 }, atMm: { x: 70.3, y: 60 }, lengthMm: 1 },
    ...{ openings: [3, 4] as const, weak: false, hangsMm2: 0 },
    ...some,
  });
  const report = (some: Partial<PaperReport>): PaperReport => ({
    rules: { neckMm: 1, slitMm: 0.8, spanMm: 50, tongueRatio: 6, stroke: 'down', turnMm: 1.5 },
    ...{ groundCut: false, islands: [], necks: [], slits: [], tongues: [], longOpenings: [], workOf: [] },
    pace: { mmPerMinute: 150, secondsPerCorner: 3, bladeMm: 1500 },
    cutAway: { share: 0.3, weakestBand: FIELD, bandShare: 0.4 },
    work: work(0),
    ...some,
  });
  const say = (some: Partial<PaperReport>, sheet: Partial<JudgedSheet> = {}) =>
    paperFindings(sheetWith({ ...sheet, paper: report(some) }));
  const gauze = { practice: { ...sheetWith({}).practice, gauze: true } };

  it('is nothing where nothing is wrong', () => {
    expect(say({})).toEqual([]);
  });

  it('has its place on the field, and names its sheet where there are several', () => {
    const [found] = say({ islands: [island({})] });
    expect(found).toMatchObject({ code: 'island-first', atMm: { x: 60, y: 30 } });
    expect(found.measure).toMatchObject({ island: '1', opening: '4' });
    expect(found.measure).not.toHaveProperty('sheet');
    const [named] = say({ islands: [island({})] }, { count: 3, index: 2 });
    expect(named.measure).toMatchObject({ island: '1', sheet: 2 });
    expect(say({ necks: [neck({})] })[0]).toMatchObject({ code: 'neck', atMm: { x: 40.3, y: 40 } });
  });

  it('passes over bends that a punch goes round', () => {
    const workOf = [
      work(4, { tightPlaces: 1, tightMm: 3, tightAt: { x: 50, y: 50 } }),
      work(5, { tightPlaces: 2, tightMm: 3 }),
    ];
    const firstCut = [circleContour({ x: 50, y: 50 }, 2)];
    const openings = [madeOpening(4, { firstCut }, { tool: 'punch' }), madeOpening(5, { firstCut })];
    expect(say({ workOf }, { openings }).map((f) => f.measure?.opening)).toEqual(['5']);
    expect(say({ workOf }).map((f) => f.measure?.opening)).toEqual(['4', '5']);
  });

  it('says of a cut ground one thing in place of one for each island', () => {
    const islands = [island({}), island({ id: '2', dropsAt: 'second' }), island({ id: '3', dropsAt: 'release' })];
    const ground = { groundCut: true, islands, cutAway: { share: 0.61234, weakestBand: FIELD, bandShare: 0.6 } };
    const [found, ...others] = say(ground);
    expect(others).toEqual([]);
    expect(found).toMatchObject({ code: 'ground-cut', topic: 'paper', severity: 'fix', atMm: null });
    expect(found.measure?.share).toBeCloseTo(0.612, 9);
    expect(found.measure?.islands).toBe(3);
    expect(found.message).toContain('61.2 % of the field');
    expect(found.message).toContain('3 pieces of paper would fall out.');
    expect(found.message).toContain('gauze, two sheets, or turn');
    // The gauze holds what ties held until then.
    expect(say(ground, gauze)[0]).toMatchObject({ severity: 'fix' });
    expect(say(ground, gauze)[0].message).toContain('2 pieces of paper would fall out.');
    expect(say(ground, gauze)[0].message).toContain('release ties that hold it until the gauze is on');
    const held = say({ ...ground, islands: islands.slice(2) }, gauze)[0];
    expect(held).toMatchObject({ severity: 'note' });
    expect(held.message).toContain('no piece of paper would fall out before that');
    expect(say({ ...ground, islands: islands.slice(2) })[0].severity).toBe('fix');
    expect(say({ ...ground, islands: islands.slice(2) })[0].message).toContain('1 piece of paper would fall out');
    expect(say(ground, { part: 'A' })[0].message).not.toContain('two sheets');
  });

  it('is graver the more hangs or falls out, then the narrower, then the longer it is', () => {
    const finding = (measure: Record<string, number | string>) =>
      ({ code: 'neck', topic: 'paper', severity: 'fix', message: '', atMm: null, measure }) as const;
    const order = [
      finding({ hangsMm2: 9, widthMm: 5 }),
      finding({ hangsMm2: 4, areaMm2: 1 }),
      finding({ areaMm2: 80, widthMm: 3 }),
      finding({ areaMm2: 7, widthMm: 1 }),
      finding({ widthMm: 0.2, lengthMm: 1 }),
      finding({ widthMm: 0.4, lengthMm: 8 }),
      finding({ widthMm: 0.4, lengthMm: 3 }),
      finding({ widthMm: 0.4, openings: '3, 4' }),
    ];
    expect([...order].reverse().sort(graverPaper)).toEqual(order);
    expect(graverPaper(finding({ areaMm2: 3 }), finding({ areaMm2: 3 }))).toBe(0);
    expect(graverPaper({ ...finding({}), measure: undefined } as never, finding({ areaMm2: 3 }))).toBeGreaterThan(0);
  });

  it('openings beside weak places that tear are cut last', () => {
    const grave = { weak: true, lengthMm: 9 };
    expect([
      ...besideWeakPlaces([neck({}), neck({ ...grave, openings: [1, 6] }), neck({ weak: true, openings: [8, 9] })]),
    ]).toEqual([1, 6]);
    expect([
      ...besideWeakPlaces([neck({ ...grave, weak: false }), neck({ weak: true, hangsMm2: 151, openings: [2, 2] })]),
    ]).toEqual([2]);
  });

  it('is named by the numbers of the openings, work in their order; the edge of the sheet has none', () => {
    const named = numberedReport(
      report({
        islands: [island({ opening: 1 })],
        necks: [neck({ openings: [0, -1] })],
        slits: [neck({ openings: [2, 2] })],
        tongues: [{ rootMm: 1, lengthMm: 8, root: { x: 0, y: 0 }, tip: { x: 0, y: 8 }, opening: -1 }],
        longOpenings: [{ opening: 2, lengthMm: 70, at: { x: 0, y: 0 } }],
        workOf: [work(0), work(1), work(2)],
      }),
      [30, 10, 20],
    );
    expect(named.islands[0].opening).toBe(10);
    expect(named.necks[0].openings).toEqual([30, -1]);
    expect(named.slits[0].openings).toEqual([20, 20]);
    expect(named.tongues[0].opening).toBe(-1);
    expect(named.longOpenings[0].opening).toBe(20);
    expect(named.workOf.map(({ opening }) => opening)).toEqual([10, 20, 30]);
  });
});
