import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { cuttingWork, openingWork, totalWork } from './cutting-work.js';
import { noise, ring, roundedBox, splitContour } from './outlines.test-help.js';

const pace = { mmPerMinute: 300, secondsPerCorner: 6, bladeMm: 1500 };
const workOf = (...contours: Contour[]) => cuttingWork(contours, { pace });
const rounded = (points: readonly Point[]): Contour => polyline(points, { closed: true });

describe('length and estimates', () => {
  it('adds up length, corners and tight places by the pace', () => {
    const box = workOf(boxContour({ x0: 0, y0: 0, x1: 50, y1: 25 }));
    expect(box).toMatchObject({ corners: 4, tightPlaces: 0, jerks: 0 });
    expect(box.lengthMm).toBeCloseTo(150, 9);
    expect(box.minutes).toBeCloseTo(0.5 + 0.4, 9);
    expect(box.blades).toBeCloseTo(0.1, 9);
    const soft = workOf(roundedBox(50, 25, 1));
    expect(soft).toMatchObject({ corners: 0, tightPlaces: 4, jerks: 0 });
    expect(soft.minutes).toBeCloseTo(soft.lengthMm / 300 + 0.2, 9);
    expect(totalWork([box, soft]).minutes).toBeCloseTo(box.minutes + soft.minutes, 9);
    expect(totalWork([box, soft]).corners).toBe(4);
    expect(totalWork([])).toEqual(workOf());
  });

  it('has the length of curves known in closed form', () => {
    // Tschirnhausen's cubic, length 4 (Farouki); Neile's parabola, (13 √13 − 8)/27 (1657).
    const open = (...coords: number[]): Contour => ({ closed: false, coords: Float64Array.from(coords) });
    expect(workOf(open(0, 0, 0, 1, 1, 2, 3, 2)).lengthMm).toBeCloseTo(4, 8);
    expect(workOf(open(0, 0, 0, 0, 1 / 3, 0, 1, 1)).lengthMm).toBeCloseTo((13 * Math.sqrt(13) - 8) / 27, 6);
  });

  it('leaves out what is not cut, with the corners at its ends', () => {
    const box = boxContour({ x0: 0, y0: 0, x1: 50, y1: 25 });
    const uncut = [{ from: { x: 50, y: 0 }, to: { x: 50, y: 25 } }];
    expect(cuttingWork([box], { pace, uncut })).toMatchObject({ lengthMm: expect.closeTo(125, 9), corners: 2 });
    const part = [{ from: { x: 20, y: 0 }, to: { x: 30, y: 0 } }];
    expect(cuttingWork([box], { pace, uncut: part })).toMatchObject({ lengthMm: expect.closeTo(140, 9), corners: 4 });
  });

  it('refuses a pace that gets nowhere', () => {
    const box = [boxContour({ x0: 0, y0: 0, x1: 5, y1: 5 })];
    for (const bad of [{ mmPerMinute: 0 }, { bladeMm: -1 }, { secondsPerCorner: Number.NaN }]) {
      expect(() => cuttingWork(box, { pace: { ...pace, ...bad } })).toThrow(InputError);
    }
    expect(() => cuttingWork(box, { pace, turnMm: 0 })).toThrow(InputError);
  });
});

describe('corners', () => {
  it('are turns of more than 30°', () => {
    for (const [deg, corners] of [
      [29, 0],
      [31, 1],
      [90, 1],
      [170, 1],
    ]) {
      // A long arc closes the two sides without a corner of its own: their ends meet it along its tangent.
      const a = (deg * Math.PI) / 180;
      const half = 40;
      const r = half / Math.tan(a / 2);
      const points = [
        { x: -half * Math.cos(a / 2), y: half * Math.sin(a / 2) },
        { x: 0, y: 0 },
        { x: half * Math.cos(a / 2), y: half * Math.sin(a / 2) },
      ];
      const outline = rounded([...points, ...arcBelow(points[2], points[0], a, r)]);
      expect(workOf(outline).corners, `${deg}°`).toBe(corners);
    }
  });

  it('may be rounded by less than 0.3 mm; wider ones are tight places', () => {
    expect(workOf(roundedBox(50, 25, 0.05))).toMatchObject({ corners: 4, tightPlaces: 0 });
    expect(workOf(roundedBox(50, 25, 0.28))).toMatchObject({ corners: 4, tightPlaces: 0 });
    const wide = workOf(roundedBox(50, 25, 0.4));
    expect(wide).toMatchObject({ corners: 0, tightPlaces: 4 });
    expect(wide.tightMm).toBeCloseTo(2 * Math.PI * 0.4, 3);
    expect(workOf(roundedBox(50, 25, 1.6))).toMatchObject({ corners: 0, tightPlaces: 0, tightMm: 0 });
  });

  it('are one stop where a slit ends, two where it is wide', () => {
    expect(workOf(boxContour({ x0: 0, y0: 0, x1: 20, y1: 0.15 })).corners).toBe(2);
    expect(workOf(boxContour({ x0: 0, y0: 0, x1: 20, y1: 0.4 })).corners).toBe(4);
  });

  it('are counted on stars and on toothed leaves, however small the teeth are drawn', () => {
    for (const points of [5, 12, 24]) {
      expect(workOf(ring(2 * points, (k) => (k % 2 === 0 ? 20 : 12)))).toMatchObject({ corners: 2 * points, jerks: 0 });
    }
    for (const tooth of [0.6, 1, 3]) {
      const teeth = Math.round(60 / tooth);
      const edge = Array.from({ length: 2 * teeth }, (_, k) => ({
        x: (k * tooth) / 2,
        y: k % 2 === 0 ? 0 : tooth / 2,
      }));
      const leaf = rounded([...edge, { x: teeth * tooth, y: 0 }, { x: teeth * tooth, y: 20 }, { x: 0, y: 20 }]);
      const found = workOf(leaf);
      expect(found.jerks, `teeth of ${tooth} mm`).toBe(0);
      expect(found.corners, `teeth of ${tooth} mm`).toBe(2 * teeth + 3);
    }
  });
});

describe('tight curves', () => {
  it('are whole circles below the radius of the blade, as curves and as polygons', () => {
    for (const [radius, tight] of [
      [0.5, 1],
      [1.4, 1],
      [1.6, 0],
      [10, 0],
    ]) {
      const length = tight * 2 * Math.PI * radius;
      const round = workOf(circleContour({ x: 3, y: 4 }, radius));
      expect(round).toMatchObject({ corners: 0, tightPlaces: tight, jerks: 0 });
      expect(round.tightMm).toBeCloseTo(length, 3);
      const facets = workOf(ring(64, () => radius));
      expect(facets).toMatchObject({ corners: 0, tightPlaces: tight, jerks: 0 });
      expect(Math.abs(facets.tightMm - length)).toBeLessThan(0.01);
      expect(workOf(ring(400, () => radius))).toMatchObject({ corners: 0, tightPlaces: tight, jerks: 0 });
    }
  });

  it('are the two ends of an ellipse, as long as the closed form of its curvature says', () => {
    const [a, b, R] = [8, 2.5, 1.5];
    const ellipse = transformContour(circleContour({ x: 0, y: 0 }, 1), [a, 0, 0, b, 30, 20]);
    // Radius of curvature (a² sin² t + b² cos² t)^1.5 / (a b); length of the stretch where it is below R, by the midpoint rule.
    let length = 0;
    const steps = 200_000;
    for (let k = 0; k < steps; k++) {
      const t = (2 * Math.PI * (k + 0.5)) / steps;
      const speed = Math.hypot(a * Math.sin(t), b * Math.cos(t));
      if (speed ** 3 / (a * b) < R) length += (speed * 2 * Math.PI) / steps;
    }
    const found = workOf(ellipse);
    expect(found).toMatchObject({ corners: 0, tightPlaces: 2, jerks: 0 });
    // Eight cubics have not quite the ellipse's curvature.
    expect(Math.abs(found.tightMm / length - 1)).toBeLessThan(0.02);
  });
});

describe('jerky outlines', () => {
  const bean = (t: number): number => 22 + 5 * Math.cos(2 * t) + 2 * Math.sin(3 * t);

  it('are those of a bad trace', () => {
    const rough = noise(7);
    // A smooth curve of 150 mm with 0.05 mm of noise every 0.25 mm.
    const noisy = workOf(ring(600, (k) => bean((2 * Math.PI * k) / 600) + 0.05 * (2 * rough() - 1)));
    expect(noisy.jerks).toBeGreaterThan(8);
    expect(noisy.jerks).toBeLessThan(20);
    expect(noisy.corners).toBe(0);
    expect(noisy.tightPlaces).toBe(0);
    const smooth = workOf(ring(600, (k) => bean((2 * Math.PI * k) / 600)));
    expect(smooth).toMatchObject({ jerks: 0, corners: 0 });
  });

  it('are staircases of a scan of 100 dots an inch or finer, but not of steps that a knife would cut', () => {
    for (const dpi of [100, 150, 300, 600]) {
      const found = workOf(staircase(bean, 25.4 / dpi));
      expect(found.corners, `${dpi} dpi`).toBeLessThanOrEqual(2);
      expect(found.jerks, `${dpi} dpi`).toBeGreaterThan(7);
      expect(found.tightPlaces, `${dpi} dpi`).toBe(0);
    }
    const coarse = workOf(staircase(bean, 2));
    expect(coarse.jerks).toBe(0);
    expect(coarse.corners).toBeGreaterThan(40);
  });

  it('are places, not nodes: one for every 10 mm of it', () => {
    const wavy = (length: number): Contour => {
      const steps = Math.round(length / 0.5);
      const edge = Array.from({ length: steps }, (_, k) => ({ x: 20 + k * 0.5, y: k % 2 === 0 ? 0 : 0.08 }));
      return rounded([{ x: 0, y: 0 }, ...edge, { x: 100, y: 0 }, { x: 100, y: 20 }, { x: 0, y: 20 }]);
    };
    expect(workOf(wavy(4)).jerks).toBe(1);
    expect(workOf(wavy(20)).jerks).toBe(2);
    expect(workOf(wavy(50)).jerks).toBe(5);
    expect(workOf(wavy(20)).corners).toBe(4);
    // A single nick is no jerky outline.
    expect(workOf(wavy(1)).jerks).toBe(0);
  });

  it('are no finely or coarsely flattened circles, ellipses or rounded boxes', () => {
    for (const radius of [0.5, 1, 2, 5, 12, 40]) {
      for (const sides of [16, 24, 64, 300]) {
        expect(workOf(ring(sides, () => radius)).jerks, `${sides} sides, ${radius} mm`).toBe(0);
        const oval = transformContour(
          ring(sides, () => radius),
          [2.5, 0, 0, 1, 0, 0],
        );
        expect(workOf(oval).jerks, `oval, ${sides} sides, ${radius} mm`).toBe(0);
      }
    }
    expect(workOf(roundedBox(40, 20, 3)).jerks).toBe(0);
  });

  it('are found where they are', () => {
    const edge = Array.from({ length: 12 }, (_, k) => ({ x: 40 + k * 0.5, y: k % 2 === 0 ? 0 : 0.08 }));
    const outline = rounded([{ x: 0, y: 0 }, ...edge, { x: 100, y: 0 }, { x: 100, y: 20 }, { x: 0, y: 20 }]);
    const found = openingWork(3, [outline], { pace });
    expect(found.opening).toBe(3);
    expect(found.jerkAt?.x).toBeGreaterThan(40);
    expect(found.jerkAt?.x).toBeLessThan(46);
    expect(found.tightAt).toBeNull();
  });
});

describe('what must change nothing', () => {
  const outlines = (): Contour[] => [
    boxContour({ x0: 0, y0: 0, x1: 30, y1: 12 }),
    roundedBox(30, 12, 0.2),
    roundedBox(30, 12, 1.1),
    circleContour({ x: 0, y: 0 }, 1.2),
    transformContour(circleContour({ x: 0, y: 0 }, 1), [8, 0, 0, 2, 0, 0]),
    ring(14, (k) => (k % 2 === 0 ? 20 : 12)),
    ring(64, () => 1.2),
    ring(
      600,
      (() => {
        const rough = noise(3);
        return (k: number) => 20 + 3 * Math.cos(k / 95.5) + 0.04 * (2 * rough() - 1);
      })(),
    ),
  ];
  const alike = (a: ReturnType<typeof workOf>, b: ReturnType<typeof workOf>): void => {
    expect(b.corners).toBe(a.corners);
    expect(b.tightPlaces).toBe(a.tightPlaces);
    expect(b.jerks).toBe(a.jerks);
    expect(b.lengthMm).toBeCloseTo(a.lengthMm, 5);
    expect(b.tightMm).toBeCloseTo(a.tightMm, 2);
  };

  it('turning, moving, mirroring, tracing it the other way', () => {
    fc.assert(
      fc.property(
        fc.nat({ max: 7 }),
        fc.double({ min: 0, max: 6.28, noNaN: true }),
        fc.double({ min: -300, max: 300, noNaN: true }),
        fc.boolean(),
        (k, angle, by, mirrored) => {
          const outline = outlines()[k];
          const [c, s, m] = [Math.cos(angle), Math.sin(angle), mirrored ? -1 : 1];
          const moved = transformContour(outline, [c, s, -s * m, c * m, by, -2 * by]);
          alike(workOf(outline), workOf(moved));
          alike(workOf(outline), workOf(reverseContour(outline)));
        },
      ),
      { numRuns: 60 },
    );
  });

  it('splitting its cubics at any place, starting it at another', () => {
    const t = fc.double({ min: 0.02, max: 0.98, noNaN: true });
    fc.assert(
      fc.property(
        fc.nat({ max: 7 }),
        fc.array(t, { minLength: 1, maxLength: 9 }),
        fc.nat({ max: 50 }),
        (k, at, start) => {
          const outline = outlines()[k];
          alike(workOf(outline), workOf(splitContour(outline, { at, start })));
        },
      ),
      { numRuns: 120 },
    );
  });
});

/** Points of the arc from `a` round below to `b`, meeting two sides that turn by `angle` along their direction. */
function arcBelow(a: Point, b: Point, angle: number, r: number): Point[] {
  // The circle that touches both sides at their ends has its centre straight below the corner.
  const centre = { x: 0, y: a.y + r * Math.cos(angle / 2) };
  const from = Math.atan2(a.y - centre.y, a.x - centre.x);
  let to = Math.atan2(b.y - centre.y, b.x - centre.x);
  if (to < from) to += 2 * Math.PI;
  const n = 720;
  return Array.from({ length: n - 1 }, (_, k) => {
    const t = from + ((to - from) * (k + 1)) / n;
    return { x: centre.x + r * Math.cos(t), y: centre.y + r * Math.sin(t) };
  });
}

/** The outline of a round shape on a raster: every pixel whose middle lies inside, traced along the pixels' sides. */
function staircase(radius: (t: number) => number, pixel: number): Contour {
  // Levels of a star-shaped outline: for each column its upper and lower end.
  const inside = (x: number, y: number): boolean => Math.hypot(x, y) < radius(Math.atan2(y, x));
  const top: Point[] = [];
  const bottom: Point[] = [];
  const reach = Math.ceil(32 / pixel);
  for (let i = -reach; i < reach; i++) {
    const x = (i + 0.5) * pixel;
    let [low, high] = [Infinity, -Infinity];
    for (let j = -reach; j < reach; j++) {
      if (!inside(x, (j + 0.5) * pixel)) continue;
      low = Math.min(low, j);
      high = Math.max(high, j + 1);
    }
    if (low > high) continue;
    top.push({ x: i * pixel, y: low * pixel }, { x: (i + 1) * pixel, y: low * pixel });
    bottom.push({ x: i * pixel, y: high * pixel }, { x: (i + 1) * pixel, y: high * pixel });
  }
  const points = [...top, ...bottom.reverse()].filter(
    (p, k, all) => k === 0 || p.x !== all[k - 1].x || p.y !== all[k - 1].y,
  );
  return polyline(points, { closed: true });
}
