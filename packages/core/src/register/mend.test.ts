import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { squareFindings, squareSentences } from '../findings/squaring.js';
import { checkSquare } from './check-square.js';
import { shapeOfHoles } from './shape.js';
import { asMeasured, codes, holesAt, measure } from './sheets.test-help.js';
import { distancesOf, rectangleDistances, SPANS } from './spans.js';
import type { Corner, Holes, Measured, Repunch } from './types.js';

/** Spread evenly, not heaped at zero. */
function between(min: number, max: number) {
  return fc.integer({ min: 0, max: 1_000_000 }).map((n) => min + ((max - min) * n) / 1_000_000);
}

describe('what it does to the print', () => {
  const targets = { widthMm: 600, heightMm: 450 };

  function sheet(...corners: readonly (readonly [number, number])[]) {
    return asMeasured(distancesOf(holesAt(...corners)));
  }

  it('leans: a look with mm a metre, a new hole from 2 mm a metre on', () => {
    const little = checkSquare(sheet([0, 0], [600, 0], [600.8, 450], [0.8, 450]), { targets });
    expect(little).toMatchObject({ effect: 'leans', square: false, repunch: [] });
    expect(little.shape?.leanMmPerM).toBeCloseTo(0.8 / 0.45, 6);
    expect(squareFindings(little).find(({ code }) => code === 'square-lean')?.severity).toBe('look');
    const more = checkSquare(sheet([0, 0], [600, 0], [601.2, 450], [1.2, 450]), { targets });
    expect(more.effect).toBe('leans');
    expect(more.repunch).toHaveLength(2);
    expect(codes(sheet([0, 0], [600, 0], [601.2, 450], [1.2, 450]), { targets })).not.toContain('square-sides');
  });

  it('takes a lean within the errors of reading for none', () => {
    const check = checkSquare(sheet([0, 0], [600, 0], [600.4, 450], [0.4, 450]), { targets });
    expect(check).toMatchObject({ effect: 'steps', square: true });
  });

  it('one hole off: that one is punched again, from its neighbours, and patched first when near', () => {
    const check = checkSquare(sheet([0, 0], [600, 0], [602, 451], [0, 450]), { targets });
    expect(check).toMatchObject({ effect: 'misjoins', square: false });
    expect(check.repunch).toHaveLength(1);
    const [hole] = check.repunch;
    expect(hole).toMatchObject({ hole: 'lowerRight', patchFirst: true });
    expect(hole.movedMm).toBeCloseTo(Math.sqrt(5), 6);
    expect(hole.fromMm.map(({ hole: from }) => from)).toEqual(['upperRight', 'lowerLeft']);
    expect(hole.fromMm[0].mm).toBeCloseTo(450, 6);
    expect(hole.fromMm[1].mm).toBeCloseTo(600, 6);
    expect(hole.checkMm).toMatchObject({ hole: 'upperLeft' });
    expect(hole.checkMm?.mm).toBeCloseTo(750, 6);
    const finding = squareFindings(check).find(({ code }) => code === 'square-sides');
    expect(finding?.severity).toBe('fix');
    expect(finding?.message).toContain('patch that first');
    const far = checkSquare(sheet([0, 0], [600, 0], [604, 451], [0, 450]), { targets });
    expect(far.repunch).toMatchObject([{ hole: 'lowerRight', patchFirst: false }]);
  });

  it('fixes sides that differ by more than 0.5 mm, and says when the readings may be off by as much', () => {
    expect(codes(sheet([0, 0], [600, 0], [600.25, 450], [-0.2, 450]), { targets })).not.toContain('square-sides');
    expect(codes(sheet([0, 0], [600, 0], [600.7, 450], [-0.7, 450]), { targets })).toContain('square-sides');
    const found = squareFindings(checkSquare(sheet([0, 0], [600, 0], [600.4, 450], [-0.3, 450]), { targets }));
    expect(found.map(({ code, severity }) => [code, severity])).toEqual([['square-unsettled', 'fix']]);
    // Means of four tell sides of 0.5 mm apart: 2 · 0.5 / √4.
    expect(found[0].message).toContain('each 4 times');
  });

  it('tells a size that is not the job’s', () => {
    expect(codes(sheet([0, 0], [603, 0], [603, 450], [0, 450]), { targets })).toContain('square-size');
    expect(codes(sheet([0, 0], [603, 0], [603, 450], [0, 450]))).not.toContain('square-size');
    // No two holes stand at the job's distance, so new ones make it square and not of the job's size.
    const diagonal = Math.hypot(608, 450);
    const odd = checkSquare(asMeasured({ ...rectangleDistances(608, 450), bottom: 605, falling: diagonal }), {
      targets: { widthMm: 700, heightMm: 500 },
      readingErrorMm: 1,
    });
    expect(odd.repunch.length).toBeGreaterThan(0);
    expect(squareFindings(odd).find(({ code }) => code === 'square-size')?.message).toContain('Once punched again');
  });

  it('re-punching as told makes any sheet square, each new hole from two that stay, with one hole or two', () => {
    let [one, two] = [0, 0];
    fc.assert(
      fc.property(
        fc.array(between(-12, 12), { minLength: 8, maxLength: 8 }),
        fc.integer({ min: 0, max: 4 }),
        (stray, only) => {
          const at = (x: number, y: number, k: number): readonly [number, number] =>
            only === 0 || only === k + 1 ? [x + stray[2 * k], y + stray[2 * k + 1]] : [x, y];
          const holes = holesAt(at(0, 0, 0), at(600, 0, 1), at(600, 450, 2), at(0, 450, 3));
          const check = checkSquare(asMeasured(distancesOf(holes)), { targets });
          const mended = punched(check.holes as Holes, check.repunch);
          const shape = shapeOfHoles(mended);
          if (check.repunch.length === 0) {
            expect(check.effect).not.toBe('misjoins');
            return;
          }
          expect(Math.abs(shape.topMinusBottomMm)).toBeLessThan(1e-6);
          expect(Math.abs(shape.rightMinusLeftMm)).toBeLessThan(1e-6);
          expect(Math.abs(shape.leanMmPerM)).toBeLessThan(2);
          expect(check.repunch.length).toBeLessThanOrEqual(only === 0 ? 2 : 1);
          if (check.repunch.length === 1) one++;
          else two++;
          const again = checkSquare(asMeasured(distancesOf(mended)), { targets });
          expect(again.repunch).toEqual([]);
          expect(again.effect).not.toBe('misjoins');
        },
      ),
    );
    expect(one).toBeGreaterThan(10);
    expect(two).toBeGreaterThan(5);
  });

  /** The holes set with a ruler from those that stay: where two arcs cross, on the side of the old hole. */
  function punched(holes: Holes, repunch: readonly Repunch[]): Holes {
    const fresh = repunch.map(({ hole }) => hole);
    const result: Record<string, { x: number; y: number }> = { ...holes };
    for (const { hole, fromMm, checkMm } of repunch) {
      const [one, other] = fromMm;
      expect(fresh).not.toContain(one.hole);
      expect(fresh).not.toContain(other.hole);
      const [p, q] = [holes[one.hole as Corner], holes[other.hole as Corner]];
      const base = Math.hypot(q.x - p.x, q.y - p.y);
      const foot = (one.mm ** 2 - other.mm ** 2 + base ** 2) / (2 * base);
      const high = Math.sqrt(one.mm ** 2 - foot ** 2);
      const [ux, uy] = [(q.x - p.x) / base, (q.y - p.y) / base];
      const old = holes[hole as Corner];
      const side = Math.sign(ux * (old.y - p.y) - uy * (old.x - p.x));
      result[hole] = { x: p.x + foot * ux - side * high * uy, y: p.y + foot * uy + side * high * ux };
      if (checkMm === null || repunch.length > 1) continue;
      const third = holes[checkMm.hole as Corner];
      expect(Math.hypot(third.x - result[hole].x, third.y - result[hole].y)).toBeCloseTo(checkMm.mm, 6);
    }
    return result as unknown as Holes;
  }
});

describe('which reading is wrong', () => {
  const targets = { widthMm: 600, heightMm: 450 };

  it('lists what each would have to be', () => {
    const { flat } = checkSquare(measure(600, 450, 600, 450, 760, 750), { targets });
    expect(flat?.wouldBe.map(({ span }) => span)).toEqual([...SPANS]);
    const falling = flat?.wouldBe.find(({ span }) => span === 'falling');
    expect(falling?.mm).toBeCloseTo(750, 9);
    expect(falling?.changeMm).toBeCloseTo(-10, 9);
    for (const { span, mm } of flat?.wouldBe ?? []) {
      const mended = { ...rectangleDistances(600, 450), falling: 760, [span]: mm };
      expect(checkSquare(asMeasured(mended), { readingErrorMm: 1e-6 }).flat?.verdict).toBe('possible');
    }
  });

  it('names the one that makes it the job’s sheet, and its slip', () => {
    const suspect = (m: Measured) => checkSquare(m, { targets }).flat?.suspect;
    expect(suspect(measure(600, 450, 600, 450, 760, 750))).toMatchObject({
      span: 'falling',
      slip: 'ten-mm',
      nearJob: true,
    });
    expect(suspect(measure(600, 450, 600, 450, 750, 775.4))).toMatchObject({ span: 'rising', slip: 'whole-inch' });
    expect(suspect(measure(600, 450, 600.4, 540, 750, 750))).toMatchObject({ span: 'left', slip: 'swapped-digits' });
    expect(suspect(measure(593, 450, 600, 450, 750, 750))).toMatchObject({ span: 'top', slip: null, nearJob: true });
    expect(codes(measure(593, 450, 600, 450, 750, 750), { targets })).toEqual(['square-misreading']);
  });

  it('names none where none stands out', () => {
    // Two wrong at once, far from the job: no single correction helps.
    const check = checkSquare(measure(617, 450, 600, 468, 750, 750), { targets });
    expect(check.flat?.verdict).not.toBe('possible');
    expect(check.flat?.suspect).toBeNull();
    expect(squareSentences(check).join(' ')).toContain('measure all six again');
    // Without a job a change that is no slip accuses nobody.
    expect(checkSquare(measure(593, 450, 600, 450, 750, 750)).flat?.suspect).toBeNull();
  });

  it('names the true one for any single error of 8 to 60 mm on a true sheet', () => {
    fc.assert(
      fc.property(fc.constantFrom(...SPANS), between(8, 60), fc.boolean(), (span, error, longer) => {
        const d = rectangleDistances(600, 450);
        const suspect = checkSquare(asMeasured({ ...d, [span]: d[span] + (longer ? error : -error) }), { targets }).flat
          ?.suspect;
        expect(suspect?.span).toBe(span);
        expect(suspect?.mm).toBeCloseTo(d[span], 6);
      }),
    );
  });
});
