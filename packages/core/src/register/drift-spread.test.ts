import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { driftOf } from './drift.js';
import { randomNumbers } from './drift-random.js';
import { simulateDrift } from './drift-simulate.js';
import { driftSpread, type LineSpread } from './drift-spread.js';
import type { DriftSheet } from './drift-types.js';
import { holesAt } from './sheets.test-help.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const ERRORS = { punchErrorMm: 0.2, layingErrorMm: 0.3 };

function sheetOf(repeat: Repeat): DriftSheet {
  return { widthMm: 600, heightMm: 450, repeat };
}

/** A root mean square from n runs is off by a share of 1/√(2n) in one case of three; four times as much in one of fifteen thousand. */
const RUNS = 4000;
const AGREES = 4 / Math.sqrt(2 * RUNS);

describe('errors of punching and of laying', () => {
  it('corner holes: the closed forms written out', () => {
    const { within } = driftSpread(sheetOf(STRAIGHT), { down: 41, across: 1, ...ERRORS });
    const n = 40;
    // Steps of 450 by dots 600 apart, square to the step.
    const a = 450 / 600;
    expect(within?.punching.alongMm).toBeCloseTo(n * 0.2 * Math.SQRT2, 9);
    expect(within?.punching.sidewaysMm).toBeCloseTo(0.2 * n * Math.sqrt(2 + (a * (n - 1)) ** 2), 9);
    expect(within?.laying.alongMm).toBeCloseTo(0.3 * Math.sqrt(n), 9);
    // Σ k² for k < n, counted out.
    const squares = Array.from({ length: n }, (_, k) => k * k).reduce((sum, kk) => sum + kk, 0);
    expect(within?.laying.sidewaysMm).toBeCloseTo(0.3 * Math.sqrt(n + 2 * a * a * squares), 9);
  });

  it('grow like N along and N² across by punching, √N and N^1.5 by laying', () => {
    const at = (down: number): LineSpread =>
      driftSpread(sheetOf(STRAIGHT), { down, across: 1, ...ERRORS }).within as LineSpread;
    const [one, two] = [at(2001), at(4001)];
    expect(two.punching.alongMm / one.punching.alongMm).toBeCloseTo(2, 9);
    expect(two.punching.sidewaysMm / one.punching.sidewaysMm).toBeCloseTo(4, 2);
    expect(two.laying.alongMm / one.laying.alongMm).toBeCloseTo(Math.SQRT2, 9);
    expect(two.laying.sidewaysMm / one.laying.sidewaysMm).toBeCloseTo(2 ** 1.5, 2);
  });

  it('the sum over the way of the last placement is the closed form where it is one line', () => {
    fc.assert(
      fc.property(fc.integer({ min: 2, max: 60 }), fc.integer({ min: 100, max: 900 }), (down, h) => {
        const { within, last } = driftSpread({ ...sheetOf(STRAIGHT), heightMm: h }, { down, across: 1, ...ERRORS });
        for (const kind of ['punching', 'laying'] as const) {
          expect(last[kind].yMm / (within?.[kind].alongMm ?? 0)).toBeCloseTo(1, 9);
          expect(last[kind].xMm / (within?.[kind].sidewaysMm ?? 0)).toBeCloseTo(1, 9);
          expect(last[kind].turnDeg / (within?.[kind].turnDeg ?? 0)).toBeCloseTo(1, 9);
        }
      }),
    );
  });

  it('one hole off does what drift says it does', () => {
    // The lower right hole a hair too low: the turn and the shift of a step, against the exact motion.
    const off = 1e-4;
    const holes = holesAt([0, 0], [600, 0], [600, 450 + off], [0, 450]);
    const drift = driftOf(holes, sheetOf(STRAIGHT), { down: 31, across: 1, toleranceMm: 1 });
    expect(drift.within?.over.turnDeg).toBeCloseTo(((30 * off) / 600) * (180 / Math.PI), 8);
    expect(drift.within?.over.sidewaysMm).toBeCloseTo((off / 600) * 450 * ((30 * 29) / 2), 5);
  });

  it.each<[string, Repeat, { down: number; across: number }]>([
    ['straight', STRAIGHT, { down: 20, across: 8 }],
    ['half-drop', { kind: 'drop', step: { p: 1, q: 2 } }, { down: 12, across: 7 }],
    ['drop of two thirds', { kind: 'drop', step: { p: 2, q: 3 } }, { down: 6, across: 9 }],
    ['brick of a third', { kind: 'brick', step: { p: 1, q: 3 } }, { down: 8, across: 6 }],
  ])('agree with cloths laid one by one: %s', (_, repeat, cloth) => {
    const sheet = sheetOf(repeat);
    const formula = driftSpread(sheet, { ...cloth, ...ERRORS });
    const laid = simulateDrift(7, sheet, { ...cloth, ...ERRORS, runs: RUNS });
    const agree = (one: number | null | undefined, other: number | null | undefined): void => {
      expect(Math.abs((one ?? 0) / (other ?? Number.NaN) - 1)).toBeLessThan(AGREES);
    };
    for (const kind of ['punching', 'laying'] as const) {
      for (const line of ['within', 'between'] as const) {
        expect(laid[line]?.steps).toBe(formula[line]?.steps);
        for (const what of ['alongMm', 'sidewaysMm', 'turnDeg'] as const) {
          agree(laid[line]?.[kind][what], formula[line]?.[kind][what]);
        }
      }
      for (const what of ['xMm', 'yMm', 'turnDeg', 'joinMm'] as const) {
        agree(laid.last[kind][what], formula.last[kind][what]);
      }
    }
  });

  it('the same seed gives the same figures, another gives others', () => {
    const options = { down: 5, across: 3, ...ERRORS, runs: 20 };
    const one = simulateDrift(1, sheetOf(STRAIGHT), options);
    expect(simulateDrift(1, sheetOf(STRAIGHT), options)).toEqual(one);
    expect(simulateDrift(2, sheetOf(STRAIGHT), options)).not.toEqual(one);
  });

  it('no errors, no drift', () => {
    const none = { down: 5, across: 3, punchErrorMm: 0, layingErrorMm: 0 };
    const { within, last } = driftSpread(sheetOf(STRAIGHT), none);
    expect(within?.punching).toEqual({ alongMm: 0, sidewaysMm: 0, turnDeg: 0 });
    expect(last.laying).toEqual({ xMm: 0, yMm: 0, turnDeg: 0, joinMm: 0 });
    const laid = simulateDrift(1, sheetOf(STRAIGHT), { ...none, runs: 3 });
    const figures = [laid.within, laid.between, laid.last].flatMap((part) => [part?.punching, part?.laying]);
    expect(figures).toHaveLength(6);
    for (const one of figures) for (const value of Object.values(one ?? { none: 1 })) expect(value).toBeCloseTo(0, 9);
    // One placement has no lines and no join.
    const lone = simulateDrift(1, sheetOf(STRAIGHT), { down: 1, across: 1, ...ERRORS, runs: 2 });
    expect([lone.within, lone.between, lone.last.laying.joinMm]).toEqual([null, null, null]);
  });

  it.each<[string, () => unknown, RegExp]>([
    [
      'a negative error',
      () => driftSpread(sheetOf(STRAIGHT), { down: 2, across: 2, ...ERRORS, punchErrorMm: -1 }),
      /error of punching is -1 mm/,
    ],
    [
      'an error that is no number',
      () => driftSpread(sheetOf(STRAIGHT), { down: 2, across: 2, ...ERRORS, layingErrorMm: Number.NaN }),
      /error of laying is no number/,
    ],
    [
      'half a run',
      () => simulateDrift(1, sheetOf(STRAIGHT), { down: 2, across: 2, ...ERRORS, runs: 0.5 }),
      /lay 0\.5 cloths/,
    ],
    [
      'too much work',
      () => simulateDrift(1, sheetOf(STRAIGHT), { down: 50, across: 50, ...ERRORS, runs: 1e6 }),
      /fewer runs/,
    ],
    [
      'a seed that is no whole number',
      () => simulateDrift(0.5, sheetOf(STRAIGHT), { down: 2, across: 2, ...ERRORS }),
      /seed is 0\.5/,
    ],
  ])('refuses %s', (_, work, message) => {
    expect(work).toThrow(InputError);
    expect(work).toThrow(message);
  });
});

describe('random numbers', () => {
  it('are those of a normal distribution, to what their count allows', () => {
    const { normal } = randomNumbers(3);
    const drawn = Array.from({ length: 40_000 }, () => normal());
    const mean = drawn.reduce((sum, x) => sum + x, 0) / drawn.length;
    const moment = (power: number): number => drawn.reduce((sum, x) => sum + x ** power, 0) / drawn.length;
    // Four standard errors: of the mean 1/√n, of the square √(2/n), of the fourth power √(96/n), of the product of neighbours 1/√n.
    expect(Math.abs(mean)).toBeLessThan(4 / 200);
    expect(Math.abs(moment(2) - 1)).toBeLessThan((4 * Math.SQRT2) / 200);
    expect(Math.abs(moment(4) - 3)).toBeLessThan((4 * Math.sqrt(96)) / 200);
    const pairs = drawn.slice(1).reduce((sum, x, k) => sum + x * drawn[k], 0) / (drawn.length - 1);
    expect(Math.abs(pairs)).toBeLessThan(4 / 200);
  });
});
