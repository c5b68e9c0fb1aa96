import type { GreyImage, Matrix, Point } from '@okuri/core';
import { apply, invert } from '@okuri/core/inside';

/** A drawing of black polygons, mm. */
export interface Cartoon {
  readonly widthMm: number;
  readonly heightMm: number;
  readonly shapes: readonly (readonly Point[])[];
}

/** Numbers from 0 to 1, the same for the same seed (mulberry32, public domain). */
export function seededRandom(seed: number): () => number {
  let state = seed | 0;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** Leaves of random size and turn, about one in each square of `pitchMm`, and vines that wind from left to right. */
export function leafCartoon(
  widthMm: number,
  heightMm: number,
  { seed, pitchMm = 16 }: { seed: number; pitchMm?: number },
): Cartoon {
  const random = seededRandom(seed);
  const shapes: Point[][] = [];
  for (let y = pitchMm / 2; y < heightMm; y += pitchMm) {
    for (let x = pitchMm / 2; x < widthMm; x += pitchMm) {
      const at = { x: x + (random() - 0.5) * pitchMm * 0.5, y: y + (random() - 0.5) * pitchMm * 0.5 };
      shapes.push(leaf(at, random() * 2 * Math.PI, pitchMm * (0.35 + 0.2 * random()), 0.2 + 0.25 * random()));
    }
  }
  for (let y = pitchMm; y < heightMm; y += 3 * pitchMm) {
    const [p, q, wave] = [random() * 6, random() * 6, 25 + 20 * random()];
    const line = (x: number): number => y + 0.4 * pitchMm * Math.sin(x / wave + p) + 1.5 * Math.sin(x / 9 + q);
    const upper: Point[] = [];
    const lower: Point[] = [];
    for (let x = 0; x <= widthMm; x += 1) {
      upper.push({ x, y: line(x) });
      lower.unshift({ x, y: line(x) + 1.6 + 0.5 * Math.sin(x / 7) });
    }
    shapes.push([...upper, ...lower]);
  }
  return { widthMm, heightMm, shapes };
}

function leaf(at: Point, turn: number, half: number, slim: number): Point[] {
  const points: Point[] = [];
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  for (let k = 0; k < 60; k++) {
    const t = (2 * Math.PI * k) / 60;
    const u = half * Math.cos(t);
    const v = half * slim * Math.sin(t) * Math.abs(Math.sin(t)) ** 0.6 + half * 0.15 * Math.cos(t) ** 2;
    points.push({ x: at.x + c * u - s * v, y: at.y + s * u + c * v });
  }
  return points;
}

/** How a piece is scanned. Grey levels 0 to 255. */
export interface ScanOf {
  /** Piece mm → drawing mm. */
  readonly motion: Matrix;
  readonly widthMm: number;
  readonly heightMm: number;
  readonly pixelsPerMm: number;
  readonly paper?: number;
  readonly ink?: number;
  /** Largest error of a grey value, evenly spread. */
  readonly noise?: number;
  readonly seed?: number;
}

/** A piece of a drawing as a flatbed would see it: every pixel is the mean of what lies under it, computed from the polygons afresh. */
export function scanOf(cartoon: Cartoon, scan: ScanOf): GreyImage {
  const { motion, widthMm, heightMm, pixelsPerMm, paper = 235, ink = 25, noise = 0, seed = 1 } = scan;
  const width = Math.round(widthMm * pixelsPerMm);
  const height = Math.round(heightMm * pixelsPerMm);
  const [a, b, c, d, e, f] = invert(motion) ?? motion;
  const toPx: Matrix = [
    a * pixelsPerMm,
    b * pixelsPerMm,
    c * pixelsPerMm,
    d * pixelsPerMm,
    e * pixelsPerMm,
    f * pixelsPerMm,
  ];
  const bare = new Float32Array(width * height).fill(1);
  for (const shape of cartoon.shapes) {
    cover(
      shape.map((p) => apply(toPx, p)),
      width,
      height,
      bare,
    );
  }
  const random = seededRandom(seed);
  const values = Uint8Array.from(bare, (share) =>
    Math.round(Math.min(Math.max(ink + (paper - ink) * share + (2 * random() - 1) * noise, 0), 255)),
  );
  return { width, height, values, white: 255 };
}

/** A motion that turns about the upper left corner of a piece and then puts its middle at a place of the drawing. */
export function pieceAt(middle: Point, turnDeg: number, widthMm: number, heightMm: number): Matrix {
  const turn = (turnDeg * Math.PI) / 180;
  const [c, s] = [Math.cos(turn), Math.sin(turn)];
  return [c, s, -s, c, middle.x - (c * widthMm - s * heightMm) / 2, middle.y - (s * widthMm + c * heightMm) / 2];
}

/** Takes the share that a polygon covers from every pixel, exactly: areas beside its sides are added up along the rows. */
function cover(polygon: readonly Point[], width: number, height: number, bare: Float32Array): void {
  const x0 = Math.max(0, Math.floor(Math.min(...polygon.map(({ x }) => x))));
  const x1 = Math.min(width, Math.ceil(Math.max(...polygon.map(({ x }) => x))));
  const y0 = Math.max(0, Math.floor(Math.min(...polygon.map(({ y }) => y))));
  const y1 = Math.min(height, Math.ceil(Math.max(...polygon.map(({ y }) => y))));
  const across = x1 - x0;
  const down = y1 - y0;
  if (across <= 0 || down <= 0) return;
  // One more column takes what lies to the right of a side in the last pixel.
  const sums = new Float64Array((across + 2) * down);
  for (let k = 0; k < polygon.length; k++) {
    const p = polygon[k];
    const q = polygon[(k + 1) % polygon.length];
    addSide(p.x - x0, p.y - y0, q.x - x0, q.y - y0, across, down, sums);
  }
  for (let j = 0; j < down; j++) {
    let sum = 0;
    for (let i = 0; i < across; i++) {
      sum += sums[j * (across + 2) + i];
      bare[(y0 + j) * width + x0 + i] *= 1 - Math.min(Math.abs(sum), 1);
    }
  }
}

function addSide(
  px: number,
  py: number,
  qx: number,
  qy: number,
  across: number,
  down: number,
  sums: Float64Array,
): void {
  if (py === qy) return;
  const sign = py < qy ? 1 : -1;
  const [ax, ay, bx, by] = py < qy ? [px, py, qx, qy] : [qx, qy, px, py];
  const slope = (bx - ax) / (by - ay);
  for (let j = Math.max(0, Math.floor(ay)); j < Math.min(down, Math.ceil(by)); j++) {
    const from = Math.max(ay, j);
    const to = Math.min(by, j + 1);
    if (to <= from) continue;
    const xs = ax + (from - ay) * slope;
    const xe = ax + (to - ay) * slope;
    addSpan(Math.min(xs, xe), Math.max(xs, xe), sign * (to - from), across, sums, j * (across + 2));
  }
}

/** A side that falls by `dy` within a row, from `left` to `right`: each pixel gets the change of the area to the right of the side. */
function addSpan(left: number, right: number, dy: number, across: number, sums: Float64Array, at: number): void {
  const first = Math.floor(left);
  if (right <= first + 1 && left >= 0 && right <= across) {
    const rest = (left + right) / 2 - first;
    sums[at + first] += dy * (1 - rest);
    sums[at + first + 1] += dy * rest;
    return;
  }
  const from = Math.min(Math.max(first, 0), across);
  const to = Math.min(Math.max(Math.floor(right) + 1, 0), across);
  let before = 0;
  for (let i = from; i <= to; i++) {
    const now = rightOf(left, right, i);
    sums[at + i] += dy * (now - before);
    before = now;
  }
}

/** Share of pixel i that lies to the right of a side that runs evenly from `left` to `right`: the mean of clamp(i + 1 − x, 0, 1). */
function rightOf(left: number, right: number, i: number): number {
  if (right - left < 1e-9) return Math.min(Math.max(i + 1 - left, 0), 1);
  return (halfSquare(i + 1 - left) - halfSquare(i + 1 - right)) / (right - left);
}

function halfSquare(t: number): number {
  return t <= 0 ? 0 : t >= 1 ? t - 0.5 : (t * t) / 2;
}
