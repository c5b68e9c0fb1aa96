import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import { bestPair, checkExtra } from './extra.js';
import { holesAt } from './sheets.test-help.js';
import type { Corner, ExtraDot, Holes } from './types.js';

const TARGETS = { widthMm: 500, heightMm: 300 };
/** As measured, and as the sheet will print once its holes are mended. */
const HOLES = holesAt([3, -2], [506, 4], [511, 309], [-4, 297]);
const TRUE_HOLES = holesAt([1.5, -0.8], [502, 0.7], [503, 304], [-0.6, 303]);
const NAMES: readonly Corner[] = ['upperLeft', 'upperRight', 'lowerRight', 'lowerLeft'];

const away = (a: Point, b: Point) => Math.hypot(a.x - b.x, a.y - b.y);
const toward = (from: Point, to: Point, share: number): Point => ({
  x: from.x + (to.x - from.x) * share,
  y: from.y + (to.y - from.y) * share,
});

/** The same shares of the sides: along the top and the bottom, then between these two places. */
function placeOn({ upperLeft, upperRight, lowerRight, lowerLeft }: Holes, at: Point): Point {
  const across = at.x / TARGETS.widthMm;
  return toward(toward(upperLeft, upperRight, across), toward(lowerLeft, lowerRight, across), at.y / TARGETS.heightMm);
}

function dotAt(at: Point, really: Point, from: readonly Corner[], stray: readonly number[] = []): ExtraDot {
  return {
    name: 'M',
    at,
    measured: from.map((corner, k) => ({ from: corner, readingsMm: [away(HOLES[corner], really) + (stray[k] ?? 0)] })),
  };
}

const check = (dot: ExtraDot, errorMm = 0.5) =>
  checkExtra([dot], { holes: HOLES, trueHoles: TRUE_HOLES, targets: TARGETS }, errorMm);

const share = fc.integer({ min: 15, max: 85 }).map((n) => n / 100);
const stray = fc.integer({ min: -40, max: 40 }).map((n) => n / 10);

describe('the two holes from which a dot is found', () => {
  it('are those whose arcs cross nearest to a right angle, by the law of cosines', () => {
    fc.assert(
      fc.property(share, share, (u, v) => {
        const at = placeOn(HOLES, { x: u * 500, y: v * 300 });
        const leaning = (one: Corner, other: Corner) => {
          const [a, b, c] = [away(at, HOLES[one]), away(at, HOLES[other]), away(HOLES[one], HOLES[other])];
          return Math.abs((a * a + b * b - c * c) / (2 * a * b));
        };
        const [one, other] = bestPair(at, HOLES);
        const least = Math.min(...NAMES.flatMap((a, k) => NAMES.slice(k + 1).map((b) => leaning(a, b))));
        expect(leaning(one, other)).toBeCloseTo(least, 6);
      }),
      { numRuns: 50 },
    );
  });

  it('are of equals the first from the upper left clockwise', () => {
    // In the middle of a square all neighbours cross at right angles; in the middle of the left side the upper pair and the lower pair do.
    const square = holesAt([0, 0], [100, 0], [100, 100], [0, 100]);
    expect(bestPair({ x: 50, y: 50 }, square)).toEqual(['upperLeft', 'upperRight']);
    expect(bestPair({ x: 0, y: 50 }, square)).toEqual(['upperLeft', 'upperRight']);
    expect(bestPair({ x: 50, y: 100 }, square)).toEqual(['upperLeft', 'lowerRight']);
    // From the hole itself no arc crosses.
    expect(bestPair({ x: 0, y: 0 }, square)).toEqual(['upperRight', 'lowerLeft']);
  });
});

describe('a dot between the corners', () => {
  it('is found where it really is, and told where it belongs on the mended sheet', () => {
    fc.assert(
      fc.property(share, share, stray, stray, (u, v, dx, dy) => {
        const at = { x: u * 500, y: v * 300 };
        const home = placeOn(HOLES, at);
        const really = { x: home.x + dx, y: home.y + dy };
        const wanted = placeOn(TRUE_HOLES, at);
        const off = away(really, wanted);
        fc.pre(Math.abs(off - 0.5) > 1e-3 && Math.abs(off - 3) > 1e-3);
        const { checks, repunch } = check(dotAt(at, really, ['upperLeft', 'lowerRight', 'lowerLeft']));
        expect(checks).toEqual([{ name: 'M', offMm: expect.closeTo(off, 5), ok: off <= 0.5, alongOnly: false }]);
        expect(repunch).toHaveLength(off <= 0.5 ? 0 : 1);
        for (const { hole, at: there, fromMm, checkMm, movedMm, patchFirst } of repunch) {
          expect(hole).toBe('M');
          expect(away(there, wanted)).toBeLessThan(1e-9);
          expect(fromMm.map((one) => one.hole)).toEqual(bestPair(wanted, TRUE_HOLES));
          for (const one of fromMm) expect(one.mm).toBeCloseTo(away(TRUE_HOLES[one.hole as Corner], wanted), 9);
          expect(checkMm).toBeNull();
          expect(movedMm).toBeCloseTo(off, 5);
          // Two holes of 1.5 mm with as much paper between: 3 mm.
          expect(patchFirst).toBe(off < 3);
        }
      }),
      { numRuns: 50 },
    );
  });

  it('of three distances that do not meet lies where their squares are least, better known ones counting more', () => {
    const at = { x: 310, y: 130 };
    const home = placeOn(HOLES, at);
    const dot = dotAt(at, home, ['upperLeft', 'upperRight', 'lowerLeft']);
    // The first is read four times as often, so it counts four times as much; all miss by 1 to 2 mm.
    const measured = dot.measured.map(({ from, readingsMm: [mm] }, k) => ({
      from,
      readingsMm: k === 0 ? new Array(4).fill(mm + 2) : [mm + (k === 1 ? 1.5 : -1)],
    }));
    const cost = (p: Point) =>
      measured.reduce((sum, { from, readingsMm }) => {
        return sum + readingsMm.length * (readingsMm[0] - away(HOLES[from], p)) ** 2;
      }, 0);
    let [best, step] = [home, 1];
    while (step > 1e-8) {
      const next = [
        { x: best.x + step, y: best.y },
        { x: best.x - step, y: best.y },
        { x: best.x, y: best.y + step },
        { x: best.x, y: best.y - step },
      ].find((p) => cost(p) < cost(best));
      if (next === undefined) step /= 2;
      else best = next;
    }
    const { checks } = check({ ...dot, measured });
    expect(checks[0].offMm).toBeCloseTo(away(best, placeOn(TRUE_HOLES, at)), 5);
  });

  it('is known along one line only where its arcs cross at less than 15 degrees', () => {
    // Over the middle of the top side from 400 mm apart: arcs that cross at an angle of 2a lie 200 · tan(a) off it.
    const flat = holesAt([0, 0], [400, 0], [400, 400], [0, 400]);
    const targets = { widthMm: 400, heightMm: 400 };
    for (const [deg, alongOnly] of [
      [14, true],
      [16, false],
    ] as const) {
      const at = { x: 200, y: 200 * Math.tan(((deg / 2) * Math.PI) / 180) };
      const mm = Math.hypot(at.x, at.y);
      const dot: ExtraDot = {
        name: 'M',
        at,
        measured: [
          { from: 'upperLeft', readingsMm: [mm] },
          { from: 'upperRight', readingsMm: [mm] },
        ],
      };
      const { checks } = checkExtra([dot], { holes: flat, trueHoles: flat, targets }, 0.5);
      expect(checks[0].alongOnly).toBe(alongOnly);
      expect(checks[0].offMm).toBeLessThan(1e-6);
      // A third distance across the sheet fixes it.
      const third = { from: 'lowerLeft' as const, readingsMm: [Math.hypot(at.x, 400 - at.y)] };
      const fixed = { ...dot, measured: [...dot.measured, third] };
      expect(checkExtra([fixed], { holes: flat, trueHoles: flat, targets }, 0.5).checks[0].alongOnly).toBe(false);
    }
  });

  it('of one distance moves along it, and of two on one line by their mean, the surer one counting more', () => {
    const flat = holesAt([0, 0], [400, 0], [400, 300], [0, 300]);
    const targets = { widthMm: 400, heightMm: 300 };
    const off = (at: Point, measured: ExtraDot['measured']) =>
      checkExtra([{ name: 'M', at, measured }], { holes: flat, trueHoles: flat, targets }, 0.5).checks[0];
    const side = { x: 400, y: 120 };
    expect(off(side, [{ from: 'upperRight', readingsMm: [122] }])).toMatchObject({ alongOnly: true, offMm: 2 });
    expect(off({ x: 150, y: 0 }, [{ from: 'upperLeft', readingsMm: [147] }])).toMatchObject({ offMm: 3 });
    // 2 mm too far down by one end, 1 mm by the other, which was read three times: (2 + 3 · 1) / 4.
    const both = off(side, [
      { from: 'upperRight', readingsMm: [122] },
      { from: 'lowerRight', readingsMm: [179, 179, 179] },
    ]);
    expect(both.offMm).toBeCloseTo(1.25, 9);
    const level = off({ x: 150, y: 300 }, [
      { from: 'lowerLeft', readingsMm: [152] },
      { from: 'lowerRight', readingsMm: [249, 249, 249] },
    ]);
    expect(level.offMm).toBeCloseTo(1.25, 9);
    // What was not read from a corner counts for nothing.
    expect(
      off(side, [
        { from: 'upperRight', readingsMm: [122] },
        { from: 'lowerLeft', readingsMm: [] },
      ]).offMm,
    ).toBe(2);
  });

  it('is right within half a mm of its place, and that half included', () => {
    const flat = holesAt([0, 0], [400, 0], [400, 300], [0, 300]);
    const targets = { widthMm: 400, heightMm: 300 };
    const ok = (mm: number) =>
      checkExtra(
        [{ name: 'M', at: { x: 400, y: 120 }, measured: [{ from: 'upperRight', readingsMm: [120 + mm] }] }],
        { holes: flat, trueHoles: flat, targets },
        0.5,
      ).checks[0].ok;
    expect(ok(0.5)).toBe(true);
    expect(ok(-0.5)).toBe(true);
    expect(ok(0.51)).toBe(false);
  });
});
