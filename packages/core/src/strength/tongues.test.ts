import { describe, expect, it } from 'vitest';
import { boxContour, polyline, transformContour } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { betterStroke, findTongues, tonguesAgainst } from './tongues.js';
import type { CutPaper } from './types.js';

const EDGE = { x0: -200, y0: -200, x1: 300, y1: 300 };

function sheet(contours: readonly Contour[]): CutPaper {
  return { edge: EDGE, outlines: contours.map((contour, opening) => ({ contour, opening })) };
}

function ring(points: readonly (readonly [number, number])[]): Contour {
  return polyline(
    points.map(([x, y]) => ({ x, y })),
    { closed: true },
  );
}

function turned(contour: Contour, degrees: number): Contour {
  const a = (degrees * Math.PI) / 180;
  return transformContour(contour, [Math.cos(a), Math.sin(a), -Math.sin(a), Math.cos(a), 3, -2]);
}

/** An opening with paper teeth `w` wide and `l` long that hang down from its upper side. */
function comb(teeth: number, w: number, l: number, gap: number): Contour {
  const upper: [number, number][] = [[0, 0]];
  for (let k = 0; k < teeth; k++) {
    const x = gap + k * (w + gap);
    upper.push([x, 0], [x, l], [x + w, l], [x + w, 0]);
  }
  const right = teeth * (w + gap) + gap;
  return ring([...upper, [right, 0], [right, l + 30], [0, l + 30]]);
}

describe('tongues', () => {
  it('are the paper teeth of a comb, each with its root and length', () => {
    for (const degrees of [0, 37, 180]) {
      const tongues = findTongues(sheet([turned(comb(5, 3, 20, 6), degrees)]), { ratio: 3 });
      expect(tongues).toHaveLength(5);
      for (const t of tongues) {
        expect(t.rootMm).toBeCloseTo(3, 2);
        // The middle line runs into one of the two corners of the tip.
        expect(Math.abs(t.lengthMm - 18.5 - 1.5 * Math.SQRT2)).toBeLessThan(0.05);
        expect(t.opening).toBe(0);
      }
      expect(findTongues(sheet([turned(comb(5, 3, 20, 6), degrees)]), { ratio: 7 })).toEqual([]);
    }
  });

  it('that taper have their root where they are longest for it', () => {
    const spike = ring([
      [0, 0],
      [30, 0],
      [30, 40],
      [0, 40],
      [0, 22],
      [24, 20],
      [0, 18],
    ]);
    const tongues = findTongues(sheet([spike]), { ratio: 3 });
    expect(tongues).toHaveLength(1);
    expect(Math.abs(tongues[0].lengthMm / tongues[0].rootMm - 6)).toBeLessThan(0.1);
    expect(tongues[0].tip).toEqual({ x: 24, y: 20 });
  });

  it('in a spiral slot are as long as their middle line', () => {
    // A slot 2 wide from r to r + 2, r rising by 5 in a turn: the paper between its turns is 3 wide (across a slant: less) and open at the outer end.
    const at = (t: number, off: number): [number, number] => {
      const r = 0.2 + 5 * t + off;
      return [r * Math.cos(2 * Math.PI * t), r * Math.sin(2 * Math.PI * t)];
    };
    const steps = Array.from({ length: 1201 }, (_, k) => (3 * k) / 1200);
    const slot = ring([...steps.map((t) => at(t, 2)), ...[...steps].reverse().map((t) => at(t, 0))]);
    const paper = { ...sheet([slot]) };
    const tongues = findTongues(paper, { ratio: 3 });
    expect(tongues).toHaveLength(1);
    const [tongue] = tongues;
    // Its middle line between the turns; within the innermost turn there is at most that turn's own middle more.
    const line = (from: number, to: number): number => {
      let sum = 0;
      for (let k = 0; k < 2000; k++) {
        const [p, q] = [at(from + ((to - from) * k) / 2000, -1.5), at(from + ((to - from) * (k + 1)) / 2000, -1.5)];
        sum += Math.hypot(q[0] - p[0], q[1] - p[1]);
      }
      return sum;
    };
    expect(tongue.rootMm).toBeGreaterThan(2.9);
    expect(tongue.rootMm).toBeLessThan(3.05);
    expect(tongue.lengthMm).toBeGreaterThan(line(1, 3) - 1);
    expect(tongue.lengthMm).toBeLessThan(line(0.5, 3) + 2);
  });

  it('are no corners, no notches, no strips held at both ends and no islands', () => {
    const bars = [boxContour({ x0: 0, y0: 0, x1: 60, y1: 5 }), boxContour({ x0: 0, y0: 7, x1: 60, y1: 12 })];
    expect(findTongues(sheet(bars), { ratio: 3 })).toEqual([]);
    const stub = ring([
      [0, 0],
      [30, 0],
      [30, 20],
      [0, 20],
      [0, 12],
      [10, 12],
      [10, 8],
      [0, 8],
    ]);
    expect(findTongues(sheet([stub]), { ratio: 3 })).toEqual([]);
    expect(findTongues(sheet([stub]), { ratio: 2 })).toHaveLength(1);
  });

  it('point into the stroke where the spatula comes upon their tips', () => {
    // Teeth hang down: their tips look against an upward stroke.
    const tongues = findTongues(sheet([comb(4, 2, 15, 5)]), { ratio: 3 });
    expect(tonguesAgainst(tongues, 'up')).toHaveLength(4);
    expect(tonguesAgainst(tongues, 'down')).toEqual([]);
    expect(tonguesAgainst(tongues, 'left')).toEqual([]);
    expect(betterStroke(tongues)).toBe('down');
    expect(betterStroke(tongues.map(({ root, tip, ...t }) => ({ ...t, root: tip, tip: root })))).toBe('up');
  });
});
