import { edgeAlong } from './edge-along.js';
import { greyRings } from './grey-rings.js';
import { bilinearAt, type InkRaster } from './sample-grey.js';

/** Share of ink at which an outline is looked for: under a half, so that a pen line thinner than a pixel has an outline too. */
export const EDGE_SHARE = 0.35;

/** Share of ink that is the outline in the full picture. */
export const FINE_SHARE = 0.5;

/** An outline's direction is taken from a blurred picture; where that changes less than this (share of ink over two pixels) there is none. */
const LEAST_SLOPE = 0.04;

/** Outline points, mm: `x0 y0 x1 y1 …`, and the unit vectors across the outline, from ink to paper. */
export interface EdgePlaces {
  readonly count: number;
  readonly places: Float64Array;
  readonly normals: Float64Array;
}

export const NO_EDGES: EdgePlaces = { count: 0, places: new Float64Array(0), normals: new Float64Array(0) };

/** Points of the outlines of a small picture of shares of ink, about a pixel apart, with their directions as `soft` (the same, blurred) shows them. */
export function edgePlaces({ raster, perMm }: InkRaster, { raster: soft }: InkRaster): EdgePlaces {
  const values = Uint8Array.from(raster.values, (share) => Math.min(Math.max(Math.round(255 * (1 - share)), 0), 255));
  const places: number[] = [];
  const normals: number[] = [];
  for (const { points } of greyRings({ ...raster, values, white: 255 }, 1 - EDGE_SHARE)) {
    for (let k = 0; k < points.length; k += 2) {
      const [x, y] = [points[k], points[k + 1]];
      const gx = bilinearAt(soft, x + 1, y) - bilinearAt(soft, x - 1, y);
      const gy = bilinearAt(soft, x, y + 1) - bilinearAt(soft, x, y - 1);
      const slope = Math.hypot(gx, gy);
      if (slope < LEAST_SLOPE) continue;
      places.push(x / perMm, y / perMm);
      normals.push(-gx / slope, -gy / slope);
    }
  }
  return { count: places.length / 2, places: Float64Array.from(places), normals: Float64Array.from(normals) };
}

/** Outline points moved onto the outline of the full picture; those that have none within `reachMm` are left out. */
export function fineEdgesOf(edges: EdgePlaces, fine: InkRaster, reachMm: number): EdgePlaces {
  const places: number[] = [];
  const normals: number[] = [];
  for (let k = 0; k < edges.count; k++) {
    const x = edges.places[2 * k];
    const y = edges.places[2 * k + 1];
    const nx = edges.normals[2 * k];
    const ny = edges.normals[2 * k + 1];
    const off = edgeAlong(fine, x, y, nx, ny, { share: FINE_SHARE, reachMm });
    if (Number.isNaN(off)) continue;
    places.push(x + off * nx, y + off * ny);
    normals.push(nx, ny);
  }
  return { count: places.length / 2, places: Float64Array.from(places), normals: Float64Array.from(normals) };
}
