import { describe, expect, it } from 'vitest';
import { contoursBox, polyline } from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import { tiePatch } from '../ties/tie-shape.js';
import { knifePlaces } from './knife-places.js';

describe('a jerky line', () => {
  /** A bar 60 mm long along whose upper side the line swerves `times` times by 14°, over 1.2 mm each way. */
  const swerving = (times: number) => {
    const rise = 1.2 * Math.tan((7 * Math.PI) / 180);
    const upper = Array.from({ length: times }, (_, k) => ({ x: 20 + 1.2 * k, y: k % 2 === 0 ? 0 : rise }));
    const points = [{ x: 0, y: 0 }, ...upper, { x: 60, y: upper[times - 1].y }, { x: 60, y: 20 }, { x: 0, y: 20 }];
    return knifePlaces(polyline(points, { closed: true }), { turnMm: 1.5 }).jerks;
  };

  it('has five small corners or more in quick succession, and is told of in its midst', () => {
    const counts = [3, 4, 5, 6, 7, 8, 9].map((times) => swerving(times).length);
    // Its first and last turns are half as large: less than what the eye takes for a corner.
    expect(counts).toEqual([0, 0, 0, 0, 1, 1, 1]);
    const [at] = swerving(9);
    expect(at.x).toBeGreaterThan(21);
    expect(at.x).toBeLessThan(29);
    expect(Math.abs(at.y)).toBeLessThan(0.2);
  });
});

describe('the patch under a tie', () => {
  const tie = { from: { x: 10, y: 5 }, to: { x: 18, y: 5 }, widthMm: 2, flareMm: 0.4, reachMm: 0.5 };

  it('ends on each of its sides where it is told to', () => {
    const ends = [
      { from: 0.3, to: 1.1 },
      { from: 2.2, to: 0.7 },
    ] as const;
    const patch = tiePatch(tie, { overlapMm: 0.6, ends });
    // Along x its left side, seen from its first bank, is the upper one.
    for (const [y, from, to] of [
      [4.2, 10 - 0.3, 18 + 1.1],
      [5.8, 10 - 2.2, 18 + 0.7],
    ]) {
      for (const [x, inside] of [
        [from + 0.02, true],
        [from - 0.02, false],
        [to - 0.02, true],
        [to + 0.02, false],
      ] as const) {
        expect(insideContours([patch], { x, y }), `${x}, ${y}`).toBe(inside);
      }
    }
    expect(contoursBox([patch])?.x0).toBeCloseTo(10 - 2.2, 9);
    expect(contoursBox([patch])?.x1).toBeCloseTo(18 + 1.1, 9);
    const plain = contoursBox([tiePatch(tie, { overlapMm: 0.6 })]);
    // Half its width, flare and two overlaps past the strip's own end.
    expect(plain?.x0).toBeCloseTo(10 - (0.5 + 1 + 0.4 + 1.2), 9);
    expect(plain?.x1).toBeCloseTo(18 + (0.5 + 1 + 0.4 + 1.2), 9);
  });
});
