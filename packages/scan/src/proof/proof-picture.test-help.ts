import { type Contour, circleContour, type GreyImage, type Point, type Sheet } from '@okuri/core';
import { type Dot, flatRing, type Homography } from '@okuri/core/inside';
import { applyHomography } from '../scale/homography.js';
import { maskFrame, paintRings } from './mask.js';

/** How a print differs from the plan. Sheet mm. */
export interface SamplePrint {
  readonly cut?: (at: Point) => Point;
  readonly dots?: readonly Dot[];
  readonly leaveOut?: readonly number[];
  readonly blots?: readonly Contour[];
  /** All openings and dots are larger by this: here by mapping every outline outwards, so for discs and gentle outlines only. */
  readonly spreadMm?: number;
}

/** Places of a pixel that are looked at, a side: coverage to 1/16. */
const FINE = 4;

/** A picture of a sheet's print, by an own small rasteriser: the share of every pixel that is inked. `toPicture` maps sheet mm to px. */
export function pictureOfPrint(
  sheet: Sheet,
  print: SamplePrint,
  { toPicture, width, height }: { readonly toPicture: Homography; readonly width: number; readonly height: number },
): GreyImage {
  const { cut = (p) => p, dots = sheet.dots, leaveOut = [], blots = [], spreadMm = 0 } = print;
  const openings = sheet.openings.filter(({ number }) => !leaveOut.includes(number)).map(({ firstCut }) => firstCut);
  const inPx = (contours: readonly Contour[], by: (p: Point) => Point) =>
    contours.flatMap((contour) => {
      const ring = flatRing(contour, 0);
      if (ring === null) return [];
      const points = grown(chords(ring.x, ring.y), spreadMm).map((p) => applyHomography(toPicture, by(p)));
      return [{ x: Float64Array.from(points, ({ x }) => x), y: Float64Array.from(points, ({ y }) => y) }];
    });
  const frame = maskFrame({ x0: 0, y0: 0, x1: width, y1: height }, { cellMm: 1 / FINE, maxCells: Infinity });
  const fine = new Uint8Array(frame.columns * frame.rows);
  for (const contours of openings) paintRings(fine, frame, { rings: inPx(contours, cut), value: 1 });
  for (const { at: p, diameterMm } of dots) {
    paintRings(fine, frame, { rings: inPx([circleContour(p, diameterMm / 2)], (q) => q), value: 1 });
  }
  paintRings(fine, frame, { rings: inPx(blots, (p) => p), value: 1 });
  const values = new Uint8Array(width * height);
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      let sum = 0;
      for (let j = 0; j < FINE; j++) {
        for (let i = 0; i < FINE; i++) sum += fine[(FINE * y + j) * frame.columns + FINE * x + i];
      }
      values[y * width + x] = Math.round(225 - (180 * sum) / FINE ** 2);
    }
  }
  return { width, height, values, white: 255 };
}

/** A scan of the whole sheet at a resolution, turned about its middle. */
export function scanFrame(
  sheet: Sheet,
  { pixelsPerMm: s, turnDeg, aroundMm = 2 }: { pixelsPerMm: number; turnDeg: number; aroundMm?: number },
): { toPicture: Homography; width: number; height: number } {
  const [c, d] = [Math.abs(Math.cos((turnDeg * Math.PI) / 180)), Math.abs(Math.sin((turnDeg * Math.PI) / 180))];
  const w = c * sheet.widthMm + d * sheet.heightMm + 2 * aroundMm;
  const h = d * sheet.widthMm + c * sheet.heightMm + 2 * aroundMm;
  const [cos, sin] = [s * Math.cos((turnDeg * Math.PI) / 180), s * Math.sin((turnDeg * Math.PI) / 180)];
  const [cx, cy] = [sheet.widthMm / 2, sheet.heightMm / 2];
  return {
    toPicture: [cos, -sin, (s * w) / 2 - cos * cx + sin * cy, sin, cos, (s * h) / 2 - sin * cx - cos * cy, 0, 0, 1],
    width: Math.round(s * w),
    height: Math.round(s * h),
  };
}

/** The ring with places no farther apart than 0.5 mm, so that maps bend its sides. */
function chords(x: Float64Array, y: Float64Array): Point[] {
  const points: Point[] = [];
  for (let k = 0; k < x.length; k++) {
    const n = (k + 1) % x.length;
    const parts = Math.max(1, Math.ceil(Math.hypot(x[n] - x[k], y[n] - y[k]) / 0.5));
    for (let i = 0; i < parts; i++) {
      points.push({ x: x[k] + (i / parts) * (x[n] - x[k]), y: y[k] + (i / parts) * (y[n] - y[k]) });
    }
  }
  return points;
}

/** A ring moved outwards, corner by corner along the bisector. */
function grown(points: readonly Point[], by: number): Point[] {
  if (by === 0) return [...points];
  const count = points.length;
  return points.map((p, k) => {
    const [o, n] = [points[(k + count - 1) % count], points[(k + 1) % count]];
    const unit = (a: Point, b: Point): Point => {
      const length = Math.hypot(b.x - a.x, b.y - a.y);
      return { x: (b.y - a.y) / length, y: -(b.x - a.x) / length };
    };
    const [u, v] = [unit(o, p), unit(p, n)];
    const share = by / (1 + u.x * v.x + u.y * v.y);
    return { x: p.x + share * (u.x + v.x), y: p.y + share * (u.y + v.y) };
  });
}
