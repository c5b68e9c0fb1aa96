import paper from 'paper/dist/paper-core.js';
import type { Point } from './types.js';

// Curve functions only: no path is ever put into a project, and no paper object leaves this folder.
paper.setup(new paper.Size(1, 1));

/** paper's point. */
export function paperPoint(p: Point): paper.Point {
  return new paper.Point(p.x, p.y);
}

/** paper's curve on the cubic whose start stands at `coords[o]`. */
export function paperCurve(coords: Float64Array, o: number): paper.Curve {
  const p0 = new paper.Point(coords[o], coords[o + 1]);
  const p1 = new paper.Point(coords[o + 2], coords[o + 3]);
  const p2 = new paper.Point(coords[o + 4], coords[o + 5]);
  const p3 = new paper.Point(coords[o + 6], coords[o + 7]);
  return new paper.Curve(p0, p1.subtract(p0), p2.subtract(p3), p3);
}
