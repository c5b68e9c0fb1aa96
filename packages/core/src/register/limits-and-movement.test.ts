import { describe, expect, it } from 'vitest';
import { squareFindings } from '../findings/squaring.js';
import { checkSquare } from './check-square.js';
import { finerWords, mayDifferWords, mustAgreeWords, stopWhenWords } from './limit-words.js';
import { squareLimits } from './limits.js';
import { measuredMovement, movedDistance } from './movement.js';
import { asMeasured } from './sheets.test-help.js';
import { rectangleDistances } from './spans.js';

const TARGETS = { widthMm: 600, heightMm: 450 };

describe('sizes of a sheet whose paper has moved', () => {
  const free = (w: number, h: number) =>
    squareFindings(checkSquare(asMeasured(rectangleDistances(w, h)), { targets: TARGETS, sizes: 'free' })).filter(
      ({ code }) => code === 'square-moved' || code === 'square-size',
    );

  it('tell its movement, wider or narrower, higher or lower', () => {
    const [moved] = free(606, 441);
    expect(moved).toMatchObject({ code: 'square-moved', severity: 'note' });
    expect(moved.measure?.widthOffMm).toBeCloseTo(6, 9);
    expect(moved.measure?.heightOffMm).toBeCloseTo(-9, 9);
    expect(moved.message).toContain('6 mm (1 %) wider and 9 mm (2 %) lower');
    expect(free(594, 459)[0].message).toContain('6 mm (1 %) narrower and 9 mm (2 %) higher');
  });

  it('are those of another sheet beyond a tenth, and nothing within the errors', () => {
    expect(free(659, 450)[0].code).toBe('square-moved');
    expect(free(661, 450)[0].code).toBe('square-size');
    expect(free(600, 405.5)[0].code).toBe('square-moved');
    expect(free(600, 404.5)[0].code).toBe('square-size');
    // Half a mm that joins stand and half a mm of reading.
    expect(free(600.99, 450)).toEqual([]);
    expect(free(601.01, 450)).toHaveLength(1);
    expect(free(600, 448.99)).toHaveLength(1);
    expect(measuredMovement({ dryMm: 500, wetMm: 550 }).percent).toBeCloseTo(10, 9);
    expect(() => movedDistance(500, 10.01, { to: 'wet' })).toThrow(/from -10 % to 10 %/);
    expect(movedDistance(500, -10, { to: 'wet' })).toBe(450);
  });
});

describe('limits of a run', () => {
  it('are the tolerance over the prints, half a mm at most, and a lean of 2 mm a metre', () => {
    const limits = squareLimits({ widthMm: 400, heightMm: 300 }, { toleranceMm: 0.8, prints: 5 });
    expect(limits.sidesMm).toBeCloseTo(0.16, 9);
    // 2 mm a metre over 300 mm are 0.6 mm: p² − q² = 4 w s, and p + q = 2 · 500.
    expect(limits.diagonalsMm).toBeCloseTo((4 * 400 * 0.6) / 1000, 9);
    expect(limits.stopSidesMm).toBe(0.5);
    expect(limits.stopDiagonalsMm).toBeCloseTo(0.96, 9);
    expect(squareLimits({ widthMm: 400, heightMm: 300 }, { toleranceMm: 3, prints: 2 }).sidesMm).toBe(0.5);
    // On a high sheet the lean is held to what a join stands.
    expect(squareLimits({ widthMm: 300, heightMm: 400 }, { toleranceMm: 0.3, prints: 1 }).diagonalsMm).toBeCloseTo(
      (4 * 300 * 0.3) / 1000,
      9,
    );
    expect(squareLimits({ widthMm: 30, heightMm: 400 }, { toleranceMm: 0.3, prints: 1 }).stopDiagonalsMm).toBe(0.5);
  });

  it('are said no longer than they are, each where it belongs', () => {
    const limits = {
      toleranceMm: 0.8,
      prints: 3,
      sidesMm: 0.2677,
      diagonalsMm: 1,
      stopSidesMm: 0.526,
      stopDiagonalsMm: 0.987,
    };
    expect(mustAgreeWords(limits)).toBe(
      'top and bottom within 0.52 mm, left and right within 0.52 mm, the two diagonals within 0.98 mm',
    );
    expect(stopWhenWords(limits)).toContain('more than 0.52 mm, or the diagonals by more than 0.98 mm');
    expect(finerWords(limits)).toMatch(/^Over 3 prints .* within 0.8 mm if opposite sides agree within 0.26 mm/);
    expect(finerWords({ ...limits, sidesMm: 0.526 })).toBeNull();
    // What is a hundredth but for rounding is not said a hundredth shorter.
    expect(mustAgreeWords({ ...limits, stopSidesMm: 0.1 + 0.2 - 0.01 })).toContain('within 0.29 mm');
    expect(mayDifferWords(true)).not.toBe(mayDifferWords(false));
    expect(mayDifferWords(true)).toContain('its strip');
  });
});
