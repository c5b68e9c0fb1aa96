import type { Box, Point } from '../geometry/types.js';
import { alongLine, type EdgePlace } from './cubic.js';
import type { TieStrip } from './types.js';

/** A tie widens over the last 1.5 flares before a bank. */
const FLARE_RUN = 1.5;
/** Its widening sides are followed in this many steps. */
const STEPS = 32;

/** The strip of paper of a tie: straight sides that widen along a parabola towards both banks, and run on past them at that width. */
export class TieCover {
  readonly box: Box;
  private readonly way: Point;
  private readonly length: number;
  private readonly flare: number;
  private readonly run: number;
  private readonly before: number;
  private readonly after: number;

  constructor(private readonly tie: TieStrip) {
    const { from, to, flareMm, widthMm, reachMm } = tie;
    this.length = Math.hypot(to.x - from.x, to.y - from.y);
    this.way = { x: (to.x - from.x) / this.length, y: (to.y - from.y) / this.length };
    // On a tie shorter than both of its flares they are smaller in proportion.
    const runs = 2 * FLARE_RUN * flareMm;
    this.flare = runs > this.length ? (flareMm * this.length) / runs : flareMm;
    this.run = FLARE_RUN * this.flare;
    this.before = typeof reachMm === 'number' ? reachMm : reachMm.from;
    this.after = typeof reachMm === 'number' ? reachMm : reachMm.to;
    const wide = widthMm / 2 + this.flare;
    const corners = [-this.before, this.length + this.after].flatMap((u) => [
      this.place(u, wide),
      this.place(u, -wide),
    ]);
    const xs = corners.map((p) => p.x);
    const ys = corners.map((p) => p.y);
    this.box = { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
  }

  contains(x: number, y: number): boolean {
    const [dx, dy] = [x - this.tie.from.x, y - this.tie.from.y];
    const u = dx * this.way.x + dy * this.way.y;
    const v = dy * this.way.x - dx * this.way.y;
    return u >= -this.before && u <= this.length + this.after && Math.abs(v) <= this.halfAt(u);
  }

  /** Places along its sides and ends. */
  edges(step: number, visit: EdgePlace): void {
    const us = [-this.before, 0, this.length, this.length + this.after];
    for (let k = 1; k <= STEPS; k++) us.push((this.run * k) / STEPS, this.length - (this.run * k) / STEPS);
    us.sort((a, b) => a - b);
    for (const side of [1, -1]) {
      for (let k = 1; k < us.length; k++) {
        this.line(us[k - 1], side * this.halfAt(us[k - 1]), us[k], side * this.halfAt(us[k]), step, visit);
      }
    }
    for (const u of [us[0], us[us.length - 1]]) this.line(u, -this.halfAt(u), u, this.halfAt(u), step, visit);
  }

  /** Half of the width at a distance from the first bank. */
  private halfAt(u: number): number {
    const half = this.tie.widthMm / 2;
    if (this.run === 0) return half;
    const fromBank = Math.min(u, this.length - u);
    if (fromBank >= this.run) return half;
    return half + this.flare * (1 - Math.max(0, fromBank) / this.run) ** 2;
  }

  private line(u0: number, v0: number, u1: number, v1: number, step: number, visit: EdgePlace): void {
    const [a, b] = [this.place(u0, v0), this.place(u1, v1)];
    alongLine(a.x, a.y, b.x, b.y, step, visit);
  }

  private place(u: number, v: number): Point {
    const { from } = this.tie;
    return { x: from.x + u * this.way.x - v * this.way.y, y: from.y + u * this.way.y + v * this.way.x };
  }
}
