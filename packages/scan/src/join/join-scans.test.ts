import { InputError, type Matrix } from '@okuri/core';
import { apply, multiply } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type Cartoon, leafCartoon, pieceAt, scanOf } from '../scale/cartoon-scans.test-help.js';
import { joinScans } from './join-scans.js';
import type { JoinedScans, ScanPiece } from './join-types.js';
import { inverse } from './piece-fit.js';

const DPI_120 = 120 / 25.4;
const [WIDE, HIGH] = [110, 140];

function piece(
  cartoon: Cartoon,
  motion: Matrix,
  k: number,
  more: { widthMm?: number; heightMm?: number } = {},
): ScanPiece {
  const { widthMm = WIDE, heightMm = HIGH } = more;
  const image = scanOf(cartoon, {
    motion,
    widthMm,
    heightMm,
    pixelsPerMm: DPI_120,
    paper: 236 - 7 * k,
    ink: 22 + 5 * k,
    noise: 8,
    seed: 11 + k,
  });
  return { name: `part-${k + 1}.png`, image };
}

/** The farthest that a corner of a piece lies from where it should, seen from the first piece, mm. */
function farthestMm(joined: JoinedScans, motions: readonly Matrix[], k: number): number {
  const { turnDeg, shiftMm } = joined.placed[k].motion;
  const first = joined.placed[0].motion.shiftMm;
  const turn = (turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const said: Matrix = [c, s, -s, c, shiftMm.x - first.x, shiftMm.y - first.y];
  const truth = multiply(inverse(motions[0]), motions[k]);
  const corners = [0, WIDE].flatMap((x) => [0, HIGH].map((y) => ({ x, y })));
  return Math.max(
    ...corners.map((corner) => {
      const [p, q] = [apply(said, corner), apply(truth, corner)];
      return Math.hypot(p.x - q.x, p.y - q.y);
    }),
  );
}

describe('joinScans', () => {
  it('finds how pieces were laid down, turned by hand and by right angles, in any order', () => {
    const hundredth = fc.integer({ min: 0, max: 100 }).map((n) => n / 100);
    const laid = fc.record({ turn: hundredth, quarter: fc.integer({ min: 0, max: 3 }), slip: hundredth });
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 1000 }), hundredth, fc.tuple(laid, laid, laid), (seed, wide, laids) => {
        const overlap = 15 + 25 * wide;
        const cartoon = leafCartoon(3 * WIDE - 2 * overlap, HIGH + 10, { seed, pitchMm: 17 });
        const motions = laids.map(({ turn, quarter, slip }, k) => {
          const middle = { x: WIDE / 2 + k * (WIDE - overlap), y: (HIGH + 10) / 2 + 6 * (slip - 0.5) };
          return pieceAt(middle, 8 * (turn - 0.5) + 90 * quarter, WIDE, HIGH);
        });
        const order = [1, 2, 0];
        const shuffled = order.map((k) => motions[k]);
        const joined = joinScans(
          shuffled.map((motion, k) => piece(cartoon, motion, k)),
          { pixelsPerMm: DPI_120 },
        );
        expect(joined.placed[0].motion.turnDeg).toBe(0);
        for (const k of [1, 2]) expect(farthestMm(joined, shuffled, k)).toBeLessThan(0.05);
        expect(joined.doubts).toEqual([]);
        for (const { agreement, meanMm } of joined.overlaps) {
          expect(agreement).toBeGreaterThan(0.97);
          // Noise of ± 4 % on an edge one pixel wide.
          expect(meanMm).toBeLessThan(0.03);
        }
      }),
      { numRuns: 3 },
    );
  });

  it('says the misfit: how far a leaf was moved between two scans', () => {
    const before = leafCartoon(200, 150, { seed: 4, pitchMm: 17 });
    const movedMm = 0.25;
    const moved = { x: movedMm * Math.SQRT1_2, y: movedMm * Math.SQRT1_2 };
    const inOverlap = before.shapes.findIndex((shape) =>
      shape.every(({ x, y }) => x > 84 && x < 106 && y > 50 && y < 100),
    );
    const after = {
      ...before,
      shapes: before.shapes.map((shape, k) =>
        k === inOverlap ? shape.map(({ x, y }) => ({ x: x + moved.x, y: y + moved.y })) : shape,
      ),
    };
    const motions = [pieceAt({ x: 55, y: 75 }, 1, WIDE, HIGH), pieceAt({ x: 135, y: 75 }, -2, WIDE, HIGH)];
    const still = joinScans([piece(before, motions[0], 0), piece(before, motions[1], 1)], { pixelsPerMm: DPI_120 });
    const shifted = joinScans([piece(before, motions[0], 0), piece(after, motions[1], 1)], { pixelsPerMm: DPI_120 });
    expect(still.overlaps[0].largestMm).toBeLessThan(0.12);
    expect(shifted.overlaps[0].largestMm).toBeGreaterThan(movedMm - 0.04);
    expect(shifted.overlaps[0].largestMm).toBeLessThan(movedMm + 0.08);
    expect(shifted.overlaps[0].meanMm).toBeGreaterThan(1.3 * still.overlaps[0].meanMm);
    expect(farthestMm(shifted, motions, 1)).toBeLessThan(0.05);
    expect(shifted.overlaps[0]).toMatchObject({ a: 'part-1.png', b: 'part-2.png' });
    // Two rectangles turned by little: 30 mm wide, and about as high as the pieces.
    expect(shifted.overlaps[0].areaMm2).toBeGreaterThan(0.9 * 30 * HIGH);
    expect(shifted.overlaps[0].areaMm2).toBeLessThan(1.02 * 30 * HIGH);
  });

  it('names the pieces that have nothing in common', () => {
    const cartoon = leafCartoon(330, 150, { seed: 8 });
    const at = (x: number, k: number): ScanPiece => piece(cartoon, pieceAt({ x, y: 75 }, 1 - k, WIDE, HIGH), k);
    expect(() => joinScans([at(55, 0), at(275, 1)], { pixelsPerMm: DPI_120, overlapMm: 25 })).toThrow(
      new InputError(
        'Pieces 1 ("part-1.png") and 2 ("part-2.png") have nothing in common: scan them again with at least 25 mm of overlap with ink in it.',
      ),
    );
    expect(() => joinScans([at(55, 0), at(140, 1), at(275, 2)], { pixelsPerMm: DPI_120 })).toThrow(
      /^Piece 3 \("part-3.png"\) has nothing in common with the others: scan it again with at least 20 mm/,
    );
  });

  it('tells of a repeated motif that fits in two places', () => {
    const one = leafCartoon(40, 150, { seed: 2, pitchMm: 20 });
    const shapes = [0, 1, 2, 3, 4].flatMap((n) =>
      one.shapes.slice(0, 12).map((shape) => shape.map(({ x, y }) => ({ x: x + 40 * n, y }))),
    );
    const cartoon = { widthMm: 200, heightMm: 150, shapes };
    const motions = [pieceAt({ x: 55, y: 75 }, 0, WIDE, HIGH), pieceAt({ x: 115, y: 75 }, 2, WIDE, HIGH)];
    const joined = joinScans(
      motions.map((motion, k) => piece(cartoon, motion, k)),
      { pixelsPerMm: DPI_120 },
    );
    expect(joined.doubts.join()).toContain('"part-1.png" and "part-2.png" can be laid on each other in two ways');
  });

  it('refuses what is no set of pieces', () => {
    const cartoon = leafCartoon(120, 150, { seed: 3 });
    const one = piece(cartoon, pieceAt({ x: 55, y: 75 }, 0, WIDE, HIGH), 0);
    const small = piece(cartoon, pieceAt({ x: 55, y: 75 }, 0, 10, 15), 1, { widthMm: 10, heightMm: 15 });
    expect(() => joinScans([one], { pixelsPerMm: DPI_120 })).toThrow(/^Joining needs two scans or more/);
    expect(() => joinScans(new Array(25).fill(one), { pixelsPerMm: DPI_120 })).toThrow(/^25 scans are more than/);
    expect(() => joinScans([one, small], { pixelsPerMm: DPI_120 })).toThrow(
      /^"part-2.png" is only 9.9 × 15.0 mm at 120 dpi/,
    );
    expect(() => joinScans([one, one], { pixelsPerMm: 1 })).toThrow(/^25 dpi is too coarse/);
    expect(() => joinScans([one, one], { pixelsPerMm: 0 })).toThrow(RangeError);
  });
});
