import fc from 'fast-check';
import { expect, it } from 'vitest';
import { secondCutFindings } from '../findings/second-cut.js';
import { boxContour, circleContour, contourArea, polyline, transformContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { layRepeat } from '../repeat/lay-repeat.js';
import type { Repeat } from '../repeat/types.js';
import { cutSheet } from '../stencil/cut-sheet.test-help.js';
import type { Sheet } from '../stencil/types.js';
import { applyProof as apply } from './second-cut.js';
import { sheetEnds } from './sheet-ends.js';
import type { ProofOffset } from './types.js';

/** With what is told as findings. */
function applyProof(...args: Parameters<typeof apply>) {
  const { sheet, told } = apply(...args);
  return { sheet, findings: secondCutFindings(told, args[0]) };
}

const [WIDTH, HEIGHT] = [200, 160];
const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const fill = (...contours: Contour[]): Shape => ({
  id: 'shape',
  ink: '#000000',
  contours,
  rule: 'evenodd',
  clips: [],
});
const bar = (points: readonly (readonly [number, number])[]): Contour =>
  polyline(
    points.map(([x, y]) => ({ x, y })),
    { closed: true },
  );

function sheetOf(shapes: readonly Shape[], repeat = STRAIGHT, units = { across: 1, down: 1 }) {
  const lattice = makeLattice(repeat, WIDTH, HEIGHT);
  const { cell } = layRepeat(shapes, lattice, {
    spill: 'carry',
    drawn: 'cut',
    method: 'resist',
    paperColour: '#ffffff',
    cut: null,
    reachMm: 3,
  });
  const { sheet } = cutSheet(cell, units);
  return { sheet, ends: sheetEnds(sheet, lattice) };
}

const offset = (name: string, offsetMm: number, turnDeg = 0): ProofOffset => ({ name, offsetMm, turnDeg, place: null });
const onField = (sheet: Sheet, { x, y }: Point) => [x - sheet.field.x0, y - sheet.field.y0];
const nodes = ({ coords }: Contour): [number, number][] =>
  Array.from({ length: (coords.length - 2) / 6 }, (_, k) => [coords[6 * k], coords[6 * k + 1]]);
const codes = (found: { findings: readonly { code: string }[] }) => found.findings.map(({ code }) => code);

/** A level bar over the right seam, one over the bottom seam, and a disc over both. */
const BARS = [
  fill(boxContour({ x0: 150, y0: 30, x1: 230, y1: 38 })),
  fill(boxContour({ x0: 60, y0: 120, x1: 70, y1: 190 })),
  fill(circleContour({ x: 200, y: 160 }, 12)),
];

it('names ends down the right side, then along the bottom, with the lead places under the lattice', () => {
  const { sheet, ends } = sheetOf(BARS);
  expect(
    ends.joins.map(({ name, seam, at, lead, edge, leadCut }) => [
      name,
      seam,
      ...onField(sheet, at).map((v) => Math.round(v * 100) / 100),
      ...onField(sheet, lead).map((v) => Math.round(v * 100) / 100),
      edge,
      leadCut ?? 'first',
    ]),
  ).toEqual([
    ['J1', 'right', 200, 12, 0, 12, 'ends', 'first'],
    ['J2', 'right', 200, 30, 0, 30, 'begins', 'first'],
    ['J3', 'right', 200, 38, 0, 38, 'ends', 'first'],
    ['J4', 'right', 200, 148, 0, 148, 'begins', 'second'],
    ['J5', 'bottom', 12, 160, 12, 0, 'ends', 'first'],
    ['J6', 'bottom', 60, 160, 60, 0, 'begins', 'first'],
    ['J7', 'bottom', 70, 160, 70, 0, 'ends', 'first'],
    ['J8', 'bottom', 188, 160, 188, 0, 'begins', 'second'],
  ]);
  expect(ends.firstCutEnds.map(({ name, at, along }) => [name, ...onField(sheet, at), along.x, along.y])).toEqual([
    ['J9', 175, 30, 0, 1],
    ['J10', 175, 38, 0, 1],
    ['J11', 60, 135, 1, 0],
    ['J12', 70, 135, 1, 0],
  ]);
  for (const { own, partner } of ends.joins) {
    expect(sheet.openings.find(({ number }) => number === own)?.secondCut).not.toEqual([]);
    expect(partner).not.toBeNull();
  }
});

it('finds lead places of drops and bricks, and of several units on a sheet', () => {
  const third: Repeat = { kind: 'drop', step: { p: 1, q: 3 } };
  const shapes = [
    fill(boxContour({ x0: 180, y0: 20, x1: 220, y1: 28 }), boxContour({ x0: 180, y0: 90, x1: 220, y1: 98 })),
  ];
  const leads = (repeat: Repeat, units?: { across: number; down: number }) => {
    const { sheet, ends } = sheetOf(shapes, repeat, units);
    return ends.joins
      .filter(({ edge }) => edge === 'begins')
      .map(({ seam, at, lead, partner }) => [
        seam,
        ...[...onField(sheet, at), ...onField(sheet, lead)].map((v) => Math.round(v * 10) / 10),
        partner !== null,
      ]);
  };
  // A third of 160 mm lower: what is above that line meets the lower part of the left side.
  expect(leads(third)).toEqual([
    ['right', 200, 20, 0, 126.7, true],
    ['right', 200, 90, 0, 36.7, true],
  ]);
  // Two units across and two down: a drop of two thirds of a unit, a third of the sheet.
  expect(leads(third, { across: 2, down: 2 })).toEqual([
    ['right', 400, 73.3, 0, 286.7, true],
    ['right', 400, 143.3, 0, 36.7, true],
    ['right', 400, 233.3, 0, 126.7, true],
    ['right', 400, 303.3, 0, 196.7, true],
  ]);
  expect(leads({ kind: 'brick', step: { p: 1, q: 2 } })).toEqual([
    ['right', 200, 20, 0, 20, true],
    ['right', 200, 90, 0, 90, true],
  ]);
});

it('takes what only touches a seam or runs along it for no join', () => {
  const { ends } = sheetOf([
    fill(circleContour({ x: 190, y: 60 }, 10)),
    fill(boxContour({ x0: 185, y0: 90, x1: 200, y1: 100 })),
    fill(boxContour({ x0: 185, y0: 110, x1: 200.01, y1: 120 })),
  ]);
  expect(ends.joins).toEqual([]);
});

it('moves a level bar to its lead edges, with its transition from the first cut', () => {
  const { sheet, ends } = sheetOf(BARS);
  const found = applyProof(sheet, ends, [offset('J2', 0.5), offset('J3', -0.3), offset('J10', 0.2)]);
  expect(codes(found)).toEqual(['proof-taken-in']);
  const { number } = sheet.openings.find((o) => o.number === ends.joins[1].own) ?? { number: 0 };
  const [contour] = found.sheet.openings.find((o) => o.number === number)?.secondCut ?? [];
  const has = (x: number, y: number) =>
    nodes(contour).some(([a, b]) => Math.abs(a - x - 40) < 1e-9 && Math.abs(b - y - 40) < 1e-9);
  for (const [x, y] of [
    [200, 30.5],
    [200, 37.7],
    [175, 30],
    [175, 38.2],
    [185, 30.5],
    [185, 37.7],
  ]) {
    expect(has(x, y), `${x} ${y}`).toBe(true);
  }
  // Two edges of two curves each, the stop and the seam: nothing more is needed.
  expect(nodes(contour)).toHaveLength(6);
  // The closed form: 25 mm × 8 mm less what both edges come in, half of the change over the transitions.
  const area = 25 * 8 - 0.5 * (15 + 5) - (0.3 * 15 + 0.3 * 5) + 0.2 * 5;
  expect(contourArea(contour)).toBeCloseTo(area, 9);
  // What waits as planned is the very same.
  const others = (s: Sheet) => s.openings.filter((o) => o.number !== number);
  expect(others(found.sheet)).toEqual(others(sheet));
});

it('turns an edge at the seam only, by the angle asked for', () => {
  const { sheet, ends } = sheetOf(BARS);
  const found = applyProof(sheet, ends, [offset('J2', 0, 4), offset('J3', 0.1, -3)]);
  const opening = found.sheet.openings.find((o) => o.number === ends.joins[1].own);
  const q = opening?.secondCut[0].coords ?? new Float64Array();
  const turns: number[] = [];
  for (let o = 0; o + 7 < q.length; o += 6) {
    const seam = (k: number) => Math.abs(q[o + k] - 240) < 1e-9;
    if (seam(0) === seam(6)) continue;
    const [a, b] = seam(0) ? [0, 2] : [6, 4];
    turns.push((Math.atan((q[o + a + 1] - q[o + b + 1]) / (q[o + a] - q[o + b])) * 180) / Math.PI);
  }
  expect(turns.toSorted((a, b) => a - b).map((v) => Number(v.toFixed(9)))).toEqual([-3, 4]);
  const ys = nodes(opening?.secondCut[0] as Contour).filter(([x]) => x < 240 - 8 - 1e-6 && x > 215 + 10 - 1e-6);
  for (const [, y] of ys) expect([70, 78.1].some((v) => Math.abs(v - y) < 1e-9)).toBe(true);
});

it('leaves out what would spoil an outline, says so, and keeps the rest', () => {
  const { sheet, ends } = sheetOf([
    ...BARS,
    fill(boxContour({ x0: 150, y0: 40, x1: 230, y1: 48 })),
    fill(circleContour({ x: 190, y: 34 }, 1)),
  ]);
  const name = (y: number) => ends.joins.find(({ at }) => Math.abs(at.y - 40 - y) < 1e-6)?.name as string;
  const at = (list: readonly ProofOffset[]) => {
    const found = applyProof(sheet, ends, list);
    return { ...found, ys: found.sheet.openings.flatMap((o) => o.secondCut.flatMap(nodes)).map(([, y]) => y - 40) };
  };
  // Into the neighbour's edge, 2 mm below: that of 38 stays, that of 30 moves.
  const crossing = at([offset(name(38), 2.5), offset(name(30), 0.25)]);
  expect(codes(crossing)).toEqual(['proof-crosses', 'proof-taken-in']);
  expect(crossing.findings[0].message).toContain(name(38));
  expect(crossing.ys).toContain(30.25);
  expect(crossing.ys).not.toContain(40.5);
  expect(crossing.ys).toContain(38);
  // Begins below its end: both edges stay.
  const closing = at([offset(name(40), 5), offset(name(48), -4)]);
  expect(codes(closing)).toEqual(['proof-closes', 'proof-closes']);
  expect(closing.sheet.openings).toEqual(sheet.openings);
  expect(closing.sheet.secondCutFrom).toBe('plan');
  // Past the seam's own end.
  const low = ends.joins.filter(({ seam }) => seam === 'right').at(-1) as (typeof ends.joins)[number];
  expect(low.leadCut).toBe('second');
  expect(codes(at([offset(low.name, 1)]))).toEqual(['proof-lead-uncut']);
});

it('knows offsets of another drawing, and names that are not there', () => {
  const { sheet, ends } = sheetOf(BARS);
  const placed = (x: number): ProofOffset => ({ ...offset('J2', 0.3), place: { x, y: 30 } });
  expect(codes(applyProof(sheet, ends, [placed(200.04)]))).toEqual(['proof-taken-in']);
  const changed = applyProof(sheet, ends, [placed(199)]);
  expect(codes(changed)).toEqual(['proof-drawing-changed']);
  expect(changed.findings[0].message).toContain('J2 is planned 1 mm from where it was');
  expect(changed.sheet.openings).toEqual(sheet.openings);
  expect(codes(applyProof(sheet, ends, [{ ...placed(200), name: 'J99' }]))).toEqual(['proof-drawing-changed']);
  expect(() => applyProof(sheet, ends, [offset('J99', 1)])).toThrow(/no.* J99|at J99, but this sheet has J1 to J12/);
});

it('keeps names through a proof', () => {
  const { sheet, ends } = sheetOf(BARS);
  const { sheet: applied } = applyProof(sheet, ends, [offset('J2', 0.5)]);
  expect(applied.ends).toEqual(ends);
});

it('meets every offset exactly, whatever the outlines', () => {
  const leaf = transformContour(circleContour({ x: 0, y: 0 }, 1), [14, 6, -4, 7, 0, 0]);
  const shapes = [
    fill(transformContour(leaf, [1, 0, 0, 1, 198, 50])),
    fill(transformContour(leaf, [-1, 0, 0, 1, 90, 158])),
    fill(
      bar([
        [165, 90],
        [212, 101],
        [205, 120],
        [170, 104],
      ]),
    ),
  ];
  const { sheet, ends } = sheetOf(shapes);
  fc.assert(
    fc.property(
      fc.array(
        fc.record({ mm: fc.double({ min: -0.6, max: 0.6, noNaN: true }), deg: fc.integer({ min: -5, max: 5 }) }),
        {
          minLength: 40,
          maxLength: 40,
        },
      ),
      (dice) => {
        const atSeam = new Set(ends.joins.map(({ name }) => name));
        const names = [...ends.joins, ...ends.firstCutEnds].filter((end) => !('leadCut' in end));
        const offsets = names.map(({ name }, k) => offset(name, dice[k].mm, atSeam.has(name) ? dice[k].deg : 0));
        const found = applyProof(sheet, ends, offsets);
        expect(codes(found)).toEqual(['proof-taken-in']);
        for (const [k, end] of names.entries()) {
          const along = 'along' in end ? end.along : end.seam === 'right' ? { x: 0, y: 1 } : { x: 1, y: 0 };
          const want = { x: end.at.x + dice[k].mm * along.x, y: end.at.y + dice[k].mm * along.y };
          const own = found.sheet.openings.find((o) => o.number === ('own' in end ? end.own : end.opening));
          const away = (own?.secondCut ?? []).flatMap(nodes).map(([x, y]) => Math.hypot(x - want.x, y - want.y));
          expect(Math.min(...away)).toBeLessThan(1e-6);
        }
        for (const opening of found.sheet.openings) {
          for (const contour of opening.secondCut) expect(contourArea(contour)).toBeGreaterThan(0);
        }
      },
    ),
    { numRuns: 12 },
  );
});
