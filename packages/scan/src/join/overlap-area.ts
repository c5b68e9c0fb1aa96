import type { Matrix, Point } from '@okuri/core';
import { apply, boxCorners, turn } from '@okuri/core/inside';

/** A piece of paper. */
export interface Rectangle {
  readonly widthMm: number;
  readonly heightMm: number;
}

/** The corners of a piece where it lies, clockwise as seen from its upper left, mm. */
export function cornersOf({ widthMm, heightMm }: Rectangle, motion: Matrix): Point[] {
  return boxCorners({ x0: 0, y0: 0, x1: widthMm, y1: heightMm }).map((corner) => apply(motion, corner));
}

/** Area that two turned rectangles share, mm²: one is clipped at the sides of the other (Sutherland & Hodgman 1974). */
export function sharedAreaMm2(a: readonly Point[], b: readonly Point[]): number {
  let left = [...a];
  for (let k = 0; k < b.length; k++) {
    const from = b[k];
    const to = b[(k + 1) % b.length];
    const inside = (p: Point): number => turn(from, to, p);
    left = left.flatMap((p, i) => {
      const q = left[(i + 1) % left.length];
      const s = inside(p);
      const t = inside(q);
      const kept = s >= 0 ? [p] : [];
      if (s >= 0 === t >= 0) return kept;
      const u = s / (s - t);
      return [...kept, { x: p.x + u * (q.x - p.x), y: p.y + u * (q.y - p.y) }];
    });
  }
  let twice = 0;
  for (let k = 0; k < left.length; k++) {
    const p = left[k];
    const q = left[(k + 1) % left.length];
    twice += p.x * q.y - q.x * p.y;
  }
  return twice / 2;
}
