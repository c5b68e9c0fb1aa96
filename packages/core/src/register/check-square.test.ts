import { describe, expect, it } from 'vitest';
import { squareFindings, squareSentences } from '../findings/squaring.js';
import { InputError } from '../units/input-error.js';
import { checkSquare } from './check-square.js';
import { asMeasured, codes, holesAt, measure } from './sheets.test-help.js';
import { distancesOf } from './spans.js';
import type { Measured } from './types.js';

describe('repeated readings and fewer distances', () => {
  it('averages, with an error √n smaller', () => {
    const check = checkSquare({ top: [600.2, 599.8, 600.3, 599.7] });
    expect(check.readings.top?.meanMm).toBeCloseTo(600, 9);
    expect(check.readings.top?.errorMm).toBeCloseTo(0.25, 12);
    expect(check.readings.top?.spreadTooBig).toBe(false);
  });

  it('says when readings scatter more than their error', () => {
    const { readings } = checkSquare({ top: [600, 603] });
    expect(readings.top).toMatchObject({ spreadMm: 1.5, spreadTooBig: true });
    expect(readings.top?.errorMm).toBeCloseTo(1.5 / Math.SQRT2, 12);
    expect(codes({ top: [600, 603] })).toContain('square-spread');
  });

  it('two equal diagonals prove nothing', () => {
    const check = checkSquare({ falling: [750], rising: [750] });
    expect(check.square).toBeNull();
    expect(squareSentences(check).join(' ')).toMatch(/isosceles trapezoid.*prove nothing/);
  });

  it('unequal diagonals, unequal sides or one corner that is not square disprove', () => {
    expect(checkSquare({ falling: [750], rising: [745] }).square).toBe(false);
    expect(checkSquare({ top: [600], bottom: [597] }).square).toBe(false);
    expect(codes({ top: [600], bottom: [597] })).toEqual(['square-sides', 'square-unproved']);
    expect(checkSquare({ top: [600], right: [450], falling: [760] }).square).toBe(false);
    expect(checkSquare({ top: [600], right: [450], falling: [750] }).square).toBeNull();
  });

  it('foretells the sixth from five', () => {
    const check = checkSquare({ ...measure(600, 450, 600, 450, 750, 1), rising: [] });
    expect(check.missing).toEqual(['rising']);
    const [found] = squareFindings(check);
    expect(found.code).toBe('square-unproved');
    expect(found.measure?.risingMm).toBeCloseTo(750, 9);
    expect(found.message).toContain('750 mm (29 17/32 in)');
  });
});

describe('dots between the corners', () => {
  const targets = { widthMm: 600, heightMm: 450 };
  const square = measure(600, 450, 600, 450, 750, 750);
  const at = { x: 600, y: 225 };
  const far = (x: number, y: number) => Math.hypot(at.x - x, at.y - y);

  it('are found where arcs cross', () => {
    const dot = (dx: number, dy: number) => ({
      name: 'M',
      at,
      measured: [
        { from: 'upperRight' as const, readingsMm: [Math.hypot(dx, 225 + dy)] },
        { from: 'upperLeft' as const, readingsMm: [Math.hypot(600 + dx, 225 + dy)] },
      ],
    });
    expect(checkSquare(square, { targets, extra: [dot(0, 0)] }).extra).toMatchObject([{ ok: true, alongOnly: false }]);
    const off = checkSquare(square, { targets, extra: [dot(2, -1)] });
    expect(off.extra[0].offMm).toBeCloseTo(Math.sqrt(5), 6);
    expect(off.repunch).toMatchObject([{ hole: 'M', patchFirst: true }]);
    for (const { hole, mm } of off.repunch[0].fromMm) {
      const corner =
        { upperLeft: [0, 0], upperRight: [600, 0], lowerRight: [600, 450], lowerLeft: [0, 450] }[hole] ?? [];
      expect(mm).toBeCloseTo(far(corner[0], corner[1]), 6);
    }
    expect(squareFindings(off).find(({ code }) => code === 'square-extra')?.severity).toBe('fix');
  });

  it('measured from both ends of their own side are known along it only', () => {
    const dot = (dy: number) => ({
      name: 'M',
      at,
      measured: [
        { from: 'upperRight' as const, readingsMm: [225 + dy] },
        { from: 'lowerRight' as const, readingsMm: [225 - dy] },
      ],
    });
    expect(checkSquare(square, { targets, extra: [dot(0)] }).extra).toMatchObject([{ ok: true, alongOnly: true }]);
    expect(codes(square, { targets, extra: [dot(0)] })).toContain('square-extra-side');
    expect(checkSquare(square, { targets, extra: [dot(1.5)] }).extra[0].offMm).toBeCloseTo(1.5, 9);
  });

  it('without a reading, or with a corner’s name, are refused', () => {
    expect(() => checkSquare(square, { targets, extra: [{ name: 'M', at, measured: [] }] })).toThrow(
      /"M" has no reading/,
    );
    const measured = [{ from: 'upperLeft' as const, readingsMm: [1] }];
    expect(() => checkSquare(square, { targets, extra: [{ name: 'upperLeft', at, measured }] })).toThrow(InputError);
  });
});

describe('holes', () => {
  it('are called what the sheet calls them', () => {
    const names = { upperLeft: 'A', upperRight: 'B', lowerRight: 'C', lowerLeft: 'D' };
    const check = checkSquare(asMeasured(distancesOf(holesAt([0, 0], [600, 0], [602, 451], [0, 450]))), {
      targets: { widthMm: 600, heightMm: 450 },
      names,
    });
    expect(squareSentences(check).join(' ')).toContain(
      'Punch again one hole: hole C (lower right), 450 mm (17 23/32 in) from hole B (upper right)',
    );
  });

  it('of which one lies inside the triangle of the others are no sheet', () => {
    const dart = asMeasured(distancesOf(holesAt([400, 300], [600, 0], [600, 450], [0, 450])));
    expect(checkSquare(dart)).toMatchObject({ square: null, repunch: [] });
    expect(codes(dart)).toEqual(['square-misreading']);
    expect(squareSentences(checkSquare(dart))[0]).toContain('one hole lies inside the triangle of the other three');
  });

  it('whose sides differ by more than a join may, and less than the readings tell, are neither square nor not', () => {
    const check = checkSquare(asMeasured(distancesOf(holesAt([0, 0], [600, 0], [600.4, 450], [-0.3, 450]))));
    expect(check).toMatchObject({
      verdict: 'unsettled',
      square: null,
      effect: null,
      shape: null,
      mend: 'measure-again',
    });
    expect(squareFindings(check)).toMatchObject([{ code: 'square-unsettled', severity: 'fix' }]);
  });
});

describe('impossible input', () => {
  it('begins beyond a job of 20 m', () => {
    const job = (widthMm: number, heightMm: number) => () =>
      checkSquare({ top: [600] }, { targets: { widthMm, heightMm } });
    expect(job(20_000, 20_000)).not.toThrow();
    expect(job(20_001, 450)).toThrow(/width is 20001 mm: .* at most 20 m/);
    expect(job(600, 20_001)).toThrow(/height is 20001 mm/);
    expect(job(600, 0)).toThrow(/height is 0 mm/);
  });

  it.each<[Measured, Parameters<typeof checkSquare>[1], RegExp]>([
    [
      measure(600, 450, 600, 450, 1200, 750),
      {},
      /falling \(1200 mm\), bottom \(600 mm\) and left \(450 mm\).*measure these three again/,
    ],
    [{}, {}, /Nothing was measured/],
    [{ top: [0] }, {}, /top side is 0 mm/],
    [{ rising: [Number.NaN] }, {}, /rising diagonal is no number/],
    [{ top: [1e9] }, {}, /at most 20 m/],
    [{ top: [600] }, { readingErrorMm: 0 }, /error of reading is 0 mm/],
    [{ top: [600] }, { targets: { widthMm: -1, heightMm: 5 } }, /width is -1 mm/],
  ])('%j %j', (measured, options, message) => {
    expect(() => checkSquare(measured, options)).toThrow(InputError);
    expect(() => checkSquare(measured, options)).toThrow(message);
  });
});
