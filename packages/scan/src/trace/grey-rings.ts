import { type GreyImage, InputError } from '@okuri/core';
import type { GreyRing } from '../types.js';
import { crossingNumber, type DarkBits, darkBits, isDark } from './dark-bits.js';
import { ALONG, type EdgeGreys, type EdgePlacer, edgePlacer, PLACED } from './edge-place.js';
import { NumberList } from './number-list.js';

/** Most places along all rows at which dark and light meet: a dense drawing of 35 million pixels has a quarter; noise, printed screens and cloth have more, and would take gigabytes. */
const MOST_CROSSINGS = 4_000_000;

export interface GreyRingsOptions {
  /** Middle greys of ink and paper: edges are then placed so that they keep their area (see `edgePlacer`). Without them greys are interpolated. */
  readonly greys?: EdgeGreys;
}

/** Steps east and south of the headings north, east, south, west. */
const EAST = [0, 1, 0, -1] as const;
const SOUTH = [-1, 0, 1, 0] as const;

/** A point where ink runs over the picture's edge. */
const AT_EDGE = 4;

/**
 * The closed lines on which a picture is as grey as `level` (0 black … 1 white), dark to the right hand (marching squares: W. E. Lorensen and H. E. Cline,
 * Marching Cubes, SIGGRAPH 1987, in the plane; where four pixels meet crosswise, their mean says which two hang together). What lies outside of the picture is light, so that
 * ink that runs over the edge is closed along it. In the order of their uppermost rows. Throws an `InputError` for a picture that is all specks and no drawing.
 */
export function greyRings(image: GreyImage, level: number, options: GreyRingsOptions = {}): GreyRing[] {
  const bits = darkBits(image, level);
  if (bits.count > MOST_CROSSINGS) {
    throw new InputError(
      `The picture changes between dark and light ${Math.round(bits.count / 1e6)} million times along its rows: this is grain or a printed screen rather than a drawing, so scan it as line art or at a lower resolution, or choose another threshold.`,
    );
  }
  const placer = edgePlacer(image, level, options.greys ?? null);
  const ringOf = new Int32Array(bits.count).fill(-1);
  const walk: RingWalk = { image, bits, level, placer, ringOf, points: new NumberList(), kinds: new NumberList() };
  const rings: Float64Array[] = [];
  for (let y = 0, word = 0; y < bits.height; y++) {
    for (let k = 0; k < bits.rowWords; k++, word++) {
      // Where the pixel to the right of a crossing is dark a ring goes up: every ring does so somewhere.
      let left = bits.crossings[word] & bits.dark[word];
      while (left !== 0) {
        const c = 32 * k + 31 - Math.clz32(left & -left);
        left &= left - 1;
        if (ringOf[crossingNumber(bits, c, y)] !== -1) continue;
        followRing(walk, c, y, rings.length);
        rings.push(thinned(walk.points.view(), walk.kinds.view()));
      }
    }
  }
  return nested(rings, bits, ringOf);
}

/** The area inside a ring, positive where it turns clockwise as seen (y down); the unit is that of its points, squared. */
export function ringArea(points: Float64Array): number {
  const n = points.length;
  if (n < 6) return 0;
  // Measured from the first point, so that far from the origin no digits are lost.
  const x0 = points[0];
  const y0 = points[1];
  let twice = 0;
  let px = 0;
  let py = 0;
  for (let k = 2; k < n; k += 2) {
    const x = points[k] - x0;
    const y = points[k + 1] - y0;
    twice += px * y - py * x;
    px = x;
    py = y;
  }
  return twice / 2;
}

interface RingWalk {
  readonly image: GreyImage;
  readonly bits: DarkBits;
  readonly level: number;
  readonly placer: EdgePlacer;
  /** The ring of every crossing; -1 for none yet. */
  readonly ringOf: Int32Array;
  /** Points of the ring that is walked, and how each was placed. */
  readonly points: NumberList;
  readonly kinds: NumberList;
}

/** Walks once round the ring that goes up between pixels c − 1 and c of row `y`. */
function followRing(walk: RingWalk, c: number, y: number, ring: number): void {
  const { bits, ringOf, points, kinds } = walk;
  points.clear();
  kinds.clear();
  // A cell (cx, cy) lies between the middles of pixels (cx − 1, cy − 1) and (cx, cy).
  let cx = c;
  let cy = y;
  let heading = 0;
  ringOf[crossingNumber(bits, c, y)] = ring;
  addCrossing(walk, cx, cy + 1, 0);
  for (;;) {
    heading = (heading + turnIn(walk, cx, cy, heading)) & 3;
    const nextX = cx + EAST[heading];
    const nextY = cy + SOUTH[heading];
    const back = nextX === c && nextY === y && heading === 0;
    addEdgePoint(walk, cx, cy, heading);
    if (back) return;
    if (heading === 0) ringOf[crossingNumber(bits, cx, cy - 1)] = ring;
    else if (heading === 2) ringOf[crossingNumber(bits, cx, cy)] = ring;
    addCrossing(walk, cx, cy, heading);
    cx = nextX;
    cy = nextY;
  }
}

/** -1 to the left, 0 straight on, 1 to the right, for a ring that enters a cell with a heading. */
function turnIn(walk: RingWalk, cx: number, cy: number, heading: number): number {
  const { bits, image, level } = walk;
  // The two pixels ahead, to the left and to the right hand.
  const [ax, ay, bx, by] = AHEAD[heading];
  const left = isDark(bits, cx + ax, cy + ay);
  const right = isDark(bits, cx + bx, cy + by);
  if (!left) return right ? 0 : 1;
  if (right) return -1;
  // Crosswise: no pixel can lie outside, or two side by side would.
  const k = cy * image.width + cx;
  const v = image.values;
  const sum = v[k] + v[k - 1] + v[k - image.width] + v[k - image.width - 1];
  return sum < 4 * level * image.white ? -1 : 1;
}

/** Pixels ahead of a heading, left and right, from the cell's lower right pixel. */
const AHEAD = [
  [-1, -1, 0, -1],
  [0, -1, 0, 0],
  [0, 0, -1, 0],
  [-1, 0, -1, -1],
] as const;

/** The dark pixel beside the way out of a cell with a heading, from the cell's lower right pixel; the light one lies to the left of it. */
const DARK_SIDE = [
  [0, -1],
  [0, 0],
  [-1, 0],
  [-1, -1],
] as const;

/** Adds the place where the ring leaves cell (cx, cy) with a heading. */
function addCrossing(walk: RingWalk, cx: number, cy: number, heading: number): void {
  const x = cx + DARK_SIDE[heading][0];
  const y = cy + DARK_SIDE[heading][1];
  // To the left of the heading.
  const dx = SOUTH[heading];
  const dy = -EAST[heading];
  const { width, height } = walk.image;
  const outside = x + dx < 0 || y + dy < 0 || x + dx >= width || y + dy >= height;
  const share = outside ? 0.5 : walk.placer.place(x, y, dx, dy);
  walk.points.push(x + 0.5 + share * dx);
  walk.points.push(y + 0.5 + share * dy);
  walk.kinds.push(outside ? AT_EDGE : walk.placer.kind);
}

/** Adds the point that a ring which turns into or out of the picture's edge, or round its corner, has between two crossings. */
function addEdgePoint(walk: RingWalk, cx: number, cy: number, heading: number): void {
  const { width, height } = walk.image;
  const sideways = cx === 0 || cx === width;
  const upright = cy === 0 || cy === height;
  if (!sideways && !upright) return;
  let [x, y] = [cx, cy];
  if (!(sideways && upright)) {
    const wasAtEdge = walk.kinds.last() === AT_EDGE;
    const side = cx + DARK_SIDE[heading][0] + SOUTH[heading];
    const level = cy + DARK_SIDE[heading][1] - EAST[heading];
    const willBeAtEdge = side < 0 || level < 0 || side >= width || level >= height;
    if (wasAtEdge === willBeAtEdge) return;
    const at = wasAtEdge ? null : walk.points.view().subarray(-2);
    const place = at ?? placeOf(walk, cx, cy, heading);
    if (sideways) y = place[1];
    else x = place[0];
  }
  walk.points.push(x);
  walk.points.push(y);
  walk.kinds.push(AT_EDGE);
}

/** Where the ring will leave a cell. */
function placeOf(walk: RingWalk, cx: number, cy: number, heading: number): [x: number, y: number] {
  const x = cx + DARK_SIDE[heading][0];
  const y = cy + DARK_SIDE[heading][1];
  const share = walk.placer.place(x, y, SOUTH[heading], -EAST[heading]);
  return [x + 0.5 + share * SOUTH[heading], y + 0.5 - share * EAST[heading]];
}

/** The points without those between two well placed ones that are not, and without repeated ones. */
function thinned(points: Float64Array, kinds: Float64Array): Float64Array {
  const n = kinds.length;
  const kept = new Float64Array(points.length);
  let size = 0;
  for (let k = 0; k < n; k++) {
    const before = kinds[k === 0 ? n - 1 : k - 1];
    const after = kinds[k === n - 1 ? 0 : k + 1];
    if (kinds[k] === ALONG && before === PLACED && after === PLACED) continue;
    const x = points[2 * k];
    const y = points[2 * k + 1];
    if (size > 0 && kept[size - 2] === x && kept[size - 1] === y) continue;
    kept[size++] = x;
    kept[size++] = y;
  }
  if (size > 2 && kept[0] === kept[size - 2] && kept[1] === kept[size - 1]) size -= 2;
  return kept.slice(0, size);
}

/**
 * The rings with what encloses each, by what lies to its left in its uppermost row (as S. Suzuki and K. Abe, Topological Structural Analysis of Digitized
 * Binary Images by Border Following, CVGIP 30 (1985) 32), sorted so that enclosing rings come first.
 */
function nested(rings: readonly Float64Array[], bits: DarkBits, ringOf: Int32Array): GreyRing[] {
  const newNumber = new Int32Array(rings.length).fill(-1);
  const sorted: GreyRing[] = [];
  for (let y = 0, k = 0; y < bits.height; y++) {
    const end = y + 1 < bits.height ? bits.before[(y + 1) * bits.rowWords] : bits.count;
    for (let left = -1, hole = false; k < end; k++, hole = !hole) {
      const ring = ringOf[k];
      if (newNumber[ring] === -1) {
        // Along a row dark begins and ends by turns: a ring that is met first where dark ends is a hole.
        newNumber[ring] = sorted.length;
        const beside = left === -1 ? null : sorted[newNumber[left]];
        const inside = beside === null ? -1 : beside.hole === hole ? beside.inside : newNumber[left];
        sorted.push({ points: rings[ring], hole, inside });
      }
      left = ring;
    }
  }
  return sorted;
}
