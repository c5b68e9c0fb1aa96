import { InputError, type Point } from '@okuri/core';
import { boxCorners, distance, turn } from '@okuri/core/inside';
import type { FoundDot } from '../types.js';
import { similarityFrom } from './similarity.js';

/** The four dots of a sheet as seen in the picture: upper left, upper right, lower right, lower left. */
export type FourDots = readonly [FoundDot, FoundDot, FoundDot, FoundDot];

export interface OuterDotsOptions {
  /** Distances between the dots across and down as seen in the picture: settles which four they are where a drawing has round dots of its own. */
  readonly widthMm?: number;
  readonly heightMm?: number;
}

/** Dots that are tried as corners: those farthest out. 24 dots make 10 626 fours. */
const TRIED_MAX = 24;

/** A rectangle seen at a slant of 45° keeps its corners and opposite sides within these. */
const CORNER_OFF_MAX_DEG = 35;
const OPPOSITE_RATIO_MIN = 0.55;

/** Larger to smaller diameter of the four: drawn by one hand with one pen, seen nearer and farther. */
const SIZE_RATIO_MAX = 2;

/** Across to down, as seen, may differ from the given distances by this factor in a slanting view. */
const ASPECT_OFF_MAX = 1.6;

/** Four dots that keep the given distances to this share of their diagonal are the ones: 1 mm on a sheet of A3. */
const FITS_SHARE = 0.002;

/**
 * How fast a four becomes unlikely as its corners leave 90° and its diameters differ: e^−½ at these, and too unlikely below the share. Common practice, no published
 * source.
 */
const CORNER_SPREAD_DEG = 14;
const SIZE_SPREAD = 0.32;
const LIKELY_MIN = 0.2;

/** Another four that reaches farther out somewhere and is as good as this share of the outermost (area times likelihood) makes the choice ambiguous. */
const RIVAL_SHARE = 0.6;

/** A dot this much outside a four's sides, as a share of its diagonal, is outside. */
const OUTSIDE_SHARE = 0.01;

/** Places that a sentence names. */
const NAMED_MAX = 8;

/**
 * The four dots that stand round all else like the corners of a rectangle, in order as seen: the outermost four that resemble one. With the distances
 * given, four that keep them exactly (a scan) are taken before others; in a slanting view a round mark outside the dots can't be told from one. Throws
 * an `InputError` where fewer than four were found, none resembles a rectangle, or two choices are as good.
 */
export function fourOuterDots(dots: readonly FoundDot[], { widthMm, heightMm }: OuterDotsOptions = {}): FourDots {
  if (dots.length < 4) {
    throw new InputError(
      `Four round dots are needed round the drawing, and ${dots.length === 0 ? 'none was' : `${dots.length} ${dots.length === 1 ? 'was' : 'were'}`} found in the picture${placesOf(dots)}: draw filled dots of 1 to 6 mm with clear paper all round, or give the four places in pixels.`,
    );
  }
  const known = widthMm !== undefined && heightMm !== undefined ? { widthMm, heightMm } : null;
  const fours = foursOf(outermost(dots), known).sort((a, b) => b.area - a.area);
  const exact = fours.find(({ off }) => off <= FITS_SHARE);
  if (exact !== undefined) return exact.dots;
  const [best] = fours;
  if (best === undefined) {
    throw new InputError(
      `${dots.length} round dots were found in the picture${placesOf(dots)}, but no four of them stand like the corners of a rectangle${known === null ? '' : ` ${widthMm} mm across and ${heightMm} mm down`}: check the distances, or give the four places in pixels.`,
    );
  }
  const rival = fours.find(
    (other) => reachesOut(other, best) && other.area * other.likely >= RIVAL_SHARE * best.area * best.likely,
  );
  if (rival !== undefined) {
    throw new InputError(
      `${dots.length} round dots were found in the picture, and two choices of four are as good: ${say(best.dots)}, or ${say(rival.dots)}: cover the dots that don't belong, or give the four places in pixels.`,
    );
  }
  return best.dots;
}

interface Four {
  readonly dots: FourDots;
  readonly area: number;
  readonly diagonal: number;
  /** 1 for equal dots at right angles, towards 0. */
  readonly likely: number;
  /** From the given distances under a turn and a scale, as a share of the diagonal; infinite where none were given. */
  readonly off: number;
}

/** The dots of the convex hull, then those of the hull of the rest, and so on (onion peeling), while fewer than are tried. */
function outermost(dots: readonly FoundDot[]): readonly FoundDot[] {
  let left = dots;
  const taken: FoundDot[] = [];
  while (left.length > 0 && taken.length < TRIED_MAX) {
    const hull = hullOf(left);
    taken.push(...hull.slice(0, TRIED_MAX - taken.length));
    left = left.filter((dot) => !hull.includes(dot));
  }
  return taken;
}

/** Convex hull by monotone chains (Andrew, Inf. Proc. Letters 9 (1979) 216). */
function hullOf(dots: readonly FoundDot[]): FoundDot[] {
  const sorted = [...dots].sort((a, b) => a.at.x - b.at.x || a.at.y - b.at.y);
  if (sorted.length < 3) return sorted;
  const chain = (list: readonly FoundDot[]): FoundDot[] => {
    const hull: FoundDot[] = [];
    for (const dot of list) {
      while (hull.length >= 2 && turn(hull[hull.length - 2].at, hull[hull.length - 1].at, dot.at) <= 0) hull.pop();
      hull.push(dot);
    }
    return hull.slice(0, -1);
  };
  return [...chain(sorted), ...chain(sorted.reverse())];
}

function foursOf(dots: readonly FoundDot[], known: { widthMm: number; heightMm: number } | null): Four[] {
  const fours: Four[] = [];
  const n = dots.length;
  for (let a = 0; a < n; a++) {
    for (let b = a + 1; b < n; b++) {
      for (let c = b + 1; c < n; c++) {
        for (let d = c + 1; d < n; d++) {
          const four = fourOf([dots[a], dots[b], dots[c], dots[d]], known);
          if (four !== null) fours.push(four);
        }
      }
    }
  }
  return fours;
}

function fourOf(chosen: readonly FoundDot[], known: { widthMm: number; heightMm: number } | null): Four | null {
  const diameters = chosen.map(({ diameter }) => diameter);
  const sizes = Math.max(...diameters) / Math.min(...diameters);
  if (sizes > SIZE_RATIO_MAX) return null;
  const hull = hullOf(chosen);
  if (hull.length < 4) return null;
  // The hull turns clockwise as seen: from the corner nearest to the upper left.
  const first = hull.reduce((best, dot, k) => (dot.at.x + dot.at.y < hull[best].at.x + hull[best].at.y ? k : best), 0);
  const [ul, ur, lr, ll] = [0, 1, 2, 3].map((k) => hull[(first + k) % 4]);
  const places = [ul.at, ur.at, lr.at, ll.at];
  const sides = places.map((p, k) => Math.hypot(places[(k + 1) % 4].x - p.x, places[(k + 1) % 4].y - p.y));
  const [top, right, bottom, left] = sides;
  if (Math.min(top / bottom, bottom / top, right / left, left / right) < OPPOSITE_RATIO_MIN) return null;
  const cornersOff = places.map((p, k) => cornerOffDeg(places[(k + 3) % 4], p, places[(k + 1) % 4]));
  if (Math.max(...cornersOff) > CORNER_OFF_MAX_DEG) return null;
  const [across, down] = [(top + bottom) / 2, (right + left) / 2];
  const aspect = known === null ? 1 : across / down / (known.widthMm / known.heightMm);
  if (Math.max(aspect, 1 / aspect) > ASPECT_OFF_MAX) return null;
  const area = turn(ul.at, ur.at, lr.at) / 2 + turn(ul.at, lr.at, ll.at) / 2;
  const rmsOff = Math.sqrt(cornersOff.reduce((sum, deg) => sum + deg * deg, 0) / 4);
  const diagonal = Math.hypot(across, down);
  const likely = Math.exp(-((rmsOff / CORNER_SPREAD_DEG) ** 2) / 2 - (Math.log(sizes) / SIZE_SPREAD) ** 2 / 2);
  if (likely < LIKELY_MIN) return null;
  return {
    dots: [ul, ur, lr, ll],
    area,
    diagonal,
    likely,
    off: known === null ? Number.POSITIVE_INFINITY : offShare(places, known),
  };
}

function cornerOffDeg(before: Point, at: Point, after: Point): number {
  const [ax, ay, bx, by] = [before.x - at.x, before.y - at.y, after.x - at.x, after.y - at.y];
  return Math.abs((Math.atan2(Math.abs(ax * by - ay * bx), ax * bx + ay * by) * 180) / Math.PI - 90);
}

function offShare(
  places: readonly Point[],
  { widthMm: w, heightMm: h }: { widthMm: number; heightMm: number },
): number {
  const paper = boxCorners({ x0: 0, y0: 0, x1: w, y1: h });
  const fit = similarityFrom(places.map((from, k) => ({ from, to: paper[k] })));
  return fit === null ? Number.POSITIVE_INFINITY : fit.worst / Math.hypot(w, h);
}

/** Whether a corner of one four lies outside the other: a four inside the best is part of the drawing. */
function reachesOut(one: Four, best: Four): boolean {
  return one.dots.some(({ at }) =>
    best.dots.some((dot, k) => {
      const next = best.dots[(k + 1) % 4].at;
      const side = distance(next, dot.at);
      return turn(dot.at, next, at) < -OUTSIDE_SHARE * best.diagonal * side;
    }),
  );
}

function placesOf(dots: readonly FoundDot[]): string {
  if (dots.length === 0) return '';
  return ` (at ${say(dots.slice(0, NAMED_MAX))}${dots.length > NAMED_MAX ? ' and more' : ''} px)`;
}

function say(dots: readonly FoundDot[]): string {
  return dots.map(({ at }) => `${Math.round(at.x)},${Math.round(at.y)}`).join(' ');
}
