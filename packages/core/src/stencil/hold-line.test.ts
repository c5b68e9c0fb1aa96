import { describe, expect, it } from 'vitest';
import type { GridPath, GridPoint } from '../geometry/grid.js';
import { beforeLine, farthestOnSide, type HoldLine, pastLine, runsOnLine } from './hold-line.js';

/** Held along the right and, wider, along the bottom. */
const BENT: HoldLine = { right: 700, bottom: 400 };
const LEVEL: HoldLine = { right: null, bottom: 400 };

const path = (...places: (readonly [number, number])[]): GridPath => places.map(([x, y]) => ({ x, y, z: 0 }));
const places = (nodes: readonly GridPoint[]) => nodes.map(({ x, y }) => [x, y]);

describe('a place and the hold line', () => {
  it('lies before it by the way to its nearer arm', () => {
    expect(beforeLine({ x: 690, y: 350 }, BENT)).toBe(10);
    expect(beforeLine({ x: 500, y: 380 }, BENT)).toBe(20);
    expect(beforeLine({ x: 690, y: 350 }, LEVEL)).toBe(50);
    expect(beforeLine({ x: 9000, y: 350 }, LEVEL)).toBe(50);
    expect(beforeLine({ x: 703, y: 350 }, BENT)).toBe(-3);
    expect(beforeLine({ x: 10, y: 404 }, BENT)).toBe(-4);
    expect(beforeLine({ x: 700, y: 100 }, BENT)).toBe(0);
  });

  it('lies past it by the straight way back to where the first cut is', () => {
    expect(pastLine({ x: 703, y: 404 }, BENT)).toBe(5);
    expect(pastLine({ x: 709, y: 399 }, BENT)).toBe(9);
    expect(pastLine({ x: 20, y: 412 }, BENT)).toBe(12);
    expect(pastLine({ x: 709, y: 412 }, LEVEL)).toBe(12);
    expect(pastLine({ x: 699, y: 399 }, BENT)).toBe(0);
    expect(pastLine({ x: 9000, y: 399 }, LEVEL)).toBe(0);
  });

  it('of a straight side the farthest place before it is found, between its ends too', () => {
    const sides: [GridPoint, GridPoint][] = [
      [
        { x: 690, y: 100 },
        { x: 300, y: 390 },
      ],
      [
        { x: 300, y: 390 },
        { x: 690, y: 100 },
      ],
      [
        { x: 650, y: 90 },
        { x: 600, y: 380 },
      ],
      [
        { x: 100, y: 100 },
        { x: 120, y: 395 },
      ],
      [
        { x: 760, y: 100 },
        { x: 400, y: 430 },
      ],
      [
        { x: 640, y: 340 },
        { x: 400, y: 100 },
      ],
      [
        { x: 500, y: 350 },
        { x: 500, y: 350 },
      ],
    ];
    for (const line of [BENT, LEVEL]) {
      for (const [p, q] of sides) {
        const along = Array.from({ length: 2001 }, (_, k) =>
          beforeLine({ x: p.x + ((q.x - p.x) * k) / 2000, y: p.y + ((q.y - p.y) * k) / 2000 }, line),
        );
        const farthest = farthestOnSide(p, q, line);
        expect(farthest).toBeGreaterThanOrEqual(Math.max(...along) - 1e-9);
        expect(farthest).toBeLessThan(Math.max(...along) + 0.2);
      }
    }
  });
});

describe('the stretches of a ring on the hold line', () => {
  /** A bar that comes down to the line, another that comes from the left to its upright arm, and one around its corner. */
  const down = path([100, 300], [160, 300], [160, 400], [100, 400]);
  const across = path([600, 50], [700, 50], [700, 90], [600, 90]);
  const around = path([640, 350], [700, 350], [700, 400], [640, 400]);

  it('are its corners on it in its own order, wherever the ring begins', () => {
    const runs: [GridPath, number[][]][] = [
      [
        down,
        [
          [160, 400],
          [100, 400],
        ],
      ],
      [
        across,
        [
          [700, 50],
          [700, 90],
        ],
      ],
      [
        around,
        [
          [700, 350],
          [700, 400],
          [640, 400],
        ],
      ],
    ];
    for (const [ring, run] of runs) {
      for (let k = 0; k < ring.length; k++) {
        const turned = [...ring.slice(k), ...ring.slice(0, k)];
        const found = runsOnLine(turned, BENT);
        expect(found.map(({ nodes }) => places(nodes))).toEqual([run]);
        // The very corners of the ring, not others at their places.
        for (const node of found[0].nodes) expect(turned).toContain(node);
      }
    }
  });

  it('are several where the ring comes to it several times', () => {
    const comb = path([100, 300], [300, 300], [300, 400], [260, 400], [260, 350], [150, 350], [150, 400], [100, 400]);
    expect(runsOnLine(comb, BENT).map(({ nodes }) => places(nodes))).toEqual([
      [
        [300, 400],
        [260, 400],
      ],
      [
        [150, 400],
        [100, 400],
      ],
    ]);
  });

  it('are none beyond its corner, on an arm that is not held, in a point, or of a ring that lies on it wholly', () => {
    const below = path([600, 400], [700, 400], [700, 500], [600, 500]);
    expect(runsOnLine(below, BENT).map(({ nodes }) => places(nodes))).toEqual([
      [
        [600, 400],
        [700, 400],
      ],
    ]);
    const right = path([720, 300], [760, 300], [760, 400], [720, 400]);
    expect(runsOnLine(right, BENT)).toEqual([]);
    expect(runsOnLine(right, LEVEL)).toHaveLength(1);
    const under = path([700, 420], [760, 420], [760, 480], [700, 480]);
    expect(runsOnLine(under, BENT)).toEqual([]);
    expect(runsOnLine(across, LEVEL)).toEqual([]);
    expect(runsOnLine(path([100, 300], [160, 400], [40, 390]), BENT)).toEqual([]);
    expect(runsOnLine(path([100, 400], [160, 400], [130, 400]), BENT)).toEqual([]);
  });
});
