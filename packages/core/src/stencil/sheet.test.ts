import { expect, it } from 'vitest';
import { boxContour, circleContour, contourArea } from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Shape } from '../motif/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { layRepeat } from '../repeat/lay-repeat.js';
import { cutSheet, SHEET_OPTIONS, type SheetOptions } from './cut-sheet.test-help.js';

const fill = (...contours: Shape['contours']): Shape => ({
  id: 'shape',
  ink: '#000000',
  contours,
  rule: 'evenodd',
  clips: [],
});
function cut(shapes: readonly Shape[], options: Partial<SheetOptions> = {}) {
  const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 320, 260);
  const { cell } = layRepeat(shapes, lattice, {
    spill: 'carry',
    drawn: 'cut',
    method: 'resist',
    paperColour: '#ffffff',
    cut: null,
    reachMm: 3,
  });
  return cutSheet(cell, options);
}
/** Spots of three sizes all over, some of them over the seams and the hold lines. */
const SPOTS = Array.from({ length: 17 }, (_, i) => Array.from({ length: 14 }, (_, k) => [i, k] as const)).flatMap(
  (row) => row.map(([i, k]) => fill(circleContour({ x: 4 + 19 * i, y: 6 + 18.5 * k }, [1, 2.4, 6][(i + k) % 3]))),
);

it('puts every first cut into one zone and every second cut into one list, in cutting order', () => {
  const { sheet } = cut(SPOTS);
  const numbers = (key: 'firstCut' | 'secondCut') =>
    sheet.openings.filter((o) => o[key].length > 0).map(({ number }) => number);
  const listed = (key: 'firstCut' | 'secondCut') => sheet.zones.flatMap((zone) => zone[key]);
  expect(listed('firstCut')).toEqual(numbers('firstCut'));
  expect(listed('secondCut').toSorted((a, b) => a - b)).toEqual(numbers('secondCut'));
  expect(sheet.openings.map(({ number }) => number)).toEqual(sheet.openings.map((_, k) => k + 1));
  for (const zone of sheet.zones) {
    expect(zone.firstCut.length).toBeLessThanOrEqual(40);
    for (const n of [...zone.firstCut, ...zone.secondCut]) expect(sheet.openings[n - 1].zone).toBe(zone.letter);
  }
});

it('names the tools, and measures what is cut', () => {
  const { sheet } = cut(SPOTS);
  const whole = sheet.openings.filter((o) => o.firstCut.length === 1 && o.secondCut.length === 0);
  for (const o of whole) {
    const diameter = 2 * Math.sqrt(o.areaMm2 / Math.PI);
    if (diameter > 6) expect(o).toMatchObject({ tool: 'knife', punchMm: null });
    else if (o.box.x0 > sheet.field.x0 && o.box.y0 > sheet.field.y0) {
      expect(o).toMatchObject({ tool: 'punch', punchMm: diameter < 3 ? 2 : 5 });
    }
    if (o.box.x0 > sheet.field.x0 && o.box.y0 > sheet.field.y0)
      expect(o.cutLengthMm).toBeCloseTo(Math.PI * diameter, 2);
  }
  // A plain bar over the bottom hold line: stops there, and both cuts together go once around it.
  const bar = cut([fill(boxContour({ x0: 100, y0: 100, x1: 110, y1: 250 }))]).sheet;
  expect(bar.stops).toHaveLength(1);
  expect(bar.openings[0]).toMatchObject({ tool: 'ruler', punchMm: null });
  expect(bar.openings[0].cutLengthMm).toBeCloseTo(320, 3);
});

it('puts the label inside the waste', () => {
  const ring = fill(circleContour({ x: 150, y: 150 }, 40), circleContour({ x: 150, y: 150 }, 30));
  for (const o of cut([...SPOTS.filter((_, k) => k % 5 === 0), ring]).sheet.openings) {
    expect(insideContours(o.firstCut.length > 0 ? o.firstCut : o.secondCut, o.labelAt)).toBe(true);
  }
});

it('cuts what lies within a hole before the rest of its kind', () => {
  const ring = fill(circleContour({ x: 60, y: 60 }, 30), circleContour({ x: 60, y: 60 }, 24));
  const inner = fill(circleContour({ x: 60, y: 75 }, 4));
  const small = fill(circleContour({ x: 20, y: 10 }, 4));
  const { sheet } = cut([ring, inner, small]);
  const at = (x: number, y: number) =>
    sheet.openings.find((o) => Math.hypot(o.labelAt.x - 40 - x, o.labelAt.y - 40 - y) < 2);
  expect(at(60, 75)?.number).toBe(1);
  expect(at(20, 10)?.number).toBe(2);
  expect(sheet.openings[2].areaMm2).toBeCloseTo(Math.PI * (900 - 576), 1);
});

it('keeps numbers over a change of the hand, the border and the hold, and marks what is done', () => {
  const first = cut(SPOTS);
  const again = cut(SPOTS, {
    numbers: [first.kept],
    done: [3, 5, 9999],
    borderMm: 20,
    hold: { mode: 'crossing', widthMm: 30 },
    practice: { ...SHEET_OPTIONS.practice, hand: 'left' },
  });
  expect(again.sheet.openings).toHaveLength(first.sheet.openings.length);
  again.sheet.openings.forEach((o, k) => {
    const was = first.sheet.openings[k];
    expect(o.number).toBe(was.number);
    expect(Math.hypot(o.box.x0 - was.box.x0 + 20, o.box.y1 - was.box.y1 + 20)).toBeLessThan(0.01);
    expect(o.done).toBe([3, 5].includes(o.number));
  });
  expect(again.kept).toEqual(first.kept);
  // The order of work is that of the left hand all the same.
  expect(again.sheet.zones[0].box.x0).toBeGreaterThan(150);
});

it('keeps all area whatever stops move', () => {
  const { sheet } = cut(SPOTS);
  const total = sheet.openings.reduce(
    (sum, o) => sum + [...o.firstCut, ...o.secondCut].reduce((s, c) => s + contourArea(c), 0),
    0,
  );
  const plain = cut(SPOTS, { hold: { mode: 'band', widthMm: 1 }, sideJoinMeetsNothing: true }).sheet.openings;
  expect(total).toBeCloseTo(
    plain.reduce((sum, o) => sum + o.areaMm2, 0),
    1,
  );
});
