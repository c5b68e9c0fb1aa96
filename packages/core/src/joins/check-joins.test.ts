import { describe, expect, it } from 'vitest';
import type { Point, Side } from '../geometry/types.js';
import type { Lattice, Repeat, SeamStretch } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { checkJoins } from './checked.test-help.js';
import { JOIN_DEFAULTS } from './options.js';

const W = 200;
const H = 100;

function latticeOf(kind: Repeat['kind'], p = 0, q = 1): Lattice {
  return {
    repeat: { kind, step: { p, q } },
    widthMm: W,
    heightMm: H,
    a: { x: W, y: kind === 'drop' ? (p / q) * H : 0 },
    b: { x: kind === 'brick' ? (p / q) * W : 0, y: H },
  };
}

const straight = latticeOf('straight');
const halfDrop = latticeOf('drop', 1, 2);
const brick = latticeOf('brick', 1, 2);

const OUT: Readonly<Record<Side, Point>> = {
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
  top: { x: 0, y: -1 },
  bottom: { x: 0, y: 1 },
};

interface How {
  /** The outline ends flush at both ends. */
  readonly flush?: boolean;
  /** Slope along the seam for every unit across it, at both ends. */
  readonly slope?: number;
  readonly ink?: string;
  /** Both ends lie where a corner was moved onto the seam. */
  readonly moved?: boolean;
}

/** A stretch whose outlines leave square to the side unless told otherwise. Ends at 0 or at the side's end are corners. */
function on(side: Side, from: number, to: number, how: How = {}): SeamStretch {
  const { flush = false, slope = 0, ink = '#000000', moved = false } = how;
  const length = side === 'left' || side === 'right' ? H : W;
  const out = OUT[side];
  const k = 1 / Math.hypot(1, slope);
  const tangent = { x: k * (out.x || slope), y: k * (out.y || slope) };
  const end = (atMm: number, kind: 'begin' | 'end') => ({
    atMm,
    kind,
    tangent,
    runsOn: !flush,
    corner: atMm === 0 || atMm === length,
    moved,
  });
  return { side, ink, from: end(from, 'begin'), to: end(to, 'end'), carried: false };
}

function severities(stretches: readonly SeamStretch[], lattice: Lattice): string[] {
  return checkJoins(stretches, lattice).findings.map((f) => `${f.code} ${f.severity}`);
}

describe('partners under the step', () => {
  it('meet where the step says so', () => {
    expect(checkJoins([on('right', 10, 20), on('left', 10, 20)], straight).joins).toEqual([
      {
        seam: 'right',
        ink: '#000000',
        atMm: 10,
        at: { x: W, y: 10 },
        offsetMm: 0,
        gapMm: 0,
        kinkDeg: 0,
        state: 'meets',
        flush: false,
        widthMm: 10,
        ways: { own: { x: 1, y: 0 }, partner: { x: -1, y: 0 } },
      },
      expect.objectContaining({ atMm: 20, offsetMm: 0, state: 'meets' }),
    ]);
    expect(severities([on('right', 60, 70), on('left', 10, 20)], halfDrop)).toEqual([]);
    expect(severities([on('right', 10, 20), on('left', 60, 70)], halfDrop)).toEqual([]);
    expect(severities([on('bottom', 110, 120), on('top', 10, 20)], brick)).toEqual([]);
    expect(severities([on('bottom', 110, 120), on('top', 110, 120)], halfDrop)).toEqual([]);
    expect(severities([on('right', 10, 20), on('left', 10, 20)], brick)).toEqual([]);
  });

  it('do not meet under another step', () => {
    const { joins, findings } = checkJoins([on('right', 10, 20), on('left', 10, 20)], halfDrop);
    expect(joins.map(({ ways }) => [ways?.own?.x ?? null, ways?.partner?.x ?? null])).toEqual([
      [1, null],
      [1, null],
      [null, -1],
      [null, -1],
    ]);
    expect(joins.map((j) => [j.state, j.atMm, j.at.x])).toEqual([
      ['open', 10, W],
      ['open', 20, W],
      ['open', 60, 0],
      ['open', 70, 0],
    ]);
    expect(findings.map((f) => f.code)).toEqual(['join-open', 'join-open']);
  });

  it('belong to one ink', () => {
    const stretches = [on('right', 10, 20, { ink: '#ff0000' }), on('left', 10, 20)];
    expect(checkJoins(stretches, straight).joins.map((j) => j.state)).toEqual(['open', 'open', 'open', 'open']);
  });

  it('go round the corner on a seam that closes on itself', () => {
    const whole = [on('right', 45, 55), on('left', 95, 100), on('left', 0, 5)];
    expect(checkJoins(whole, halfDrop).joins.map((j) => [j.atMm, j.offsetMm, j.widthMm])).toEqual([
      [45, 0, 10],
      [55, 0, 10],
    ]);
    const shifted = [on('right', 99, 100), on('right', 0, 9), on('left', 1, 11)];
    expect(checkJoins(shifted, straight).joins.map((j) => [j.atMm, j.offsetMm])).toEqual([
      [9, 2],
      [99, 2],
    ]);
  });

  it('never go round the corner where the seam is a segment', () => {
    const { joins } = checkJoins([on('bottom', 1, 11), on('top', 1, 11), on('bottom', 190, 199)], halfDrop);
    expect(joins.map((j) => [j.atMm, j.state])).toEqual([
      [1, 'meets'],
      [11, 'meets'],
      [190, 'open'],
      [199, 'open'],
    ]);
  });

  it('have their own width at each end of a segment, and one width round a corner', () => {
    const sides = (side: Side) => [on(side, 0, 5), on(side, 193, W)];
    const widths = (lattice: Lattice) =>
      checkJoins([...sides('bottom'), ...sides('top')], lattice).joins.map((j) => [j.atMm, j.widthMm]);
    expect(widths(halfDrop)).toEqual([
      [5, 5],
      [193, 7],
    ]);
    expect(widths(straight)).toEqual([
      [5, 12],
      [193, 12],
    ]);
  });

  it('of sides that are open all along have no ends at all', () => {
    expect(checkJoins([on('right', 0, H), on('left', 0, H)], straight)).toEqual({ joins: [], findings: [] });
    expect(checkJoins([on('right', 0, H), on('left', 0, H)], brick)).toEqual({ joins: [], findings: [] });
    expect(checkJoins([], straight)).toEqual({ joins: [], findings: [] });
  });
});

describe('how bad it is', () => {
  const off = (width: number, d: number) => [on('right', 10, 10 + width), on('left', 10 + d, 10 + width + d)];

  it.each([
    [10, 0.79, []],
    [10, 0.81, ['join-off fix', 'join-off fix']],
    [8, 1.5, ['join-off fix', 'join-off fix']],
    [3, 0.61, ['join-off look', 'join-off look']],
    [3, 0.79, ['join-off look', 'join-off look']],
    [3, 0.81, ['join-off fix', 'join-off fix']],
    [2, 0.39, []],
    [2, 0.41, ['join-off look', 'join-off look']],
    [2, 0.81, ['join-off fix', 'join-off fix']],
    [0.5, 0.19, []],
    [0.5, 0.39, ['join-off look', 'join-off look']],
    [0.5, 0.41, ['join-off fix', 'join-off fix']],
  ])('an opening %d mm wide that is off by %d mm: %j', (width, d, want) => {
    expect(severities(off(width, d), straight)).toEqual(want);
  });

  it('goes by the gap: a shallow crossing may be far off along the seam', () => {
    const pair = [on('right', 10, 20, { slope: 20 }), on('left', 12.9, 22.9, { slope: -20 })];
    const { joins, findings } = checkJoins(pair, straight);
    expect(joins[0]).toMatchObject({ state: 'meets', offsetMm: expect.closeTo(2.9, 9) });
    expect(joins[0].gapMm).toBeCloseTo(2.9 / Math.hypot(1, 20), 9);
    expect(findings).toEqual([]);
  });

  it('a kink alone is a look, sooner for fine openings', () => {
    const bent = (width: number, degrees: number) => {
      const slope = Math.tan((degrees * Math.PI) / 180);
      return severities([on('right', 10, 10 + width, { slope }), on('left', 10, 10 + width)], straight);
    };
    expect(bent(3, 5.9)).toEqual([]);
    expect(bent(3, 6.1)).toEqual(['join-kink look', 'join-kink look']);
    expect(bent(10, 11.9)).toEqual([]);
    expect(bent(10, 80)).toEqual(['join-kink look', 'join-kink look']);
  });

  it('a kink alone bends the join, which meets all the same; a gap is a gap with a kink or without', () => {
    const states = (d: number, slope: number, carried = false) =>
      checkJoins(
        [on('right', 10, 20, { slope }), on('left', 10 + d, 20 + d)].map((s) => ({ ...s, carried })),
        straight,
      );
    expect(states(0, 0.5).joins.map((j) => j.state)).toEqual(['bends', 'bends']);
    expect(states(0.3, 0.5).joins.map((j) => j.state)).toEqual(['bends', 'bends']);
    expect(states(1.2, 0.5).joins.map((j) => j.state)).toEqual(['off', 'off']);
    expect(states(0, 0.1).joins.map((j) => j.state)).toEqual(['meets', 'meets']);
    // A corner of a drawing that is carried over is its own: it is counted, and nothing is said of it.
    expect(states(0, 0.5, true)).toMatchObject({ joins: [{ state: 'bends' }, { state: 'bends' }], findings: [] });
  });

  it('an opening that runs on and meets nothing is one finding; one open end is one too', () => {
    const alone = checkJoins([on('right', 10, 20)], halfDrop);
    expect(alone.joins.map((j) => [j.state, j.flush, j.offsetMm])).toEqual([
      ['open', false, null],
      ['open', false, null],
    ]);
    expect(alone.findings).toHaveLength(1);
    expect(alone.findings[0]).toMatchObject({ code: 'join-open', severity: 'fix', atMm: { x: W, y: 10 } });
    expect(alone.findings[0].message).toBe(
      'At the right edge 10.0 mm from the top an opening 10.0 mm wide runs on past the edge and no outline meets it on the left edge, 60.0 mm from the top: draw what is missing there, or end it at the edge.',
    );
    const wider = checkJoins([on('right', 10, 20), on('left', 10, 30)], straight);
    expect(wider.joins.map((j) => [j.atMm, j.state])).toEqual([
      [10, 'meets'],
      [20, 'open'],
      [30, 'open'],
    ]);
    expect(wider.findings.map((f) => f.measure?.ends)).toEqual([1, 1]);
  });

  it('says where, how much and what to do', () => {
    const { findings } = checkJoins([on('right', 74.3, 82.5), on('left', 25.3, 33.5)], halfDrop);
    expect(findings[0].message).toBe(
      'At the right edge 74.3 mm from the top the outline is off by 1.0 mm (gap 1.0 mm across the line; 8.2 mm wide opening): its partner on the left edge, 25.3 mm from the top, lies too far down; move one of the two until they meet.',
    );
    expect(findings[0].measure).toEqual({
      gapMm: 1,
      offsetMm: 1,
      kinkDeg: 0,
      widthMm: 8.2,
      seam: 'right',
      placeMm: 74.3,
      ink: '#000000',
    });
    const below = checkJoins([on('bottom', 50, 60), on('top', 149, 159)], brick).findings;
    expect(below[0].message).toContain('At the bottom edge 50.0 mm from the left');
    expect(below[0].message).toContain('too far left');
  });

  it('more than eight alike are one line with a count and the worst', () => {
    const nine = Array.from({ length: 9 }, (_, k) => on('right', 10 * k + 1, 10 * k + 3 + k / 10));
    const { joins, findings } = checkJoins(nine, straight);
    expect(joins).toHaveLength(18);
    expect(findings).toHaveLength(1);
    expect(findings[0].measure).toMatchObject({ alike: 9, widthMm: 2.8 });
    expect(findings[0].severity).toBe('fix');
    expect(checkJoins(nine.slice(1), straight).findings).toHaveLength(8);
  });

  it('on cloth one unit wide all about the right seam is a note, the rest stays', () => {
    const stretches = [
      on('right', 10, 20),
      on('left', 60, 70),
      on('left', 80, 90, { flush: true }),
      on('bottom', 10, 20),
    ];
    const { findings, joins } = checkJoins(stretches, straight, { ...JOIN_DEFAULTS, sideJoinMeetsNothing: true });
    expect(findings.map((f) => f.severity)).toEqual(['note', 'note', 'note', 'fix']);
    expect(findings[0].message).toContain('one unit wide');
    expect(joins.every((j) => j.state === 'open')).toBe(true);
  });
});

describe('ordinary geometric design needs no fixing', () => {
  const flush = { flush: true };

  it('bars that abut over part of their length', () => {
    const got = severities([on('right', 10, 40, flush), on('left', 25, 60, flush)], straight);
    expect(got).toEqual(['join-flush look', 'join-flush look']);
  });

  it('bars that abut with a small step are a look, and flush; with a step that anyone sees a fix', () => {
    const stepped = (d: number) =>
      checkJoins([on('right', 10, 12, flush), on('left', 10 + d, 12 + d, flush)], straight);
    const small = stepped(0.7);
    expect(small.joins.map((j) => [j.state, j.flush, j.offsetMm])).toEqual([
      ['off', true, expect.closeTo(0.7, 9)],
      ['off', true, expect.closeTo(0.7, 9)],
    ]);
    expect(small.findings.map((f) => `${f.code} ${f.severity}`)).toEqual(['join-step look', 'join-step look']);
    expect(stepped(1.5).findings.map((f) => `${f.code} ${f.severity}`)).toEqual(['join-off fix', 'join-off fix']);
  });

  it('stripes drawn up to the edge, across and along', () => {
    const stripes = [0, 1, 2, 3].flatMap((k) => [
      on('right', 25 * k + 5, 25 * k + 15, flush),
      on('left', 25 * k + 5, 25 * k + 15, flush),
    ]);
    expect(severities(stripes, straight)).toEqual([]);
    expect(
      severities([on('right', 0, H, flush), on('top', 180, W, flush), on('bottom', 180, W, flush)], straight),
    ).toEqual([]);
    expect(
      severities([on('right', 0, H, flush), on('top', 180, W, flush), on('bottom', 180, W, flush)], halfDrop),
    ).toEqual([]);
  });

  it('checks: squares that stand corner to corner over the seam', () => {
    const right = [0, 2, 4, 6, 8].map((k) => on('right', 10 * k, 10 * k + 10, flush));
    const left = [1, 3, 5, 7, 9].map((k) => on('left', 10 * k, 10 * k + 10, flush));
    for (const lattice of [straight, halfDrop, brick]) {
      const { findings } = checkJoins([...right, ...left], lattice);
      expect(findings.filter((f) => f.severity === 'fix' || f.severity === 'stop')).toEqual([]);
    }
  });

  it('only where both outlines end flush is a step left to the eye', () => {
    const stretches = [on('right', 10, 40, flush), on('left', 12, 42)];
    const { joins, findings } = checkJoins(stretches, straight);
    expect(joins.map((j) => j.flush)).toEqual([false, false]);
    expect(findings.map((f) => `${f.code} ${f.severity}`)).toEqual(['join-off fix', 'join-off fix']);
  });

  it('an opening of which one outline runs on and the other ends flush has to be fixed', () => {
    const half = on('right', 10, 40, flush);
    const { joins, findings } = checkJoins([{ ...half, to: { ...half.to, runsOn: true } }], straight);
    expect(joins.map((j) => j.flush)).toEqual([true, false]);
    expect(findings.map((f) => `${f.code} ${f.severity}`)).toEqual(['join-open fix']);
  });

  it('half a leaf that ends flush is a look', () => {
    expect(severities([on('right', 10, 20, flush)], straight)).toEqual(['join-flush look']);
  });

  it('tips that touch the seam in a point are passed over', () => {
    expect(checkJoins([on('right', 10, 10.04), on('left', 50, 50.04)], straight)).toEqual({ joins: [], findings: [] });
  });

  it('a tip just wide enough on one side and just too narrow on the other meets', () => {
    const { joins, findings } = checkJoins([on('right', 10, 10.051), on('left', 10.001, 10.05)], straight);
    expect(findings).toEqual([]);
    expect(joins.map((j) => [j.state, j.kinkDeg])).toEqual([
      ['meets', null],
      ['meets', null],
    ]);
  });

  it('an outline through the very corner meets, though one side has a corner there and the other an end', () => {
    const { joins, findings } = checkJoins([on('right', 90, 99.99), on('left', 90, 100)], straight);
    expect(findings).toEqual([]);
    expect(joins.map((j) => j.state)).toEqual(['meets', 'meets']);
    expect(checkJoins([on('right', 90, 98), on('left', 90, 100)], straight).findings).toMatchObject([
      { code: 'join-off', severity: 'fix', measure: { offsetMm: 2 } },
    ]);
  });
});

describe('what only touches the seam', () => {
  /** An arc over the seam between two places: its ends lean towards each other by `degrees` from the seam. */
  const arc = (side: Side, from: number, to: number, degrees: number): SeamStretch => {
    const bare = on(side, from, to);
    const angle = (degrees * Math.PI) / 180;
    const lean = (sign: number) => {
      const { x, y } = OUT[side];
      const along = sign * Math.cos(angle);
      return { x: x === 0 ? along : x * Math.sin(angle), y: y === 0 ? along : y * Math.sin(angle) };
    };
    return { ...bare, from: { ...bare.from, tangent: lean(1) }, to: { ...bare.to, tangent: lean(-1) } };
  };

  it('has nothing to meet: a disc of 20 mm that pokes over by 0.02 mm shows 1.26 mm of the seam', () => {
    // The chord of a circle at its sagitta s is 2 √(2 r s − s²), its angle to the tangent acos(1 − s / r).
    expect(checkJoins([arc('right', 10, 11.264, 3.62)], straight)).toEqual({ joins: [], findings: [] });
    expect(checkJoins([arc('top', 10, 11.264, 3.62)], halfDrop)).toEqual({ joins: [], findings: [] });
  });

  it('is told from a cap that is missing', () => {
    // The same disc, poking over by 0.5 mm.
    const missing = checkJoins([arc('right', 10, 16.245, 18.19)], straight);
    expect(missing.findings.map((f) => f.code)).toEqual(['join-open']);
    const both = checkJoins([arc('right', 10, 11.264, 3.62), arc('left', 10, 11.264, 3.62)], straight);
    expect(both.joins).toHaveLength(2);
  });

  it('may be paper between two openings that closes past the seam', () => {
    const touching = [on('right', 10, 15), on('right', 15.03, 20), on('left', 10, 20)];
    expect(checkJoins(touching, straight).joins.map((j) => [j.atMm, j.state])).toEqual([
      [10, 'meets'],
      [20, 'meets'],
    ]);
    // The first opening goes round the corner of a seam that closes on itself.
    const round = [on('right', 0, 5), on('right', 95, H), on('right', 5.03, 20), on('left', 0, 20), on('left', 95, H)];
    expect(checkJoins(round, straight).joins.map((j) => [j.atMm, j.state])).toEqual([
      [20, 'meets'],
      [95, 'meets'],
    ]);
    const strip = [on('right', 10, 15), on('right', 16, 20), on('left', 10, 20)];
    expect(checkJoins(strip, straight).joins.filter((j) => j.state === 'open')).toHaveLength(2);
  });
});

describe('a corner beside the seam', () => {
  it('takes nothing for an offset that lies within the snap of the outline that runs along there', () => {
    // One side runs at 1° to the seam before it turns off: within 0.02 mm of it for more than a millimetre.
    const slope = 1 / Math.tan(Math.PI / 180);
    const joined = (moved: boolean) =>
      checkJoins([on('right', 10, 20, { slope, moved }), on('left', 11, 21, { slope: 1 })], straight).joins;
    expect(joined(true).map((j) => [j.state, j.offsetMm, j.gapMm])).toEqual([
      ['bends', 0, 0],
      ['bends', 0, 0],
    ]);
    // Where no corner was moved, both go through the seam where they say.
    expect(joined(false).map((j) => j.offsetMm)).toEqual([1, 1]);
  });

  it('hides no small shift of outlines that go through the seam with a bend', () => {
    const bent = [on('right', 10, 20), on('left', 10.032, 20.032, { slope: 0.2 })];
    expect(checkJoins(bent, straight).joins.map((j) => j.offsetMm)).toEqual([
      expect.closeTo(0.032, 9),
      expect.closeTo(0.032, 9),
    ]);
  });

  it('hides no shift of an outline that goes straight on, however shallow', () => {
    const slope = 1 / Math.tan(Math.PI / 180);
    const { joins } = checkJoins([on('right', 10, 20, { slope }), on('left', 11, 21, { slope: -slope })], straight);
    expect(joins.map((j) => j.offsetMm)).toEqual([1, 1]);
  });
});

describe('points where seams meet', () => {
  it('pair an end on the bottom with one on the side of the unit that takes the outline up', () => {
    // A line at 45° leaves the unit 0.4 mm left of its lower right corner; the next unit takes it up 0.3 mm above its own.
    const bottom = on('bottom', 199.2, 199.6, { slope: 1 });
    const left = on('left', 49.3, 49.7, { slope: -1 });
    const { joins } = checkJoins([bottom, left], halfDrop);
    // Followed to x = 200, the edges come out 0.4 and 0.8 mm below the corner; their partners lie 0.7 and 0.3 mm above it.
    expect(joins.map((j) => [j.seam, j.at, j.state])).toEqual([
      ['right', { x: 199.2, y: H }, 'off'],
      ['right', { x: 199.6, y: H }, 'off'],
    ]);
    expect(joins.map((j) => j.offsetMm)).toEqual([expect.closeTo(-1.1, 9), expect.closeTo(-1.1, 9)]);
    expect(joins[0].gapMm).toBeCloseTo(1.1 / Math.SQRT2, 9);
    expect(joins[0].kinkDeg).toBeCloseTo(0, 9);
  });

  it('do not pair outlines that turn back, nor ends with the opening on the other hand', () => {
    const bottom = on('bottom', 199.2, 199.6, { slope: -1 });
    const left = on('left', 49.3, 49.7, { slope: 1 });
    expect(checkJoins([bottom, left], halfDrop).joins.map((j) => j.state)).toEqual(['open', 'open', 'open', 'open']);
    const wide = on('bottom', 150, 199.6, { slope: 1 });
    const low = on('left', 20, 49.7, { slope: -1 });
    expect(checkJoins([wide, low], halfDrop).joins.map((j) => j.state)).toEqual(['open', 'open', 'open', 'open']);
  });

  it('are out of reach from further along', () => {
    const { joins } = checkJoins([on('bottom', 180, 181, { slope: 1 }), on('left', 30, 31, { slope: -1 })], halfDrop);
    expect(joins.map((j) => j.state)).toEqual(['open', 'open', 'open', 'open']);
  });

  it('four units: a missing corner piece is as wide as it is long', () => {
    // A line at 45° leaves the first unit 1.4 mm above the corner and enters the one below and beside it 1.6 mm right of it.
    const { joins } = checkJoins([on('right', 98.4, 98.8, { slope: 1 }), on('top', 1.2, 1.6, { slope: -1 })], straight);
    expect(joins.map((j) => j.state)).toEqual(['off', 'off']);
    expect(joins[0].gapMm).toBeCloseTo(Math.hypot(1.6, 1.6), 9);
  });

  it('never report an offset beyond the reach', () => {
    // Nearly along the bottom seam and 2.7 mm from the corner: followed to the column seam, its line comes out far away.
    const shallow = on('bottom', 196, 197.5, { slope: 40 });
    const left = on('left', 47.5, 48.5, { slope: -0.2 });
    for (const lattice of [halfDrop, straight]) {
      for (const join of checkJoins([shallow, left, on('top', 3, 4, { slope: -30 })], lattice).joins) {
        expect(Math.abs(join.offsetMm ?? 0)).toBeLessThanOrEqual(JOIN_DEFAULTS.reachMm);
      }
    }
  });
});

describe('input that makes no sense', () => {
  it('is refused with what was got', () => {
    const bad = on('right', 10, 20);
    expect(() => checkJoins([{ ...bad, to: { ...bad.to, atMm: Number.NaN } }], straight)).toThrow(InputError);
    expect(() => checkJoins([on('left', 0, Infinity)], straight)).toThrow(/left side .* got 0 to Infinity mm/);
    expect(checkJoins([on('right', 20.00001, 20)], straight)).toEqual({ joins: [], findings: [] });
    expect(() => checkJoins([], { ...straight, widthMm: 0 })).toThrow(/widthMm .* got 0/);
    expect(() => checkJoins([], straight, { ...JOIN_DEFAULTS, reachMm: -1 })).toThrow(/reachMm .* got -1/);
  });
});
