import { expect, it } from 'vitest';
import { clusterBoxes } from './cluster.js';
import { boxPath, type GridPath, pathsBox, ringArea } from './grid.js';
import { CurveMarks } from './marks.js';
import { areaPaths, combine } from './polygons.js';
import type { Box } from './types.js';
import { unionPieces } from './union.js';

/** Many small squares that overlap, from a seeded generator. */
function squares(count: number, side: number): GridPath[] {
  let state = 11;
  const random = (): number => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
  return Array.from({ length: count }, () => {
    const x = Math.round(random() * side);
    const y = Math.round(random() * side);
    return boxPath({ x0: x, y0: y, x1: x + 900, y1: y + 900 });
  });
}

it('has the same area cut along lines as in one sweep', () => {
  const paths = squares(8000, 60_000);
  const parts = paths.map((path) => ({ paths: [path], box: pathsBox([path]) as Box }));
  const whole = combine('union', paths, [], { book: new CurveMarks() });
  const { areas, cuts } = unionPieces(parts, { book: new CurveMarks() });
  const total = (rings: readonly GridPath[]): number => rings.reduce((sum, r) => sum + ringArea(r), 0);
  expect(cuts.length).toBeGreaterThan(0);
  expect(total(areaPaths(areas))).toBe(total(whole));
});

it('puts boxes that touch, directly or through others, into one group', () => {
  const box = (x: number): Box => ({ x0: x, y0: 0, x1: x + 1, y1: 1 });
  expect(clusterBoxes([box(0), box(5), box(1), box(6.5), box(2)])).toEqual([[0, 2, 4], [1], [3]]);
  expect(clusterBoxes([])).toEqual([]);
});
