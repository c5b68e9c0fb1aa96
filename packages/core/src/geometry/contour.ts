import { boxCorners } from './boxes.js';
import type { Box, Contour, Matrix, Point } from './types.js';

/** Number of cubics in a contour. */
export function segmentCount(contour: Contour): number {
  return (contour.coords.length - 2) / 6;
}

/** A polyline through the points, as a contour of straight cubics. A closed one gets its closing side. */
export function polyline(points: readonly Point[], options: { closed: boolean }): Contour {
  const ring = options.closed && points.length > 0 ? [...points, points[0]] : points;
  const coords = new Float64Array(Math.max(0, 2 + 6 * (ring.length - 1)));
  ring.forEach((p, k) => {
    if (k === 0) {
      coords[0] = p.x;
      coords[1] = p.y;
      return;
    }
    const o = ring[k - 1];
    const dx = (p.x - o.x) / 3;
    const dy = (p.y - o.y) / 3;
    coords.set([o.x + dx, o.y + dy, p.x - dx, p.y - dy, p.x, p.y], 2 + 6 * (k - 1));
  });
  return { closed: options.closed, coords };
}

/** The outline of a box, clockwise as seen (positive area). */
export function boxContour(box: Box): Contour {
  return polyline(boxCorners(box), { closed: true });
}

/** A circle of eight 45° cubics (radial error 4e-6 r), clockwise as seen. */
export function circleContour(centre: Point, radius: number): Contour {
  const parts = 8;
  const handle = (4 / 3) * Math.tan(Math.PI / (2 * parts)) * radius;
  const coords = new Float64Array(2 + 6 * parts);
  coords.set([centre.x + radius, centre.y]);
  for (let k = 0; k < parts; k++) {
    const a = (2 * Math.PI * k) / parts;
    const b = (2 * Math.PI * (k + 1)) / parts;
    const end = k === parts - 1 ? 0 : b;
    coords.set(
      [
        centre.x + radius * Math.cos(a) - handle * Math.sin(a),
        centre.y + radius * Math.sin(a) + handle * Math.cos(a),
        centre.x + radius * Math.cos(end) + handle * Math.sin(end),
        centre.y + radius * Math.sin(end) - handle * Math.cos(end),
        centre.x + radius * Math.cos(end),
        centre.y + radius * Math.sin(end),
      ],
      2 + 6 * k,
    );
  }
  return { closed: true, coords };
}

/** The contour under an affine map. A mirroring map turns the sense of rotation, hence the sign of the area. */
export function transformContour(contour: Contour, m: Matrix): Contour {
  const [a, b, c, d, e, f] = m;
  const coords = new Float64Array(contour.coords.length);
  for (let k = 0; k < coords.length; k += 2) {
    const x = contour.coords[k];
    const y = contour.coords[k + 1];
    coords[k] = a * x + c * y + e;
    coords[k + 1] = b * x + d * y + f;
  }
  return { closed: contour.closed, coords };
}

/** The contour moved by a vector. */
export function translateContour(contour: Contour, by: Point): Contour {
  return transformContour(contour, [1, 0, 0, 1, by.x, by.y]);
}

/** The same curve traced the other way: its area changes sign. */
export function reverseContour(contour: Contour): Contour {
  const n = contour.coords.length;
  const coords = new Float64Array(n);
  for (let k = 0; k < n; k += 2) {
    coords[k] = contour.coords[n - 2 - k];
    coords[k + 1] = contour.coords[n - 1 - k];
  }
  return { closed: contour.closed, coords };
}

/** The exact area inside a closed contour by Green's formula: positive when it turns clockwise as seen (y down). */
export function contourArea(contour: Contour): number {
  const q = contour.coords;
  let twice = 0;
  for (let k = 0; k + 7 < q.length; k += 6) {
    const [x0, y0, x1, y1, x2, y2, x3, y3] = q.subarray(k, k + 8);
    // Twice the integral of (x dy - y dx)/2 over a cubic, expanded in its Bernstein products.
    twice +=
      (6 * (x0 * y1 - x1 * y0) +
        3 * (x0 * y2 - x2 * y0) +
        (x0 * y3 - x3 * y0) +
        3 * (x1 * y2 - x2 * y1) +
        3 * (x1 * y3 - x3 * y1) +
        6 * (x2 * y3 - x3 * y2)) /
      10;
  }
  const n = q.length;
  if (n >= 2) twice += q[n - 2] * q[1] - q[0] * q[n - 1];
  return twice / 2;
}

/** The tight box around contours (curve extremes, not handles); null when there is no point at all. */
export function contoursBox(contours: readonly Contour[]): Box | null {
  let x0 = Infinity;
  let y0 = Infinity;
  let x1 = -Infinity;
  let y1 = -Infinity;
  for (const { coords } of contours) {
    if (coords.length < 2) continue;
    for (const axis of [0, 1]) {
      let low = coords[axis];
      let high = low;
      for (let k = 0; k + 7 < coords.length; k += 6) {
        const [a, b] = cubicRange(coords[k + axis], coords[k + 2 + axis], coords[k + 4 + axis], coords[k + 6 + axis]);
        if (a < low) low = a;
        if (b > high) high = b;
      }
      if (axis === 0) {
        x0 = Math.min(x0, low);
        x1 = Math.max(x1, high);
      } else {
        y0 = Math.min(y0, low);
        y1 = Math.max(y1, high);
      }
    }
  }
  return x0 > x1 || y0 > y1 ? null : { x0, y0, x1, y1 };
}

/** True where the cubic that starts at `coords[k]` is straight and evenly paced (as `polyline` makes them). */
export function isStraight(coords: Float64Array, k: number): boolean {
  for (const axis of [0, 1]) {
    const p0 = coords[k + axis];
    const p3 = coords[k + 6 + axis];
    const slack = 1e-9 * (1 + Math.abs(p0) + Math.abs(p3));
    if (Math.abs(coords[k + 2 + axis] - (2 * p0 + p3) / 3) > slack) return false;
    if (Math.abs(coords[k + 4 + axis] - (p0 + 2 * p3) / 3) > slack) return false;
  }
  return true;
}

function cubicRange(p0: number, p1: number, p2: number, p3: number): [number, number] {
  let low = Math.min(p0, p3);
  let high = Math.max(p0, p3);
  if (p1 >= low && p1 <= high && p2 >= low && p2 <= high) return [low, high];
  const a = 3 * (-p0 + 3 * p1 - 3 * p2 + p3);
  const b = 6 * (p0 - 2 * p1 + p2);
  const c = 3 * (p1 - p0);
  for (const t of quadraticRoots(a, b, c)) {
    if (t <= 0 || t >= 1) continue;
    const u = 1 - t;
    const v = u * u * u * p0 + 3 * u * u * t * p1 + 3 * u * t * t * p2 + t * t * t * p3;
    if (v < low) low = v;
    if (v > high) high = v;
  }
  return [low, high];
}

function quadraticRoots(a: number, b: number, c: number): number[] {
  if (Math.abs(a) < 1e-12 * (Math.abs(b) + Math.abs(c))) return b === 0 ? [] : [-c / b];
  const disc = b * b - 4 * a * c;
  if (disc < 0) return [];
  // The stable form: no difference of nearly equal numbers.
  const q = -0.5 * (b + (b < 0 ? -1 : 1) * Math.sqrt(disc));
  return q === 0 ? [0] : [q / a, c / q];
}
