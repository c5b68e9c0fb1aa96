import type { Contour } from '@okuri/core';

/** A corner or a joint between two cubics of a closed outline, px. */
export interface OutlineNode {
  x: number;
  y: number;
  /** Whether the outline has a corner here: both ways of travel are free. */
  readonly corner: boolean;
  /** Way of travel as the outline comes in and as it goes out, radians; the same but at a corner. */
  angleIn: number;
  angleOut: number;
  /** Where a corner's sides alone put it, and how surely; null for joints. */
  sure: SureCorner | null;
}

/** What the sides of a corner say of its place (px) and ways of travel (radians), and the standard deviations of both. */
export interface SureCorner {
  readonly x: number;
  readonly y: number;
  readonly angleIn: number;
  readonly angleOut: number;
  readonly spread: number;
  readonly slope: number;
}

/** The cubic from the node of the same number to the next one. */
export interface OutlineLink {
  /** A straight one that ends at a joint gives its way of travel to the curve beyond. */
  readonly straight: boolean;
  /** Lengths of its handles, px. */
  a: number;
  b: number;
  /** Its ends along the ring, in samples; `to` may lie past the ring's end. */
  from: number;
  to: number;
  /** Samples that blur has moved at its beginning and end. */
  readonly skipFrom: number;
  readonly skipTo: number;
}

/** A closed outline; as many links as nodes. */
export interface FittedOutline {
  readonly nodes: OutlineNode[];
  readonly links: OutlineLink[];
}

/** The outline as a contour in mm. */
export function outlineContour(
  { nodes, links }: FittedOutline,
  scale: { pixelMm: number; originX: number; originY: number },
): Contour {
  const n = nodes.length;
  const coords = new Float64Array(2 + 6 * n);
  const put = (o: number, x: number, y: number) => {
    coords[o] = x * scale.pixelMm + scale.originX;
    coords[o + 1] = y * scale.pixelMm + scale.originY;
  };
  put(0, nodes[0].x, nodes[0].y);
  for (let k = 0; k < n; k++) {
    const p = nodes[k];
    const q = nodes[(k + 1) % n];
    const { straight, a, b } = links[k];
    const o = 2 + 6 * k;
    put(o + 4, q.x, q.y);
    if (straight) {
      put(o, (2 * p.x + q.x) / 3, (2 * p.y + q.y) / 3);
      put(o + 2, (p.x + 2 * q.x) / 3, (p.y + 2 * q.y) / 3);
    } else {
      put(o, p.x + a * Math.cos(p.angleOut), p.y + a * Math.sin(p.angleOut));
      put(o + 2, q.x - b * Math.cos(q.angleIn), q.y - b * Math.sin(q.angleIn));
    }
  }
  return { closed: true, coords };
}

/** Ways of travel at the ends of straight links are theirs. */
export function settleStraights({ nodes, links }: FittedOutline): void {
  const n = nodes.length;
  for (let k = 0; k < n; k++) {
    if (!links[k].straight) continue;
    const [p, q] = [nodes[k], nodes[(k + 1) % n]];
    const angle = Math.atan2(q.y - p.y, q.x - p.x);
    p.angleOut = angle;
    q.angleIn = angle;
    if (!p.corner) p.angleIn = angle;
    if (!q.corner) q.angleOut = angle;
  }
}
