import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline } from '../geometry/contour.js';
import { pathsBox } from '../geometry/grid.js';
import { insidePoint } from '../geometry/inside.js';
import { contourLength, flattened } from '../geometry/length.js';
import { contourDistance, insideContours } from '../geometry/point-tests.js';
import { areaPaths } from '../geometry/polygons.js';
import type { Box, Point } from '../geometry/types.js';
import { type Cell, mmBox } from '../repeat/cell.js';
import { makeLattice } from '../repeat/lattice.js';
import { findOpenings } from '../repeat/openings.js';
import { pieceContours } from '../repeat/piece-contours.js';
import {
  carried,
  HALF_DROP,
  inkArea,
  randomCell,
  randomLines,
  ring,
  STRAIGHT,
  shapeOf,
} from '../repeat/random-cell.test-help.js';
import { intersectStrips } from '../repeat/strips.js';
import type { StandingTie, TieEnds } from '../ties/tie-shape.js';
import { tieShape } from '../ties/tie-shape.js';
import { doubleDifference } from './double-difference.js';
import { doubleCells, OVERLAP_MM } from './double-sheets.js';
import { fitTies } from './fit-ties.js';

const SHAPE = { widthMm: 2, flareMm: 0.4 };
const lattice = makeLattice(HALF_DROP, 100, 80);
const seeds = fc.nat({ max: 1_000_000 });

/** Ties across a ring at some turns. */
function spokes(x: number, y: number, turns: readonly number[], [inner, outer] = [12, 18]): TieEnds[] {
  return turns.map((t) => ({
    from: { x: x + inner * Math.cos(t), y: y + inner * Math.sin(t) },
    to: { x: x + outer * Math.cos(t), y: y + outer * Math.sin(t) },
  }));
}

function standing(cell: Cell, ties: readonly TieEnds[]): StandingTie[] {
  return fitTies(cell, 0, ties, SHAPE).filter((t) => t !== null);
}

describe('ties that come to stand', () => {
  it('do so over seams and on any copy of their opening', () => {
    for (const [x, y] of [
      [50, 40],
      [0, 30],
      [98, 79],
      [300, -160],
    ]) {
      const cell = carried([ring({ x, y }, 18, 12)], lattice);
      const ties = spokes(x, y, [0.2, 2.2, 4.4]).map((tie, k) => ({ ...tie, id: `${k}` }));
      const stood = fitTies(cell, 0, ties, SHAPE);
      expect(stood.map((t) => t?.id)).toEqual(['0', '1', '2']);
      for (const tie of stood) {
        const reach = tie?.reachMm as { from: number; to: number };
        expect(reach.from).toBeCloseTo(0.05 + 12 - Math.sqrt(144 - 1.4 ** 2), 2);
        expect(reach.to).toBeCloseTo(0.05, 2);
      }
    }
  });

  it('do not where they lie elsewhere, or only begin in an opening', () => {
    const cell = carried([ring({ x: 50, y: 40 }, 18, 12)], lattice);
    const [tie] = spokes(50, 40, [1]);
    const short = { from: tie.from, to: { x: (tie.from.x + tie.to.x) / 2, y: (tie.from.y + tie.to.y) / 2 } };
    const beside = { from: { x: 49, y: 40 }, to: { x: 51, y: 40 } };
    expect(fitTies(cell, 0, [short, tie, beside], { ...SHAPE, capMm: 2 }).map((t) => t !== null)).toEqual([
      false,
      true,
      false,
    ]);
    expect(fitTies(cell, 0, [], SHAPE)).toEqual([]);
    expect(() => fitTies(cell, 3, [tie], SHAPE)).toThrow(/ink 3/);
  });
});

describe('two sheets from one', () => {
  it('carry the tie on the one and its place on the other, wider by the overlap', () => {
    for (const [x, y] of [
      [50, 40],
      [0, 30],
      [98, 79],
    ]) {
      const cell = carried([ring({ x, y }, 18, 12)], lattice);
      const ties = standing(cell, spokes(x, y, [0.2, 2.2]));
      const { a, b } = doubleCells(cell, 0, ties);
      expect(findOpenings(a.cell).map((o) => o.rank)).toEqual([0, 0]);
      const patches = findOpenings(b.cell);
      expect(patches.map((o) => o.rank)).toEqual([0, 0]);
      for (const patch of patches) {
        // A tie of 2 mm with 0.6 mm on either side and its flares over 6 mm of ring; its ends are bent.
        expect(patch.areaMm2).toBeGreaterThan((2 + 2 * OVERLAP_MM) * 5.9);
        expect(patch.areaMm2).toBeLessThan((2 + 2 * OVERLAP_MM + 0.8) * 6.1);
      }
      const { areaMm2, outlineMm } = doubleDifference(cell, a.cell, b.cell, 0);
      expect(outlineMm).toBeCloseTo(2 * Math.PI * 30, 1);
      expect(areaMm2).toBeLessThanOrEqual(1e-4 * outlineMm);
    }
  });

  it('are together what the one was, on any motif, with any ties, overlap and share', () => {
    fc.assert(
      fc.property(seeds, fc.double({ min: 0, max: 1.5, noNaN: true }), (seed, overlapMm) => {
        const cell = randomCell(seed);
        // Ties as they come, even such as do not reach from bank to bank.
        const ties = randomLines(seed, 1 + (seed % 6)).map((tie) => ({ ...tie, ...SHAPE, reachMm: 0.3 }));
        const openings = findOpenings(cell).filter((o) => o.ink === cell.inks[0].ink);
        const onB = new Set(openings.filter((_, k) => (seed >> k) % 2 === 1).map((o) => o.id));
        const { a, b } = doubleCells(cell, 0, ties, { overlapMm, onB });
        const { areaMm2, outlineMm } = doubleDifference(cell, a.cell, b.cell, 0);
        expect(areaMm2).toBeLessThanOrEqual(1e-4 * outlineMm);
        // Neither spills out of the original by itself.
        for (const { cell: side, from } of [a, b]) {
          expect(from).toHaveLength(side.inks[0].pieces.length);
          expect(doubleDifference(cell, cell, side, 0).areaMm2).toBeLessThanOrEqual(1e-4 * outlineMm);
        }
      }),
      { numRuns: 100 },
    );
  });

  it('run over each other by the overlap at the edges they share', () => {
    fc.assert(
      fc.property(seeds, (seed) => {
        const cell = randomCell(seed);
        const ties = standing(cell, levelTies(cell));
        if (ties.length === 0) return;
        const overlapMm = 0.6;
        const { a, b } = doubleCells(cell, 0, ties, { overlapMm });
        const strips = ties.map((tie) => tieShape(tie, tie));
        // What the ties cover is on B and not on A.
        const under = intersectStrips(cell, 0, strips).cell;
        // Every edge of a strip that is cut in two may be moved by half a unit of the grid.
        const edges = strips.reduce((sum, strip) => sum + contourLength(strip), 0);
        const off = Math.abs(inkArea(intersectStrips(b.cell, 0, strips).cell) - inkArea(under));
        expect(off).toBeLessThan((0.5 * edges) / Math.min(cell.grid.sx, cell.grid.sy));
        expect(inkArea(intersectStrips(a.cell, 0, strips).cell)).toBeLessThan(1e-3);
        // From every edge that the tie gives A, B's opening reaches into A's by the whole overlap, unless the bank comes first.
        const [whole, patched] = [cell, b.cell].map((c) =>
          c.inks[0].pieces.flatMap((p) => pieceContours(p, c).contours),
        );
        const clear = (at: Point): boolean =>
          insideContours(whole, at) && contourDistance(whole, at) > 1.01 * overlapMm;
        for (const at of strips.flatMap(flattened).filter(clear)) {
          for (let k = 0; k < 8; k++) {
            const way = (k * Math.PI) / 4;
            const beside = { x: at.x + 0.99 * overlapMm * Math.cos(way), y: at.y + 0.99 * overlapMm * Math.sin(way) };
            expect(insideContours(patched, beside)).toBe(true);
          }
        }
        // And B has no more openings than ties.
        expect(findOpenings(b.cell).filter((o) => o.ink === cell.inks[0].ink).length).toBeLessThanOrEqual(ties.length);
      }),
      { numRuns: 60 },
    );
  });

  it('change places for openings that are to be on the second', () => {
    const flat = makeLattice(STRAIGHT, 100, 80);
    const shapes = [
      ring({ x: 25, y: 40 }, 18, 12),
      ring({ x: 70, y: 40 }, 18, 12),
      shapeOf([circleContour({ x: 97, y: 8 }, 4)]),
    ];
    const cell = carried(shapes, flat);
    const ties = standing(cell, [...spokes(25, 40, [1]), ...spokes(70, 40, [2, 4])]);
    const openings = findOpenings(cell);
    const moved = openings.find((o) => o.atMm.x > 45 && o.atMm.x < 95 && o.atMm.y > 20)?.id as string;
    const { a, b } = doubleCells(cell, 0, ties, { onB: new Set([moved]) });
    // A: the first ring with one tie, the disc (in two pieces over the seam), patches of the second ring; B: the other way about.
    expect(findOpenings(a.cell)).toHaveLength(1 + 1 + 2);
    expect(findOpenings(b.cell)).toHaveLength(2 + 1);
    const boxes = b.cell.inks[0].pieces.map((p) => mmBox(pathsBox([p.outer]) as Box, cell.grid));
    expect(boxes.filter((box) => box.x1 > 50).map((box) => box.x1 - box.x0 > 10)).toEqual([true, true]);
    expect(inkArea(a.cell) + inkArea(b.cell)).toBeGreaterThan(inkArea(cell));
    const { areaMm2, outlineMm } = doubleDifference(cell, a.cell, b.cell, 0);
    expect(areaMm2).toBeLessThanOrEqual(1e-4 * outlineMm);
  });

  it('cut nothing of the opening around a corner in passing', () => {
    // The tie's far bank ends at a corner 0.2 mm beside its strip: behind it the opening goes on, 20 mm wide.
    const flat = makeLattice(STRAIGHT, 100, 80);
    const corner = polyline(
      [
        { x: 30, y: 20 },
        { x: 60, y: 20 },
        { x: 60, y: 38.4 },
        { x: 40, y: 38.4 },
        { x: 40, y: 60 },
        { x: 30, y: 60 },
      ],
      { closed: true },
    );
    const cell = carried([shapeOf([corner])], flat);
    const ties = standing(cell, [{ from: { x: 30, y: 40 }, to: { x: 40, y: 40 } }]);
    expect(ties).toHaveLength(1);
    const { b } = doubleCells(cell, 0, ties);
    const [box] = b.cell.inks[0].pieces.map((p) => mmBox(pathsBox([p.outer]) as Box, cell.grid));
    expect(box.x1).toBeGreaterThan(40 - 1e-3);
    expect(box.x1).toBeLessThan(40.02);
    expect(box.y1 - box.y0).toBeCloseTo(2 * (1.4 + OVERLAP_MM), 3);
    expect(inkArea(b.cell)).toBeGreaterThan(10 * (2 + 2 * OVERLAP_MM));
  });

  it('become one opening on the second sheet where too little paper would stay between them', () => {
    const flat = makeLattice(STRAIGHT, 100, 80);
    for (const [x, apart] of [
      [20, 5],
      [98, 5],
      [20, 8],
    ]) {
      const cell = carried([shapeOf([boxContour({ x0: x, y0: 30, x1: x + 40, y1: 38 })])], flat);
      const at = (u: number) => ({ from: { x: u, y: 30 }, to: { x: u, y: 38 } });
      // Beside the seam the second tie is named on the next unit's copy.
      const ties = standing(cell, [at(x + 15), at(x + 15 + apart - (x > 50 ? 100 : 0))]);
      expect(ties).toHaveLength(2);
      const patches = (neckMm: number) => findOpenings(doubleCells(cell, 0, ties, { neckMm }).b.cell);
      expect(patches(0)).toHaveLength(2);
      expect(patches(2)).toHaveLength(apart > 6 ? 2 : 1);
      if (apart < 6) expect(patches(2)[0].areaMm2).toBeCloseTo(8 * (apart + 2 + 0.8 + 1.2), 2);
      const { a, b } = doubleCells(cell, 0, ties, { neckMm: 2 });
      expect(doubleDifference(cell, a.cell, b.cell, 0).areaMm2).toBeLessThanOrEqual(1e-4 * 96);
    }
  });

  it('leave out what the wider strip only brushes', () => {
    // A disc 0.3 mm beside the strip: under the patch, but no tie stands in it.
    const cell = carried(
      [ring({ x: 50, y: 40 }, 18, 12), shapeOf([circleContour({ x: 71.5, y: 38.2 }, 2.5)])],
      makeLattice(STRAIGHT, 100, 80),
    );
    const ties = standing(cell, spokes(50, 40, [0]));
    expect(ties).toHaveLength(1);
    const { b } = doubleCells(cell, 0, ties, { overlapMm: 1 });
    expect(findOpenings(b.cell)).toHaveLength(1);
  });
});

describe('the difference of two sheets and one', () => {
  it('is what is missing, and what is too much', () => {
    const flat = makeLattice(STRAIGHT, 100, 80);
    const disc = (r: number) => carried([shapeOf([circleContour({ x: 50, y: 40 }, r)])], flat);
    const none = { ...disc(10), inks: [{ ...disc(10).inks[0], pieces: [] }] };
    const { areaMm2, outlineMm } = doubleDifference(disc(10), disc(9), none, 0);
    expect(areaMm2).toBeCloseTo(Math.PI * 19, 1);
    expect(outlineMm).toBeCloseTo(2 * Math.PI * 10, 1);
    expect(doubleDifference(disc(10), none, disc(11), 0).areaMm2).toBeCloseTo(Math.PI * 21, 1);
    expect(doubleDifference(disc(10), disc(9), disc(10), 0).areaMm2).toBe(0);
    expect(() => doubleDifference(disc(10), disc(9), none, 1)).toThrow(/ink 1/);
  });
});

/** Level ties from bank to bank through every piece of the ink, at the height of its inside point. */
function levelTies(cell: Cell): TieEnds[] {
  const { grid } = cell;
  return cell.inks[0].pieces.flatMap((piece) => {
    const { x, y } = insidePoint(piece);
    const cuts = areaPaths([piece])
      .flatMap((ring) =>
        ring.flatMap((q, k) => {
          const p = ring[(k + ring.length - 1) % ring.length];
          return p.y > y !== q.y > y ? [p.x + ((y - p.y) * (q.x - p.x)) / (q.y - p.y)] : [];
        }),
      )
      .sort((a, b) => a - b);
    const end = cuts.findIndex((c) => c > x);
    const at = (c: number) => ({ x: c / grid.sx, y: y / grid.sy });
    return end > 0 ? [{ from: at(cuts[end - 1]), to: at(cuts[end]) }] : [];
  });
}
