import type { Point } from '@okuri/core';

/** An elliptical arc as path data gives it; `turn` is the angle of its x axis in degrees. */
export interface ArcFlags {
  readonly rx: number;
  readonly ry: number;
  readonly turn: number;
  readonly large: boolean;
  readonly sweep: boolean;
}

/** An arc by its centre; angles in radians, `delta` signed. */
export interface CentreArc {
  readonly centre: Point;
  readonly rx: number;
  readonly ry: number;
  readonly phi: number;
  readonly start: number;
  readonly delta: number;
}

/** The widest angle that one cubic stands for: 45°, where its radial error is 4e-6 of the radius. */
const MAX_PIECE = Math.PI / 4;

/**
 * The centre of an arc given by its ends (SVG 1.1 appendix F.6.5), radii corrected by F.6.6: made positive, and scaled up
 * where they are too small to reach. Null where there is no arc: ends that coincide or a radius of 0.
 */
export function arcCentre(from: Point, to: Point, arc: ArcFlags): CentreArc | null {
  let rx = Math.abs(arc.rx);
  let ry = Math.abs(arc.ry);
  if (rx === 0 || ry === 0 || (from.x === to.x && from.y === to.y)) return null;
  const phi = ((arc.turn % 360) * Math.PI) / 180;
  const cos = Math.cos(phi);
  const sin = Math.sin(phi);
  const hx = (from.x - to.x) / 2;
  const hy = (from.y - to.y) / 2;
  const x1 = cos * hx + sin * hy;
  const y1 = -sin * hx + cos * hy;
  const lambda = (x1 / rx) ** 2 + (y1 / ry) ** 2;
  if (lambda > 1) {
    rx *= Math.sqrt(lambda);
    ry *= Math.sqrt(lambda);
  }
  const sign = arc.large === arc.sweep ? -1 : 1;
  const root = lambda >= 1 ? 0 : sign * Math.sqrt((1 - lambda) / lambda);
  const cx = (root * rx * y1) / ry;
  const cy = (-root * ry * x1) / rx;
  const start = Math.atan2((y1 - cy) / ry, (x1 - cx) / rx);
  const end = Math.atan2((-y1 - cy) / ry, (-x1 - cx) / rx);
  let delta = end - start;
  if (arc.sweep && delta < 0) delta += 2 * Math.PI;
  if (!arc.sweep && delta > 0) delta -= 2 * Math.PI;
  const centre = { x: cos * cx - sin * cy + (from.x + to.x) / 2, y: sin * cx + cos * cy + (from.y + to.y) / 2 };
  return { centre, rx, ry, phi, start, delta };
}

/** Cubics of at most 45° for an arc, each as its two handles and its end; the last ends exactly at `to`. */
export function arcToCubics(from: Point, to: Point, arc: ArcFlags): [Point, Point, Point][] | null {
  const c = arcCentre(from, to, arc);
  if (c === null || !Number.isFinite(c.delta)) return null;
  // A hair is taken off, so that an exact quarter is two pieces and not three.
  const pieces = Math.max(1, Math.ceil(Math.abs(c.delta) / MAX_PIECE - 1e-9));
  return ellipsePieces(c, pieces, to);
}

/** An arc about a centre in equal pieces; its last end is `to` exactly. */
export function ellipsePieces(arc: CentreArc, pieces: number, to: Point): [Point, Point, Point][] {
  const { centre, rx, ry } = arc;
  const cos = Math.cos(arc.phi);
  const sin = Math.sin(arc.phi);
  const at = (u: number, v: number): Point => ({
    x: centre.x + cos * rx * u - sin * ry * v,
    y: centre.y + sin * rx * u + cos * ry * v,
  });
  const step = arc.delta / pieces;
  const k = (4 / 3) * Math.tan(step / 4);
  const out: [Point, Point, Point][] = [];
  for (let i = 0; i < pieces; i++) {
    const a = arc.start + i * step;
    const b = arc.start + (i + 1) * step;
    const [ca, sa, cb, sb] = [Math.cos(a), Math.sin(a), Math.cos(b), Math.sin(b)];
    out.push([at(ca - k * sa, sa + k * ca), at(cb + k * sb, sb - k * cb), i === pieces - 1 ? to : at(cb, sb)]);
  }
  return out;
}
