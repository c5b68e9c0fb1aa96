import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import { findNecks, findSlits } from './narrow.js';
import type { CutPaper } from './types.js';

const EDGE = { x0: -100, y0: -100, x1: 200, y1: 200 };

/** Each contour an opening of its own. */
function sheet(contours: readonly Contour[], edge = EDGE): CutPaper {
  return { edge, outlines: contours.map((contour, opening) => ({ contour, opening })) };
}

function ring(points: readonly (readonly [number, number])[]): Contour {
  return polyline(
    points.map(([x, y]) => ({ x, y })),
    { closed: true },
  );
}

function box(x0: number, y0: number, x1: number, y1: number): Contour {
  return boxContour({ x0, y0, x1, y1 });
}

function turned(contour: Contour, degrees: number): Contour {
  const a = (degrees * Math.PI) / 180;
  return transformContour(contour, [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), 3, -2]);
}

/** An outline along half of which the points are those of `f`, and back along `g`. */
function strip(length: number, steps: number, f: (x: number) => Point, g: (x: number) => Point): Contour {
  const xs = Array.from({ length: steps + 1 }, (_, k) => (length * k) / steps);
  return polyline([...xs.map(f), ...xs.reverse().map(g)], { closed: true });
}

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
});

describe('strips', () => {
  it('between the slots of a comb are paper teeth with a neck each, which nothing hangs on', () => {
    const slots = Array.from({ length: 5 }, (_, k) => box(4 * k, 0, 4 * k + 2.8, 30));
    const necks = findNecks(sheet(slots), { limitMm: 2 });
    expect(necks).toHaveLength(4);
    for (const neck of necks) {
      expect(neck.widthMm).toBeCloseTo(1.2, 9);
      expect(neck.atMm.y).toBeCloseTo(15, 0);
      expect(neck.weak).toBe(false);
    }
  });

  it('of one opening in the shape of a comb are tongues: dead ends of even width, on which they hang', () => {
    const points: [number, number][] = [
      [0, -5],
      [18.8, -5],
    ];
    for (let k = 4; k >= 0; k--) {
      points.push([4 * k + 2.8, 30], [4 * k, 30]);
      if (k > 0) points.push([4 * k, 0], [4 * k - 1.2, 0]);
    }
    const comb = ring(points);
    // Slots of 2.8 with teeth of 1.2 between them, which are free above.
    const necks = findNecks(sheet([comb]), { limitMm: 2 });
    expect(necks).toHaveLength(4);
    for (const neck of necks) {
      expect(neck.widthMm).toBeCloseTo(1.2, 9);
      expect(neck.weak).toBe(true);
      // About half of the tooth lies beyond its middle.
      expect(neck.hangsMm2).toBeGreaterThan(0.3 * 36);
      expect(neck.hangsMm2).toBeLessThan(0.7 * 36);
      expect(Math.abs(neck.lengthMm - 30)).toBeLessThan(1.5);
    }
  });

  it('of a spiral slot are one slit as long as the slot', () => {
    const at = (t: number, off: number): [number, number] => {
      const r = 4 + 5 * t + off;
      return [r * Math.cos(2 * Math.PI * t), r * Math.sin(2 * Math.PI * t)];
    };
    const steps = Array.from({ length: 1201 }, (_, k) => (3 * k) / 1200);
    const spiral = ring([...steps.map((t) => at(t, 0.5)), ...[...steps].reverse().map((t) => at(t, 0))]);
    let line = 0;
    for (let k = 0; k < 1200; k++) {
      const [p, q] = [at(steps[k], 0.25), at(steps[k + 1], 0.25)];
      line += Math.hypot(q[0] - p[0], q[1] - p[1]);
    }
    const slits = findSlits(sheet([spiral]), { limitMm: 0.8 });
    expect(slits).toHaveLength(1);
    expect(slits[0].widthMm).toBeGreaterThan(0.48);
    expect(slits[0].widthMm).toBeLessThan(0.5001);
    expect(Math.abs(slits[0].lengthMm - line)).toBeLessThan(0.01 * line);
  });

  it('between two ring-shaped openings are one neck all around', () => {
    const outlines = [10, 8, 7, 5].map((r, k) => ({
      contour: k % 2 === 0 ? circleContour({ x: 0, y: 0 }, r) : reverseContour(circleContour({ x: 0, y: 0 }, r)),
      opening: k >> 1,
    }));
    const necks = findNecks({ edge: EDGE, outlines }, { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeCloseTo(1, 4);
    expect(necks[0].weak).toBe(false);
    expect(Math.abs(necks[0].lengthMm - 15 * Math.PI)).toBeLessThan(0.1);
    // The ring off its middle has its neck where it is thinnest.
    const off = outlines.map((o, k) =>
      k < 2 ? o : { ...o, contour: transformContour(o.contour, [1, 0, 0, 1, 0.4, 0]) },
    );
    const [neck, ...rest] = findNecks({ edge: EDGE, outlines: off }, { limitMm: 2 });
    expect(rest).toEqual([]);
    expect(neck.widthMm).toBeCloseTo(0.6, 4);
    expect(neck.atMm.x).toBeCloseTo(7.7, 3);
  });

  it('that are k ties across a ring are k necks, not weak; a single one is, with all of the inside on it', () => {
    for (const k of [1, 2, 3, 5]) {
      // A ring from r = 10 to 14, left standing for 1.5 mm at k places: k openings of two arcs and two straight sides.
      const outlines = Array.from({ length: k }, (_, n) => {
        const half = (r: number): number => Math.asin(0.75 / r);
        const turn = (2 * Math.PI) / k;
        const arc = (r: number, from: number, to: number): Point[] =>
          Array.from({ length: 721 }, (_, j) => {
            const a = from + ((to - from) * j) / 720;
            return { x: r * Math.cos(a), y: r * Math.sin(a) };
          });
        const [a, b] = [n * turn, (n + 1) * turn];
        const points = [...arc(14, a + half(14), b - half(14)), ...arc(10, b - half(10), a + half(10))];
        return { contour: polyline(points, { closed: true }), opening: n };
      });
      const necks = findNecks({ edge: EDGE, outlines }, { limitMm: 2 });
      expect(necks).toHaveLength(k);
      for (const neck of necks) {
        expect(neck.widthMm).toBeCloseTo(1.5, 6);
        expect(neck.weak).toBe(k === 1);
      }
      if (k === 1) {
        // The disc within, and the tie up to its middle (it is marked between r = 10 and 14).
        const disc = Math.PI * 100;
        expect(necks[0].hangsMm2).toBeGreaterThan(disc);
        expect(necks[0].hangsMm2).toBeLessThan(disc + 6);
      }
    }
  });

  it('of paper in the shape of a dumbbell carry the smaller end, less what is cut out of it', () => {
    // Two squares of 20 joined by a bridge 1.5 wide and 10 long; a hole of r = 3 in the left one.
    const bell = ring([
      [0, 0],
      [20, 0],
      [20, 9],
      [30, 9],
      [30, 0],
      [50, 0],
      [50, 20],
      [30, 20],
      [30, 10.5],
      [20, 10.5],
      [20, 20],
      [0, 20],
    ]);
    const paper: CutPaper = {
      edge: EDGE,
      outlines: [
        { contour: box(-10, -10, 60, 30), opening: 0 },
        { contour: reverseContour(bell), opening: 0 },
        { contour: circleContour({ x: 10, y: 10 }, 3), opening: 1 },
        { contour: reverseContour(circleContour({ x: 10, y: 10 }, 2)), opening: 1 },
      ],
    };
    const necks = findNecks(paper, { limitMm: 2 }).filter((n) => n.openings[0] === 0);
    expect(necks).toHaveLength(1);
    const [neck] = necks;
    expect(neck.widthMm).toBeCloseTo(1.5, 9);
    expect(neck.weak).toBe(true);
    // All of the opening within is taken off, the island in it too: that one hangs on nothing.
    expect(Math.abs(neck.hangsMm2 - (400 - Math.PI * 9 + (neck.atMm.x - 20) * 1.5))).toBeLessThan(0.01);
  });

  it('that close a bay carry the paper in it', () => {
    // A C-shaped opening around a square of 20 with a gap of 1.5 on the right.
    const c = ring([
      [0, 0],
      [30, 0],
      [30, 14],
      [25, 14],
      [25, 5],
      [5, 5],
      [5, 25],
      [25, 25],
      [25, 15.5],
      [30, 15.5],
      [30, 30],
      [0, 30],
    ]);
    const hole = box(10, 10, 14, 14);
    const necks = findNecks(sheet([c, hole]), { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].weak).toBe(true);
    expect(Math.abs(necks[0].hangsMm2 - (400 - 16 + (necks[0].atMm.x - 25) * 1.5))).toBeLessThan(1e-6);
  });

  it('along the edge of the sheet count as well', () => {
    const paper = sheet([circleContour({ x: 10, y: 20 }, 9)], { x0: 0, y0: 0, x1: 60, y1: 60 });
    const necks = findNecks(paper, { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeCloseTo(1, 4);
    expect([...necks[0].openings].sort()).toEqual([-1, 0]);
    expect(necks[0].weak).toBe(false);
  });

  it('that are of two openings which touch have no width', () => {
    const discs = [circleContour({ x: 0, y: 0 }, 10), circleContour({ x: 20, y: 0 }, 10)];
    const necks = findNecks(sheet(discs), { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeLessThan(0.001);
    expect(necks[0].atMm.x).toBeCloseTo(10, 2);
  });

  it('are none where there is no limit or nothing cut', () => {
    expect(findNecks(sheet([]), { limitMm: 2 })).toEqual([]);
    expect(findSlits(sheet([]), { limitMm: 2 })).toEqual([]);
    expect(findNecks(sheet([box(0, 0, 1, 1)]), { limitMm: 0 })).toEqual([]);
    expect(findNecks(sheet([{ closed: true, coords: Float64Array.of(0, 0) }]), { limitMm: 2 })).toEqual([]);
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
