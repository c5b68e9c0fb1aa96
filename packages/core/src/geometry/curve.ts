import type { Matrix, Point } from './types.js';

/**
 * A source curve of which a polygon is the flattening. `s` holds the curve's parameter at every flattened corner `k`; on a closed
 * curve the side from the last corner back to the first ends at parameter `sEnd`.
 *
 * `cubic`: a contour, `s` runs through whole numbers at its nodes. `offset`: the line at distance `distance` (in pen space) beside one
 * cubic given in pen space, `s` in 0..1. `arc`: a circle in pen space, `s` its angle. `pen` maps pen space to mm.
 */
export type Curve = {
  readonly owner: number;
  readonly s: readonly number[];
  readonly closed: boolean;
  readonly sEnd: number;
} & (
  | { readonly kind: 'cubic'; readonly coords: Float64Array }
  | { readonly kind: 'offset'; readonly coords: Float64Array; readonly distance: number; readonly pen: Matrix }
  | { readonly kind: 'arc'; readonly centre: Point; readonly radius: number; readonly pen: Matrix }
);

/** A place on a curve and the derivative there (per unit of `s`), mm. */
export interface CurvePoint {
  readonly x: number;
  readonly y: number;
  readonly dx: number;
  readonly dy: number;
}

/**
 * The place on the curve at parameter `s`. At a node of a contour the derivative is that of the piece towards `toward`, so that
 * corners have the tangent of the side one looks at.
 */
export function evaluateCurve(curve: Curve, s: number, toward = s): CurvePoint {
  if (curve.kind === 'cubic') {
    const pieces = (curve.coords.length - 2) / 6;
    let piece = Math.min(pieces - 1, Math.max(0, Math.floor(s)));
    if (s === piece && toward < s && piece > 0) piece--;
    return evaluateCubic(curve.coords, 6 * piece, s - piece);
  }
  if (curve.kind === 'offset') {
    const p = evaluateCubic(curve.coords, 0, s);
    const length = Math.hypot(p.dx, p.dy) || 1;
    const k = curve.distance / length;
    // d/ds of the unit normal (-dy, dx)/|d| is curvature times the tangent.
    const q = secondDerivative(curve.coords, s);
    const turn = (p.dx * q.y - p.dy * q.x) / (length * length);
    const shrink = 1 - (curve.distance * turn) / length;
    return mapPoint(curve.pen, { x: p.x - p.dy * k, y: p.y + p.dx * k, dx: p.dx * shrink, dy: p.dy * shrink });
  }
  const c = Math.cos(s) * curve.radius;
  const n = Math.sin(s) * curve.radius;
  return mapPoint(curve.pen, { x: curve.centre.x + c, y: curve.centre.y + n, dx: -n, dy: c });
}

/** Parameter at corner `k`, which may be fractional (a place on the side from corner ⌊k⌋ to the next). */
export function parameterAt(curve: Curve, k: number): number {
  const n = curve.s.length;
  const whole = Math.floor(k);
  const part = k - whole;
  const i = ((whole % n) + n) % n;
  if (part === 0) return curve.s[i];
  const next = i + 1 < n ? curve.s[i + 1] : curve.sEnd;
  return curve.s[i] + part * (next - curve.s[i]);
}

/** Point and derivative of the cubic whose start stands at `coords[o]`, at `t` in 0..1. A dead derivative takes the next best direction. */
export function evaluateCubic(coords: Float64Array, o: number, t: number): CurvePoint {
  const x0 = coords[o];
  const y0 = coords[o + 1];
  const x1 = coords[o + 2];
  const y1 = coords[o + 3];
  const x2 = coords[o + 4];
  const y2 = coords[o + 5];
  const x3 = coords[o + 6];
  const y3 = coords[o + 7];
  const u = 1 - t;
  const a = u * u * u;
  const b = 3 * u * u * t;
  const c = 3 * u * t * t;
  const d = t * t * t;
  const e = 3 * u * u;
  const f = 6 * u * t;
  const g = 3 * t * t;
  let dx = e * (x1 - x0) + f * (x2 - x1) + g * (x3 - x2);
  let dy = e * (y1 - y0) + f * (y2 - y1) + g * (y3 - y2);
  if (dx * dx + dy * dy < 1e-18) {
    // A handle of length zero: the direction is that of the next control point that differs (limit of the tangent).
    [dx, dy] =
      t < 0.5 ? firstOf([x2 - x0, y2 - y0], [x3 - x0, y3 - y0]) : firstOf([x3 - x1, y3 - y1], [x3 - x0, y3 - y0]);
    dx *= 1e-9;
    dy *= 1e-9;
  }
  return { x: a * x0 + b * x1 + c * x2 + d * x3, y: a * y0 + b * y1 + c * y2 + d * y3, dx, dy };
}

function firstOf(a: [number, number], b: [number, number]): [number, number] {
  return a[0] * a[0] + a[1] * a[1] > 1e-18 ? a : b;
}

function secondDerivative(q: Float64Array, t: number): Point {
  const u = 6 * (1 - t);
  const v = 6 * t;
  return {
    x: u * (q[4] - 2 * q[2] + q[0]) + v * (q[6] - 2 * q[4] + q[2]),
    y: u * (q[5] - 2 * q[3] + q[1]) + v * (q[7] - 2 * q[5] + q[3]),
  };
}

function mapPoint(m: Matrix, p: CurvePoint): CurvePoint {
  return {
    x: m[0] * p.x + m[2] * p.y + m[4],
    y: m[1] * p.x + m[3] * p.y + m[5],
    dx: m[0] * p.dx + m[2] * p.dy,
    dy: m[1] * p.dx + m[3] * p.dy,
  };
}
