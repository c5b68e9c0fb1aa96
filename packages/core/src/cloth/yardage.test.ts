import { describe, expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { fullPlanOptions } from './plan-options.js';
import { finishedLength, lengthToOrder, planCloth, tableLength, wholeRepeats } from './yardage.js';

const INCH = 25.4;

describe('shrinkage', () => {
  // AATCC TM135, section 9: 100 · (B − A) / A, A before, B after; minus is shrinkage. draw = want / (1 + DC/100), worked out apart from this code.
  it.each([
    [300, 1, 303.0303],
    [300, 3, 309.2784],
    [300, 5, 315.7895],
    [300, 8, 326.087],
    [300, -3, 291.2621],
    [24 * INCH, 5, 25.2632 * INCH],
  ])('%d mm finished at %d per cent takes %d on the table', (want, shrink, draw) => {
    const table = tableLength(want, shrink);
    expect(Math.abs(table - draw)).toBeLessThan(2e-3);
    expect(finishedLength(table, shrink)).toBeCloseTo(want, 9);
    expect((100 * (want - table)) / table).toBeCloseTo(-shrink, 9);
  });

  it('is not made up for by adding as many per cent', () => {
    expect(tableLength(300, 5)).toBeGreaterThan(315.7);
  });

  it.each([100, 120, -50, Number.NaN])('refuses %d per cent', (shrink) => {
    expect(() => tableLength(300, shrink)).toThrow(InputError);
    expect(() => tableLength(300, shrink)).toThrow(/^The shrinkage of the cloth is .* below 100 %; /);
  });
});

describe('lengths', () => {
  it.each([
    // "Figuring pattern repeats" (diyideas.com): 96 in at a repeat of 27 in is cut at 108 in.
    [96, 27, 4, 108],
    // "Workroom Threads", August 2011: 116 in at 25 in is cut at 125 in.
    [116, 25, 5, 125],
    // Curtain fabric instruction sheet (et-wholesale.com.au), in cm: 240 at 37 is 259.
    [240, 37, 7, 259],
    // Drapery yardage steps (fayefortune, March 2012): 114 in at 4.5 in takes 26 repeats.
    [114, 4.5, 26, 117],
  ])('of %d at a repeat of %d take %d whole repeats, %d', (length, repeat, count, cut) => {
    expect(wholeRepeats(length, repeat)).toBe(count);
    const order = lengthToOrder(
      { finishedMm: length, wholeRepeats: true },
      { repeatMm: repeat, shrinkAlongPercent: 0, endsMm: 0 },
    );
    expect(order).toMatchObject({ repeats: count, printedMm: cut, orderMm: cut });
  });

  it('that are whole repeats already stay what they are', () => {
    expect(wholeRepeats(7 * 26.1, 26.1)).toBe(7);
    expect(wholeRepeats(0.3, 0.1)).toBe(3);
  });

  it('are ordered with shrinkage and ends', () => {
    const wanted = { finishedMm: 4750, wholeRepeats: true };
    // 4750 / 0.95 = 5000 on the table: 17 repeats of 300 are 5100, which finish at 4845.
    const order = lengthToOrder(wanted, { repeatMm: 300, shrinkAlongPercent: 5, endsMm: 80 });
    expect(order.repeats).toBe(17);
    expect(order.printedMm).toBe(5100);
    expect(order.printedFinishedMm).toBeCloseTo(4845, 9);
    expect(order.orderMm).toBe(5180);
    const anyhow = lengthToOrder(
      { ...wanted, wholeRepeats: false },
      { repeatMm: 300, shrinkAlongPercent: 5, endsMm: 80 },
    );
    expect(anyhow.repeats).toBeNull();
    expect(anyhow.orderMm).toBeCloseTo(5080, 9);
  });
});

describe('planCloth', () => {
  it('gives both sizes, whichever was given', () => {
    const cloth = { widthMm: 950, lengthMm: 920, shrinkAcrossPercent: 5, shrinkAlongPercent: 8 };
    const finished = planCloth(fullPlanOptions({ cloth: { ...cloth, sizes: 'finished' } }));
    expect(finished.table.widthMm).toBeCloseTo(1000, 9);
    expect(finished.table.lengthMm).toBeCloseTo(1000, 9);
    const table = planCloth(fullPlanOptions({ cloth: { ...cloth, widthMm: 1000, lengthMm: 1000 } }));
    expect(table.finished).toEqual({ widthMm: 950, lengthMm: 920 });
  });

  it.each([
    [{ selvedgeLeftMm: 200, selvedgeRightMm: 160 }, /selvedges .* leave nothing of a cloth that is 360 mm wide/],
    [{ startMm: 500, endMm: 500 }, /unprinted ends .* leave nothing of a cloth that is 1000 mm long/],
  ])('refuses %j', (ends, message) => {
    const options = fullPlanOptions({ cloth: { widthMm: 360, lengthMm: 1000, ...ends } });
    expect(() => planCloth(options)).toThrow(message);
    expect(() => planCloth(options)).toThrow(InputError);
  });
});
