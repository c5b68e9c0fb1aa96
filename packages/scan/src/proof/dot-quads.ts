import type { Point } from '@okuri/core';
import type { Dot, Homography } from '@okuri/core/inside';
import { localAreaScale } from '../scale/homography.js';
import { hasDotSize, type Mark } from './dot-matches.js';
import { type Quad, quadMap, turnsClockwise } from './quad-map.js';

/** In a slanting view a side may look this much longer or shorter against another than it is. */
const SLANT = 1.6;

/** A third corner lies within this share of its side from where a plain turn would put it, and a fourth one from where a parallelogram would. */
const THIRD_SHARE = 0.6;
const FOURTH_SHARE = 0.4;

/** Where a fourth corner that nobody sees is tried, as shares of the two sides: 5 % of a side is as far off as a laying may be that still agrees. */
const FOURTH_PLACES = [0.8, 0.88, 0.94, 1, 1.06, 1.12, 1.2];

/** Dots' prints differ by no more than this in how far paste spread, mm, and a pixel besides. */
const SPREAD_ALIKE_MM = 0.6;

/** Four dots of the sheet and the marks taken for them. */
export interface QuadWay {
  readonly dots: readonly Dot[];
  readonly marks: readonly Mark[];
  /** Sheet mm → px. */
  readonly toPicture: Homography;
}

/**
 * Four dots at a time, clockwise: those with the largest area first, so the corners, down to a share of that. Three on a line fix nothing and are left out.
 */
export function dotQuads(dots: readonly Dot[], share: number): Dot[][] {
  const quads: { dots: Dot[]; area: number }[] = [];
  for (let a = 0; a < dots.length; a++) {
    for (let b = a + 1; b < dots.length; b++) {
      for (let c = b + 1; c < dots.length; c++) {
        for (let d = c + 1; d < dots.length; d++) {
          const quad = [dots[a], dots[b], dots[c], dots[d]];
          const places = quad.map(({ at }) => at) as unknown as Quad;
          if (turnsClockwise(places)) quads.push({ dots: quad, area: areaOf(places) });
        }
      }
    }
  }
  quads.sort((a, b) => b.area - a.area);
  return quads.filter(({ area }) => area >= share * quads[0].area).map((quad) => quad.dots);
}

interface Scales {
  /** The least and the most px that a mm may have. */
  readonly min: number;
  readonly max: number;
}

/**
 * Visits the ways in which four marks may be the print of four dots (clockwise) in a photograph: of their sizes, not mirrored, convex, and no farther from a
 * parallelogram than a camera makes it. Marks lie in px.
 */
export function visitQuads(
  quad: readonly Dot[],
  marks: readonly Mark[],
  { scale, visit }: { readonly scale: Scales; readonly visit: (way: QuadWay) => void },
): void {
  const [a, b, c, d] = quad;
  const places = quad.map(({ at }) => at) as unknown as Quad;
  // The fourth corner by the other three, as an affine map has it: ac = u · ab + v · ad.
  const [ab, ad, ac] = [vector(a, b), vector(a, d), vector(a, c)];
  const det = ab.x * ad.y - ab.y * ad.x;
  const [u, v] = [(ac.x * ad.y - ac.y * ad.x) / det, (ab.x * ac.y - ab.y * ac.x) / det];
  threes([a, b, d], marks, scale, (one, two, four, s) => {
    const [p, r] = [vector(one, two), vector(one, four)];
    const [cx, cy] = [one.at.x + u * p.x + v * r.x, one.at.y + u * p.y + v * r.y];
    const wide = FOURTH_SHARE * Math.max(Math.hypot(p.x, p.y), Math.hypot(r.x, r.y));
    for (const three of marks) {
      if (Math.hypot(three.at.x - cx, three.at.y - cy) > wide || !likely(three, c, s)) continue;
      const found = [one.at, two.at, three.at, four.at] as const;
      if (three === one || three === two || three === four || !turnsClockwise(found)) continue;
      const toPicture = quadMap(places, found);
      const own = [one, two, three, four];
      if (toPicture !== null && spreadAlike(quad, own, toPicture)) visit({ dots: quad, marks: own, toPicture });
    }
  });
}

/** Whether the marks are larger than the dots by the same: paste spreads alike all over the sheet. */
function spreadAlike(dots: readonly Dot[], marks: readonly Mark[], toPicture: Homography): boolean {
  let [least, most] = [Infinity, -Infinity];
  for (let k = 0; k < dots.length; k++) {
    const scale = Math.sqrt(Math.abs(localAreaScale(toPicture, dots[k].at)));
    if (!hasDotSize(marks[k], dots[k], scale)) return false;
    const spread = marks[k].diameter / scale - dots[k].diameterMm;
    least = Math.min(least, spread);
    most = Math.max(most, spread);
  }
  return most - least <= SPREAD_ALIKE_MM + 1 / Math.sqrt(Math.abs(localAreaScale(toPicture, dots[0].at)));
}

/**
 * The same for three dots, with the fourth corner at several places about where a parallelogram has it: too few to set a slanting view right, enough to tell which dots are
 * there.
 */
export function visitTriples(
  quads: readonly (readonly Dot[])[],
  marks: readonly Mark[],
  { scale, visit }: { readonly scale: Scales; readonly visit: (way: QuadWay) => void },
): void {
  const fourth = (p: Point, q: Point, r: Point, u = 1, v = 1): Point => ({
    x: p.x + u * (q.x - p.x) + v * (r.x - p.x),
    y: p.y + u * (q.y - p.y) + v * (r.y - p.y),
  });
  for (const quad of quads) {
    for (let k = 0; k < 4; k++) {
      const [a, b, d] = [quad[k], quad[(k + 1) % 4], quad[(k + 3) % 4]];
      const places: Quad = [a.at, b.at, fourth(a.at, b.at, d.at), d.at];
      threes([a, b, d], marks, scale, (one, two, four) => {
        for (const u of FOURTH_PLACES) {
          for (const v of FOURTH_PLACES) {
            const toPicture = quadMap(places, [one.at, two.at, fourth(one.at, two.at, four.at, u, v), four.at]);
            if (toPicture !== null) visit({ dots: [a, b, d], marks: [one, two, four], toPicture });
          }
        }
      });
    }
  }
}

/** Three marks that may be three dots: not mirrored, and the third near to where a plain turn and scale would put it by the first two. */
function threes(
  [a, b, d]: readonly [Dot, Dot, Dot],
  marks: readonly Mark[],
  scale: Scales,
  visit: (one: Mark, two: Mark, four: Mark, scale: number) => void,
): void {
  const [ab, ad] = [vector(a, b), vector(a, d)];
  const square = ab.x * ab.x + ab.y * ab.y;
  for (const one of marks) {
    for (const two of marks) {
      if (one === two) continue;
      const p = vector(one, two);
      const s = Math.sqrt((p.x * p.x + p.y * p.y) / square);
      if (s < scale.min || s > scale.max || !likely(one, a, s) || !likely(two, b, s)) continue;
      const [re, im] = [(p.x * ab.x + p.y * ab.y) / square, (p.y * ab.x - p.x * ab.y) / square];
      const [qx, qy] = [re * ad.x - im * ad.y, im * ad.x + re * ad.y];
      const reach = THIRD_SHARE * Math.hypot(qx, qy);
      for (const four of marks) {
        if (four === one || four === two || Math.abs(four.at.x - one.at.x - qx) > reach) continue;
        if (Math.hypot(four.at.x - one.at.x - qx, four.at.y - one.at.y - qy) > reach || !likely(four, d, s)) continue;
        visit(one, two, four, s);
      }
    }
  }
}

function vector(from: { readonly at: Point }, to: { readonly at: Point }): Point {
  return { x: to.at.x - from.at.x, y: to.at.y - from.at.y };
}

function likely(mark: Mark, dot: Dot, scale: number): boolean {
  return hasDotSize(mark, dot, scale / SLANT) || hasDotSize(mark, dot, scale * SLANT) || hasDotSize(mark, dot, scale);
}

function areaOf(quad: Quad): number {
  return quad.reduce((sum, p, k) => {
    const q = quad[(k + 1) % 4];
    return sum + (p.x * q.y - p.y * q.x) / 2;
  }, 0);
}
