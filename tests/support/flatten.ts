import type { Contour } from '@okuri/core';

export type Ring = [number, number][];

/**
 * The corners of a contour, every cubic cut into equal parts: an independent, plain flattening for checks. `parts` a curve gives a chord
 * error of about (length of the curve / parts)² · curvature / 8.
 */
export function ringOf(contour: Contour, parts: number): Ring {
  const q = contour.coords;
  const ring: Ring = [[q[0], q[1]]];
  for (let k = 0; k + 7 < q.length; k += 6) {
    for (let i = 1; i <= parts; i++) {
      const t = i / parts;
      const u = 1 - t;
      const at = (a: number) =>
        u * u * u * q[k + a] + 3 * u * u * t * q[k + 2 + a] + 3 * u * t * t * q[k + 4 + a] + t * t * t * q[k + 6 + a];
      ring.push([at(0), at(1)]);
    }
  }
  return ring;
}

/** The area of nested rings as `polygon-clipping` gives them: outers less holes. */
export function multiArea(polygons: readonly (readonly Ring[])[]): number {
  let sum = 0;
  for (const [outer, ...holes] of polygons) {
    sum += Math.abs(shoelace(outer));
    for (const hole of holes) sum -= Math.abs(shoelace(hole));
  }
  return sum;
}

function shoelace(ring: Ring): number {
  let twice = 0;
  for (let k = 0; k < ring.length; k++) {
    const [x0, y0] = ring[k];
    const [x1, y1] = ring[(k + 1) % ring.length];
    twice += x0 * y1 - x1 * y0;
  }
  return twice / 2;
}

/** Length of a contour's flattening. */
export function perimeter(contours: readonly Contour[], parts = 8): number {
  let sum = 0;
  for (const contour of contours) {
    const ring = ringOf(contour, parts);
    for (let k = 1; k < ring.length; k++) sum += Math.hypot(ring[k][0] - ring[k - 1][0], ring[k][1] - ring[k - 1][1]);
  }
  return sum;
}
