import { type Box, type Contour, contoursBox } from '@okuri/core';

/** Slack for sides that are meant to be upright, as a share of the box: rounding in drawing programs. */
const UPRIGHT_SLACK = 1e-4;

/** The box of an outline that is an upright rectangle (one closed contour of four straight sides), else null. */
export function uprightRectangle(contours: readonly Contour[]): Box | null {
  const box = rectangleBox(contours);
  if (box === null) return null;
  const { coords } = contours[0];
  const slackX = UPRIGHT_SLACK * (box.x1 - box.x0);
  const slackY = UPRIGHT_SLACK * (box.y1 - box.y0);
  for (let k = 0; k < coords.length; k += 2) {
    const onX = near(coords[k], box.x0, slackX) || near(coords[k], box.x1, slackX);
    const onY = near(coords[k + 1], box.y0, slackY) || near(coords[k + 1], box.y1, slackY);
    // Ends are corners; handles lie on a side.
    if (k % 6 === 0 ? !(onX && onY) : !(onX || onY)) return null;
  }
  return box;
}

function rectangleBox(contours: readonly Contour[]): Box | null {
  if (contours.length !== 1) return null;
  const { coords } = contours[0];
  const curves = (coords.length - 2) / 6;
  const n = coords.length;
  if (curves !== 4 || coords[0] !== coords[n - 2] || coords[1] !== coords[n - 1]) return null;
  const box = contoursBox(contours);
  return box !== null && box.x1 > box.x0 && box.y1 > box.y0 ? box : null;
}

/** True where every curve of the outline is a straight line. */
export function isPolygonal(contours: readonly Contour[]): boolean {
  return contours.every(({ coords }) => {
    for (let k = 0; k + 7 < coords.length; k += 6) {
      const dx = coords[k + 6] - coords[k];
      const dy = coords[k + 7] - coords[k + 1];
      const slack = 1e-6 * (dx * dx + dy * dy);
      for (const h of [k + 2, k + 4]) {
        if (Math.abs(dx * (coords[h + 1] - coords[k + 1]) - dy * (coords[h] - coords[k])) > slack) return false;
      }
    }
    return true;
  });
}

/**
 * The contours as a fill sees them: open ones closed by a straight line, and those left out that lie on one line and
 * enclose nothing.
 */
export function filledContours(contours: readonly Contour[]): readonly Contour[] {
  return contours.filter((contour) => !onOneLine(contour)).map(closeContour);
}

/** The contour closed by a straight line; the same object where it is closed. */
export function closeContour(contour: Contour): Contour {
  if (contour.closed) return contour;
  const { coords } = contour;
  const n = coords.length;
  const [x0, y0, x1, y1] = [coords[0], coords[1], coords[n - 2], coords[n - 1]];
  if (x0 === x1 && y0 === y1) return { closed: true, coords };
  const out = new Float64Array(n + 6);
  out.set(coords);
  out.set([x1 + (x0 - x1) / 3, y1 + (y0 - y1) / 3, x0 + (x1 - x0) / 3, y0 + (y1 - y0) / 3, x0, y0], n);
  return { closed: true, coords: out };
}

/** A contour that is a single point. */
export function isPoint({ coords }: Contour): boolean {
  for (let k = 2; k < coords.length; k += 2) if (coords[k] !== coords[0] || coords[k + 1] !== coords[1]) return false;
  return true;
}

function onOneLine({ coords }: Contour): boolean {
  let dx = 0;
  let dy = 0;
  for (let k = 2; k < coords.length; k += 2) {
    const x = coords[k] - coords[0];
    const y = coords[k + 1] - coords[1];
    if (x * x + y * y > dx * dx + dy * dy) [dx, dy] = [x, y];
  }
  const slack = 1e-12 * (dx * dx + dy * dy);
  for (let k = 2; k < coords.length; k += 2) {
    if (Math.abs(dx * (coords[k + 1] - coords[1]) - dy * (coords[k] - coords[0])) > slack) return false;
  }
  return true;
}

/** The length of a contour by five-point Gauss-Legendre quadrature on halves of each curve: good to about 1e-4. */
export function contourLength({ coords }: Contour): number {
  let sum = 0;
  for (let k = 0; k + 7 < coords.length; k += 6) {
    for (const half of [0, 0.5]) {
      for (const [node, weight] of GAUSS) {
        const t = half + (0.5 * (1 + node)) / 2;
        sum += (weight / 4) * Math.hypot(slope(coords, k, t), slope(coords, k + 1, t));
      }
    }
  }
  return sum;
}

/** Nodes and weights on [-1, 1] (Abramowitz & Stegun, table 25.4). */
const GAUSS: readonly (readonly [number, number])[] = [
  [0, 0.568888888888889],
  [0.538469310105683, 0.478628670499366],
  [-0.538469310105683, 0.478628670499366],
  [0.906179845938664, 0.236926885056189],
  [-0.906179845938664, 0.236926885056189],
];

function slope(q: Float64Array, k: number, t: number): number {
  const u = 1 - t;
  return 3 * (u * u * (q[k + 2] - q[k]) + 2 * u * t * (q[k + 4] - q[k + 2]) + t * t * (q[k + 6] - q[k + 4]));
}

function near(a: number, b: number, slack: number): boolean {
  return Math.abs(a - b) <= slack;
}
