import { describe, expect, it } from 'vitest';
import { sheetDots } from '../register/dots.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Lattice, LatticeStep, Repeat } from '../repeat/types.js';
import { proofMap } from './proof-map.js';

const [W, H] = [300, 420];
const FIELD = { x0: 40, y0: 40, x1: 40 + W, y1: 40 + H };

const REPEATS: readonly (readonly [string, Repeat])[] = [
  ['straight', { kind: 'straight', step: { p: 0, q: 1 } }],
  ['half-drop', { kind: 'drop', step: { p: 1, q: 2 } }],
  ['drop of a third', { kind: 'drop', step: { p: 1, q: 3 } }],
  ['drop of seven eighths', { kind: 'drop', step: { p: 7, q: 8 } }],
  ['brick', { kind: 'brick', step: { p: 1, q: 2 } }],
  ['brick of two fifths', { kind: 'brick', step: { p: 2, q: 5 } }],
];

/** What a set of placements shows, found without the code under test: sides by overlap of boxes, points by probing around a corner. */
function shows(lattice: Lattice, steps: readonly LatticeStep[]): { sides: Set<string>; points: Set<string> } {
  const at = steps.map((s) => latticePoint(lattice, s));
  const sides = new Set<string>();
  for (const [k, p] of at.entries()) {
    for (const [n, q] of at.entries()) {
      if (n <= k) continue;
      const [dx, dy] = [Math.abs(p.x - q.x), Math.abs(p.y - q.y)];
      const touch = (Math.abs(dx - W) < 1e-6 && dy < H - 1e-6) || (Math.abs(dy - H) < 1e-6 && dx < W - 1e-6);
      const { i, j } = { i: steps[n].i - steps[k].i, j: steps[n].j - steps[k].j };
      const sign = i < 0 || (i === 0 && j < 0) ? -1 : 1;
      if (touch) sides.add(`${sign * i},${sign * j}`);
    }
  }
  // A point is known by which part of a unit lies in each of four directions around it.
  const points = new Set<string>();
  for (const p of at) {
    for (const [cx, cy] of [
      [0, 0],
      [W, 0],
      [0, H],
      [W, H],
    ]) {
      const around = [
        [-1, -1],
        [1, -1],
        [1, 1],
        [-1, 1],
      ].map(([sx, sy]) => {
        const probe = { x: p.x + cx + 0.01 * sx, y: p.y + cy + 0.01 * sy };
        const found = at.find((q) => probe.x > q.x && probe.x < q.x + W && probe.y > q.y && probe.y < q.y + H);
        return found && `${(probe.x - found.x).toFixed(2)};${(probe.y - found.y).toFixed(2)}`;
      });
      if (around.every((one) => one !== undefined)) points.add(around.join(' '));
    }
  }
  return { sides, points };
}

/** Everything that a large patch shows. */
function all(lattice: Lattice) {
  const steps = [];
  for (let i = -2; i <= 2; i++) for (let j = -2; j <= 2; j++) steps.push({ i, j });
  return shows(lattice, steps);
}

function subsets(count: number): LatticeStep[][] {
  const steps: LatticeStep[] = [];
  for (let i = -2; i <= 2; i++) for (let j = -2; j <= 2; j++) if (i !== 0 || j !== 0) steps.push({ i, j });
  let sets: LatticeStep[][] = [[{ i: 0, j: 0 }]];
  for (let n = 1; n < count; n++) {
    sets = sets.flatMap((set) => steps.filter((s) => !set.includes(s)).map((s) => [...set, s]));
  }
  return sets;
}

describe('proofMap', () => {
  it.each(REPEATS)('shows every kind of join with the fewest placements: %s', (_, repeat) => {
    const lattice = makeLattice(repeat, W, H);
    const map = proofMap(lattice, sheetDots(FIELD, repeat, { diameterMm: 1.2 }));
    const want = all(lattice);
    const seen = shows(lattice, map.placements);
    const straight = repeat.kind === 'straight';
    expect(map.placements).toHaveLength(straight ? 4 : 3);
    expect(seen.sides).toEqual(want.sides);
    // Four meet in one kind of point; where the columns or rows are shifted, three meet in two kinds of point, and three placements show one.
    expect(want.points.size).toBe(straight ? 1 : 2);
    expect(seen.points.size).toBe(1);
    expect(map.meetings.filter((m) => m.placements.length === (straight ? 4 : 3))).toHaveLength(1);
    const fewer = subsets(map.placements.length - 1).map((set) => shows(lattice, set));
    expect(fewer.some((one) => one.sides.size === want.sides.size && one.points.size > 0)).toBe(false);
    // No three show both kinds of point; with the further one all is seen.
    const both = straight ? [] : subsets(3).filter((set) => shows(lattice, set).points.size === 2);
    expect(both).toEqual([]);
    const withFurther = map.further === null ? map.placements : [...map.placements, map.further];
    expect(shows(lattice, withFurther).points).toEqual(want.points);
  });

  it.each(REPEATS)('names two dots at least that fall together at every join: %s', (_, repeat) => {
    const lattice = makeLattice(repeat, W, H);
    const dots = sheetDots(FIELD, repeat, { diameterMm: 1.2 });
    const { joins, placements } = proofMap(lattice, dots);
    for (const { from, to, dots: pairs } of joins) {
      expect(pairs.length).toBeGreaterThanOrEqual(from - to > 0 ? 1 : 0);
      const at = (order: number, name: string) => {
        const p = placements.find((one) => one.order === order)?.at;
        const dot = dots.find((d) => d.name === name)?.at;
        return [(p?.x ?? 0) + (dot?.x ?? 0), (p?.y ?? 0) + (dot?.y ?? 0)];
      };
      for (const pair of pairs) {
        const [a, b] = [at(from, pair.from), at(to, pair.to)];
        expect(Math.hypot(a[0] - b[0], a[1] - b[1])).toBeLessThan(1e-6);
      }
    }
    // Each placement after the first is fixed by two dots at least.
    for (const { order } of placements.slice(1)) {
      const fixed = joins.filter((j) => j.from === order).flatMap((j) => j.dots.map((d) => d.from));
      expect(new Set(fixed).size).toBeGreaterThanOrEqual(2);
    }
  });

  it.each(REPEATS)(
    'has every dot that does not print, and is laid upon, marked through with a pencil: %s',
    (_, repeat) => {
      const lattice = makeLattice(repeat, W, H);
      const dots = sheetDots(FIELD, repeat, { diameterMm: 1 });
      const { joins, pencil } = proofMap(lattice, dots);
      const marked = new Set(
        pencil.flatMap(({ placement, dots: names }) => names.map((name) => `${name}${placement}`)),
      );
      const landed = joins.flatMap(({ to, dots: pairs }) => pairs.map((pair) => ({ name: pair.to, to })));
      // Only what lies on the left side or the top prints.
      const prints = new Set(dots.filter(({ at }) => at.x === FIELD.x0 || at.y === FIELD.y0).map(({ name }) => name));
      const wanted = new Set(landed.filter(({ name }) => !prints.has(name)).map(({ name, to }) => `${name}${to}`));
      expect(marked).toEqual(wanted);
      expect(marked.size).toBeGreaterThan(0);
    },
  );

  it('takes two placements where nothing meets the right side, and three in a brick', () => {
    const one = (repeat: Repeat) =>
      proofMap(
        makeLattice(repeat, W, H),
        sheetDots(FIELD, repeat, { diameterMm: 1.2, sides: { right: false, bottom: true } }),
        {
          sideMeetsNothing: true,
        },
      );
    expect(one(REPEATS[0][1]).placements).toHaveLength(2);
    expect(one(REPEATS[1][1]).placements).toHaveLength(2);
    expect(one(REPEATS[1][1]).joins).toEqual([
      { from: 2, to: 1, dots: expect.arrayContaining([{ from: 'A', to: 'D' }]), words: 'top on the bottom' },
    ]);
    expect(one(REPEATS[4][1]).placements).toHaveLength(3);
  });
});
