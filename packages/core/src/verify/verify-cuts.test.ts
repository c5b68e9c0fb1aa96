import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import type { Contour, Point, Stroke } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Artwork } from './types.js';
import { verifyCuts } from './verify-cuts.js';

// Lines are planted here by hand, so that what is judged owes nothing to what draws lines elsewhere.

const INK = '#000000';
const PAPER = '#ffffff';
const SIDE = 100;

const filled = (contours: readonly Contour[], more: Partial<Shape> = {}): Shape => ({
  id: 'shape',
  ink: INK,
  contours,
  rule: 'nonzero',
  clips: [],
  ...more,
});

const PEN: Stroke = {
  width: 4,
  cap: 'butt',
  join: 'miter',
  miterLimit: 4,
  dash: [],
  dashOffset: 0,
  pen: [1, 0, 0, 1, 0, 0],
};

const stroked = (points: readonly Point[], stroke: Partial<Stroke> = {}, closed = false): Shape =>
  filled([polyline(points, { closed })], { stroke: { ...PEN, ...stroke } });

function art(shapes: readonly Shape[], more: Partial<Artwork> = {}): Artwork {
  return {
    shapes,
    lattice: makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, SIDE, SIDE),
    reading: () => 'carry',
    cut: { ink: INK, light: false, chosen: null, paperColour: PAPER },
    ties: [],
    reach: { x0: 0, y0: 0, x1: SIDE, y1: SIDE },
    stops: [],
    dropped: [],
    ...more,
  };
}

const box = (x0: number, y0: number, x1: number, y1: number): Contour => boxContour({ x0, y0, x1, y1 });
const ring = (points: readonly (readonly [number, number])[]): Contour =>
  polyline(
    points.map(([x, y]) => ({ x, y })),
    { closed: true },
  );
const move = (contour: Contour, dx: number, dy: number): Contour => transformContour(contour, [1, 0, 0, 1, dx, dy]);
const disc = circleContour({ x: 50, y: 50 }, 20);
const hole = reverseContour(circleContour({ x: 50, y: 50 }, 8));
const kinds = (artwork: Artwork, cuts: readonly Contour[]): string[] =>
  [...new Set(verifyCuts(artwork, cuts).misses.map(({ what }) => what))].sort();

describe('lines that are those of the artwork', () => {
  it('a disc with a hole: all of its length is judged, nothing is exempt', () => {
    const found = verifyCuts(art([filled([disc, hole])]), [disc, hole]);
    expect(found).toMatchObject({ ok: true, misses: [], exemptShare: 0 });
    expect(found.lengthMm).toBeCloseTo(2 * Math.PI * 28, 1);
    expect(found.judged.outline).toBeCloseTo(found.lengthMm, 6);
    expect(found.edgeMm).toBeCloseTo(found.lengthMm, 1);
    // Both ways, at most a quarter of a millimetre apart.
    expect(found.samples).toBeGreaterThanOrEqual((2 * found.lengthMm) / 0.25);
  });

  it.each([0.03, 0.045])('an outline off by %f mm is near enough', (by) => {
    expect(verifyCuts(art([filled([disc])]), [move(disc, by, 0)]).ok).toBe(true);
  });

  it('overlapping shapes show one outline; a shape in paper colour takes away what it covers, an earlier one nothing', () => {
    const bars = [filled([box(10, 10, 60, 20)]), filled([box(40, 10, 90, 20)])];
    expect(verifyCuts(art(bars), [box(10, 10, 90, 20)]).ok).toBe(true);
    const paper = filled([box(30, 5, 50, 25)], { ink: PAPER });
    const parts = [box(10, 10, 30, 20), box(50, 10, 90, 20)];
    expect(verifyCuts(art([...bars, paper]), parts).ok).toBe(true);
    expect(verifyCuts(art([paper, ...bars]), parts).ok).toBe(false);
  });

  it('fills close straight; even-odd leaves what is covered twice', () => {
    const open = {
      closed: false,
      coords: ring([
        [10, 10],
        [50, 10],
        [50, 50],
      ]).coords.slice(0, 14),
    };
    expect(
      verifyCuts(art([filled([open])]), [
        ring([
          [10, 10],
          [50, 10],
          [50, 50],
        ]),
      ]).ok,
    ).toBe(true);
    const twice = [box(10, 10, 60, 60), box(20, 20, 40, 40)];
    expect(verifyCuts(art([filled(twice)]), [twice[0]]).ok).toBe(true);
    expect(verifyCuts(art([filled(twice, { rule: 'evenodd' })]), [twice[0], reverseContour(twice[1])]).ok).toBe(true);
  });

  it('clips limit what is seen', () => {
    const clips = [{ contours: [box(0, 0, 50, 100)], rule: 'nonzero' as const }];
    const half = filled([box(20, 20, 80, 80)], { clips });
    expect(verifyCuts(art([half]), [box(20, 20, 50, 80)]).ok).toBe(true);
    expect(kinds(art([half]), [box(20, 20, 80, 80)])).toEqual(['invented', 'lost']);
  });

  it('the light is cut where the drawing shows the cloth', () => {
    const cut = { ink: PAPER, light: true, chosen: null, paperColour: PAPER };
    const page = box(0, 0, SIDE, SIDE);
    const found = verifyCuts(art([filled([disc])], { cut }), [page, reverseContour(disc)]);
    expect(found.ok).toBe(true);
    expect(found.judged.edge).toBeCloseTo(4 * SIDE, 6);
  });
});

describe('strokes by their definition', () => {
  const line = [
    { x: 20, y: 50 },
    { x: 80, y: 50 },
  ];
  const corner = [
    { x: 20, y: 20 },
    { x: 60, y: 20 },
    { x: 60, y: 60 },
  ];
  const round = circleContour({ x: 60, y: 20 }, 2);

  it.each<[string, Shape, readonly Contour[]]>([
    ['butt caps', stroked(line), [box(20, 48, 80, 52)]],
    ['square caps', stroked(line, { cap: 'square' }), [box(18, 48, 82, 52)]],
    [
      'dashes, an odd number of lengths taken twice',
      stroked(line, { dash: [10], dashOffset: 5 }),
      [box(20, 48, 25, 52), box(35, 48, 45, 52), box(55, 48, 65, 52), box(75, 48, 80, 52)],
    ],
    ['an uneven pen', stroked(line, { pen: [1, 0, 0, 3, 0, 0] }), [box(20, 44, 80, 56)]],
    [
      'a miter',
      stroked(corner),
      [
        ring([
          [20, 18],
          [62, 18],
          [62, 60],
          [58, 60],
          [58, 22],
          [20, 22],
        ]),
      ],
    ],
    [
      'a miter over its limit',
      stroked(corner, { miterLimit: 1.2 }),
      [
        ring([
          [20, 18],
          [60, 18],
          [62, 20],
          [62, 60],
          [58, 60],
          [58, 22],
          [20, 22],
        ]),
      ],
    ],
    ['a dot under a round cap', stroked([corner[1], corner[1]], { cap: 'round' }), [round]],
    [
      'a ring',
      filled([circleContour({ x: 50, y: 50 }, 20)], { stroke: PEN }),
      [circleContour({ x: 50, y: 50 }, 22), reverseContour(circleContour({ x: 50, y: 50 }, 18))],
    ],
    [
      'a closed outline whose ends differ by rounding alone',
      stroked([...corner, { x: 20, y: 60 }, { x: 20 + 1e-9, y: 20 + 1e-9 }], {}, true),
      [box(18, 18, 62, 62), reverseContour(box(22, 22, 58, 58))],
    ],
  ])('%s', (_what, shape, cuts) => {
    expect(verifyCuts(art([shape]), cuts)).toMatchObject({ ok: true, misses: [] });
    // The same lines a little farther out are not those of the stroke.
    const wider = cuts.map((cut) => transformContour(cut, [1.005, 0, 0, 1.005, 0, 0]));
    expect(verifyCuts(art([shape]), wider, { stepMm: 5 }).ok).toBe(false);
  });

  it('butt caps where the handles lie on the ends', () => {
    const coords = Float64Array.from([20, 50, 20, 50, 80, 50, 80, 50]);
    const shape = filled([{ closed: false, coords }], { stroke: PEN });
    expect(verifyCuts(art([shape]), [box(20, 48, 80, 52)])).toMatchObject({ ok: true, misses: [] });
  });

  it('a pen wider than its curve is tight leaves no hole', () => {
    const tight = filled([circleContour({ x: 50, y: 50 }, 5)], { stroke: { ...PEN, width: 14 } });
    expect(verifyCuts(art([tight]), [circleContour({ x: 50, y: 50 }, 12)]).ok).toBe(true);
  });
});

describe('lines that the artwork lacks, and edges without a line', () => {
  const artwork = art([filled([disc, hole])]);

  it.each([
    ['to the outside', 12],
    ['to the inside', -9],
  ])('a spike there and back %s', (_where, dx) => {
    const [x, y] = [disc.coords[0], disc.coords[1]];
    const back = [x + dx / 3, y, x + (2 * dx) / 3, y, x + dx, y, x + (2 * dx) / 3, y, x + dx / 3, y, x, y];
    const spiked = { closed: true, coords: Float64Array.from([...disc.coords, ...back]) };
    const found = verifyCuts(artwork, [spiked, hole]);
    expect(kinds(artwork, [spiked, hole])).toEqual(['invented']);
    // All of it but its first and last twentieth of a millimetre, both ways.
    expect(found.misses.length).toBeGreaterThan((2 * (Math.abs(dx) - 0.5)) / 0.25);
    expect(Math.max(...found.misses.map((miss) => Math.abs(miss.x - x)))).toBeGreaterThan(Math.abs(dx) - 0.3);
  });

  it('a closing piece of no length with a long handle', () => {
    const drop = [50, 10, 80, 40, 80, 80, 50, 80, 20, 80, 20, 40, 50, 10];
    const piece = [62, -2, 62, -2, 50, 10];
    const shape = filled([{ closed: true, coords: Float64Array.from(drop) }]);
    const whole = art([shape], { reach: { x0: -10, y0: -10, x1: SIDE, y1: SIDE }, reading: () => 'trim' });
    expect(kinds(whole, [{ closed: true, coords: Float64Array.from([...drop, ...piece]) }])).toContain('invented');
  });

  it('a hole that was forgotten', () => {
    const found = verifyCuts(artwork, [disc]);
    expect(found.misses.every(({ what }) => what === 'lost')).toBe(true);
    expect(found.misses.length).toBeGreaterThan((2 * Math.PI * 8) / 0.25);
    // The next line is that of the disc.
    expect(found.misses[0].by).toBeCloseTo(5, 6);
  });

  it.each([0.08, 0.2])('an outline off by %f mm', (by) => {
    expect(kinds(art([filled([disc])]), [move(disc, by, 0)])).toEqual(['invented', 'lost']);
  });

  it('a line drawn twice, in one place or beside itself, and a hole that turns the wrong way', () => {
    expect(kinds(artwork, [disc, disc, hole])).toEqual(['wrong-side']);
    expect(kinds(artwork, [disc, move(disc, 0.03, 0), hole])).toEqual(['wrong-side']);
    expect(kinds(artwork, [disc, reverseContour(hole)])).toEqual(['wrong-side']);
  });

  it('nothing drawn at all, and lines without artwork', () => {
    expect(kinds(artwork, [])).toEqual(['lost']);
    expect(kinds(art([]), [disc])).toEqual(['invented']);
    expect(verifyCuts(art([]), []).ok).toBe(true);
  });
});

describe('over the seams', () => {
  const poking = filled([box(90, 20, 110, 40)]);
  const drop = makeLattice({ kind: 'drop', step: { p: 1, q: 3 } }, SIDE, 90);
  const brick = makeLattice({ kind: 'brick', step: { p: 1, q: 2 } }, SIDE, SIDE);
  const reach = { x0: 0, y0: 0, x1: SIDE, y1: 90 };

  it('a carried shape comes in where the repeat has it; a trimmed one ends at the seam; a left-out one is not there', () => {
    const here = box(90, 20, 100, 40);
    // The column to the left sits higher by a third, so its right side comes in lower.
    const carried = [here, box(0, -10 + 90, 10, 90), box(0, 0, 10, 10)];
    expect(verifyCuts(art([poking], { lattice: drop, reach }), carried)).toMatchObject({ ok: true, misses: [] });
    expect(kinds(art([poking], { lattice: drop, reach }), [here])).toEqual(['lost']);
    expect(verifyCuts(art([poking], { lattice: drop, reach, reading: () => 'trim' }), [here]).ok).toBe(true);
    expect(verifyCuts(art([poking], { lattice: drop, reach, reading: () => 'leave-out' }), []).ok).toBe(true);
  });

  it('a brick, and the lap past the lead seams', () => {
    const low = filled([box(20, 90, 40, 110)]);
    const wide = { x0: -0.4, y0: -0.4, x1: SIDE, y1: SIDE };
    expect(
      verifyCuts(art([low], { lattice: brick, reach: wide }), [box(20, 90, 40, 100), box(70, -0.4, 90, 10)]).ok,
    ).toBe(true);
    expect(kinds(art([low], { lattice: brick, reach: wide }), [box(20, 90, 40, 100), box(70, 0, 90, 10)])).toEqual([
      'invented',
    ]);
  });

  it('ends of ink may be cut past the edge, where the sheet says so', () => {
    const over = filled([box(50, 20, 100.2, 40), box(60, 60, 100.2, 80)]);
    const cuts = [box(50, 20, 100.2, 40), box(60, 60, 100, 80)];
    const farthest = { x0: -0.4, y0: -0.4, x1: SIDE + 0.4, y1: SIDE + 0.4 };
    const trimmed = art([over], { lattice: makeLattice(drop.repeat, 200, 200) });
    expect(verifyCuts({ ...trimmed, farthest }, cuts)).toMatchObject({ ok: true, misses: [] });
    expect(kinds(trimmed, cuts)).toEqual(['invented', 'lost']);
    expect(kinds({ ...trimmed, farthest }, [cuts[0]])).toEqual(['lost']);
  });

  it('what ends within the snap of a seam may end on it', () => {
    const bar = filled([box(0.01, 20, 99.985, 40)]);
    const artwork = art([bar], { reading: () => 'trim', reach: { x0: -0.4, y0: -0.4, x1: SIDE, y1: SIDE } });
    expect(verifyCuts(artwork, [box(-0.4, 20, SIDE, 40)])).toMatchObject({ ok: true, exemptShare: 0 });
  });
});

describe('lines that are no edges of ink', () => {
  const opening = filled([box(20, 20, 80, 60)]);

  it('a stop on a listed bar, drawn by both cuts', () => {
    const parts = [box(20, 20, 50, 60), box(50, 20, 80, 60)];
    const stops = [{ from: { x: 50, y: 20 }, to: { x: 50, y: 60 } }];
    const found = verifyCuts(art([opening], { stops }), parts);
    expect(found.ok).toBe(true);
    expect(found.judged.stop).toBeCloseTo(80, 6);
    expect(kinds(art([opening]), parts)).toEqual(['invented']);
    // Paper left between the two cuts is no stop.
    expect(kinds(art([opening], { stops }), [box(20, 20, 49.9, 60), parts[1]])).toContain('invented');
  });

  it('sides of ties, flares included', () => {
    const tie = { from: { x: 50, y: 20 }, to: { x: 50, y: 60 }, widthMm: 4, flareMm: 0, reachMm: 1 };
    const parts = [box(20, 20, 48, 60), box(52, 20, 80, 60)];
    const found = verifyCuts(art([opening], { ties: [tie] }), parts);
    expect(found.ok).toBe(true);
    expect(found.judged.tie).toBeCloseTo(80, 6);
    expect(kinds(art([opening]), parts)).toContain('invented');
    expect(kinds(art([opening], { ties: [{ ...tie, flareMm: 0.5 }] }), parts)).toEqual(['invented', 'lost']);
  });

  it('what was dropped is listed and slight, or past the lead edges; what is neither is exempt, and fails the sheet over half a per cent', () => {
    const cuts = [opening.contours[0]];
    const slit = box(85, 20, 85.2, 60);
    const slight = verifyCuts(art([opening, filled([slit])], { dropped: [slit] }), cuts);
    expect(slight.ok).toBe(true);
    expect(slight.slightMm).toBeCloseTo(80.4, 6);
    expect(slight.exempt.dropped).toBe(0);
    expect(kinds(art([opening, filled([slit])]), cuts)).toEqual(['lost']);
    const broad = box(85, 20, 86, 60);
    const large = verifyCuts(art([opening, filled([broad])], { dropped: [broad] }), cuts);
    expect(large).toMatchObject({ ok: false, misses: [] });
    expect(large.exemptShare).toBeGreaterThan(0.005);
    const past = filled([box(20, -1, 60, -0.02)]);
    const lap = { reach: { x0: -0.4, y0: -0.4, x1: SIDE, y1: SIDE }, reading: () => 'carry' as const };
    const whole = verifyCuts(art([opening, past], lap), [...cuts, box(20, 99, 60, 99.98)]);
    expect(whole.ok).toBe(true);
    expect(whole.slightMm).toBeGreaterThan(80);
  });
});
