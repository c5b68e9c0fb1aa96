import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat, SeamEnd, SeamStretch } from '../repeat/types.js';
import { checkJoins } from './checked.test-help.js';
import { gapLimits } from './measure.js';
import { JOIN_DEFAULTS } from './options.js';

const H = 60;
const W = 100;
/** A line at 3 to 4 passes the upper corner of the unit: it leaves by the top 1 mm beside it, and by the column seam 4/3 mm above it. */
const PAST = { top: 1, column: 4 / 3 };

type Way = readonly [number, number];
const end = (kind: 'begin' | 'end', atMm: number, [x, y]: Way): SeamEnd => ({
  kind,
  atMm,
  tangent: { x, y },
  runsOn: true,
  corner: false,
});
const stretch = (side: SeamStretch['side'], from: SeamEnd, to: SeamEnd): SeamStretch => ({
  side,
  ink: '#000000',
  from,
  to,
  carried: false,
});

/** Everything with x and y changed over: a drop becomes a brick. */
function changedOver({ side, from, to, ...rest }: SeamStretch): SeamStretch {
  const turned = (one: SeamEnd): SeamEnd => ({ ...one, tangent: { x: one.tangent.y, y: one.tangent.x } });
  const sides = { left: 'top', top: 'left', right: 'bottom', bottom: 'right' } as const;
  return { ...rest, side: sides[side], from: turned(from), to: turned(to) };
}

describe('an outline that passes a point where three units meet', () => {
  const steps: Repeat['step'][] = [
    { p: 1, q: 2 },
    { p: 1, q: 3 },
    { p: 3, q: 4 },
  ];

  /** The column to the left takes the line up `off` mm too low; what lies in the unit between is left out. */
  const upLeft = (f: number, off: number): SeamStretch[] => [
    stretch('top', end('begin', PAST.top, [-0.6, -0.8]), end('end', 20, [0, -1])),
    stretch('right', end('begin', 5, [1, 0]), end('end', f * H - PAST.column + off, [0.6, 0.8])),
  ];
  /** The same to the right. */
  const upRight = (f: number, off: number): SeamStretch[] => [
    stretch('top', end('begin', 80, [0, -1]), end('end', W - PAST.top, [0.6, -0.8])),
    stretch('left', end('begin', 5, [-1, 0]), end('end', (1 - f) * H - PAST.column + off, [-0.6, 0.8])),
  ];

  it('is followed over the corner, and its offset and gap are those of the line where it comes to the seam', () => {
    for (const step of steps) {
      const f = step.p / step.q;
      for (const off of [0, 0.1, 1.5, -1.5]) {
        for (const [name, stretches, place, sign] of [
          ['left', upLeft(f, off), f * H - PAST.column + off, -1],
          ['right', upRight(f, off), 0, 1],
        ] as const) {
          const drop = checkJoins(stretches, makeLattice({ kind: 'drop', step }, W, H));
          const brick = checkJoins(stretches.map(changedOver), makeLattice({ kind: 'brick', step }, H, W));
          for (const [{ joins }, seam] of [
            [drop, 'right'],
            [brick, 'bottom'],
          ] as const) {
            const [met, ...others] = joins.filter(({ state }) => state !== 'open');
            expect(others, `${name} ${f} ${off}`).toEqual([]);
            expect(met?.seam, `${name} ${f} ${off}`).toBe(seam);
            expect(met?.atMm).toBeCloseTo(place, 9);
            expect(met?.offsetMm).toBeCloseTo(sign * off, 9);
            expect(met?.gapMm).toBeCloseTo(0.6 * Math.abs(off), 9);
            expect(met?.kinkDeg).toBeCloseTo(0, 5);
            expect(met?.state).toBe(Math.abs(off) < 0.5 ? 'meets' : 'off');
          }
        }
      }
    }
  });

  it('is not followed where the opening lies on its other hand, or the line turns back', () => {
    const lattice = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, W, H);
    const open = (stretches: SeamStretch[]) =>
      checkJoins(stretches, lattice).joins.every(({ state }) => state === 'open');
    const [top, right] = upLeft(0.5, 0);
    expect(open([top, right])).toBe(false);
    const otherHand = stretch('right', end('begin', right.to.atMm, [0.6, 0.8]), end('end', 50, [1, 0]));
    expect(open([top, otherHand])).toBe(true);
    const back = stretch('right', right.from, end('end', right.to.atMm, [0.6, -0.8]));
    expect(open([top, back])).toBe(true);
    // In a straight repeat the column to the left begins at the corner: nothing lies there.
    expect(checkJoins([top, right], makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, W, H)).joins).toHaveLength(
      4,
    );
  });
});

describe('a tip just wide enough to count, against one that is not', () => {
  const slant = 0.8;
  const tip = (side: 'left' | 'right', atMm: number, wide: number, sine: number) => {
    const way: Way = [
      side === 'right' ? sine : -sine,
      side === 'right' ? Math.sqrt(1 - sine ** 2) : -Math.sqrt(1 - sine ** 2),
    ];
    return stretch(side, end('begin', atMm, way), end('end', atMm + wide, way));
  };

  it('has the gap of the side that has a direction', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, W, H);
    const gaps = (stretches: SeamStretch[]) =>
      checkJoins(stretches, lattice).joins.map(({ gapMm, kinkDeg }) => [Number(gapMm?.toFixed(6)), kinkDeg]);
    // 0.1 mm apart at their beginnings, times the sine of the slanting one.
    const off = 0.1;
    expect(gaps([tip('right', 30, 0.04, 1), tip('left', 30 + off, 0.06, slant)])).toEqual([
      [0.08, null],
      [0.096, null],
    ]);
    expect(gaps([tip('right', 30, 0.06, slant), tip('left', 30 + off, 0.04, 1)])).toEqual([
      [0.08, null],
      [0.064, null],
    ]);
  });
});

describe('limits of a gap', () => {
  it('begin at a fifth of the opening, not below 0.2 mm nor above 0.8 mm, and are to mend from twice that, at most 0.8 mm', () => {
    for (const [wide, look, fix] of [
      [0.1, 0.2, 0.4],
      [1, 0.2, 0.4],
      [1.5, 0.3, 0.6],
      [2, 0.4, 0.8],
      [3, 0.6, 0.8],
      [4, 0.8, 0.8],
      [40, 0.8, 0.8],
    ]) {
      const limits = gapLimits(wide, JOIN_DEFAULTS);
      expect(limits.lookMm).toBeCloseTo(look, 9);
      expect(limits.fixMm).toBeCloseTo(fix, 9);
    }
  });
});

it('a unit smaller than a millimetre is one, one without a size is none', () => {
  const straight: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
  expect(checkJoins([], makeLattice(straight, 0.5, 0.4)).joins).toEqual([]);
  expect(() => checkJoins([], makeLattice(straight, 0, 40))).toThrow(/widthMm/);
  expect(() => checkJoins([], makeLattice(straight, 40, -1))).toThrow(/heightMm/);
});
