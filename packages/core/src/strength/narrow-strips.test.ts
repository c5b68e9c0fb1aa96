import { describe, expect, it } from 'vitest';
import { circleContour, polyline, reverseContour, transformContour } from '../geometry/contour.js';
import type { Point } from '../geometry/types.js';
import { findNecks, findSlits } from './narrow.js';
import { box, EDGE, ring, sheet } from './narrow.test-help.js';
import type { CutPaper } from './types.js';

describe('strips', () => {
  it('between the slots of a comb are paper teeth with a neck each, which nothing hangs on', () => {
    const slots = Array.from({ length: 5 }, (_, k) => box(4 * k, 0, 4 * k + 2.8, 30));
    const necks = findNecks(sheet(slots), { limitMm: 2 });
    expect(necks).toHaveLength(4);
    for (const neck of necks) {
      expect(neck.widthMm).toBeCloseTo(1.2, 9);
      expect(neck.atMm.y).toBeCloseTo(15, 0);
      expect(neck.weak).toBe(false);
    }
  });

  it('of one opening in the shape of a comb are tongues: dead ends of even width, on which they hang', () => {
    const points: [number, number][] = [
      [0, -5],
      [18.8, -5],
    ];
    for (let k = 4; k >= 0; k--) {
      points.push([4 * k + 2.8, 30], [4 * k, 30]);
      if (k > 0) points.push([4 * k, 0], [4 * k - 1.2, 0]);
    }
    const comb = ring(points);
    // Slots of 2.8 with teeth of 1.2 between them, which are free above.
    const necks = findNecks(sheet([comb]), { limitMm: 2 });
    expect(necks).toHaveLength(4);
    for (const neck of necks) {
      expect(neck.widthMm).toBeCloseTo(1.2, 9);
      expect(neck.weak).toBe(true);
      // About half of the tooth lies beyond its middle.
      expect(neck.hangsMm2).toBeGreaterThan(0.3 * 36);
      expect(neck.hangsMm2).toBeLessThan(0.7 * 36);
      expect(Math.abs(neck.lengthMm - 30)).toBeLessThan(1.5);
    }
  });

  it('of a spiral slot are one slit as long as the slot', () => {
    const at = (t: number, off: number): [number, number] => {
      const r = 4 + 5 * t + off;
      return [r * Math.cos(2 * Math.PI * t), r * Math.sin(2 * Math.PI * t)];
    };
    const steps = Array.from({ length: 1201 }, (_, k) => (3 * k) / 1200);
    const spiral = ring([...steps.map((t) => at(t, 0.5)), ...[...steps].reverse().map((t) => at(t, 0))]);
    let line = 0;
    for (let k = 0; k < 1200; k++) {
      const [p, q] = [at(steps[k], 0.25), at(steps[k + 1], 0.25)];
      line += Math.hypot(q[0] - p[0], q[1] - p[1]);
    }
    const slits = findSlits(sheet([spiral]), { limitMm: 0.8 });
    expect(slits).toHaveLength(1);
    expect(slits[0].widthMm).toBeGreaterThan(0.48);
    expect(slits[0].widthMm).toBeLessThan(0.5001);
    expect(Math.abs(slits[0].lengthMm - line)).toBeLessThan(0.01 * line);
  });

  it('between two ring-shaped openings are one neck all around', () => {
    const outlines = [10, 8, 7, 5].map((r, k) => ({
      contour: k % 2 === 0 ? circleContour({ x: 0, y: 0 }, r) : reverseContour(circleContour({ x: 0, y: 0 }, r)),
      opening: k >> 1,
    }));
    const necks = findNecks({ edge: EDGE, outlines }, { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeCloseTo(1, 4);
    expect(necks[0].weak).toBe(false);
    expect(Math.abs(necks[0].lengthMm - 15 * Math.PI)).toBeLessThan(0.1);
    // The ring off its middle has its neck where it is thinnest.
    const off = outlines.map((o, k) =>
      k < 2 ? o : { ...o, contour: transformContour(o.contour, [1, 0, 0, 1, 0.4, 0]) },
    );
    const [neck, ...rest] = findNecks({ edge: EDGE, outlines: off }, { limitMm: 2 });
    expect(rest).toEqual([]);
    expect(neck.widthMm).toBeCloseTo(0.6, 4);
    expect(neck.atMm.x).toBeCloseTo(7.7, 3);
  });

  it('that are k ties across a ring are k necks, not weak; a single one is, with all of the inside on it', () => {
    for (const k of [1, 2, 3, 5]) {
      // A ring from r = 10 to 14, left standing for 1.5 mm at k places: k openings of two arcs and two straight sides.
      const outlines = Array.from({ length: k }, (_, n) => {
        const half = (r: number): number => Math.asin(0.75 / r);
        const turn = (2 * Math.PI) / k;
        const arc = (r: number, from: number, to: number): Point[] =>
          Array.from({ length: 721 }, (_, j) => {
            const a = from + ((to - from) * j) / 720;
            return { x: r * Math.cos(a), y: r * Math.sin(a) };
          });
        const [a, b] = [n * turn, (n + 1) * turn];
        const points = [...arc(14, a + half(14), b - half(14)), ...arc(10, b - half(10), a + half(10))];
        return { contour: polyline(points, { closed: true }), opening: n };
      });
      const necks = findNecks({ edge: EDGE, outlines }, { limitMm: 2 });
      expect(necks).toHaveLength(k);
      for (const neck of necks) {
        expect(neck.widthMm).toBeCloseTo(1.5, 6);
        expect(neck.weak).toBe(k === 1);
      }
      if (k === 1) {
        // The disc within, and the tie up to its middle (it is marked between r = 10 and 14).
        const disc = Math.PI * 100;
        expect(necks[0].hangsMm2).toBeGreaterThan(disc);
        expect(necks[0].hangsMm2).toBeLessThan(disc + 6);
      }
    }
  });

  it('of paper in the shape of a dumbbell carry the smaller end, less what is cut out of it', () => {
    // Two squares of 20 joined by a bridge 1.5 wide and 10 long; a hole of r = 3 in the left one.
    const bell = ring([
      [0, 0],
      [20, 0],
      [20, 9],
      [30, 9],
      [30, 0],
      [50, 0],
      [50, 20],
      [30, 20],
      [30, 10.5],
      [20, 10.5],
      [20, 20],
      [0, 20],
    ]);
    const paper: CutPaper = {
      edge: EDGE,
      outlines: [
        { contour: box(-10, -10, 60, 30), opening: 0 },
        { contour: reverseContour(bell), opening: 0 },
        { contour: circleContour({ x: 10, y: 10 }, 3), opening: 1 },
        { contour: reverseContour(circleContour({ x: 10, y: 10 }, 2)), opening: 1 },
      ],
    };
    const necks = findNecks(paper, { limitMm: 2 }).filter((n) => n.openings[0] === 0);
    expect(necks).toHaveLength(1);
    const [neck] = necks;
    expect(neck.widthMm).toBeCloseTo(1.5, 9);
    expect(neck.weak).toBe(true);
    // All of the opening within is taken off, the island in it too: that one hangs on nothing.
    expect(Math.abs(neck.hangsMm2 - (400 - Math.PI * 9 + (neck.atMm.x - 20) * 1.5))).toBeLessThan(0.01);
  });

  it('that close a bay carry the paper in it', () => {
    // A C-shaped opening around a square of 20 with a gap of 1.5 on the right.
    const c = ring([
      [0, 0],
      [30, 0],
      [30, 14],
      [25, 14],
      [25, 5],
      [5, 5],
      [5, 25],
      [25, 25],
      [25, 15.5],
      [30, 15.5],
      [30, 30],
      [0, 30],
    ]);
    const hole = box(10, 10, 14, 14);
    const necks = findNecks(sheet([c, hole]), { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].weak).toBe(true);
    expect(Math.abs(necks[0].hangsMm2 - (400 - 16 + (necks[0].atMm.x - 25) * 1.5))).toBeLessThan(1e-6);
  });

  it('along the edge of the sheet count as well', () => {
    const paper = sheet([circleContour({ x: 10, y: 20 }, 9)], { x0: 0, y0: 0, x1: 60, y1: 60 });
    const necks = findNecks(paper, { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeCloseTo(1, 4);
    expect([...necks[0].openings].sort()).toEqual([-1, 0]);
    expect(necks[0].weak).toBe(false);
  });

  it('that are of two openings which touch have no width', () => {
    const discs = [circleContour({ x: 0, y: 0 }, 10), circleContour({ x: 20, y: 0 }, 10)];
    const necks = findNecks(sheet(discs), { limitMm: 2 });
    expect(necks).toHaveLength(1);
    expect(necks[0].widthMm).toBeLessThan(0.001);
    expect(necks[0].atMm.x).toBeCloseTo(10, 2);
  });

  it('are none where there is no limit or nothing cut', () => {
    expect(findNecks(sheet([]), { limitMm: 2 })).toEqual([]);
    expect(findSlits(sheet([]), { limitMm: 2 })).toEqual([]);
    expect(findNecks(sheet([box(0, 0, 1, 1)]), { limitMm: 0 })).toEqual([]);
    expect(findNecks(sheet([{ closed: true, coords: Float64Array.of(0, 0) }]), { limitMm: 2 })).toEqual([]);
  });
});
