import { type Contour, circleContour, type Point } from '@okuri/core';
import { contourArea } from '@okuri/core/inside';

/** A shape of which every curve is known, drawn around (`middle`), mm. */
export interface KnownShape {
  readonly name: string;
  readonly sideMm: number;
  readonly contours: readonly Contour[];
  /** Corners that a pen would draw sharp. */
  readonly corners: readonly Point[];
  /** Cubics that a person would draw it with: a circle needs four. */
  readonly nodes: number;
  readonly areaMm2: number;
  /** The middle of an even line, with its normals. */
  readonly line?: { readonly widthMm: number; readonly places: readonly { at: Point; normal: Point }[] };
}

/** Off every grid of pixels. */
const MIDDLE = 0.0371;

/** Shapes that tracing is measured on. */
export function knownShapes(): KnownShape[] {
  return [disc(), ring(), square(), star(), letter(), evenLine()];
}

function disc(): KnownShape {
  const at = { x: 21.5 + MIDDLE, y: 21.5 - MIDDLE };
  return shape('circle r = 20', 43, [circleContour(at, 20)], [], 4);
}

function ring(): KnownShape {
  const at = { x: 9.5 + MIDDLE, y: 9.5 - MIDDLE };
  return shape('ring r = 8 and 5', 19, [circleContour(at, 8), reversed(circleContour(at, 5))], [], 8);
}

function square(): KnownShape {
  const corners = turned(
    [
      { x: -7, y: -7 },
      { x: 7, y: -7 },
      { x: 7, y: 7 },
      { x: -7, y: 7 },
    ],
    17,
    { x: 10 + MIDDLE, y: 10 - MIDDLE },
  );
  return shape('square at 17°', 20, [sides(corners)], corners, 4);
}

/** Seven tips of some 31°. */
function star(): KnownShape {
  const points = Array.from({ length: 14 }, (_, k) => {
    const r = k % 2 === 0 ? 10 : 4.2;
    return { x: r * Math.cos((Math.PI * k) / 7), y: r * Math.sin((Math.PI * k) / 7) };
  });
  const corners = turned(points, 5, { x: 11 + MIDDLE, y: 11 - MIDDLE });
  return shape('star', 22, [sides(corners)], corners, 14);
}

/** A stem with a bowl and a leg that bends, as letters have. */
function letter(): KnownShape {
  const outer = path(2.04, 2.07, [
    [9, 2.07],
    [13.5, 2.07, 15.5, 4.3, 15.5, 6.9],
    [15.5, 9.4, 13.7, 11.3, 10.9, 11.7],
    [12.6, 13.4, 14.2, 16.2, 17.4, 18.1],
    [13.1, 18.1],
    [10.4, 16.4, 9, 13.6, 7.4, 11.9],
    [5.6, 11.9],
    [5.6, 18.1],
    [2.04, 18.1],
  ]);
  const bowl = path(5.6, 4.7, [
    [5.6, 9.4],
    [8.6, 9.4],
    [10.6, 9.4, 11.8, 8.5, 11.8, 7],
    [11.8, 5.5, 10.6, 4.7, 8.6, 4.7],
  ]);
  const corners = [
    [2.04, 2.07],
    [10.9, 11.7],
    [17.4, 18.1],
    [13.1, 18.1],
    [7.4, 11.9],
    [5.6, 11.9],
    [5.6, 18.1],
    [2.04, 18.1],
    [5.6, 4.7],
    [5.6, 9.4],
  ].map(([x, y]) => ({ x, y }));
  return shape('letter', 20, [outer, bowl], corners, 15);
}

/** A line 0.8 mm wide along two arcs that bend to either side. */
function evenLine(): KnownShape {
  const widthMm = 0.8;
  // Middles and radii of the arcs; the pen comes in heading east-north-east and turns to the right, then to the left.
  const arcs = [
    { x: 9 + MIDDLE, y: 11 - MIDDLE, r: 6.5, from: -170, to: -40 },
    { x: 0, y: 0, r: 5, from: 140, to: 30 },
  ];
  const [first, second] = arcs;
  const way = { x: Math.cos(rad(first.to)), y: Math.sin(rad(first.to)) };
  second.x = first.x + (first.r + second.r) * way.x;
  second.y = first.y + (first.r + second.r) * way.y;
  const there = [
    ...arcCubics(first, first.r + widthMm / 2, first.from, first.to),
    ...arcCubics(second, second.r - widthMm / 2, second.from, second.to),
  ];
  const back = [
    ...arcCubics(second, second.r + widthMm / 2, second.to, second.from),
    ...arcCubics(first, first.r - widthMm / 2, first.to, first.from),
  ];
  const from = onArc(first, first.r + widthMm / 2, first.from);
  const outline = path(from.x, from.y, [...there, xy(onArc(second, second.r + widthMm / 2, second.to)), ...back]);
  const places = arcs.flatMap((arc) => {
    const n = 60;
    return Array.from({ length: n }, (_, k) => {
      const angle = arc.from + ((arc.to - arc.from) * (k + 1)) / (n + 1);
      return { at: onArc(arc, arc.r, angle), normal: { x: Math.cos(rad(angle)), y: Math.sin(rad(angle)) } };
    });
  });
  const corners = [
    from,
    onArc(second, second.r - widthMm / 2, second.to),
    onArc(second, second.r + widthMm / 2, second.to),
    onArc(first, first.r - widthMm / 2, first.from),
  ];
  return { ...shape('line 0.8 wide', 25, [outline], corners, 10), line: { widthMm, places } };
}

function shape(
  name: string,
  sideMm: number,
  contours: readonly Contour[],
  corners: readonly Point[],
  nodes: number,
): KnownShape {
  const areaMm2 = contours.reduce((sum, contour) => sum + contourArea(contour), 0);
  return { name, sideMm, contours, corners, nodes, areaMm2 };
}

type Part = readonly number[];

/** A closed outline of sides (two numbers) and cubics (six). */
function path(x: number, y: number, parts: readonly Part[]): Contour {
  const coords = [x, y];
  for (const part of [...parts, [x, y]]) {
    const [px, py] = coords.slice(-2);
    if (part.length === 6) coords.push(...part);
    else if (part[0] !== px || part[1] !== py) {
      const [qx, qy] = part;
      coords.push((2 * px + qx) / 3, (2 * py + qy) / 3, (px + 2 * qx) / 3, (py + 2 * qy) / 3, qx, qy);
    }
  }
  return { closed: true, coords: Float64Array.from(coords) };
}

function sides(corners: readonly Point[]): Contour {
  return path(corners[0].x, corners[0].y, corners.slice(1).map(xy));
}

function turned(points: readonly Point[], degrees: number, at: Point): Point[] {
  const [c, s] = [Math.cos(rad(degrees)), Math.sin(rad(degrees))];
  return points.map(({ x, y }) => ({ x: at.x + c * x - s * y, y: at.y + s * x + c * y }));
}

/** Cubics along an arc, of 15° at most: they lie within a nanometre. */
function arcCubics(at: Point, r: number, from: number, to: number): Part[] {
  const n = Math.ceil(Math.abs(to - from) / 15);
  const step = rad((to - from) / n);
  const handle = (4 / 3) * Math.tan(step / 4) * r;
  return Array.from({ length: n }, (_, k) => {
    const [a, b] = [rad(from) + k * step, rad(from) + (k + 1) * step];
    const [p, q] = [onArc(at, r, deg(a)), onArc(at, r, deg(b))];
    return [
      p.x - handle * Math.sin(a),
      p.y + handle * Math.cos(a),
      q.x + handle * Math.sin(b),
      q.y - handle * Math.cos(b),
      q.x,
      q.y,
    ];
  });
}

function onArc(at: Point, r: number, degrees: number): Point {
  return { x: at.x + r * Math.cos(rad(degrees)), y: at.y + r * Math.sin(rad(degrees)) };
}

function xy({ x, y }: Point): Part {
  return [x, y];
}

function rad(degrees: number): number {
  return (degrees * Math.PI) / 180;
}

function deg(radians: number): number {
  return (radians * 180) / Math.PI;
}

function reversed({ coords, closed }: Contour): Contour {
  const back = new Float64Array(coords.length);
  for (let k = 0; k < coords.length; k += 2) back.set(coords.subarray(k, k + 2), coords.length - 2 - k);
  return { closed, coords: back };
}
