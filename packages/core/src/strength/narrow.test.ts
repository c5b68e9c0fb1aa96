import { describe, expect, it } from 'vitest';
import { circleContour, reverseContour } from '../geometry/contour.js';
import { findNecks, findSlits } from './narrow.js';
import { box, EDGE, ring, sheet, strip, turned } from './narrow.test-help.js';
import type { CutPaper } from './types.js';

describe('necks', () => {
  it('between two circles are d - 2r wide, as long as the closed form says, and hold nothing alone', () => {
    for (const [r, d] of [
      [10, 21.5],
      [10, 20.02],
      [3, 6.4],
      [40, 81.9],
    ]) {
      const necks = findNecks(sheet([circleContour({ x: 0, y: 0 }, r), circleContour({ x: d, y: 1 }, r)]), {
        limitMm: 2,
      });
      expect(necks).toHaveLength(1);
      const [neck] = necks;
      const between = Math.hypot(d, 1);
      expect(Math.abs(neck.widthMm - (between - 2 * r))).toBeLessThan(1e-4 * r);
      expect(Math.abs(neck.lengthMm - 2 * Math.sqrt((1 + r) ** 2 - between ** 2 / 4))).toBeLessThan(0.02);
      expect(neck.atMm.x).toBeCloseTo(d / 2, 3);
      expect(neck.atMm.y).toBeCloseTo(0.5, 3);
      expect([...neck.openings].sort()).toEqual([0, 1]);
      expect(neck.weak).toBe(false);
      expect(neck.hangsMm2).toBe(0);
    }
  });

  it('between round holes R = 10 whose centres are 23 apart are 3, between round papers 16 apart the chord 12', () => {
    const holes = [circleContour({ x: 0, y: 0 }, 10), circleContour({ x: 23, y: 0 }, 10)];
    expect(findNecks(sheet(holes), { limitMm: 4 })[0].widthMm).toBeCloseTo(3, 3);
    // Two round papers of R = 10 that overlap: a rim of two arcs that meet at (0, ±6).
    const a = Math.asin(0.6);
    const arc = (cx: number, from: number, to: number): [number, number][] =>
      Array.from({ length: 400 }, (_, k) => {
        const t = from + ((to - from) * k) / 400;
        return [cx + 10 * Math.cos(t), 10 * Math.sin(t)];
      });
    const rim = reverseContour(
      ring([...arc(8, Math.PI + a - 2 * Math.PI, Math.PI - a), ...arc(-8, a, 2 * Math.PI - a)]),
    );
    const paper: CutPaper = {
      edge: EDGE,
      outlines: [
        { contour: box(-40, -40, 40, 40), opening: 0 },
        { contour: rim, opening: 0 },
      ],
    };
    const necks = findNecks(paper, { limitMm: 14 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeCloseTo(12, 6);
    expect(necks[0].weak).toBe(true);
    // Half of the two circles less the lens cut by the chord.
    const half = Math.PI * 100 - (100 * Math.acos(0.8) - 8 * 6);
    expect(Math.abs(necks[0].hangsMm2 - half)).toBeLessThan(0.05);
  });

  it('between a corner and a circle is their distance', () => {
    const square = turned(box(-5, -5, 5, 5), 45);
    const corner = { x: 3 + Math.SQRT1_2 * 10, y: -2 };
    const necks = findNecks(sheet([square, circleContour({ x: corner.x + 4 + 0.7, y: -2 }, 4)]), { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeCloseTo(0.7, 4);
  });

  it('between two bars is one place in the middle, as long as they face each other', () => {
    for (const gap of [0.02, 0.5, 1.5]) {
      const necks = findNecks(sheet([turned(box(0, 0, 30, 5), 17), turned(box(2, 5 + gap, 32, 9), 17)]), {
        limitMm: 2,
      });
      expect(necks).toHaveLength(1);
      const [neck] = necks;
      expect(neck.widthMm).toBeCloseTo(gap, 9);
      // Beyond the ends of the bars a disc touches a corner, its centre runs along a parabola; then, beside the bar's end, along the bisector.
      const t = gap < 1 ? 1 : Math.sqrt(2 * gap - gap * gap) / gap;
      const parabola = (gap / 2) * (t * Math.hypot(1, t) + Math.asinh(t));
      const bisector = Math.SQRT2 * Math.max(0, 1 - gap);
      expect(Math.abs(neck.lengthMm - 28 - 2 * (parabola + bisector))).toBeLessThan(0.05);
      const middle = { x: 16, y: 5 + gap / 2 };
      const a = (17 * Math.PI) / 180;
      expect(neck.atMm.x).toBeCloseTo(middle.x * Math.cos(a) - middle.y * Math.sin(a) + 3, 2);
    }
  });

  it('are those that a disc of the limit does not get through: reported where the limit is above the width and the slack', () => {
    // Opening by a disc of radius r leaves a strip of width w where 2 r <= w (J. Serra, Image Analysis and Mathematical Morphology, 1982).
    const bars = [box(0, 0, 30, 5), box(0, 6.5, 30, 9)];
    for (const [limitMm, count] of [
      [1.4, 0],
      [1.5, 0],
      [1.505, 0],
      [1.52, 1],
      [3, 1],
    ]) {
      expect(findNecks(sheet(bars), { limitMm }), String(limitMm)).toHaveLength(count);
    }
    expect(findNecks(sheet(bars), { limitMm: 1.505, slackMm: 0 })).toHaveLength(1);
  });
});

describe('what is no neck', () => {
  it.each([
    [
      'a tip that tapers to a point',
      ring([
        [0, 0],
        [30, 0],
        [30, 20],
        [0, 20],
        [0, 12],
        [20, 10],
        [0, 8],
      ]),
    ],
    [
      'a blunt tip',
      ring([
        [0, 0],
        [30, 0],
        [30, 20],
        [0, 20],
        [0, 12],
        [4, 11],
        [5, 10],
        [4, 9],
        [0, 8],
      ]),
    ],
    ['a square corner', box(0, 0, 20, 20)],
    [
      'a shallow notch',
      ring([
        [0, 0],
        [10, 0],
        [10.5, -0.6],
        [11, 0],
        [20, 0],
        [20, 9],
        [0, 9],
      ]),
    ],
    [
      'a leaf',
      ring(
        Array.from(
          { length: 60 },
          (_, k) => [15 * Math.cos((k * Math.PI) / 30), 4 * Math.sin((k * Math.PI) / 30) ** 3] as const,
        ),
      ),
    ],
  ])('%s', (_, contour) => {
    for (const degrees of [0, 23, 90]) {
      expect(findNecks(sheet([turned(contour, degrees)]), { limitMm: 2 })).toEqual([]);
    }
  });

  it('the sharp ends of a leaf-shaped opening are no slits', () => {
    const leaf = strip(
      40,
      200,
      (x) => ({ x, y: -5 * Math.sin((Math.PI * x) / 40) }),
      (x) => ({ x, y: 5 * Math.sin((Math.PI * x) / 40) }),
    );
    expect(findSlits(sheet([leaf]), { limitMm: 0.8 })).toEqual([]);
  });

  it('noise of flattening and wavy edges of a broad strip', () => {
    let seed = 7;
    const noise = (): number => {
      seed = (seed * 16807) % 2147483647;
      return seed / 2147483647 - 0.5;
    };
    const wavy = (y: number, sign: number) => (x: number) => ({
      x,
      y: y + sign * 0.15 * Math.sin(3 * x) + 0.01 * noise(),
    });
    const upper = strip(50, 500, wavy(0, 1), wavy(10, 1));
    const lower = strip(50, 500, wavy(12.5, -1), wavy(20, 1));
    expect(findNecks(sheet([upper, lower]), { limitMm: 2 })).toEqual([]);
    expect(findSlits(sheet([upper, lower]), { limitMm: 0.8 })).toEqual([]);
  });

  it('an even strip with noise is one place', () => {
    let seed = 11;
    const noise = (): number => {
      seed = (seed * 16807) % 2147483647;
      return 0.02 * (seed / 2147483647 - 0.5);
    };
    const edge = (y: number) => (x: number) => ({ x, y: y + noise() });
    const upper = strip(50, 700, edge(0), edge(10));
    const lower = strip(50, 500, edge(11.2), edge(20));
    const necks = findNecks(sheet([upper, lower]), { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeGreaterThan(1.17);
    expect(necks[0].widthMm).toBeLessThan(1.2);
  });
});

describe('slits', () => {
  it('a small round hole is one slit of its diameter', () => {
    const slits = findSlits(sheet([circleContour({ x: 0, y: 0 }, 0.3), circleContour({ x: 9, y: 0 }, 0.5)]), {
      limitMm: 0.8,
    });
    expect(slits).toHaveLength(1);
    expect(slits[0].widthMm).toBeCloseTo(0.6, 4);
  });

  it('a hairline opening is one slit, as long as it is', () => {
    for (const w of [0.05, 0.3, 0.7]) {
      const slits = findSlits(sheet([turned(box(0, 0, 40, w), 31)]), { limitMm: 0.8 });
      expect(slits).toHaveLength(1);
      expect(slits[0].widthMm).toBeCloseTo(w, 9);
      expect(Math.abs(slits[0].lengthMm - 40)).toBeLessThan(0.8);
    }
  });

  it('a dumbbell is one slit at its handle', () => {
    const y = (x: number): number => 0.3 + 4 * Math.cos((Math.PI * x) / 40) ** 4;
    const bell = strip(
      40,
      400,
      (x) => ({ x, y: -y(x) }),
      (x) => ({ x, y: y(x) }),
    );
    const slits = findSlits(sheet([bell]), { limitMm: 0.8 });
    expect(slits).toHaveLength(1);
    expect(slits[0].widthMm).toBeCloseTo(0.6, 9);
    expect(slits[0].weak).toBe(false);
    expect(slits[0].atMm.x).toBeCloseTo(20, 1);
  });
});
