import type { Point, TieKind } from '@okuri/core';
import { drawName, twoTone } from './two-tone';

/** A tie as it is drawn, px of the window. */
export interface DrawnTieMark {
  readonly name: string;
  readonly kind: TieKind;
  readonly stands: boolean;
  readonly from: Point;
  readonly to: Point;
  /** How broad the tie is. */
  readonly widthPx: number;
  readonly chosen: boolean;
}

/** A tie is drawn at least so broad, px. */
const LEAST_WIDTH_PX = 6;
/** How far bars stand out on either side, and how far the two of a release tie stand apart, px. */
const BAR_PX = 3;
const APART_PX = 4;
const RING_PX = 18;
/** More ties than these in sight bear no names, and more than those are not drawn. */
const MOST_NAMED = 80;
const MOST_DRAWN = 3_000;

/** Ties over a picture: a standing one solid, a suggested one dashed; with a bar at each end where it prints, with two where it is cut away again. */
export function drawTies(context: CanvasRenderingContext2D, ties: readonly DrawnTieMark[]): void {
  const drawn = ties.slice(0, MOST_DRAWN);
  for (const tie of drawn) drawTie(context, tie);
  for (const tie of drawn) if (tie.chosen) drawRing(context, tie);
  for (const tie of drawn) if (tie.chosen || drawn.length <= MOST_NAMED) nameTie(context, tie);
}

function drawTie(context: CanvasRenderingContext2D, { kind, stands, from, to, widthPx }: DrawnTieMark): void {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const u = length === 0 ? { x: 1, y: 0 } : { x: (to.x - from.x) / length, y: (to.y - from.y) / length };
  const half = Math.max(LEAST_WIDTH_PX, widthPx) / 2;
  const on = (p: Point, along: number, across: number): Point => ({
    x: p.x + along * u.x - across * u.y,
    y: p.y + along * u.y + across * u.x,
  });
  context.lineCap = 'butt';
  context.beginPath();
  path(context, [on(from, 0, half), on(to, 0, half), on(to, 0, -half), on(from, 0, -half)]);
  context.closePath();
  context.fillStyle = stands ? '#ffffff' : 'rgb(255 255 255 / 55%)';
  context.fill();
  for (const side of [half, -half]) {
    context.beginPath();
    path(context, [on(from, 0, side), on(to, 0, side)]);
    twoTone(context, stands ? [] : [4, 3], 1.25);
  }
  const wide = half + BAR_PX;
  const bars = kind === 'release' ? [0, APART_PX] : [0];
  for (const [end, out] of [
    [from, -1],
    [to, 1],
  ] as const) {
    for (const bar of bars) {
      context.beginPath();
      path(context, [on(end, out * bar, wide), on(end, out * bar, -wide)]);
      twoTone(context, [], kind === 'release' ? 1.5 : 3);
    }
  }
}

function drawRing(context: CanvasRenderingContext2D, { from, to }: DrawnTieMark): void {
  context.beginPath();
  const far = Math.hypot(to.x - from.x, to.y - from.y) / 2 + 10;
  context.arc((from.x + to.x) / 2, (from.y + to.y) / 2, Math.max(RING_PX, far), 0, 2 * Math.PI);
  twoTone(context, [], 2);
}

/** The name beside the tie, across it, on the side that is nearer to the upper right. */
function nameTie(context: CanvasRenderingContext2D, { name, from, to, widthPx, chosen }: DrawnTieMark): void {
  const length = Math.hypot(to.x - from.x, to.y - from.y);
  const n = length === 0 ? { x: 0, y: -1 } : { x: (to.y - from.y) / length, y: (from.x - to.x) / length };
  const sign = n.x - n.y >= 0 ? 1 : -1;
  const away = chosen ? Math.max(RING_PX, length / 2 + 10) + 12 : Math.max(LEAST_WIDTH_PX, widthPx) / 2 + 14;
  drawName(context, name, (from.x + to.x) / 2 + sign * away * n.x, (from.y + to.y) / 2 + sign * away * n.y, chosen);
}

function path(context: CanvasRenderingContext2D, [first, ...rest]: readonly Point[]): void {
  context.moveTo(first.x, first.y);
  for (const p of rest) context.lineTo(p.x, p.y);
}
