import { circleContour, polyline, transformContour } from '../geometry/contour.js';
import type { Contour, Matrix, Point } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import { type Cell, layCell } from './cell.js';
import { makeLattice } from './lattice.js';
import { latticeGrid } from './lattice-grid.js';
import { pieceContours } from './piece-contours.js';
import { shapeAreas } from './shape-area.js';
import type { Lattice, Repeat } from './types.js';

export const INK = '#000000';
export const PAPER = '#ffffff';

export const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
export const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
export const THIRD_BRICK: Repeat = { kind: 'brick', step: { p: 1, q: 3 } };

/** A filled shape of some contours (even-odd). */
export function shapeOf(contours: readonly Contour[], ink = INK): Shape {
  return { id: 's', ink, contours, rule: 'evenodd', clips: [] };
}

/** Shapes laid on a repeat, all of them carried over the seams. */
export function carried(shapes: readonly Shape[], lattice: Lattice): Cell {
  return layCell(shapeAreas(shapes, latticeGrid(lattice)), lattice, { readings: () => 'carry', paperColour: PAPER });
}

/** The area of an ink's pieces on their source curves, mm². */
export function inkArea(cell: Cell, inkIndex = 0): number {
  return cell.inks[inkIndex].pieces.reduce((sum, piece) => sum + pieceContours(piece, cell).areaMm2, 0);
}

/** A ring opening: a disc with an island in it. */
export function ring(at: Point, outer: number, inner: number): Shape {
  return shapeOf([circleContour(at, outer), circleContour(at, inner)]);
}

/** A smooth closed outline through points around a place, each at its own distance. */
export function blob({ x, y, radii }: { x: number; y: number; radii: readonly number[] }): Contour {
  const n = radii.length;
  const points = radii.map((r, k) => {
    const a = (2 * Math.PI * k) / n;
    return { x: x + r * Math.cos(a), y: y + r * Math.sin(a) };
  });
  const at = (k: number): Point => points[((k % n) + n) % n];
  const coords: number[] = [points[0].x, points[0].y];
  points.forEach((p, k) => {
    const q = at(k + 1);
    const handle = (a: Point, b: Point): Point => ({ x: (b.x - a.x) / 6, y: (b.y - a.y) / 6 });
    const out = handle(at(k - 1), q);
    const into = handle(p, at(k + 2));
    coords.push(p.x + out.x, p.y + out.y, q.x - into.x, q.y - into.y, q.x, q.y);
  });
  return { closed: true, coords: Float64Array.from(coords) };
}

/** Numbers in 0 … 1, always the same for a seed (the mixing steps of MurmurHash3's finish; a public-domain recipe). */
export function randomFrom(seed: number): (low?: number, high?: number) => number {
  let state = seed >>> 0;
  return (low = 0, high = 1) => {
    state = (state + 0x9e3779b9) >>> 0;
    let h = state;
    h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
    h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
    h = (h ^ (h >>> 16)) >>> 0;
    return low + (h / 2 ** 32) * (high - low);
  };
}

/** A random motif of rings and blobs on a random repeat; a blob in the paper's colour takes its part away. */
export function randomCell(seed: number): Cell {
  const random = randomFrom(seed);
  const place = (): Point => ({ x: random(-20, 110), y: random(-20, 90) });
  const rings = Array.from({ length: Math.ceil(random(0, 3)) || 1 }, () => {
    const outer = random(6, 18);
    return ring(place(), outer, outer * random(0.3, 0.9));
  });
  const blobs = Array.from({ length: Math.floor(random(0, 6)) }, () => {
    const radii = Array.from({ length: Math.floor(random(4, 10)) }, () => random(2, 16));
    return shapeOf([blob({ ...place(), radii })], random() < 0.25 ? PAPER : INK);
  });
  const repeat = [STRAIGHT, HALF_DROP, THIRD_BRICK][Math.floor(random(0, 3))];
  const cell = carried([...rings, ...blobs], makeLattice(repeat, 90, 70));
  // All of it may lie under paper: then another.
  return cell.inks.some((ink) => ink.pieces.length > 0) ? cell : randomCell(seed + 1);
}

/** Lines anywhere near the unit, in any direction. */
export function randomLines(seed: number, count: number): { from: Point; to: Point }[] {
  const random = randomFrom(seed);
  return Array.from({ length: count }, () => {
    const [x, y] = [random(-20, 110), random(-20, 90)];
    const [turn, length] = [random(0, 2 * Math.PI), random(0.5, 30)];
    return { from: { x, y }, to: { x: x + length * Math.cos(turn), y: y + length * Math.sin(turn) } };
  });
}

/** Plain bars along random lines. */
export function randomBars(seed: number, count: number): Contour[] {
  const random = randomFrom(seed + 1);
  return randomLines(seed, count).map(({ from, to }) =>
    bar(from, {
      lengthMm: Math.hypot(to.x - from.x, to.y - from.y),
      widthMm: random(0.5, 4),
      turn: Math.atan2(to.y - from.y, to.x - from.x),
    }),
  );
}

/** A plain bar, `widthMm` wide and turned, around a place. */
export function bar(
  at: Point,
  { lengthMm, widthMm, turn }: { lengthMm: number; widthMm: number; turn: number },
): Contour {
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  const m: Matrix = [c, s, -s, c, at.x, at.y];
  const [u, v] = [lengthMm / 2, widthMm / 2];
  const corners = [
    { x: -u, y: -v },
    { x: u, y: -v },
    { x: u, y: v },
    { x: -u, y: v },
  ];
  return transformContour(polyline(corners, { closed: true }), m);
}
