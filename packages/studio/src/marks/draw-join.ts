import type { Join, Lattice, Point } from '@okuri/core';
import { distance, latticePoint, stepsOnto } from '@okuri/core/inside';
import { type Camera, seen, toWindow, type WindowSize } from '../canvas/camera';
import type { JoinEnd, JoinEnds } from './join-ends';
import { drawName, twoTone } from './two-tone';

/** How far the outlines are followed by straight lines to either side of their ends, px. */
const BACK_PX = 62;
const ON_PX = 40;
/** The dimension stands so far beside the ends, px; a smaller offset gets none. */
const ASIDE_PX = 58;
const LEAST_PX = 2;
const END_PX = 4;
const SEAM_DASH = [12, 4, 2, 4];
const PARTNER_DASH = [5, 4];

/** Seam, ends, tangents and offset of a join over its picture; px of a window. */
export function drawJoin(
  context: CanvasRenderingContext2D,
  { join, ends, lattice }: { readonly join: Join; readonly ends: JoinEnds; readonly lattice: Lattice },
  { camera, window }: { readonly camera: Camera; readonly window: WindowSize },
): void {
  const at = (p: Point): Point => toWindow(camera, p, window);
  drawSeams(context, lattice, camera, window);
  const { own, partner } = ends;
  if (partner !== null) drawEnd(context, partner, at(partner.at), PARTNER_DASH);
  if (own !== null) drawEnd(context, own, at(own.at), []);
  if (own !== null && partner !== null) drawOffset(context, join, at(own.at), at(partner.at));
  if (own !== null && partner !== null && join.kinkDeg !== null && join.kinkDeg >= 0.5) {
    const middle = at(ends.at);
    drawName(context, `${join.kinkDeg.toFixed(1)}°`, middle.x - ASIDE_PX, middle.y - 26);
  }
}

/** All seams in sight, thin, dash and dot. */
function drawSeams(context: CanvasRenderingContext2D, lattice: Lattice, camera: Camera, window: WindowSize): void {
  const { widthMm: w, heightMm: h } = lattice;
  context.beginPath();
  for (const step of stepsOnto(lattice, { x0: -1, y0: -1, x1: w + 1, y1: h + 1 }, seen(camera, window))) {
    const v = latticePoint(lattice, step);
    const [a, b, c] = [
      { x: v.x, y: v.y + h },
      { x: v.x, y: v.y },
      { x: v.x + w, y: v.y },
    ].map((p) => toWindow(camera, p, window));
    context.moveTo(b.x, b.y);
    context.lineTo(a.x, a.y);
    context.moveTo(b.x, b.y);
    context.lineTo(c.x, c.y);
  }
  twoTone(context, SEAM_DASH, 1);
}

/** An end, and the straight line in which its outline would run on. */
function drawEnd(context: CanvasRenderingContext2D, { way }: JoinEnd, { x, y }: Point, dash: readonly number[]): void {
  if (way !== null) {
    context.beginPath();
    context.moveTo(x - BACK_PX * way.x, y - BACK_PX * way.y);
    context.lineTo(x + ON_PX * way.x, y + ON_PX * way.y);
    twoTone(context, dash, 1.5);
  }
  context.beginPath();
  context.arc(x, y, END_PX, 0, 2 * Math.PI);
  context.setLineDash([]);
  context.fillStyle = dash.length === 0 ? '#000000' : '#ffffff';
  context.fill();
  context.lineWidth = 2;
  context.strokeStyle = dash.length === 0 ? '#ffffff' : '#000000';
  context.stroke();
}

/** The offset along the seam as a small dimension between the two ends. */
function drawOffset(context: CanvasRenderingContext2D, { seam, offsetMm }: Join, own: Point, partner: Point): void {
  if (offsetMm === null || distance(partner, own) < LEAST_PX) return;
  const aside = seam === 'right' ? { x: ASIDE_PX, y: 0 } : { x: 0, y: ASIDE_PX };
  const [a, b] = [own, partner].map(({ x, y }) => ({ x: x + aside.x, y: y + aside.y }));
  context.beginPath();
  for (const [end, foot] of [
    [own, a],
    [partner, b],
  ]) {
    context.moveTo(end.x + (foot.x - end.x) * 0.15, end.y + (foot.y - end.y) * 0.15);
    context.lineTo(foot.x + (foot.x - end.x) * 0.1, foot.y + (foot.y - end.y) * 0.1);
  }
  context.moveTo(a.x, a.y);
  context.lineTo(b.x, b.y);
  twoTone(context, [], 1);
  const text = `${Math.abs(offsetMm).toFixed(2)} mm`;
  if (seam === 'right') drawName(context, text, a.x + 42, (a.y + b.y) / 2);
  else drawName(context, text, (a.x + b.x) / 2, a.y + 20);
}
