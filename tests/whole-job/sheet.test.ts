import { type Box, type Contour, contoursBox, type JobFile, type JobResult, runJob, type Sheet } from '@okuri/core';
import {
  BLADE_MM,
  contourArea,
  type Dot,
  sheetDots,
  sheetMeasures,
  sheetRepeat,
  sheetSteps,
  wholeOpeningId,
} from '@okuri/core/inside';
import fc from 'fast-check';
import clipping from 'polygon-clipping';
import { beforeAll, describe, expect, it } from 'vitest';
import { multiArea, perimeter, type Ring, ringOf } from '../support/flatten.js';
import { artwork, box, demoJob, disc, openAreaOf, REPEATS, repeats, runShapes } from './support.js';

const size: readonly [number, number] = [96, 90];
/** Corners lie on a grid of 0.1 µm. */
const GRID_MM = 1e-4;
/** How far lead cuts run past the seams here. */
const LAP_MM = 0.4;

let demo: JobResult;
beforeAll(() => {
  const { motif, job } = demoJob();
  demo = runJob(motif, job);
});

function area(contours: readonly Contour[]): number {
  return contours.reduce((sum, contour) => sum + contourArea(contour), 0);
}

function cutArea({ openings }: Sheet): { first: number; second: number; outlineMm: number } {
  const first = openings.reduce((sum, { firstCut }) => sum + area(firstCut), 0);
  const second = openings.reduce((sum, { secondCut }) => sum + area(secondCut), 0);
  const outlineMm = openings.reduce((sum, o) => sum + perimeter([...o.firstCut, ...o.secondCut]), 0);
  return { first, second, outlineMm };
}

/** How far a box reaches into another one, mm; 0 or less where it does not. */
function depthInto(inner: Box, outer: Box): number {
  return Math.min(
    Math.min(inner.x1, outer.x1) - Math.max(inner.x0, outer.x0),
    Math.min(inner.y1, outer.y1) - Math.max(inner.y0, outer.y0),
  );
}

/** What is cut out of a sheet in all, clipped to a box by polygon-clipping (another polygon engine), mm². */
function cutWithin(sheet: Sheet, within: Box): number {
  const frame: Ring[] = [
    [
      [within.x0, within.y0],
      [within.x1, within.y0],
      [within.x1, within.y1],
      [within.x0, within.y1],
      [within.x0, within.y0],
    ],
  ];
  let sum = 0;
  for (const contour of sheet.openings.flatMap(({ firstCut, secondCut }) => [...firstCut, ...secondCut])) {
    const ring = ringOf(contour, 12).map(([x, y]): [number, number] => [
      Math.round(x * 1e4) / 1e4,
      Math.round(y * 1e4) / 1e4,
    ]);
    sum += Math.sign(contourArea(contour)) * multiArea(clipping.intersection([ring], frame) as Ring[][]);
  }
  return sum;
}

describe('first cut and second cut', () => {
  it('of bars: field and lap in closed form (worked)', () => {
    // A bar across the whole unit and one down it, straight: their cross is counted once.
    const bars = [box('across', 0, 30, 96, 42), box('down', 50, 0, 60, 90)];
    for (const [across, down] of [
      [1, 1],
      [2, 1],
      [1, 3],
      [3, 2],
    ]) {
      const [sheet] = runShapes(bars, size, { across, down, lap: `${LAP_MM}mm` }).sheets;
      const { first, second } = cutArea(sheet);
      const unit = 96 * 12 + 90 * 10 - 12 * 10;
      // Past the left seam every bar across runs on by the lap, past the top every bar down.
      const lap = LAP_MM * (12 * down + 10 * across);
      expect(first + second).toBeCloseTo(unit * across * down + lap, 4);
      const [w, h] = [96 * across, 90 * down];
      const held = { right: heldWidth(w), bottom: heldWidth(h) };
      const [x, y] = [w - held.right, h - held.bottom];
      // What lies left of and above the hold lines: bars cut there, and the lap.
      let cut = lap;
      for (let j = 0; j < down; j++) cut += x * Math.max(0, Math.min(y, 90 * j + 42) - Math.min(y, 90 * j + 30));
      for (let i = 0; i < across; i++) {
        const width = Math.max(0, Math.min(x, 96 * i + 60) - Math.min(x, 96 * i + 50));
        cut += width * y;
        for (let j = 0; j < down; j++) cut -= width * Math.max(0, Math.min(y, 90 * j + 42) - Math.min(y, 90 * j + 30));
      }
      // Bars whose place is in the held margin have no lap before the proof.
      for (let j = 0; j < down; j++) if (90 * j + 36 > y) cut -= LAP_MM * 12;
      for (let i = 0; i < across; i++) if (96 * i + 55 > x) cut -= LAP_MM * 10;
      expect(first).toBeCloseTo(cut, 4);
    }
  });

  it('of anything: the field holds m × n times the openings, and beyond it nothing but the lap', () => {
    fc.assert(
      fc.property(
        repeats,
        artwork(...size, 6),
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 1, max: 2 }),
        (repeat, art, across, down) => {
          const shapes = art.filter(({ ink }) => ink === '#000000');
          const result = runShapes(shapes, size, { ...repeat, across, down, spill: 'carry', lap: `${LAP_MM}mm` });
          const [sheet] = result.sheets;
          const { first, second, outlineMm } = cutArea(sheet);
          // What twelve chords a curve cost, contour by contour.
          const chords = sheet.openings.reduce(
            (sum, o) =>
              sum + [...o.firstCut, ...o.secondCut].reduce((s, c) => s + Math.abs(contourArea(c) - chordArea(c)), 0),
            0,
          );
          const inField = cutWithin(sheet, sheet.field);
          // What is too slight on this side of a seam is cut on the other, or not at all.
          const slight = sheet.dropped.reduce((sum, { areaMm2 }) => sum + areaMm2, 0);
          expect(Math.abs(inField + slight - across * down * openAreaOf(result))).toBeLessThan(
            2 * GRID_MM * outlineMm + chords,
          );
          const { x0, y0, x1, y1 } = sheet.field;
          const past = trailingPast(sheet);
          const lead = Math.max(LAP_MM, past);
          const withLap = cutWithin(sheet, { x0: x0 - lead, y0: y0 - lead, x1: x1 + past, y1: y1 + past });
          expect(Math.abs(first + second - withLap)).toBeLessThan(2 * GRID_MM * outlineMm + chords);
          expectWellFormed(sheet, result);
        },
      ),
      { numRuns: 40, endOnFailure: true },
    );
  });

  it('of the demo', () => {
    const [sheet] = demo.sheets;
    const { first, second } = cutArea(sheet);
    // The lap adds a strip of 0.4 mm along the lead seams where something crosses them: less than that along the whole.
    const lapMost = sheet.lapMm * (300 + 420 + sheet.lapMm);
    expect(sheet.lapMm).toBe(0.4);
    // The release ties stand on the sheet and are cut away before it prints.
    const ties = sheet.ties.reduce((sum, { outline }) => sum + contourArea(outline), 0);
    expect(ties).toBeGreaterThan(0);
    expect(first + second + ties - openAreaOf(demo)).toBeGreaterThan(0);
    expect(first + second + ties - openAreaOf(demo)).toBeLessThan(lapMost);
    expect(first).toBeGreaterThan(second);
    expectWellFormed(sheet, demo);
  });

  it('hold back what crosses a seam and lies near that, where the job says so', () => {
    const shapes = [
      disc('over the right', { x: 96, y: 30 }, 8),
      disc('beside it', { x: 84, y: 30 }, 2),
      disc('in the band, far off', { x: 88, y: 62 }, 3),
      disc('over the bottom', { x: 40, y: 90 }, 5),
      disc('on the hold line, far off', { x: 60, y: 75 }, 4),
    ];
    const [sheet] = runShapes(shapes, size, { hold: { mode: 'crossing' } }).sheets;
    const state = (x: number, y: number) => {
      const found = sheet.openings.filter(({ box: b }) => {
        return b.x0 < x + 40 && x + 40 < b.x1 && b.y0 < y + 40 && y + 40 < b.y1;
      });
      expect(found).toHaveLength(1);
      return [found[0].firstCut.length > 0, found[0].secondCut.length > 0];
    };
    expect(state(92, 30)).toEqual([false, true]);
    // Two mm of paper between: under three.
    expect(state(84, 30)).toEqual([false, true]);
    expect(state(88, 62)).toEqual([true, false]);
    expect(state(60, 75)).toEqual([true, false]);
    expect(state(40, 87)).toEqual([false, true]);
    // The other halves, along the lead seams, are cut at once.
    expect(state(2, 30)).toEqual([true, false]);
    expect(state(40, 2)).toEqual([true, false]);
  });
});

/** A stop may move this far from the hold line to a corner, a tip or a narrow place, mm. */
const STOP_REACH_MM = 10;

/** What holds for every sheet that holds a band: no first cut goes deeper into it than a stop may move, and every opening is numbered once. */
/** How far cuts may run past the trailing seams: nothing, where no end was too slight to be cut on its own side. */
function trailingPast({ dropped = [], lapMm }: Sheet): number {
  return dropped.some(({ why }) => why !== 'beyond-edge') ? Math.max(lapMm, BLADE_MM) : 0;
}

function expectWellFormed(sheet: Sheet, { openings }: JobResult): void {
  const { field, lapMm } = sheet;
  const past = trailingPast(sheet);
  for (const { firstCut, secondCut, openingId, number } of sheet.openings) {
    const [first, second] = [contoursBox(firstCut), contoursBox(secondCut)];
    for (const held of [sheet.heldRight, sheet.heldBottom]) {
      if (first && held)
        expect(depthInto(first, { ...held, x1: 1e6, y1: 1e6 }), `opening ${number}`).toBeLessThan(STOP_REACH_MM + 2e-3);
    }
    const stops = sheet.stops.filter((stop) => stop.number === number);
    if (first && second) expect(stops.length, `opening ${number}`).toBeGreaterThan(0);
    for (const cut of [first, second]) {
      if (cut === null) continue;
      // Lead sides run past the seam by the lap, the others not at all, but for ends that are too slight to be cut on the far side.
      const lead = Math.max(lapMm, past);
      expect(cut.x0).toBeGreaterThan(field.x0 - lead - 1e-3);
      expect(cut.y0).toBeGreaterThan(field.y0 - lead - 1e-3);
      expect(cut.x1).toBeLessThan(field.x1 + past + 1e-3);
      expect(cut.y1).toBeLessThan(field.y1 + past + 1e-3);
    }
    expect(firstCut.length + secondCut.length).toBeGreaterThan(0);
    expect(openings.map(({ id }) => id)).toContain(wholeOpeningId(openingId));
  }
  expect(sheet.openings.map(({ number }) => number)).toEqual(sheet.openings.map((_, k) => k + 1));
  // Every opening of the pattern is on the sheet.
  expect(new Set(sheet.openings.map(({ openingId }) => wholeOpeningId(openingId))).size).toBe(
    openings.filter(({ ink }) => ink === sheet.ink).length,
  );
}

function chordArea(contour: Contour): number {
  const ring = ringOf(contour, 12);
  return ring.reduce((sum, [x, y], k) => {
    const [u, v] = ring[(k + 1) % ring.length];
    return sum + (x * v - u * y) / 2;
  }, 0);
}

/** One inch, at most a sixth of the side, at least 10 mm (common practice, no published source). */
function heldWidth(side: number): number {
  return Math.max(10, Math.min(25.4, side / 6));
}

describe('the held margin', () => {
  it.each([
    { unit: [300, 420], right: 25.4, bottom: 25.4 },
    { unit: [120, 90], right: 20, bottom: 15 },
    { unit: [45, 152.4], right: 10, bottom: 25.4 },
    { unit: [60, 54], right: 10, bottom: 10 },
  ])(
    'is $right mm wide along the right and $bottom mm along the bottom of $unit',
    ({ unit: [w, h], right, bottom }) => {
      const [{ heldRight, heldBottom, field }] = runShapes([disc('d', { x: 20, y: 20 }, 5)], [w, h]).sheets;
      expect(heldRight).toEqual({ ...field, x0: field.x1 - right });
      expect(heldBottom).toEqual({ ...field, y0: field.y1 - bottom });
    },
  );

  it('falls away along the right where the cloth is one unit wide; findings about that join are notes', () => {
    // Both halves drawn, the left one a millimetre too low.
    const shapes = [box('own', 80, 40, 110, 46), box('far', -14, 41, 20, 47), disc('d', { x: 48, y: 90 }, 6)];
    const narrow = runShapes(shapes, size, { cloth: { width: '96mm', length: '2m' } });
    const wide = runShapes(shapes, size, { cloth: { width: '97mm', length: '2m' } });
    const about = ({ findings }: JobResult) =>
      findings.filter(({ measure }) => measure?.seam === 'right').map(({ severity }) => severity);
    expect(narrow.sheets[0].heldRight).toBeNull();
    expect(wide.sheets[0].heldRight).not.toBeNull();
    expect(narrow.sheets[0].heldBottom).not.toBeNull();
    expect(about(narrow).length).toBeGreaterThan(0);
    expect(new Set(about(narrow))).toEqual(new Set(['note']));
    expect(about(wide)).not.toContain('note');
    const rightmost = narrow.sheets[0].openings.find(({ box: b }) => b.x1 > narrow.sheets[0].field.x1 - 1);
    expect(rightmost?.secondCut).toEqual([]);
  });
});

describe('dots', () => {
  const cases = REPEATS.flatMap((repeat) =>
    [
      [1, 1],
      [2, 1],
      [1, 2],
      [3, 2],
    ].map(([across, down]) => ({ repeat, across, down })),
  );

  it.each(cases)('fix every step twice: $repeat, $across × $down units', ({ repeat, across, down }) => {
    const result = runShapes([disc('d', { x: 40, y: 40 }, 9)], size, { ...repeat, across, down });
    const [sheet] = result.sheets;
    const named = new Map(sheet.dots.map((dot) => [dot.name, dot]));
    expect(named.size).toBe(sheet.dots.length);
    const steps = sheetSteps(sheet.field, sheetRepeat(result.lattice.repeat, across, down), sheet.dots);
    expect(steps.map(({ to }) => to)).toEqual(['right', 'bottom']);
    for (const { to, vector, pairs } of steps) {
      // A step of the sheet is a step of the pattern: whole numbers of a and b.
      const { a, b } = result.lattice;
      const det = a.x * b.y - a.y * b.x;
      const [i, j] = [(vector.x * b.y - vector.y * b.x) / det, (a.x * vector.y - a.y * vector.x) / det];
      expect(i).toBeCloseTo(Math.round(i), 9);
      expect(j).toBeCloseTo(Math.round(j), 9);
      // Sheets stepped by it lie side by side.
      expect(to === 'right' ? vector.x : vector.y).toBeCloseTo(to === 'right' ? 96 * across : 90 * down, 9);
      const ends = pairs.flatMap(({ from, to: end }) => [from, end]);
      expect(new Set(ends).size).toBe(4);
      for (const { from, to: end } of pairs) {
        const [p, q] = [named.get(from) as Dot, named.get(end) as Dot];
        expect(q.at.x - p.at.x).toBeCloseTo(vector.x, 9);
        expect(q.at.y - p.at.y).toBeCloseTo(vector.y, 9);
      }
    }
  });

  // Square roots, worked to six decimals.
  it.each([
    { field: [20, 30], diagonal: 36.055513 },
    { field: [24, 36], diagonal: 43.266615 },
    { field: [16, 22], diagonal: 27.202941 },
    { field: [500, 700], diagonal: 860.232527 },
  ])('measure $diagonal across $field', ({ field: [w, h], diagonal }) => {
    const field = { x0: 40, y0: 40, x1: 40 + w, y1: 40 + h };
    for (const [repeat, extra] of [
      [{ kind: 'straight', step: { p: 0, q: 1 } }, 0],
      [{ kind: 'drop', step: { p: 1, q: 2 } }, 4],
      [{ kind: 'brick', step: { p: 1, q: 3 } }, 4],
    ] as const) {
      const measures = sheetMeasures(sheetDots(field, repeat, { diameterMm: 1 }), field);
      const of = (what: string) => measures.filter((m) => m.what === what).map(({ mm }) => mm);
      // All six: four sides and both diagonals only together prove a rectangle.
      expect(of('width')).toEqual([w, w]);
      expect(of('height')).toEqual([h, h]);
      for (const mm of of('diagonal')) expect(mm).toBeCloseTo(diagonal, 6);
      expect(of('diagonal')).toHaveLength(2);
      expect(of('step')).toHaveLength(extra);
      for (const { mm, inches, inchErrorMm } of measures) {
        // 1 in = 25.4 mm (International Yard and Pound Agreement, 1959); the nearest 1/64 is at most 1/128 in off.
        const [whole, part] = inches.includes(' ')
          ? inches.split(' ')
          : inches.includes('/')
            ? ['0', inches]
            : [inches, '0/1'];
        const [n, d] = part.split('/').map(Number);
        expect((Number(whole) + n / d) * 25.4).toBeCloseTo(mm + inchErrorMm, 9);
        expect(Math.abs(inchErrorMm)).toBeLessThanOrEqual(25.4 / 128 + 1e-9);
        expect(64 % d).toBe(0);
      }
    }
  });
});

describe('several units on a sheet', () => {
  it('make a sheet of m × n units that steps as a whole, with the same joins', () => {
    const shapes = [disc('d', { x: 93, y: 20 }, 7), box('bar', 10, 50, 40, 55)];
    const says: Partial<JobFile> = { repeat: 'drop', step: '1/3' };
    const one = runShapes(shapes, size, says);
    const many = runShapes(shapes, size, { ...says, across: 2, down: 3 });
    const [sheet] = many.sheets;
    expect([sheet.field.x1 - sheet.field.x0, sheet.field.y1 - sheet.field.y0]).toEqual([192, 270]);
    expect(many.joins).toEqual(one.joins);
    expect(many.openings).toEqual(one.openings);
    // frac(m f)/n = frac(2/3)/3 = 2/9.
    expect(sheetRepeat(many.lattice.repeat, 2, 3)).toEqual({ kind: 'drop', step: { p: 2, q: 9 } });
    // A drop of 1/3 three units wide is straight.
    expect(sheetRepeat(many.lattice.repeat, 3, 1)).toEqual({ kind: 'straight', step: { p: 0, q: 1 } });
  });
});
