import { describe, expect, it } from 'vitest';
import type { GreyRing } from '../types.js';
import { leaveSpecks } from './leave-specks.js';

function rings(...list: readonly (readonly [hole: boolean, inside: number])[]): GreyRing[] {
  return list.map(([hole, inside]) => ({ hole, inside, points: new Float64Array(0) }));
}

const HALF = { speckMm2: 0.5, pinholeMm2: 0.5 };

describe('specks and pinholes', () => {
  it('are counted with their areas, and all else stays', () => {
    // A leaf with a pinhole and a real hole, and two specks.
    const list = rings([false, -1], [true, 0], [true, 0], [false, -1], [false, -1]);
    const found = leaveSpecks(list, Float64Array.of(50, 0.2, 3, 0.1, 0.3), HALF);
    expect([...found.kept]).toEqual([1, 0, 1, 0, 0]);
    expect(found.pinholes).toEqual({ count: 1, areaMm2: 0.2 });
    expect(found.specks).toEqual({ count: 2, areaMm2: 0.4 });
  });

  it('holes of a speck vanish with it, and what they hold lies on the paper then', () => {
    // A fine ring of 0.3 mm² of ink around a blob of 1 mm².
    const list = rings([false, -1], [true, 0], [false, 1]);
    const found = leaveSpecks(list, Float64Array.of(4.3, 4, 1), HALF);
    expect([...found.kept]).toEqual([0, 0, 1]);
    expect(found.specks.count).toBe(1);
    expect(found.specks.areaMm2).toBeCloseTo(0.3, 12);
    expect(found.pinholes.count).toBe(0);
  });

  it('a speck in a hole goes before the hole is judged', () => {
    const list = rings([false, -1], [true, 0], [false, 1]);
    const found = leaveSpecks(list, Float64Array.of(9, 0.7, 0.4), HALF);
    expect([...found.kept]).toEqual([1, 1, 0]);
    expect([found.specks.count, found.pinholes.count]).toEqual([1, 0]);
  });

  it('a hole that is all island but for a hairline is filled, island and all', () => {
    const list = rings([false, -1], [true, 0], [false, 1]);
    const found = leaveSpecks(list, Float64Array.of(9, 2, 1.8), HALF);
    expect([...found.kept]).toEqual([1, 0, 0]);
    expect(found.pinholes.areaMm2).toBeCloseTo(0.2, 12);
    expect(found.specks.count).toBe(0);
  });

  it('nothing is left out at a limit of nothing', () => {
    const list = rings([false, -1], [true, 0]);
    const found = leaveSpecks(list, Float64Array.of(0.01, 0.001), { speckMm2: 0, pinholeMm2: 0 });
    expect([...found.kept]).toEqual([1, 1]);
  });
});
