import type { Point, TieKind } from '@okuri/core';
import { distance } from '@okuri/core/inside';
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

/** A tie is drawn at least so broad, its bars stand out so far on either side, the two of a release tie so far apart, and they are so heavy, px. */
const NEAR = { leastPx: 6, outPx: 3, apartPx: 4, heavyPx: 3, finePx: 1.5 } as const;
const FAR = { leastPx: 4, outPx: 1.5, apartPx: 2.5, heavyPx: 2, finePx: 1 } as const;
/** A tie is drawn at least so long, about its middle, px: from far off it is a mark of its place. */
const LEAST_LENGTH_PX = 5;
/** The ring about a chosen tie: at least this, and so far beyond its ends, px. */
const RING_PX = 18;
const RING_MORE_PX = 8;
/** More ties than these in sight bear no names, and more than those are not drawn. */
const MOST_NAMED = 80;
const MOST_DRAWN = 3_000;

/** Ties over a picture: a standing one solid, a suggested one dashed; with a bar at each end where it prints, with two where it is cut away again. */
export function drawTies(context: CanvasRenderingContext2D, ties: readonly DrawnTieMark[]): void {
  const drawn = ties.slice(0, MOST_DRAWN);
  const size = drawn.length <= MOST_NAMED ? NEAR : FAR;
  for (const tie of drawn) drawTie(context, tie, tie.chosen ? NEAR : size);
  for (const tie of drawn) if (tie.chosen) drawRing(context, tie);
  for (const tie of drawn) if (tie.chosen || drawn.length <= MOST_NAMED) nameTie(context, tie);
}

function drawTie(
  context: CanvasRenderingContext2D,
  { kind, stands, widthPx, ...ends }: DrawnTieMark,
  { leastPx, outPx, apartPx, heavyPx, finePx }: typeof NEAR | typeof FAR,
): void {
  const [dx, dy] = [ends.to.x - ends.from.x, ends.to.y - ends.from.y];
  const length = Math.hypot(dx, dy);
  const u = length === 0 ? { x: 1, y: 0 } : { x: dx / length, y: dy / length };
  const more = Math.max(0, (LEAST_LENGTH_PX - length) / 2);
  const from = { x: ends.from.x - more * u.x, y: ends.from.y - more * u.y };
  const to = { x: ends.to.x + more * u.x, y: ends.to.y + more * u.y };
  const half = Math.max(leastPx, widthPx) / 2;
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
    twoTone(context, stands ? [] : [4, 3], finePx);
  }
  const wide = half + outPx;
  const bars = kind === 'release' ? [0, apartPx] : [0];
  for (const [end, out] of [
    [from, -1],
    [to, 1],
  ] as const) {
    for (const bar of bars) {
      context.beginPath();
      path(context, [on(end, out * bar, wide), on(end, out * bar, -wide)]);
      twoTone(context, [], kind === 'release' ? finePx : heavyPx);
    }
  }
}

function drawRing(context: CanvasRenderingContext2D, { from, to }: DrawnTieMark): void {
  context.beginPath();
  const far = distance(to, from) / 2 + RING_MORE_PX;
  context.arc((from.x + to.x) / 2, (from.y + to.y) / 2, Math.max(RING_PX, far), 0, 2 * Math.PI);
  twoTone(context, [], 2);
}

/** The name beside the tie, across it, on the side that is nearer to the upper right. */
function nameTie(context: CanvasRenderingContext2D, { name, from, to, widthPx, chosen }: DrawnTieMark): void {
  const length = distance(to, from);
  const n = length === 0 ? { x: 0, y: -1 } : { x: (to.y - from.y) / length, y: (from.x - to.x) / length };
  const sign = n.x - n.y >= 0 ? 1 : -1;
  const away = chosen ? Math.max(RING_PX, length / 2 + RING_MORE_PX) + 12 : Math.max(NEAR.leastPx, widthPx) / 2 + 14;
  drawName(context, name, (from.x + to.x) / 2 + sign * away * n.x, (from.y + to.y) / 2 + sign * away * n.y, chosen);
}

function path(context: CanvasRenderingContext2D, [first, ...rest]: readonly Point[]): void {
  context.moveTo(first.x, first.y);
  for (const p of rest) context.lineTo(p.x, p.y);
}
