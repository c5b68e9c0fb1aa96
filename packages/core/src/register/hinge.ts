import { CORNERS, ENDS, isDiagonal, spanBetween } from './spans.js';
import type { Holes, SixDistances, Span } from './types.js';

/**
 * Two triangles that share a side, seen from that hinge: the feet of their tips along it and their heights over it. Everything about
 * six distances between four points follows from this figure. With the tips apart by `d` and the triangles folded by an angle,
 * d² = (foot − foot′)² + height² + height′² − 2 · height · height′ · cos(fold).
 */
interface Hinge {
  readonly length: number;
  readonly foot: number;
  readonly height: number;
  readonly otherFoot: number;
  readonly otherHeight: number;
}

function hingeOf(distances: SixDistances, span: Span): Hinge {
  const [tip, otherTip] = ENDS[span];
  const [start, end] = CORNERS.filter((corner) => corner !== tip && corner !== otherTip);
  const length = distances[spanBetween(start, end)];
  const [foot, height] = tipOver(length, distances[spanBetween(start, tip)], distances[spanBetween(end, tip)]);
  const [otherFoot, otherHeight] = tipOver(
    length,
    distances[spanBetween(start, otherTip)],
    distances[spanBetween(end, otherTip)],
  );
  return { length, foot, height, otherFoot, otherHeight };
}

/** The tip of a triangle over its base: foot from the base's start, and height (0 where the sides don't meet). */
export function tipOver(base: number, fromStart: number, fromEnd: number): readonly [foot: number, height: number] {
  const foot = (base + ((fromStart - fromEnd) / base) * (fromStart + fromEnd)) / 2;
  return [foot, Math.sqrt(Math.max(0, (fromStart - foot) * (fromStart + foot)))];
}

/**
 * What one distance is on a flat sheet with the other five, mm, the holes being named in order: a diagonal joins tips on opposite
 * sides of its hinge, a side joins tips on the same side. (The second solution of the equation belongs to a sheet folded shut.)
 */
export function flatValue(distances: SixDistances, span: Span): number {
  const { foot, height, otherFoot, otherHeight } = hingeOf(distances, span);
  return Math.hypot(foot - otherFoot, isDiagonal(span) ? height + otherHeight : height - otherHeight);
}

/**
 * How much longer the rising diagonal is than on a flat sheet with the other five distances, mm. It grows with either diagonal and
 * shrinks as any side grows.
 */
export function closure(distances: SixDistances): number {
  return distances.rising - flatValue(distances, 'rising');
}

/**
 * The square of the volume of the tetrahedron with these six edges, mm⁶: zero for a flat sheet, below zero where no four points of
 * space have such distances (Cayley and Menger; 288 V² is their determinant).
 */
export function volumeSquared(distances: SixDistances): number {
  const hinge = hingeOf(distances, 'rising');
  const cos = foldCosine(hinge, distances.rising);
  return ((hinge.length * hinge.height * hinge.otherHeight) / 6) ** 2 * (1 - cos) * (1 + cos);
}

/**
 * How far the lower left or upper right hole, whichever is farther, lies from the plane of the other three, mm; 0 where the sheet is flat
 * or impossible.
 */
export function lift(distances: SixDistances): number {
  const hinge = hingeOf(distances, 'rising');
  const cos = foldCosine(hinge, distances.rising);
  return Math.max(hinge.height, hinge.otherHeight) * Math.sqrt(Math.max(0, (1 - cos) * (1 + cos)));
}

/** The holes of a flat sheet in order, from all distances but the rising one. */
export function holesFromFive(distances: SixDistances): Holes {
  const { top, right, bottom, left, falling } = distances;
  const [cx, cy] = tipOver(top, falling, right);
  const [foot, height] = tipOver(falling, left, bottom);
  // Along the falling diagonal, and to its other side than the upper right hole.
  const [ux, uy] = [cx / falling, cy / falling];
  return {
    upperLeft: { x: 0, y: 0 },
    upperRight: { x: top, y: 0 },
    lowerRight: { x: cx, y: cy },
    lowerLeft: { x: foot * ux - height * uy, y: foot * uy + height * ux },
  };
}

function foldCosine({ foot, height, otherFoot, otherHeight }: Hinge, apart: number): number {
  const along = foot - otherFoot;
  return ((height * height + otherHeight * otherHeight + along * along - apart * apart) / height / otherHeight) * 0.5;
}
