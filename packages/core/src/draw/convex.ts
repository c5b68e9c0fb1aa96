import type { Point } from '../geometry/types.js';

/** Whether two convex outlines (a line is one of two corners) share a point: no side of either parts them. */
export function touches(one: readonly Point[], other: readonly Point[]): boolean {
  return ![one, other].some((points) =>
    points.some((a, k) => {
      const b = points[(k + 1) % points.length];
      // Along the side as well: lines end.
      return [
        { x: a.y - b.y, y: b.x - a.x },
        { x: b.x - a.x, y: b.y - a.y },
      ].some((axis) => {
        const [low, high] = spread(one, axis);
        const [least, most] = spread(other, axis);
        return high < least || most < low;
      });
    }),
  );
}

function spread(points: readonly Point[], axis: Point): [number, number] {
  const along = points.map((p) => p.x * axis.x + p.y * axis.y);
  return [Math.min(...along), Math.max(...along)];
}

/** Distance of a place from a convex outline; 0 inside. */
export function distanceTo(corners: readonly Point[], p: Point): number {
  if (touches(corners, [p, p])) return 0;
  return Math.min(
    ...corners.map((a, k) => {
      const b = corners[(k + 1) % corners.length];
      const [dx, dy] = [b.x - a.x, b.y - a.y];
      const t = Math.max(0, Math.min(1, ((p.x - a.x) * dx + (p.y - a.y) * dy) / (dx * dx + dy * dy || 1)));
      return Math.hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
    }),
  );
}
