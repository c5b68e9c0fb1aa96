import type { Box, Finding, Lattice, Point, Severity } from '@okuri/core';
import { latticePoint, stepsOnto } from '@okuri/core/inside';
import { seen, toWindow } from '../canvas/camera';
import { traceSeverity } from '../marks/severity-shape';
import { twoTone } from '../marks/two-tone';
import type { StageView } from './stage';

/** What is marked above the cloth. Places in mm; those of findings and dots on the unit. */
export interface ClothMarks {
  readonly cloth: Box;
  readonly lattice: Lattice;
  readonly seams: boolean;
  readonly dots: readonly Point[];
  readonly findings: readonly Finding[];
  /** A place of the unit that is looked at. */
  readonly at: Point | null;
}

/** px */
const RING_PX = 16;
const DOT_PX = 3;
const MARK_PX = 7;
/** More placements than these are not marked one by one. */
const MOST_MARKED = 4_000;

/** Seams, dots and findings over the cloth, each told by its shape: drawn in px of the page. */
export function drawClothMarks(context: CanvasRenderingContext2D, view: StageView, marks: ClothMarks): void {
  const { cloth, lattice } = marks;
  const sight = seen(view.camera, view.window);
  const shown = {
    x0: Math.max(cloth.x0, sight.x0),
    y0: Math.max(cloth.y0, sight.y0),
    x1: Math.min(cloth.x1, sight.x1),
    y1: Math.min(cloth.y1, sight.y1),
  };
  if (shown.x0 >= shown.x1 || shown.y0 >= shown.y1) return;
  const unit = { x0: 0, y0: 0, x1: lattice.widthMm, y1: lattice.heightMm };
  const at = (p: Point): Point => toWindow(view.camera, p, view.window);
  const [a, b] = [at({ x: cloth.x0, y: cloth.y0 }), at({ x: cloth.x1, y: cloth.y1 })];
  context.save();
  context.beginPath();
  context.rect(a.x, a.y, b.x - a.x, b.y - a.y);
  context.clip();
  const places = stepsOnto(lattice, unit, shown)
    .slice(0, MOST_MARKED)
    .map((step) => latticePoint(lattice, step));
  if (marks.seams) drawSeams(context, places, unit, at);
  for (const v of places) {
    for (const dot of marks.dots) drawDot(context, at({ x: v.x + dot.x, y: v.y + dot.y }));
  }
  for (const finding of marks.findings) {
    if (finding.atMm !== null) drawFinding(context, at(finding.atMm), finding.severity);
  }
  context.restore();
  if (marks.at !== null) drawRing(context, at(marks.at));
}

/** Dark dashes on light ones: seen on any colour. */
function drawSeams(
  context: CanvasRenderingContext2D,
  places: readonly Point[],
  unit: Box,
  at: (p: Point) => Point,
): void {
  context.beginPath();
  for (const { x, y } of places) {
    const corners = [
      { x, y: y + unit.y1 },
      { x, y },
      { x: x + unit.x1, y },
    ].map(at);
    context.moveTo(corners[0].x, corners[0].y);
    for (const corner of corners.slice(1)) context.lineTo(corner.x, corner.y);
  }
  twoTone(context, [8, 5]);
}

function drawDot(context: CanvasRenderingContext2D, { x, y }: Point): void {
  context.beginPath();
  context.arc(x, y, DOT_PX, 0, 2 * Math.PI);
  context.fillStyle = '#000000';
  context.fill();
  context.lineWidth = 1.5;
  context.strokeStyle = '#ffffff';
  context.setLineDash([]);
  context.stroke();
}

function drawFinding(context: CanvasRenderingContext2D, at: Point, severity: Severity): void {
  traceSeverity(context, severity, at, MARK_PX);
  context.fillStyle = '#ffffff';
  context.fill();
  context.lineWidth = 2;
  context.strokeStyle = '#000000';
  context.setLineDash([]);
  context.stroke();
}

function drawRing(context: CanvasRenderingContext2D, { x, y }: Point): void {
  context.beginPath();
  context.arc(x, y, RING_PX, 0, 2 * Math.PI);
  twoTone(context, []);
}
