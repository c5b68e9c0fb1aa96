import { type Box, type Contour, contoursBox } from '@okuri/core';
import { closedCoords, settledContour } from '@okuri/core/inside';

/** Slack for sides that are meant to be upright, as a share of the box: rounding in drawing programs. */
const UPRIGHT_SLACK = 1e-4;

/** The box of an outline that is an upright rectangle (one closed contour of four straight sides), else null. */
export function uprightRectangle(contours: readonly Contour[]): Box | null {
  const whole = contours.length === 1 ? contoursBox(contours) : null;
  if (whole === null) return null;
  const tolerance = UPRIGHT_SLACK * Math.min(whole.x1 - whole.x0, whole.y1 - whole.y0);
  const contour = settledContour(contours[0], { tolerance });
  const box = rectangleBox(contour);
  if (box === null) return null;
  const { coords } = contour;
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

function rectangleBox(contour: Contour): Box | null {
  const { coords } = contour;
  const n = coords.length;
  if ((n - 2) / 6 !== 4 || coords[0] !== coords[n - 2] || coords[1] !== coords[n - 1]) return null;
  const box = contoursBox([contour]);
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

/** The contour closed by a straight line, where its ends are not one place already; the same object where it is closed. */
function closeContour(contour: Contour): Contour {
  return contour.closed ? contour : { closed: true, coords: closedCoords(contour.coords) };
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
