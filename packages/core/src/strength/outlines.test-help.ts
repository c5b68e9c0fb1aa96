import { polyline } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';

/** A closed polygon around a middle, its corners at even angles. */
export function ring(corners: number, radius: (k: number) => number, middle: Point = { x: 40, y: 40 }): Contour {
  return polyline(
    Array.from({ length: corners }, (_, k) => {
      const t = (2 * Math.PI * k) / corners;
      return { x: middle.x + radius(k) * Math.cos(t), y: middle.y + radius(k) * Math.sin(t) };
    }),
    { closed: true },
  );
}

/** A box with its corners rounded by arcs of two cubics each. */
export function roundedBox(width: number, height: number, radius: number): Contour {
  const coords: number[] = [radius, 0];
  const handle = (4 / 3) * Math.tan(Math.PI / 16) * radius;
  const corners = [
    [width - radius, radius, -Math.PI / 2],
    [width - radius, height - radius, 0],
    [radius, height - radius, Math.PI / 2],
    [radius, radius, Math.PI],
  ];
  for (const [x, y, start] of corners) {
    const [ax, ay] = coords.slice(-2);
    const [bx, by] = [x + radius * Math.cos(start), y + radius * Math.sin(start)];
    coords.push((2 * ax + bx) / 3, (2 * ay + by) / 3, (ax + 2 * bx) / 3, (ay + 2 * by) / 3, bx, by);
    for (const a of [start, start + Math.PI / 4]) {
      const b = a + Math.PI / 4;
      coords.push(
        x + radius * Math.cos(a) - handle * Math.sin(a),
        y + radius * Math.sin(a) + handle * Math.cos(a),
        x + radius * Math.cos(b) + handle * Math.sin(b),
        y + radius * Math.sin(b) - handle * Math.cos(b),
        x + radius * Math.cos(b),
        y + radius * Math.sin(b),
      );
    }
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

/** The same outline with its cubics split at the given parameters in turn, starting at another of its nodes. */
export function splitContour({ coords: q }: Contour, { at, start }: { at: readonly number[]; start: number }): Contour {
  const pieces: number[][] = [];
  for (let o = 0; o + 7 < q.length; o += 6) {
    const t = at[(o / 6) % at.length];
    const points = [0, 2, 4, 6].map((k) => [q[o + k], q[o + k + 1]]);
    const mid = (a: number[], b: number[]): number[] => [a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t];
    const [ab, bc, cd] = [mid(points[0], points[1]), mid(points[1], points[2]), mid(points[2], points[3])];
    const [abc, bcd] = [mid(ab, bc), mid(bc, cd)];
    const middle = mid(abc, bcd);
    pieces.push([...points[0], ...ab, ...abc, ...middle], [...middle, ...bcd, ...cd, ...points[3]]);
  }
  const from = start % pieces.length;
  const turned = [...pieces.slice(from), ...pieces.slice(0, from)];
  return { closed: true, coords: Float64Array.from([...turned[0].slice(0, 2), ...turned.flatMap((p) => p.slice(2))]) };
}

/** Even random numbers in 0 … 1 that are the same in every run (a linear congruential generator, constants of Numerical Recipes). */
export function noise(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 32;
  };
}
