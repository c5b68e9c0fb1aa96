import { type Contour, circleContour } from '@okuri/core';
import { contourArea, isStraight, reverseContour, segmentCount } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { fitRing } from './fit-ring.js';
import { apart, cornersOf, ellipse, outline, path, polygon, scanLike } from './ring-truth.test-help.js';

const MM_PER_INCH = 25.4;

function star(tips: number, outer: number, inner: number): Contour {
  return polygon(
    Array.from({ length: 2 * tips }, (_, k) => {
      const r = k % 2 === 0 ? outer : inner;
      return [r * Math.cos((Math.PI * k) / tips), r * Math.sin((Math.PI * k) / tips)] as const;
    }),
    9,
  );
}

function gear(teeth: number): Contour {
  const around = [
    [0, 9],
    [0.35, 9],
    [0.45, 11],
    [0.9, 11],
  ] as const;
  return polygon(
    Array.from({ length: teeth }, (_, k) =>
      around.map(([share, r]) => [(2 * Math.PI * (k + share)) / teeth, r]),
    ).flatMap((all) => all.map(([a, r]) => [r * Math.cos(a), r * Math.sin(a)] as const)),
  );
}

/** A letter S of even width: out along one bank, round a square end, back along the other. */
function letterS(width: number, r = 6): Contour {
  const [o, i] = [r + width / 2, r - width / 2];
  return path([[o, -230], [i, 230], [0, 90], [width], [0, 90], [o, -230], [i, 230], [0, 90], [width], [0, 90]], {
    x: 12.01,
    y: 9.02,
    degrees: -110,
  });
}

/** Name, truth, and how many cubics a person would draw it with. */
const SHAPES: readonly (readonly [string, Contour, number])[] = [
  ['circle r = 20', circleContour({ x: 0.01, y: 0.03 }, 20), 4],
  ['circle r = 1', circleContour({ x: 0.01, y: 0.03 }, 1), 4],
  ['circle r = 0.5', circleContour({ x: 0.01, y: 0.03 }, 0.5), 4],
  ['hole r = 3', reverseContour(circleContour({ x: 0.01, y: 0.03 }, 3)), 4],
  ['ellipse', ellipse(10, 4, 17), 6],
  ['rounded rectangle', path([[11], [2.5, 90], [4], [2.5, 90], [11], [2.5, 90], [4], [2.5, 90]]), 8],
  ['rectangle rounded little', path([[9], [0.6, 90], [6], [0.6, 90], [9], [0.6, 90], [6], [0.6, 90]]), 8],
  [
    'square',
    polygon([
      [-5, -5],
      [5, -5],
      [5, 5],
      [-5, 5],
    ]),
    4,
  ],
  [
    'square at 7°',
    polygon(
      [
        [-5, -5],
        [5, -5],
        [5, 5],
        [-5, 5],
      ],
      7,
    ),
    4,
  ],
  [
    'square at 30°',
    polygon(
      [
        [-5, -5],
        [5, -5],
        [5, 5],
        [-5, 5],
      ],
      30,
    ),
    4,
  ],
  [
    'bar 0.8 broad',
    polygon(
      [
        [-6, -0.4],
        [6, -0.4],
        [6, 0.4],
        [-6, 0.4],
      ],
      11,
    ),
    4,
  ],
  [
    'bends of 30°',
    polygon(
      [
        [-8, 0],
        [0, -2.144],
        [8, 0],
        [8, 6],
        [-8, 6],
      ],
      3,
    ),
    5,
  ],
  ['star', star(5, 11, 4.4), 10],
  [
    'tip of 15°',
    polygon([
      [-9, -2.4],
      [9, 0],
      [-9, 2.4],
    ]),
    3,
  ],
  ['leaf', outline([2, 8, 6, 2, 14, 2, 20, 8, 14, 12.5, 6, 12.5, 2, 8]), 2],
  ['letter S', letterS(0.8), 14],
  ['gear', gear(16), 64],
  [
    'blob',
    outline([
      5, 10, 5, 4, 9, 3, 12, 5, 15, 7, 18, 2, 21, 6, 24, 10, 20, 13, 18, 16, 16, 19, 9, 20, 7, 17, 5, 14, 5, 13, 5, 10,
    ]),
    6,
  ],
];

function fitted(truth: Contour, dpi: number, blurPx: number, noisePx: number, seed = 1) {
  const pixelMm = MM_PER_INCH / dpi;
  const points = scanLike(truth, { pixelMm, blurPx, noisePx, seed });
  return fitRing(points, { pixelMm, noiseMm: noisePx * pixelMm, blurMm: blurPx * pixelMm });
}

/** How far true corners are from the nearest corner of a fit, mm: the farthest; and how many corners it has. */
function cornersBeside(fit: Contour, truth: Contour): { far: number; count: number } {
  const mine = cornersOf(fit);
  const far = cornersOf(truth).map((c) => Math.min(...mine.map((p) => Math.hypot(p.x - c.x, p.y - c.y))));
  return { far: Math.max(0, ...far), count: mine.length };
}

describe('known outlines, sampled like a scan', () => {
  it.each(SHAPES)('%s at 300 dpi, clean', (_, truth, nodes) => {
    const fit = fitted(truth, 300, 0.5, 0.02);
    const { max, mean } = apart(fit, truth);
    expect(max).toBeLessThan(0.03);
    expect(mean).toBeLessThan(0.01);
    expect(segmentCount(fit)).toBeLessThanOrEqual(2 * nodes);
    const corners = cornersBeside(fit, truth);
    expect(corners.count).toBe(cornersOf(truth).length);
    expect(corners.far).toBeLessThan(0.1);
    expect(Math.abs(contourArea(fit) / contourArea(truth) - 1)).toBeLessThan(0.001);
  });

  it.each([
    [200, 0.5, 0.03],
    [300, 0.7, 0.08],
    [600, 1, 0.1],
  ])('all of them at %i dpi, blur %f px, noise %f px', (dpi, blurPx, noisePx) => {
    const pixelMm = MM_PER_INCH / dpi;
    for (const [name, truth, nodes] of SHAPES.filter(([shape]) => !/ 20|7°|30°$|gear/.test(shape))) {
      const fit = fitted(truth, dpi, blurPx, noisePx, 2);
      const { max, mean } = apart(fit, truth);
      expect(max / pixelMm, name).toBeLessThan(0.75);
      expect(mean / pixelMm, name).toBeLessThan(0.1);
      expect(segmentCount(fit), name).toBeLessThanOrEqual(2 * nodes);
      expect(cornersBeside(fit, truth).count, name).toBe(cornersOf(truth).length);
    }
  });

  it('leaves a stroke of even width even', () => {
    const fit = fitted(letterS(0.8), 300, 0.6, 0.05);
    // Either bank lies within 10 µm of the truth nearly everywhere: the width varies by less than a fiftieth of a millimetre.
    expect(apart(fit, letterS(0.8)).most).toBeLessThan(0.01);
  });

  it('draws straight sides straight, and joints smooth', () => {
    const square = fitted(SHAPES[8][1], 300, 0.6, 0.05);
    for (let o = 0; o + 7 < square.coords.length; o += 6) expect(isStraight(square.coords, o)).toBe(true);
    const rounded = fitted(SHAPES[5][1], 300, 0.6, 0.05);
    const straight = [...Array(segmentCount(rounded)).keys()].filter((k) => isStraight(rounded.coords, 6 * k));
    expect(straight).toHaveLength(4);
    for (const fit of [rounded, fitted(SHAPES[17][1], 300, 0.6, 0.1)]) expect(largestKink(fit)).toBeLessThan(1e-6);
  });
});

/** Largest turn between one cubic and the next, radians. */
function largestKink({ coords: q }: Contour): number {
  const n = (q.length - 2) / 6;
  let most = 0;
  for (let k = 0; k < n; k++) {
    const [o, p] = [6 * k, 6 * ((k + n - 1) % n)];
    const [ax, ay, bx, by] = [q[p + 6] - q[p + 4], q[p + 7] - q[p + 5], q[o + 2] - q[o], q[o + 3] - q[o + 1]];
    most = Math.max(most, Math.abs(Math.atan2(ax * by - ay * bx, ax * bx + ay * by)));
  }
  return most;
}

describe('rings that are hardly any', () => {
  const options = { pixelMm: 0.0847, noiseMm: 0.004 };

  it.each([
    ['nothing', []],
    ['a point', [1, 1]],
    ['a point three times', [1, 1, 1, 1, 1, 1]],
    ['a triangle of one pixel', [0, 0, 0.08, 0, 0, 0.08]],
    ['a large triangle of three points', [0, 0, 9, 0, 0, 9]],
    ['there and back', Array.from({ length: 80 }, (_, k) => [k < 40 ? 0.08 * k : 0.08 * (80 - k), 3]).flat()],
    [
      'a hairline half a pixel wide',
      Array.from({ length: 80 }, (_, k) => (k < 40 ? [0.08 * k, 3] : [0.08 * (79 - k), 3.04])).flat(),
    ],
    [
      'a loop of nine points',
      Array.from({ length: 9 }, (_, k) => [0.1 * Math.cos(0.7 * k), 0.1 * Math.sin(0.7 * k)]).flat(),
    ],
  ])('%s', (_, numbers) => {
    const fit = fitRing(Float64Array.from(numbers), options);
    expect(fit.closed).toBe(true);
    expect(fit.coords.every(Number.isFinite)).toBe(true);
    // Nothing reaches out of where the points are.
    for (const v of fit.coords) expect(Math.abs(v)).toBeLessThan(12);
  });

  it('refuses sizes that are none', () => {
    const ring = new Float64Array([0, 0, 1, 0, 0, 1]);
    expect(() => fitRing(ring, { pixelMm: 0, noiseMm: 0 })).toThrow(RangeError);
    expect(() => fitRing(ring, { pixelMm: 0.1, noiseMm: Number.NaN })).toThrow(RangeError);
  });
});
