import { describe, expect, it } from 'vitest';
import type { GridPath } from '../geometry/grid.js';
import { type CutName, matchRuns, other, type Piece, straightParts } from './stop-runs.js';

const LINE = { right: 700, bottom: 400 };
const path = (...places: (readonly [number, number])[]): GridPath => places.map(([x, y]) => ({ x, y, z: 0 }));
const piece = (side: CutName, ...places: (readonly [number, number])[]): Piece => ({
  side,
  outer: path(...places),
  holes: [],
});
const level = (side: CutName, x0: number, x1: number, y = 400): Piece =>
  side === 'first'
    ? piece('first', [x0, y - 100], [x1, y - 100], [x1, y], [x0, y])
    : piece('second', [x0, y], [x1, y], [x1, y + 100], [x0, y + 100]);

describe('stops where both cuts meet on the hold line', () => {
  it('pair the run of the one with that of the other, within the rounding of two grid units', () => {
    const [a, b] = [level('first', 100, 160), level('first', 300, 350)];
    const [c, d] = [level('second', 302, 348), level('second', 102, 158)];
    const { stops, others } = matchRuns([a, b, c, d], LINE);
    expect(others).toEqual([]);
    expect(stops.map(({ pieces }) => [pieces.first, pieces.second])).toEqual([
      [a, d],
      [b, c],
    ]);
    for (const { runs, pieces } of stops) {
      for (const side of ['first', 'second'] as const) {
        for (const node of runs[side].nodes) expect(pieces[side].outer).toContain(node);
      }
    }
  });

  it('are plain stretches of the line where the runs are not the same, if they share more than that', () => {
    const shared = (x0: number, x1: number) => {
      const { stops, others } = matchRuns([level('first', 100, 160), level('second', x0, x1)], LINE);
      expect(stops).toEqual([]);
      return others.flatMap(straightParts).map(({ from, to }) => [from.x, from.y, to.x, to.y]);
    };
    expect(shared(103, 160)).toEqual([[103, 400, 160, 400]]);
    expect(shared(130, 190)).toEqual([[130, 400, 160, 400]]);
    expect(shared(40, 130)).toEqual([[100, 400, 130, 400]]);
    expect(shared(40, 190)).toEqual([[100, 400, 160, 400]]);
    expect(shared(158, 190)).toEqual([]);
    expect(shared(157, 190)).toEqual([[157, 400, 160, 400]]);
    expect(shared(200, 260)).toEqual([]);
  });

  it('go around the corner of the line as one, and are shared arm by arm', () => {
    const first = piece('first', [640, 350], [700, 350], [700, 400], [640, 400]);
    const second = piece('second', [640, 400], [700, 400], [700, 350], [740, 350], [740, 440], [640, 440]);
    const { stops } = matchRuns([first, second], LINE);
    expect(stops).toHaveLength(1);
    expect(straightParts(stops[0].runs.first).map(({ from, to }) => [from.x, from.y, to.x, to.y])).toEqual([
      [700, 350, 700, 400],
      [700, 400, 640, 400],
    ]);
    const beside = piece('second', [700, 330], [740, 330], [740, 380], [700, 380]);
    const { stops: none, others } = matchRuns([first, beside], LINE);
    expect(none).toEqual([]);
    expect(others.flatMap(straightParts).map(({ from, to }) => [from.x, from.y, to.x, to.y])).toEqual([
      [700, 350, 700, 380],
    ]);
  });

  it('a straight run of many corners is one part', () => {
    const nodes = path([10, 5], [20, 5], [45, 5], [45, 9], [45, 30]);
    expect(straightParts({ nodes })).toEqual([
      { from: nodes[0], to: nodes[2] },
      { from: nodes[2], to: nodes[4] },
    ]);
  });

  it('have two sides', () => {
    expect(other('first')).toBe('second');
    expect(other('second')).toBe('first');
  });
});
