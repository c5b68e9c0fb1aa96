import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { randomFrom } from '../repeat/random-cell.test-help.js';
import { insideRings } from '../stencil/stop-chords.js';
import { StrokeCover } from '../verify/stroke-cover.js';
import { circleContour, polyline } from './contour.js';
import { evaluateCubic } from './curve.js';
import { makeGrid } from './grid.js';
import { strokeArea } from './stroke.js';
import { curveArea } from './traced-area.test-help.js';
import type { Contour, Stroke } from './types.js';

const grid = makeGrid(100, 100);
const PEN: Stroke = {
  width: 4,
  cap: 'butt',
  join: 'miter',
  miterLimit: 4,
  dash: [],
  dashOffset: 0,
  pen: [1, 0, 0, 1, 0, 0],
};
const corner = polyline(
  [
    { x: 10, y: 10 },
    { x: 40, y: 10 },
    { x: 40, y: 40 },
  ],
  { closed: false },
);

function inked(contour: Contour, stroke: Partial<Stroke>): number {
  return curveArea(strokeArea([contour], { ...PEN, ...stroke }, grid), grid);
}

// Caps, joins and the miter limit as SVG 2 has them ("Stroke properties"); areas are closed forms.
describe('areas of strokes', () => {
  it('of a right angle are those of its caps and joins', () => {
    const quarter = Math.PI;
    expect(inked(corner, {})).toBeCloseTo(32 * 4 + 28 * 4, 6);
    expect(inked(corner, { join: 'bevel' })).toBeCloseTo(240 - 2, 6);
    expect(inked(corner, { join: 'round' })).toBeCloseTo(240 - 4 + quarter, 3);
    expect(inked(corner, { cap: 'square' })).toBeCloseTo(240 + 16, 6);
    expect(inked(corner, { cap: 'round' })).toBeCloseTo(240 + 4 * quarter, 3);
    // At a right angle the miter is √2 widths long: a limit of 1.4 cuts it to a bevel, 1.42 does not.
    expect(inked(corner, { miterLimit: 1.4 })).toBeCloseTo(238, 6);
    expect(inked(corner, { miterLimit: 1.42 })).toBeCloseTo(240, 6);
  });

  it.each([1, 1.9, 2.1, 10])('of a circle of %d mm are a ring, or a disc where the pen fills it', (r) => {
    const ring = Math.PI * ((r + 2) ** 2 - (r > 2 ? (r - 2) ** 2 : 0));
    expect(Math.abs(inked(circleContour({ x: 50, y: 50 }, r), {}) / ring - 1)).toBeLessThan(2e-5);
  });

  it('of dashes are those of their lengths, also around corners and from an offset', () => {
    const line = polyline(
      [
        { x: 10, y: 10 },
        { x: 40, y: 10 },
      ],
      { closed: false },
    );
    expect(inked(line, { dash: [3, 2] })).toBeCloseTo(18 * 4, 6);
    expect(inked(line, { dash: [3, 2], dashOffset: 2 })).toBeCloseTo((1 + 5 * 3 + 3 - 0) * 4 - 4, 6);
    expect(inked(line, { dash: [5] })).toBeCloseTo(15 * 4, 6);
    expect(inked(corner, { dash: [25, 1000], dashOffset: -20 })).toBeCloseTo(25 * 4, 6);
  });

  it('of a line without length are a dot or a square', () => {
    const spot = polyline(
      [
        { x: 10, y: 10 },
        { x: 10, y: 10 },
      ],
      { closed: false },
    );
    expect(inked(spot, { cap: 'round' })).toBeCloseTo(Math.PI * 4, 3);
    expect(inked(spot, { cap: 'square' })).toBeCloseTo(16, 6);
    expect(inked(spot, { cap: 'butt' })).toBe(0);
  });

  it('follow a slanted pen: a straight line is as wide as the pen is across it', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0, max: Math.PI, noNaN: true }),
        fc.double({ min: 0.2, max: 3, noNaN: true }),
        (turn, squeeze) => {
          const to = { x: 50 + 20 * Math.cos(turn), y: 50 + 20 * Math.sin(turn) };
          const line = polyline([{ x: 50, y: 50 }, to], { closed: false });
          const area = inked(line, { pen: [squeeze, 0, 0, 1, 0, 0] });
          // In pen space the line is |(cos/squeeze, sin)| long and 4 wide; the map stretches areas by its determinant.
          const length = 20 * Math.hypot(Math.cos(turn) / squeeze, Math.sin(turn));
          expect(Math.abs(area / (length * 4 * squeeze) - 1)).toBeLessThan(2e-4);
        },
      ),
      { numRuns: 50 },
    );
  });

  it('are the same drawn forward and backward', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 10, max: 90, noNaN: true }), { minLength: 8, maxLength: 8 }), (q) => {
        const there = { closed: false, coords: Float64Array.from(q) };
        const back = {
          closed: false,
          coords: Float64Array.from([q[6], q[7], q[4], q[5], q[2], q[3], q[0], q[1]]),
        };
        const [a, b] = [inked(there, { width: 6 }), inked(back, { width: 6 })];
        expect(Math.abs(a / b - 1)).toBeLessThan(1e-4);
      }),
      { numRuns: 50 },
    );
  });
});

it('the edge of a fine line with an inflection anywhere keeps to its curve', () => {
  // Ends of two bends that turn against each other: pieces of it pass through their chords in the middle.
  const bends = [20, 80, 18.65, 72.12, 12.01, 69.23, 9.6, 66.69];
  const contour = { closed: false, coords: Float64Array.from(bends) };
  const stroke = { ...PEN, width: 0.77 };
  const cover = new StrokeCover([contour], stroke);
  const [ring] = strokeArea([contour], stroke, grid).paths;
  const off = ring.filter((b, k) => {
    const a = ring[(k + ring.length - 1) % ring.length];
    const [dx, dy] = [b.x - a.x, b.y - a.y];
    const length = Math.hypot(dx, dy);
    // A quarter of the way along each side, 12 µm to either hand, for sides long enough to have hands.
    return [0.25, 0.5, 0.75].some((share) => {
      const [x, y] = [a.x + share * dx, a.y + share * dy];
      const at = (mm: number) => cover.contains(x / grid.sx - (mm * dy) / length, y / grid.sy + (mm * dx) / length);
      return length > 0.1 * grid.sx && at(0.012) === at(-0.012);
    });
  });
  expect(off).toEqual([]);
});

it('inks what the normals of a line sweep and nothing else, also where it bends tighter than the pen is wide', () => {
  // SVG 2, "Computing the shape of the stroke": all places that lie on a normal of the line, at most half the pen away.
  const half = 1.5;
  const SAMPLES = 3000;
  const along = (q: Float64Array) =>
    Array.from({ length: SAMPLES + 1 }, (_, k) => evaluateCubic(q, 0, (k / SAMPLES) ** 2));
  const swept = (line: ReturnType<typeof along>, x: number, y: number): boolean =>
    line.some((p, k) => {
      const before = line[Math.max(0, k - 1)];
      const ahead = (x - p.x) * p.dx + (y - p.y) * p.dy < 0;
      return (
        ahead !== (x - before.x) * before.dx + (y - before.y) * before.dy < 0 && Math.hypot(x - p.x, y - p.y) <= half
      );
    });
  // Where a line turns about on the spot, the way that the pen turns there hangs on the last digit.
  const turnsAbout = (line: ReturnType<typeof along>): boolean =>
    line.some((p, k) => {
      const before = line[Math.max(0, k - 1)];
      return Math.abs(Math.atan2(before.dx * p.dy - before.dy * p.dx, before.dx * p.dx + before.dy * p.dy)) > 0.5;
    });
  // In bends tighter than the pen the plain pieces beside the chords ink a hair more than the normals sweep.
  const SLACK = 0.05;
  const around16 = Array.from({ length: 16 }, (_, k) => ({
    c: Math.cos((k * Math.PI) / 8),
    s: Math.sin((k * Math.PI) / 8),
  }));
  const near = (line: ReturnType<typeof along>, x: number, y: number, d: number): boolean[] =>
    around16.map(({ c, s }) => swept(line, x + d * c, y + d * s));
  let looked = 0;
  let dry = 0;
  for (let drawn = 0; drawn < 60; drawn++) {
    const random = randomFrom(drawn + 1);
    const around = (by: number): number => 50 + random(-by, by);
    // The first handle is short, or none at all before a short second one.
    const start =
      drawn % 3 === 0 ? [50, 50, around(0.4), around(0.4)] : [around(0.4), around(0.4), around(8), around(8)];
    const q = Float64Array.from([50, 50, ...start, around(8), around(8)]);
    const line = along(q);
    if (turnsAbout(line)) continue;
    const rings = strokeArea([{ closed: false, coords: q }], { ...PEN, width: 2 * half }, grid).paths;
    for (let k = 0; k < 40; k++) {
      const [x, y] = [around(2), around(2)];
      const inside = swept(line, x, y);
      if (near(line, x, y, inside ? 0.02 : SLACK).some((is) => is !== inside)) continue;
      if (inside) looked++;
      else dry++;
      expect({ q, x, y, inked: insideRings({ x: x * grid.sx, y: y * grid.sy }, rings) }).toMatchObject({
        inked: inside,
      });
    }
  }
  expect(looked).toBeGreaterThan(500);
  expect(dry).toBeGreaterThan(500);
});
