import { evaluateCubic } from '../geometry/curve.js';
import { FLATTEN_MM, flatteningSteps } from '../geometry/flatten.js';
import { distance } from '../geometry/points.js';
import type { Contour, Point } from '../geometry/types.js';
import { OutlineWalk } from './outline-walk.js';
import { angleBetween, type Stretch, tighterThan, turnAlong } from './tight-arcs.js';

/** From here on a turn at a node is a turn on the spot; below it, a node between straight sides may be part of a curve in facets. */
export const CORNER_TURN = (30 * Math.PI) / 180;
/** Sides that differ in direction by less are one side, radians (0.01°): rounding of the polygons' grid on a side of 1 mm. */
const SAME_DIRECTION = 1.7e-4;
/** Cubics smaller than this have no direction worth looking at, mm: twenty units of the polygons' grid. */
const DEBRIS_MM = 2e-3;
/** Handles of a straight cubic lie at most this far beside its chord, mm: a tenth of a unit of the polygons' grid. */
const STRAIGHT_MM = 1e-5;

/** A place where an outline turns. Places along it in mm from its start. */
export interface Bend {
  readonly from: number;
  readonly to: number;
  /** Radians, positive to the right hand (y runs down). */
  readonly turn: number;
  /** `node`: on the spot. `sharp`: tighter than a corner's radius. `tight`: tighter than the blade turns. */
  readonly kind: 'node' | 'sharp' | 'tight';
  /** Length of what bends, mm; 0 for a node. */
  readonly lengthMm: number;
}

export interface BendOptions {
  /** Below this radius a bend is `tight`, mm. */
  readonly turnMm: number;
  /** Below this one it is `sharp`, mm. */
  readonly cornerMm: number;
}

/** A stretch of an outline between two nodes: a straight side, or a curve. */
interface Piece {
  readonly coords: Float64Array;
  readonly o: number;
  readonly straight: boolean;
  readonly from: Point;
  readonly to: Point;
  readonly start: number;
  readonly end: number;
}

/**
 * All places where an outline turns sharply, in order along it: nodes, and stretches of its curves that are tighter than asked for (exact, see
 * `tighterThan`). Straight sides in line are one side, wherever nodes stand on them. A node between two straight sides that turns by at most
 * 30° is also looked at as part of a curve in facets, with the radius (half of both sides) / turn, which of a regular polygon is that of its
 * circle: so a circle and its polygon bend alike.
 */
export function outlineBends(
  contour: Contour,
  { turnMm, cornerMm }: BendOptions,
): { walk: OutlineWalk; bends: Bend[] } {
  const walk = new OutlineWalk(contour.coords);
  const pieces = outlinePieces(walk);
  const bends: Bend[] = [];
  for (let k = 0; k < pieces.length; k++) {
    const piece = pieces[k];
    bends.push(...nodeBends(pieces[(k + pieces.length - 1) % pieces.length], piece, { turnMm, cornerMm }));
    if (!piece.straight) bends.push(...curveBends(piece, { turnMm, cornerMm }));
  }
  return { walk, bends };
}

/** The bend between two pieces that follow each other; none where one goes on as the other ended. */
function nodeBends(before: Piece, piece: Piece, { turnMm, cornerMm }: BendOptions): Bend[] {
  const a = direction(before, 1);
  const b = direction(piece, 0);
  const turn = angleBetween(a.x, a.y, b.x, b.y);
  if (Math.abs(turn) < SAME_DIRECTION) return [];
  const at = piece.start;
  if (before.straight && piece.straight && Math.abs(turn) <= CORNER_TURN) {
    const [back, ahead] = [(before.end - before.start) / 2, (piece.end - piece.start) / 2];
    const radius = (back + ahead) / Math.abs(turn);
    if (radius < turnMm) {
      const kind = radius < cornerMm ? 'sharp' : 'tight';
      return [{ from: at - back, to: at + ahead, turn, kind, lengthMm: back + ahead }];
    }
  }
  return [{ from: at, to: at, turn, kind: 'node', lengthMm: 0 }];
}

/** The stretches of a curve that are tight, and those of them that are sharp. */
function curveBends(piece: Piece, { turnMm, cornerMm }: BendOptions): Bend[] {
  const { coords, o, start, end } = piece;
  const tight = tighterThan(coords, o, turnMm);
  if (tight.length === 0) return [];
  const sharp = tighterThan(coords, o, Math.min(cornerMm, turnMm));
  const whole = arcLength(coords, o, [0, 1]);
  const bends: Bend[] = [];
  const add = (stretch: Stretch, kind: 'sharp' | 'tight'): void => {
    if (stretch[1] <= stretch[0]) return;
    const lengthMm = arcLength(coords, o, stretch);
    const from = start + ((end - start) * arcLength(coords, o, [0, stretch[0]])) / whole;
    const to = from + ((end - start) * lengthMm) / whole;
    bends.push({ from, to, turn: turnAlong(coords, o, stretch), kind, lengthMm });
  };
  for (const [from, to] of tight) {
    let at = from;
    for (const [a, b] of sharp) {
      if (b <= from || a >= to) continue;
      add([at, Math.max(from, a)], 'tight');
      add([Math.max(from, a), Math.min(to, b)], 'sharp');
      at = Math.min(to, b);
    }
    add([at, to], 'tight');
  }
  return bends;
}

/** Direction of a piece at its start (0) or end (1). */
function direction(piece: Piece, t: 0 | 1): Point {
  if (piece.straight) return { x: piece.to.x - piece.from.x, y: piece.to.y - piece.from.y };
  const { dx, dy } = evaluateCubic(piece.coords, piece.o, t);
  return { x: dx, y: dy };
}

/** The outline's sides and curves; debris left out, straight sides in line put together. */
function outlinePieces({ coords, nodes, lengthMm }: OutlineWalk): Piece[] {
  const pieces: Piece[] = [];
  let debris: { from: Point; start: number } | null = null;
  const addSide = (side: Piece): void => {
    const last = pieces[pieces.length - 1];
    if (last !== undefined && inLine(last, side)) pieces[pieces.length - 1] = { ...last, to: side.to, end: side.end };
    else pieces.push(side);
  };
  for (let o = 0; o + 7 < coords.length; o += 6) {
    const [start, end] = [nodes[o / 6], nodes[o / 6 + 1]];
    const from = { x: coords[o], y: coords[o + 1] };
    const to = { x: coords[o + 6], y: coords[o + 7] };
    if (end - start < DEBRIS_MM) {
      debris ??= { from, start };
      if (distance(to, debris.from) >= DEBRIS_MM) {
        addSide({ coords, o, straight: true, ...debris, to, end });
        debris = null;
      }
      continue;
    }
    debris = null;
    const piece = { coords, o, straight: isStraightCubic(coords, o), from, to, start, end };
    if (piece.straight) addSide(piece);
    else pieces.push(piece);
  }
  const [first, last] = [pieces[0], pieces[pieces.length - 1]];
  if (pieces.length > 2 && inLine(last, first)) {
    pieces.pop();
    pieces[0] = { ...first, from: last.from, start: last.start - lengthMm };
  }
  return pieces;
}

function inLine(a: Piece, b: Piece): boolean {
  if (!a.straight || !b.straight) return false;
  const turn = angleBetween(a.to.x - a.from.x, a.to.y - a.from.y, b.to.x - b.from.x, b.to.y - b.from.y);
  return Math.abs(turn) < SAME_DIRECTION;
}

function isStraightCubic(q: Float64Array, o: number): boolean {
  const [x, y] = [q[o + 6] - q[o], q[o + 7] - q[o + 1]];
  const length = Math.hypot(x, y);
  if (length === 0) return false;
  for (const k of [2, 4]) {
    const [hx, hy] = [q[o + k] - q[o], q[o + k + 1] - q[o + 1]];
    const along = (hx * x + hy * y) / length;
    if (Math.abs(hx * y - hy * x) > STRAIGHT_MM * length || along < -STRAIGHT_MM || along > length + STRAIGHT_MM) {
      return false;
    }
  }
  return true;
}

/** Abscissae and weights of Gauss and Legendre's rule with three places, on 0 … 1. */
const GAUSS = [
  [0.5 - Math.sqrt(0.15), 5 / 18],
  [0.5, 4 / 9],
  [0.5 + Math.sqrt(0.15), 5 / 18],
] as const;

/** Length of a stretch of a cubic by quadrature on its flattening's steps, mm: good to far under 1 µm. */
function arcLength(coords: Float64Array, o: number, [from, to]: Stretch): number {
  const n = Math.max(4, Math.ceil(flatteningSteps(coords, o, FLATTEN_MM) * (to - from)));
  const step = (to - from) / n;
  let sum = 0;
  for (let i = 0; i < n; i++) {
    for (const [at, weight] of GAUSS) {
      const { dx, dy } = evaluateCubic(coords, o, from + (i + at) * step);
      sum += weight * Math.hypot(dx, dy) * step;
    }
  }
  return sum;
}
