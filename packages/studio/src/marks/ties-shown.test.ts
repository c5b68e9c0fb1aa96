import type { SuggestedTies } from '@okuri/core';
import { makeLattice, pointDistance } from '@okuri/core/inside';
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { handlePlaces } from './handle-places';
import { clothPlane } from './plane';
import { placeKey, type ShownTie, shownTies, tieCopies, tieNear } from './ties-shown';

const lattice = makeLattice({ kind: 'brick', step: { p: 1, q: 3 } }, 90, 50);
const cloth = clothPlane(lattice, { widthMm: 270, lengthMm: 150 });
const INK = '#000000';

function tie(id: string, from: readonly [number, number], to: readonly [number, number], stands = true): ShownTie {
  return { id, ink: INK, kind: 'printed', stands, from: { x: from[0], y: from[1] }, to: { x: to[0], y: to[1] } };
}

it('shows a tie in every unit that is in sight, by the step', () => {
  const copies = tieCopies([tie('T1', [10, 10], [10, 14])], cloth, { x0: 0, y0: 0, x1: 400, y1: 400 });
  // Three rows, each further right by a third of a unit: the third row has a copy at 70, 160 and 250 only.
  expect(copies.map(({ from }) => [from.x, from.y])).toEqual([
    [10, 10],
    [100, 10],
    [190, 10],
    [40, 60],
    [130, 60],
    [220, 60],
    [70, 110],
    [160, 110],
    [250, 110],
  ]);
  expect(tieCopies([tie('T1', [10, 10], [10, 14])], cloth, { x0: 500, y0: 0, x1: 600, y1: 100 })).toEqual([]);
});

it('chooses the nearest tie to a press within reach', () => {
  const copies = tieCopies([tie('T1', [10, 10], [20, 10]), tie('T2', [10, 16], [20, 16])], cloth, {
    x0: 0,
    y0: 0,
    x1: 60,
    y1: 45,
  });
  expect(tieNear(copies, { x: 15, y: 12 }, 5)?.tie.id).toBe('T1');
  expect(tieNear(copies, { x: 15, y: 14 }, 5)?.tie.id).toBe('T2');
  expect(tieNear(copies, { x: 26, y: 10 }, 5)).toBeNull();
});

it('measures to a stretch as to the nearest of its points', () => {
  const n = fc.double({ min: -50, max: 50, noNaN: true });
  const point = fc.record({ x: n, y: n });
  fc.assert(
    fc.property(point, point, point, (from, to, p) => {
      const way = pointDistance({ from, to }, p);
      let least = Infinity;
      for (let k = 0; k <= 400; k++) {
        const t = k / 400;
        least = Math.min(least, Math.hypot(from.x + t * (to.x - from.x) - p.x, from.y + t * (to.y - from.y) - p.y));
      }
      expect(way).toBeLessThanOrEqual(least + 1e-9);
      expect(least - way).toBeLessThan(Math.hypot(to.x - from.x, to.y - from.y) / 400);
    }),
  );
});

it('leaves out what the person does not want, also when it comes back by another id', () => {
  const suggestions = (id: string): SuggestedTies[] => [
    {
      ink: INK,
      accepted: [],
      impossible: [],
      suggested: [
        { id, kind: 'printed', from: { x: 1, y: 2 }, to: { x: 3, y: 4 }, island: '1', lengthMm: 2.8, hidden: false },
      ],
    },
  ];
  const job = { ties: { [INK]: [{ id: 'T1', kind: 'release' as const, from: { x: 0, y: 0 }, to: { x: 1, y: 0 } }] } };
  const all = shownTies(job, { suggested: suggestions('T2') }, { leftOut: new Set() });
  expect(all.map(({ id, stands }) => [id, stands])).toEqual([
    ['T1', true],
    ['T2', false],
  ]);
  const leftOut = new Set([placeKey(all[1])]);
  expect(shownTies(job, { suggested: suggestions('T7') }, { leftOut })).toHaveLength(1);
  // An id that has come to stand in the job is not suggested any more.
  expect(shownTies(job, { suggested: suggestions('T1') }, { leftOut: new Set() })).toHaveLength(1);
  expect(shownTies(job, { suggested: suggestions('T2') }, { ink: '#ff0000', leftOut: new Set() })).toEqual([]);
});

it('keeps the two handles of the shortest tie apart', () => {
  const { from, to } = handlePlaces({ x: 50, y: 50 }, { x: 50, y: 51 }, 18);
  expect(from).toEqual({ x: 50, y: 32 });
  expect(to).toEqual({ x: 50, y: 69 });
  expect(handlePlaces({ x: 5, y: 5 }, { x: 5, y: 5 }, 18)).toEqual({ from: { x: -13, y: 5 }, to: { x: 23, y: 5 } });
});
