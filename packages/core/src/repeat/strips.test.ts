import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { circleContour } from '../geometry/contour.js';
import { contourLength } from '../geometry/length.js';
import { contourDistance } from '../geometry/point-tests.js';
import { latticePoint, makeLattice } from './lattice.js';
import { findOpenings } from './openings.js';
import { pieceContours } from './piece-contours.js';
import {
  bar,
  carried,
  HALF_DROP,
  inkArea,
  randomBars,
  randomCell,
  ring,
  STRAIGHT,
  shapeOf,
  THIRD_BRICK,
} from './random-cell.test-help.js';
import { seamStretches } from './seam-stretches.js';
import { intersectStrips, subtractStrips } from './strips.js';

const seeds = fc.nat({ max: 1_000_000 });

describe('paper left standing', () => {
  it('takes from a disc what the closed form says, wherever the disc and the strip lie', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(STRAIGHT, HALF_DROP, THIRD_BRICK),
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        fc.double({ min: 0, max: Math.PI, noNaN: true }),
        fc.integer({ min: -2, max: 2 }),
        (repeat, fx, fy, turn, i) => {
          const lattice = makeLattice(repeat, 97.3, 71.9);
          const at = { x: 97.3 * fx, y: 71.9 * fy };
          const cell = carried([shapeOf([circleContour(at, 15)])], lattice);
          // The strip may be drawn on any copy of the disc.
          const v = latticePoint(lattice, { i, j: 1 - i });
          const strip = bar({ x: at.x + v.x, y: at.y + v.y }, { lengthMm: 40, widthMm: 3, turn });
          const left = subtractStrips(cell, 0, [strip]).cell;
          const taken = 2 * (1.5 * Math.sqrt(225 - 2.25) + 225 * Math.asin(0.1));
          const disc = Math.PI * 225;
          expect(Math.abs(inkArea(left) - (disc - taken))).toBeLessThan(5e-5 * disc);
          expect(Math.abs(inkArea(intersectStrips(cell, 0, [strip]).cell) - taken)).toBeLessThan(5e-4 * taken);
          const halves = findOpenings(left);
          expect(halves.map((o) => o.rank)).toEqual([0, 0]);
          expect(Math.abs(halves[0].areaMm2 - halves[1].areaMm2)).toBeLessThan(5e-5 * disc);
        },
      ),
      { numRuns: 150 },
    );
  });

  it('and what the strips cover make up the whole, on any motif and any repeat', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const cell = randomCell(seed);
        const strips = randomBars(seed, 1 + (seed % 5));
        const before = inkArea(cell);
        const left = subtractStrips(cell, 0, strips);
        const under = intersectStrips(cell, 0, strips);
        // Cuts end where the curves meet: nothing is lost but the grid's rounding along the strips' edges.
        const edges = strips.reduce((sum, strip) => sum + contourLength(strip), 0);
        const parts = inkArea(left.cell) + inkArea(under.cell);
        expect(Math.abs(parts - before)).toBeLessThan(1e-4 * edges + 1e-6 * before);
        for (const [made, list] of [
          [left, left.cell.inks[0].pieces],
          [under, under.cell.inks[0].pieces],
        ] as const) {
          expect(made.from).toHaveLength(list.length);
          list.forEach((piece, k) => {
            // A piece lies in the one it came from, and is never more.
            const origin = pieceContours(cell.inks[0].pieces[made.from[k]], cell);
            expect(pieceContours(piece, made.cell).areaMm2).toBeLessThanOrEqual(origin.areaMm2 * (1 + 1e-4));
          });
        }
        expect(left.cell.inks[0].cuts).toBe(cell.inks[0].cuts);
      }),
      { numRuns: 120 },
    );
  });

  it('leaves pieces alone that no strip touches', () => {
    const lattice = makeLattice(STRAIGHT, 100, 100);
    const discs = [20, 50, 80].map((x) => shapeOf([circleContour({ x, y: 40 }, 10)]));
    const cell = carried([...discs, ring({ x: 50, y: 80 }, 15, 12)], lattice);
    const through = bar({ x: 50, y: 40 }, { lengthMm: 26, widthMm: 2, turn: Math.PI / 2 });
    // Within the box of the ring, on its island.
    const beside = bar({ x: 50, y: 80 }, { lengthMm: 8, widthMm: 2, turn: 0.3 });
    const { cell: left, from } = subtractStrips(cell, 0, [through, beside]);
    const pieces = cell.inks[0].pieces;
    const counts = pieces.map((_, k) => from.filter((f) => f === k).length);
    expect([...counts].sort()).toEqual([1, 1, 1, 2]);
    left.inks[0].pieces.forEach((piece, k) => {
      if (counts[from[k]] === 1) expect(piece).toBe(pieces[from[k]]);
      else expect(pieces).not.toContain(piece);
    });
    expect(intersectStrips(cell, 0, [through, beside]).cell.inks[0].pieces).toHaveLength(1);
    expect(subtractStrips(cell, 0, []).cell.inks[0].pieces).toEqual(pieces);
    expect(() => subtractStrips(cell, 1, [through])).toThrow(/ink 1/);
  });

  it('keeps outlines on their source curves, and its own edges straight', () => {
    const lattice = makeLattice(STRAIGHT, 100, 100);
    const circle = circleContour({ x: 50, y: 50 }, 30);
    const strip = bar({ x: 50, y: 50 }, { lengthMm: 70, widthMm: 2, turn: 0.7 });
    const { cell } = subtractStrips(carried([shapeOf([circle])], lattice), 0, [strip]);
    for (const piece of cell.inks[0].pieces) {
      const { contours } = pieceContours(piece, cell);
      expect(contours).toHaveLength(1);
      const { coords } = contours[0];
      // Half of eight arcs of which two are cut: a few curves, not the hundreds of a flattened outline.
      expect(coords.length).toBeLessThan(2 + 6 * 24);
      for (let k = 0; k + 1 < coords.length; k += 6) {
        expect(contourDistance([circle, strip], { x: coords[k], y: coords[k + 1] })).toBeLessThan(0.006);
      }
    }
  });
});

describe('strips and openings', () => {
  const lattice = makeLattice(HALF_DROP, 100, 80);
  const spoke = (x: number, y: number, turn: number) =>
    bar({ x: x + 15 * Math.cos(turn), y: y + 15 * Math.sin(turn) }, { lengthMm: 12, widthMm: 2, turn });

  it('a ring loses its island with one tie, and comes apart with two, on the unit and across its seams', () => {
    for (const [x, y] of [
      [50, 40],
      [0, 30],
      [98, 79],
      [-3, 41],
      [60, 0],
    ]) {
      const cell = carried([ring({ x, y }, 18, 12)], lattice);
      const count = (turns: readonly number[]) => {
        const strips = turns.map((turn) => spoke(x, y, turn));
        return findOpenings(subtractStrips(cell, 0, strips).cell);
      };
      expect(count([])).toHaveLength(1);
      const [one, ...none] = count([0.4]);
      expect(none).toEqual([]);
      expect(one.rank).toBe(0);
      const two = count([0.4, 2.1]);
      expect(two.map((o) => o.rank)).toEqual([0, 0]);
      const whole = Math.PI * (18 ** 2 - 12 ** 2);
      const gap = 2 * (f(18) - f(12));
      expect(one.areaMm2).toBeCloseTo(whole - gap, 1);
      expect(two[0].areaMm2 + two[1].areaMm2).toBeCloseTo(whole - 2 * gap, 1);
      if (x === 50) {
        const piece = subtractStrips(cell, 0, [spoke(x, y, 0.4)]).cell.inks[0].pieces;
        expect(piece.map((p) => p.holes.length)).toEqual([0]);
      }
    }
    /** Area under a circle of radius r between two lines at 1 mm on either side of its axis, halved. */
    function f(r: number): number {
      return (Math.sqrt(r * r - 1) + r * r * Math.asin(1 / r)) / 2;
    }
  });

  it('a tie across a stripe ends it', () => {
    const straight = makeLattice(STRAIGHT, 100, 80);
    const stripe = bar({ x: 50, y: 40 }, { lengthMm: 140, widthMm: 10, turn: 0 });
    const cell = carried([shapeOf([stripe])], straight);
    expect(findOpenings(cell).map((o) => o.rank)).toEqual([1]);
    const tie = bar({ x: 99.5, y: 40 }, { lengthMm: 11, widthMm: 2, turn: Math.PI / 2 });
    const { cell: tied } = subtractStrips(cell, 0, [tie]);
    const [opening, ...more] = findOpenings(tied);
    expect(more).toEqual([]);
    expect(opening.rank).toBe(0);
    expect(opening.areaMm2).toBeCloseTo(980, 2);
    // It stands across the seam: half a millimetre more on the one side than on the other.
    const box = opening.boxMm as { x0: number; x1: number };
    expect(box.x0).toBeCloseTo(0.5, 4);
    expect(box.x1).toBeCloseTo(98.5, 4);
    expect(seamStretches(tied)).toEqual([]);
  });

  it('a strip across a seam stands on both sides of it', () => {
    for (const [repeat, side] of [
      [STRAIGHT, 'right'],
      [HALF_DROP, 'right'],
      [THIRD_BRICK, 'bottom'],
    ] as const) {
      const own = makeLattice(repeat, 90, 60);
      const at = side === 'right' ? { x: 90, y: 44 } : { x: 44, y: 60 };
      const cell = carried([shapeOf([circleContour(at, 10)])], own);
      // A strip right through the disc, over the seam at a slant.
      const turn = side === 'right' ? 0.3 : Math.PI / 2 + 0.3;
      const { cell: tied } = subtractStrips(cell, 0, [bar(at, { lengthMm: 30, widthMm: 2, turn })]);
      const stretches = seamStretches(tied).filter((s) => s.side === side);
      const half = 1 / Math.cos(0.3);
      const middle = 44;
      expect(stretches.map((s) => [s.from.atMm, s.to.atMm].map((v) => v - middle))).toEqual([
        [expect.closeTo(-10, 3), expect.closeTo(-half, 3)],
        [expect.closeTo(half, 3), expect.closeTo(10, 3)],
      ]);
      const opposite = seamStretches(tied).filter((s) => s.side === (side === 'right' ? 'left' : 'top'));
      expect(opposite).toHaveLength(stretches.length);
      const step = side === 'right' ? own.a.y : own.b.x;
      opposite.forEach((s, k) => {
        expect(s.from.atMm).toBeCloseTo(stretches[k].from.atMm - step, 3);
      });
      for (const s of [...stretches, ...opposite]) {
        expect(s.carried).toBe(true);
        expect([s.from.runsOn, s.to.runsOn]).toEqual([true, true]);
      }
      // The edge's own direction, out of the unit.
      const edge = stretches[0].to.tangent;
      const slope = side === 'right' ? edge.y / edge.x : -edge.x / edge.y;
      expect(slope).toBeCloseTo(Math.tan(0.3), 6);
      expect(findOpenings(tied).map((o) => [o.rank, o.crosses])).toEqual([
        [0, [side]],
        [0, [side]],
      ]);
    }
  });

  it('leaves the seams as they were where no strip is near', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const cell = randomCell(seed);
        const strips = randomBars(seed, 8);
        // Strips that lie clear of the seams, wherever else.
        const { widthMm: w, heightMm: h } = cell.lattice;
        const clear = strips.filter(({ coords }) => coords.every((c, k) => c > 1 && c < (k % 2 === 0 ? w : h) - 1));
        expect(seamStretches(subtractStrips(cell, 0, clear).cell)).toEqual(seamStretches(cell));
      }),
      { numRuns: 120 },
    );
  });

  it('lets strips lie over each other', () => {
    const cell = carried([shapeOf([circleContour({ x: 50, y: 40 }, 20)])], lattice);
    const cross = [0, Math.PI / 2].map((turn) => bar({ x: 50, y: 40 }, { lengthMm: 44, widthMm: 2, turn }));
    expect(findOpenings(subtractStrips(cell, 0, cross).cell)).toHaveLength(4);
    const { cell: under } = intersectStrips(cell, 0, cross);
    expect(under.inks[0].pieces).toHaveLength(1);
    expect(inkArea(under) + inkArea(subtractStrips(cell, 0, cross).cell)).toBeCloseTo(inkArea(cell), 3);
    // Two strips of 2 × 40 mm, their crossing once, less what the circle takes off their ends.
    const one = 2 * (Math.sqrt(399) + 400 * Math.asin(1 / 20));
    expect(inkArea(under)).toBeCloseTo(2 * one - 4, 1);
  });
});
