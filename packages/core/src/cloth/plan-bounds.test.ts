import { describe, expect, it } from 'vitest';
import { boxArea, joinBoxes } from '../geometry/boxes.js';
import type { Box } from '../geometry/types.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { estimateWear } from './paste.js';
import { firstField, layPlacements, wholeFields } from './placements.js';
import { checkShrinkage, fullPlanOptions, type PlanOptions } from './plan-options.js';
import { planSheet } from './plan-sheet.test-help.js';
import type { TimedPass } from './plan-types.js';
import { makeSchedule } from './schedule.js';
import { fittingSizes } from './unit-sizes.js';
import { walkLength, walkOrder } from './walk.js';
import { lengthToOrder, planCloth, wholeRepeats } from './yardage.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const CLOTH = { widthMm: 900, lengthMm: 2000 };
const full = (more: Partial<PlanOptions> = {}) => fullPlanOptions({ cloth: CLOTH, ...more });

describe('what a plan is made to', () => {
  it('is what was given, and for the rest a bare cloth on the table of unknown shrinkage', () => {
    expect(full().cloth).toEqual({
      ...CLOTH,
      sizes: 'table',
      shrinkAcrossPercent: null,
      shrinkAlongPercent: null,
      selvedgeLeftMm: 0,
      selvedgeRightMm: 0,
      startMm: 0,
      endMm: 0,
    });
    const given = {
      time: { dryingMinutes: 7 },
      paste: { densityGPerMl: 2 },
      wear: { daysASheet: 3 },
    };
    const made = full(given);
    expect(made.time).toEqual({ ...full().time, dryingMinutes: 7 });
    expect(made.paste).toEqual({ ...full().paste, densityGPerMl: 2 });
    expect(made.wear).toEqual({ placementsASheet: null, daysASheet: 3 });
  });

  it('may be anything up to its bounds and nothing beyond, whichever number it is', () => {
    const cloth = (more: Partial<PlanOptions['cloth']>) => () => full({ cloth: { ...CLOTH, ...more } });
    const time = (more: PlanOptions['time']) => () => full(more === undefined ? {} : { time: more });
    const ok: (() => unknown)[] = [
      cloth({ widthMm: 1e7 }),
      cloth({ lengthMm: 1e7 }),
      cloth({ widthMm: 0.1 }),
      cloth({ selvedgeLeftMm: 0, selvedgeRightMm: 0, startMm: 0, endMm: 0 }),
      cloth({ shrinkAcrossPercent: 99.9, shrinkAlongPercent: -49.9 }),
      time({ dryingMinutes: 0 }),
      time({ hoursADay: 24 }),
      time({ hoursADay: 0.1, secondsAPlacement: 0.5 }),
      () => full({ paste: { extraPercent: 0, filmMm: 0.1, densityGPerMl: 0.1 } }),
      () => full({ wear: { placementsASheet: 1, daysASheet: 1 } }),
      () => full({ wipeEvery: 1, checkEvery: 1 }),
      () => full({ panels: { count: 10_000, finishedMm: 0.5 } }),
      () => full({ panels: { count: 1, finishedMm: 1 }, order: { finishedMm: 0.5, wholeRepeats: false } }),
    ];
    for (const make of ok) expect(make).not.toThrow();
    const refused: [() => unknown, RegExp][] = [
      [cloth({ widthMm: 1e7 + 1 }), /^The width of the cloth is 10000001 mm: .* at most 10 km/],
      [cloth({ lengthMm: 1e7 + 1 }), /^The length of the cloth/],
      [cloth({ widthMm: Number.NaN }), /width of the cloth is no number/],
      [cloth({ shrinkAcrossPercent: 100 }), /^The shrinkage across the cloth is 100 %/],
      [cloth({ shrinkAlongPercent: -50 }), /^The shrinkage along the cloth is -50 %/],
      [cloth({ selvedgeLeftMm: -0.5 }), /^The left selvedge is -0.5: it must be 0 or more/],
      [cloth({ selvedgeRightMm: Number.NaN }), /^The right selvedge is no number/],
      [cloth({ startMm: -2 }), /^The unprinted start is -2/],
      [cloth({ endMm: Number.POSITIVE_INFINITY }), /^The unprinted end is no number/],
      [time({ dryingMinutes: -1 }), /^The drying time is -1/],
      [time({ secondsAPlacement: Number.POSITIVE_INFINITY }), /^The time a placement is no number/],
      [time({ hoursADay: 24.01 }), /hours of work a day are 24.01/],
      [time({ hoursADay: 0 }), /hours of work a day are 0/],
      [() => full({ paste: { densityGPerMl: 0 } }), /density of the paste is 0/],
      [() => full({ paste: { filmMm: -1 } }), /film is -1/],
      [() => full({ wear: { daysASheet: 1.5 } }), /days that a sheet lasts is 1.5/],
      [() => full({ wear: { placementsASheet: 0 } }), /placements that a sheet lasts is 0/],
      [() => full({ wipeEvery: 0 }), /two wipings is 0/],
      [() => full({ checkEvery: 2.5 }), /two check marks is 2.5/],
      [() => full({ panels: { count: 10_001, finishedMm: 1 } }), /asks for 10001 panels: at most 10000/],
      [() => full({ panels: { count: 2, finishedMm: 0 } }), /finished length of a panel is 0/],
      [() => full({ panels: { count: 2.5, finishedMm: 1 } }), /number of panels is 2.5/],
      [() => full({ order: { finishedMm: -1, wholeRepeats: true } }), /length that is wanted is -1/],
      [() => checkShrinkage(Number.NaN, 'of'), /The shrinkage of the cloth is no number %/],
    ];
    for (const [make, message] of refused) expect(make).toThrow(message);
  });
});

describe('the cloth', () => {
  it('is printed between its selvedges and its ends, each on its own side', () => {
    const cloth = planCloth(
      full({ cloth: { ...CLOTH, selvedgeLeftMm: 10, selvedgeRightMm: 25, startMm: 40, endMm: 70 } }),
    );
    expect(cloth.usable).toEqual({ x0: 10, y0: 40, x1: 875, y1: 1930 });
    expect(cloth).toMatchObject({
      selvedgeLeftMm: 10,
      selvedgeRightMm: 25,
      given: CLOTH,
      table: CLOTH,
      finished: CLOTH,
    });
  });

  it('shrinks across by the one and along by the other', () => {
    const shrinks = { shrinkAcrossPercent: 10, shrinkAlongPercent: 20 };
    const table = planCloth(full({ cloth: { ...CLOTH, ...shrinks } }));
    expect(table.finished).toEqual({ widthMm: 810, lengthMm: 1600 });
    const finished = planCloth(full({ cloth: { ...CLOTH, ...shrinks, sizes: 'finished' } }));
    expect(finished.table).toEqual({ widthMm: 1000, lengthMm: 2500 });
    expect(finished.finished).toEqual(CLOTH);
    expect(finished).toMatchObject(shrinks);
  });

  it('may be used up to the last bit, and not beyond', () => {
    const sides = (mm: number) => () =>
      planCloth(full({ cloth: { ...CLOTH, selvedgeLeftMm: 100, selvedgeRightMm: mm } }));
    expect(sides(799)).not.toThrow();
    expect(sides(800)).toThrow(/selvedges \(100 mm and 800 mm\) .* 900 mm wide/);
    const ends = (mm: number) => () => planCloth(full({ cloth: { ...CLOTH, startMm: 100, endMm: mm } }));
    expect(ends(1899)).not.toThrow();
    expect(ends(1900)).toThrow(/ends \(100 mm and 1900 mm\) .* 2000 mm long/);
  });

  it('is ordered in whole repeats at least as long as what is wanted', () => {
    expect([299, 300, 301].map((mm) => wholeRepeats(mm, 300))).toEqual([1, 1, 2]);
    expect(wholeRepeats(0.001, 300)).toBe(1);
    const order = lengthToOrder(
      { finishedMm: 310, wholeRepeats: true },
      { repeatMm: 100, shrinkAlongPercent: 50, endsMm: 7 },
    );
    expect(order).toMatchObject({ repeats: 7, printedMm: 700, printedFinishedMm: 350, orderMm: 707 });
  });
});

describe('boxes', () => {
  it('have an area, and a least box around two of them', () => {
    const [a, b]: Box[] = [
      { x0: 1, y0: 2, x1: 4, y1: 9 },
      { x0: -3, y0: 5, x1: 2, y1: 20 },
    ];
    expect([boxArea(a), boxArea(b)]).toEqual([21, 75]);
    for (const both of [joinBoxes(a, b), joinBoxes(b, a)]) expect(both).toEqual({ x0: -3, y0: 2, x1: 4, y1: 20 });
  });
});

describe('fields in a length', () => {
  it('are counted whole, one that is short by rounding too, and stand in the middle of what they leave', () => {
    expect([599, 600, 899, 600 - 1e-7, 600 - 1e-5].map((mm) => wholeFields(mm, 300))).toEqual([1, 2, 2, 2, 1]);
    const usable = { x0: 30, y0: 50, x1: 30 + 700, y1: 900 };
    const lattice = makeLattice(STRAIGHT, 300, 200);
    expect(firstField(lattice, usable, 'left')).toEqual({ x: 30, y: 50 });
    expect(firstField(lattice, usable, 'centre')).toEqual({ x: 80, y: 50 });
    // A cloth narrower than one field has it in the middle all the same.
    expect(firstField(lattice, { ...usable, x1: 230 }, 'centre')).toEqual({ x: -20, y: 50 });
  });

  it('are at most a million', () => {
    const lay = (lengthMm: number) => () => {
      const usable = { x0: 0, y0: 0, x1: 1, y1: lengthMm };
      return layPlacements(makeLattice(STRAIGHT, 1000, 1), usable, {
        origin: { x: 0, y: 0 },
        fill: 'whole',
        start: 'above',
      });
    };
    expect(lay(1_001_000_000)).toThrow(/about 1001000 placements: at most 1000000/);
  });

  it('that fill the width are at least one, by a scale that grows both sides alike', () => {
    // 0.4 of a unit: one smaller one, and none of zero.
    expect(fittingSizes(makeLattice(STRAIGHT, 500, 300), 200)).toEqual([
      { repeats: 1, scale: 0.4, widthMm: 200, heightMm: 120 },
    ]);
    // 2.4 units: two of × 1.2 lie nearer than three of × 0.8, since log 1.2 < −log 0.8.
    expect(fittingSizes(makeLattice(STRAIGHT, 500, 300), 1200)).toEqual([
      { repeats: 2, scale: 1.2, widthMm: 600, heightMm: 360 },
      { repeats: 3, scale: 0.8, widthMm: 400, heightMm: 240 },
    ]);
    expect(fittingSizes(makeLattice(STRAIGHT, 500, 300), 1000 * (1 + 1e-6))).toHaveLength(2);
    expect(fittingSizes(makeLattice(STRAIGHT, 500, 300), 1000 * (1 + 1e-11))).toHaveLength(1);
  });
});

describe('the way over a cloth', () => {
  const lattice = makeLattice(STRAIGHT, 100, 50);
  const usable = { x0: 0, y0: 0, x1: 300, y1: 150 };
  const placements = layPlacements(lattice, usable, { origin: { x: 0, y: 0 }, fill: 'whole', start: 'above' });

  it('goes down and up by turns, and is as long as its legs', () => {
    const all = placements.map((_, k) => k).reverse();
    const order = walkOrder(placements, all, { lattice, stepping: 'every-other' });
    expect(order.map((k) => placements[k].id)).toEqual([
      'c1r1',
      'c1r2',
      'c1r3',
      'c2r3',
      'c2r2',
      'c2r1',
      'c3r1',
      'c3r2',
      'c3r3',
    ]);
    expect(walkLength(placements, order)).toBe(6 * 50 + 2 * 100);
    // From the first column's start straight to the last one's end: 200 across and 100 along.
    const ends = ['c1r1', 'c3r3'].map((id) => placements.findIndex((p) => p.id === id));
    expect(walkLength(placements, ends)).toBeCloseTo(Math.hypot(200, 100), 9);
    expect([walkLength(placements, []), walkLength(placements, [4])]).toEqual([0, 0]);
  });

  it('follows columns of a brick as strips one field wide', () => {
    const brick = makeLattice({ kind: 'brick', step: { p: 1, q: 2 } }, 100, 50);
    const laid = layPlacements(brick, usable, { origin: { x: 0, y: 0 }, fill: 'whole', start: 'above' });
    // Row 2 stands 50 mm to the right: its fields belong to the strip in which they begin.
    const order = walkOrder(
      laid,
      laid.map((_, k) => k),
      { lattice: brick, stepping: 'every-other' },
    );
    expect(order.map((k) => laid[k].field.x0)).toEqual([0, 50, 0, 100, 150, 100, 200, 200]);
    const rows = walkOrder(
      laid,
      laid.map((_, k) => k),
      { lattice: brick, stepping: 'on' },
    );
    expect(rows.map((k) => laid[k].field.x0)).toEqual([0, 100, 200, 150, 50, 0, 100, 200]);
  });
});

describe('days of work', () => {
  const options = { secondsAPlacement: 60, dryingMinutes: 120, hoursADay: 8, sheets: 1, faces: ['front'] as const };
  const passes = (...counts: number[]) => counts.map((placements, k) => ({ pass: k + 1, placements, walkMm: 0 }));

  it('end with work that ends with them, and begin again the next morning', () => {
    const exact = makeSchedule(passes(480), options);
    expect(exact.passes[0]).toMatchObject({ minutes: 480, endDay: 1, endMinute: 480 });
    expect(exact).toMatchObject({ days: 1, passesADay: 1 });
    const two = makeSchedule(passes(481), options);
    expect(two.passes[0]).toMatchObject({ endDay: 2, endMinute: 1 });
    // Dry at the very end of the day: work goes on in the morning.
    const late = makeSchedule(passes(360, 10), options);
    expect(late.passes[1]).toMatchObject({ startDay: 2, startMinute: 0, endMinute: 10 });
    expect(makeSchedule(passes(359, 10), options).passes[1]).toMatchObject({
      startDay: 1,
      startMinute: 479,
      endDay: 2,
    });
  });

  it('hold as many passes as fit with what dries between them', () => {
    // n passes of m minutes with n − 1 times to dry between them: n m + (n − 1) d ≤ 480.
    for (const minutes of [10, 60, 100, 200, 300, 480]) {
      const count = Array.from({ length: 60 }, (_, k) => k + 1).filter(
        (n) => n * minutes + (n - 1) * 120 <= 480,
      ).length;
      expect(makeSchedule(passes(minutes, minutes), options).passesADay).toBe(count);
    }
    expect(makeSchedule(passes(400, 560), options).passesADay).toBe(1);
    expect(makeSchedule(passes(960, 480), options).passesADay).toBeCloseTo(480 / 720, 12);
    expect(makeSchedule(passes(600), { ...options, secondsAPlacement: 30 }).passes[0].minutes).toBe(300);
  });

  it('wear a sheet by those on which it is worked with, each counted once', () => {
    const sheet = planSheet(makeLattice(STRAIGHT, 200, 300), { gauze: false });
    const timed = (at: number, startDay: number, endDay: number): TimedPass => ({
      sheet: at,
      face: 'front',
      pass: 1,
      minutes: 1,
      startDay,
      startMinute: 0,
      endDay,
      endMinute: 1,
    });
    const run = (placements: number, ...passes_: TimedPass[]) =>
      estimateWear([sheet, sheet], { placements, passes: passes_ }, { placementsASheet: 100, daysASheet: 2 }).sheets;
    const two = run(1, timed(1, 1, 1), timed(2, 1, 3), timed(1, 3, 3), timed(2, 3, 4));
    expect(two.map(({ sheet: at, days }) => [at, days])).toEqual([
      [1, 2],
      [2, 4],
    ]);
    expect(two.map(({ needed }) => needed)).toEqual([1, 2]);
    expect(run(101, timed(1, 1, 1))[0].needed).toBe(2);
    expect(run(100, timed(1, 5, 5), timed(1, 9, 9), timed(1, 20, 20))[0]).toMatchObject({ days: 3, needed: 2 });
  });
});
