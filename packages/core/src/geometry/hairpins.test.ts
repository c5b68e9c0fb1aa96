import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type GridPath, ringArea } from './grid.js';
import { withoutHairpins } from './hairpins.js';

const path = (...corners: readonly (readonly [number, number])[]): GridPath =>
  corners.map(([x, y], k) => ({ x, y, z: k + 1 }));
const marks = (ring: GridPath): (number | undefined)[] => ring.map((p) => p.z);

describe('hairpins', () => {
  it('go, with all of their corners, wherever they stand on the ring; what stays keeps its marks', () => {
    const square = path([0, 0], [10, 0], [10, 10], [0, 10]);
    expect(withoutHairpins(square)).toEqual(square);
    const out = path([0, 0], [10, 0], [14, 0], [18, 0], [14, 0], [10, 0], [10, 10], [0, 10]);
    expect(marks(withoutHairpins(out)).slice(0, 2)).toEqual([1, 2]);
    for (let k = 0; k < out.length; k++) {
      const turned = [...out.slice(k), ...out.slice(0, k)];
      const ring = withoutHairpins(turned);
      expect(ring).toHaveLength(4);
      expect(ringArea(ring)).toBe(100);
    }
  });

  it('inner ones, slanting ones, and straight corners that are none', () => {
    const inner = path([0, 0], [5, 0], [5, 4], [5, 0], [10, 0], [10, 10], [0, 10]);
    expect(withoutHairpins(inner).some((p) => p.y === 4)).toBe(false);
    const slanting = path([0, 0], [10, 0], [10, 10], [16, 22], [13, 16], [10, 10], [0, 10]);
    expect(withoutHairpins(slanting).map((p) => [p.x, p.y])).toEqual([
      [0, 0],
      [10, 0],
      [10, 10],
      [0, 10],
    ]);
    const straight = path([0, 0], [4, 0], [10, 0], [10, 10], [0, 10]);
    expect(withoutHairpins(straight)).toEqual(straight);
  });

  it('nothing but a hairpin has no inside', () => {
    expect(withoutHairpins(path([0, 0], [10, 0], [20, 0], [10, 0])).length).toBeLessThan(3);
    expect(withoutHairpins([])).toEqual([]);
  });

  it('hold no area, so none is lost, and none is left', () => {
    const step = fc.record({ x: fc.integer({ min: 0, max: 4 }), y: fc.integer({ min: 0, max: 4 }) });
    fc.assert(
      fc.property(fc.array(step, { minLength: 3, maxLength: 14 }), (ring) => {
        const left = withoutHairpins(ring);
        expect(left.length < 3 ? 0 : ringArea(left)).toBe(ringArea(ring));
        for (let k = 0; left.length >= 3 && k < left.length; k++) {
          const [a, b, c] = [left[k], left[(k + 1) % left.length], left[(k + 2) % left.length]];
          const [ax, ay, cx, cy] = [b.x - a.x, b.y - a.y, c.x - b.x, c.y - b.y];
          expect(ax * cy === ay * cx && ax * cx + ay * cy <= 0).toBe(false);
        }
      }),
      { numRuns: 2000 },
    );
  });
});
