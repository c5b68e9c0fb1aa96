import {
  doubleCells,
  doubleDifference,
  findOpenings,
  fitTies,
  openingNames,
  subtractStrips,
  tieShape,
  wholeOpeningId,
} from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { HALF_DROP, layPattern } from './support/pattern.js';
import { demoJob } from './whole-job/support.js';

/** Widest gap that a tie is laid across here, mm. */
const LONGEST_MM = 30;

describe('the demonstration motif on two sheets', () => {
  const { shapes, frame } = demoJob().motif;
  const { cell, lattice } = layPattern(shapes, frame, { repeat: HALF_DROP });
  const openings = findOpenings(cell);
  /** Level lines at even heights, from bank to bank of whatever they meet: found on the outlines of the pieces. */
  const lines = Array.from({ length: 10 }, (_, k) => ((k + 0.37) * lattice.heightMm) / 10).flatMap((y) => {
    const { grid, inks } = cell;
    const gy = Math.round(y * grid.sy) + 0.5;
    const cuts = inks[0].pieces
      .flatMap((piece) => [piece.outer, ...piece.holes])
      .flatMap((ring) =>
        ring.flatMap((q, k) => {
          const p = ring[(k + ring.length - 1) % ring.length];
          return p.y > gy !== q.y > gy ? [p.x + ((gy - p.y) * (q.x - p.x)) / (q.y - p.y)] : [];
        }),
      )
      .sort((a, b) => a - b)
      .map((x) => ({ x: x / grid.sx, y: gy / grid.sy }));
    return cuts.flatMap((from, k) => (k % 2 === 0 && cuts[k + 1] ? [{ from, to: cuts[k + 1] }] : []));
  });
  const ties = fitTies(
    cell,
    0,
    lines.filter(({ from, to }) => to.x - from.x < LONGEST_MM),
    { widthMm: 2, flareMm: 0.4 },
  ).filter((tie) => tie !== null);

  it('finds room for ties', () => {
    expect(ties.length).toBeGreaterThan(40);
  });

  it('shows all of the design and nothing else', () => {
    for (const onB of [[], openings.filter((_, k) => k % 3 === 0).map((o) => o.id)]) {
      const { a, b } = doubleCells(cell, 0, ties, { onB: new Set(onB) });
      const { areaMm2, outlineMm } = doubleDifference(cell, a.cell, b.cell, 0);
      expect(outlineMm).toBeGreaterThan(1000);
      expect(areaMm2).toBeLessThanOrEqual(1e-4 * outlineMm);
    }
  });

  it('names every opening with ties after the opening of the cloth', () => {
    const { cell: tied, from } = subtractStrips(
      cell,
      0,
      ties.map((tie) => tieShape(tie, tie)),
    );
    const named = openingNames(openings, findOpenings(tied), new Map([[cell.inks[0].ink, from]]));
    expect(named.length).toBeGreaterThan(openings.length);
    expect(new Set(named.map((o) => o.id)).size).toBe(named.length);
    expect(new Set(named.map((o) => wholeOpeningId(o.id)))).toEqual(new Set(openings.map((o) => o.id)));
  });
});
