import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import type { Contour, Matrix, Point } from '../geometry/types.js';
import { longestRun, unbentLength } from './straight-runs.js';
import { toolOf } from './tools.js';

/** A ring of cubics from corner to corner, each with its handles; none are straight sides. */
interface Bend {
  readonly to: Point;
  readonly handles?: readonly [Point, Point];
}

function ring(from: Point, bends: readonly Bend[]): Contour {
  const coords = [from.x, from.y];
  let at = from;
  for (const { to, handles } of bends) {
    const third = (t: number) => ({ x: at.x + t * (to.x - at.x), y: at.y + t * (to.y - at.y) });
    for (const p of [...(handles ?? [third(1 / 3), third(2 / 3)]), to]) coords.push(p.x, p.y);
    at = to;
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

/** A flat arc between two places, `bowMm` beside its chord in the middle, by a cubic. */
function arc(from: Point, to: Point, bowMm: number): Bend {
  const [dx, dy] = [to.x - from.x, to.y - from.y];
  const length = Math.hypot(dx, dy);
  // The middle of a cubic with both handles h beside its chord is ¾ h beside it.
  const [nx, ny] = [((-dy / length) * bowMm * 4) / 3, ((dx / length) * bowMm * 4) / 3];
  return {
    to,
    handles: [
      { x: from.x + dx / 3 + nx, y: from.y + dy / 3 + ny },
      { x: from.x + (2 * dx) / 3 + nx, y: from.y + (2 * dy) / 3 + ny },
    ],
  };
}

/** A lens of two arcs, tip to tip. */
function lens(longMm: number, bowMm: number): Contour {
  const [a, b] = [
    { x: 0, y: 0 },
    { x: longMm, y: 0 },
  ];
  return ring(a, [arc(a, b, -bowMm), arc(b, a, -bowMm)]);
}

/** A petal with sides that bend out and in, slit along its middle as a leaf is by its vein. */
function slitPetal(longMm: number, wideMm: number): Contour {
  const tip = { x: longMm, y: 0 };
  return ring({ x: 0, y: 1 }, [
    {
      to: tip,
      handles: [
        { x: 0.4 * longMm, y: 2 },
        { x: longMm, y: 1.6 * wideMm },
      ],
    },
    {
      to: { x: 0, y: -1 },
      handles: [
        { x: longMm, y: -1.6 * wideMm },
        { x: 0.4 * longMm, y: -2 },
      ],
    },
    { to: { x: 0.7 * longMm, y: -0.5 } },
    { to: { x: 0.7 * longMm, y: 0.5 } },
    { to: { x: 0, y: 1 } },
  ]);
}

/** A bar whose corners are rounded. */
function roundedBar(longMm: number, wideMm: number, r: number): Contour {
  const k = 0.5522847498 * r;
  const [x, y] = [longMm, wideMm];
  return ring({ x: r, y: 0 }, [
    { to: { x: x - r, y: 0 } },
    {
      to: { x, y: r },
      handles: [
        { x: x - r + k, y: 0 },
        { x, y: r - k },
      ],
    },
    { to: { x, y: y - r } },
    {
      to: { x: x - r, y },
      handles: [
        { x, y: y - r + k },
        { x: x - r + k, y },
      ],
    },
    { to: { x: r, y } },
    {
      to: { x: 0, y: y - r },
      handles: [
        { x: r - k, y },
        { x: 0, y: y - r + k },
      ],
    },
    { to: { x: 0, y: r } },
    {
      to: { x: r, y: 0 },
      handles: [
        { x: 0, y: r - k },
        { x: r - k, y: 0 },
      ],
    },
  ]);
}

/** Every cubic of a ring in `parts`, as a drawing program or a clip may leave it. */
function divided({ coords: q }: Contour, parts: number): Contour {
  const coords = [q[0], q[1]];
  for (let o = 0; o + 7 < q.length; o += 6) {
    for (let k = 0; k < parts; k++) {
      const [s, t] = [k / parts, (k + 1) / parts];
      const [a, b] = [evaluateCubic(q, o, s), evaluateCubic(q, o, t)];
      const third = (t - s) / 3;
      coords.push(a.x + third * a.dx, a.y + third * a.dy, b.x - third * b.dx, b.y - third * b.dy, b.x, b.y);
    }
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

/** The same ring from another of its corners on. */
function startedAt({ coords: q }: Contour, corner: number): Contour {
  const n = (q.length - 2) / 6;
  const from = 6 * (corner % n);
  return { closed: true, coords: Float64Array.from([...q.slice(from), ...q.slice(2, from + 2)]) };
}

const tool = (contour: Contour): string => toolOf([contour]).tool;

describe('a ruler', () => {
  it.each([
    ['a bar', boxContour({ x0: 0, y0: 0, x1: 60, y1: 4 })],
    ['a bar with rounded corners', roundedBar(60, 12, 3)],
    ['a bar with round ends', roundedBar(60, 8, 4)],
    [
      'a triangle',
      polyline(
        [
          { x: 0, y: 0 },
          { x: 40, y: 6 },
          { x: 12, y: 30 },
        ],
        { closed: true },
      ),
    ],
    ['a bar that bows by a hair', lens(60, 0.03)],
  ])('is for %s', (_, contour) => {
    expect(tool(contour)).toBe('ruler');
  });

  it.each([
    ['a lens whose sides bow by half a millimetre', lens(60, 0.5)],
    ['a long lens whose sides are hardly bent anywhere', lens(240, 4)],
    ['a petal with a straight slit in it', slitPetal(55, 10)],
    ['half a disc', ring({ x: 0, y: 0 }, [{ to: { x: 80, y: 0 } }, arc({ x: 80, y: 0 }, { x: 0, y: 0 }, 35)])],
    ['a disc', circleContour({ x: 0, y: 0 }, 60)],
    ['a short bar', boxContour({ x0: 0, y0: 0, x1: 29, y1: 4 })],
  ])('is not for %s', (_, contour) => {
    expect(tool(contour)).toBe('knife');
  });
});

describe('straight runs', () => {
  it('are as long as they are drawn', () => {
    const bar = boxContour({ x0: 0, y0: 0, x1: 60, y1: 15 });
    expect(longestRun(bar, 10)).toBeCloseTo(60, 1);
    expect(unbentLength(bar)).toBeCloseTo(150, 6);
    const disc = circleContour({ x: 0, y: 0 }, 60);
    expect([longestRun(disc, 10), unbentLength(disc)]).toEqual([0, 0]);
    const nothing = { closed: true, coords: new Float64Array() };
    expect([longestRun(nothing, 10), unbentLength(nothing)]).toEqual([0, 0]);
  });

  it('leave out what is not cut', () => {
    const bar = boxContour({ x0: 0, y0: 0, x1: 60, y1: 40 });
    const upright = (cubic: number) => cubic % 2 === 1;
    expect(longestRun(bar, 10, upright)).toBeCloseTo(40, 1);
    expect(unbentLength(bar, upright)).toBeCloseTo(80, 6);
  });

  const SHAPE = fc.oneof(
    fc
      .tuple(fc.double({ min: 32, max: 200, noNaN: true }), fc.double({ min: 0.01, max: 12, noNaN: true }))
      .map(([l, b]) => lens(l, b)),
    fc
      .tuple(fc.double({ min: 32, max: 120, noNaN: true }), fc.double({ min: 4, max: 20, noNaN: true }))
      .map(([l, w]) => slitPetal(l, w)),
    fc
      .tuple(
        fc.double({ min: 20, max: 120, noNaN: true }),
        fc.double({ min: 6, max: 40, noNaN: true }),
        fc.double({ min: 0.1, max: 2.9, noNaN: true }),
      )
      .map(([l, w, r]) => roundedBar(l, w, r)),
    fc
      .array(fc.tuple(fc.double({ min: 8, max: 60, noNaN: true }), fc.double({ min: -6, max: 6, noNaN: true })), {
        minLength: 3,
        maxLength: 7,
      })
      .map((rays) => {
        const corner = (k: number) => {
          const angle = (2 * Math.PI * k) / rays.length;
          const [r] = rays[k % rays.length];
          return { x: r * Math.cos(angle), y: r * Math.sin(angle) };
        };
        return ring(
          corner(0),
          rays.map(([, bow], k) => arc(corner(k), corner(k + 1), Math.abs(bow) < 2 ? 0 : bow)),
        );
      }),
  );

  it('and the tool are those of the copies, turned, mirrored, carried, drawn in more parts, from another corner or the other way round', () => {
    fc.assert(
      fc.property(
        SHAPE,
        fc.double({ min: 0, max: 2 * Math.PI, noNaN: true }),
        fc.boolean(),
        fc.integer({ min: 1, max: 4 }),
        fc.nat(20),
        (shape, angle, mirrored, parts, corner) => {
          const [c, s] = [Math.cos(angle), Math.sin(angle)];
          const m: Matrix = mirrored ? [c, s, s, -c, 311.7, -94.2] : [c, s, -s, c, 311.7, -94.2];
          const moved = transformContour(divided(startedAt(shape, corner), parts), m);
          const copy = mirrored ? reverseContour(moved) : moved;
          // Curves are looked at in other places: what lies so near to a limit may fall on either side of it.
          const doubtful = (of: (one: Contour) => number, limit: number, slack: number) =>
            [shape, copy].some((one) => Math.abs(of(one) - limit) < slack);
          const around = toolOf([shape]).cutLengthMm;
          if (
            doubtful((one) => longestRun(one, 28.9), 30, 1) ||
            doubtful((one) => unbentLength(one) / around, 0.6, 0.02)
          )
            return;
          expect(tool(copy)).toBe(tool(shape));
        },
      ),
    );
  });
});
