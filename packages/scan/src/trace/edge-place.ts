import type { GreyImage } from '@okuri/core';

/** How far from a crossing an edge may take to come from ink to paper, px to each side: wider ones are blurred enough for straight interpolation. */
const REACH_PX = 5;

/** Grey left over (of the step from ink to paper) at which an edge counts as passed, where the picture has no noise. */
const CLEAN_REST = 0.015;

/** Nor may it ever be more than this, or an edge would pass for another. */
const MOST_REST = 0.12;

/** Standard deviations of noise that a pixel of even paper or ink may differ from its middle. */
const NOISE_WIDTHS = 3;

/** Steepest slope of an edge, against the axis at a right angle to it, for which its place is taken along that axis. */
const MOST_SLOPE = 1.5;

/** Farthest that the two ways of placing an edge may differ, px: straight interpolation of pixels wholly or partly covered errs by less than 0.1. */
const MOST_SHIFT_PX = 0.5;

/** Middle greys of ink and paper and the noise between them, 0 … 1. */
export interface EdgeGreys {
  readonly ink: number;
  readonly paper: number;
  readonly noise: number;
}

/** How a place was found: by area along its axis; by interpolation, the edge running too much along its axis; by interpolation, no clean edge. */
export const PLACED = 1;
export const ALONG = 2;
export const BLENDED = 3;

/** Finds places of edges between neighbouring pixels. `kind` says how the last one was found. */
export interface EdgePlacer {
  /** The place between a dark pixel (x, y) and its light neighbour at (x + dx, y + dy), as a share of the way between their middles. */
  place(x: number, y: number, dx: number, dy: number): number;
  kind: number;
}

/**
 * Where an edge crosses the line between two pixels' middles. Straight interpolation of the two greys is right for a blurred edge, but a pixel's grey is
 * the share of it that is covered, and next to a sharp edge this runs on straight only until the pixel is full: on a level edge interpolation is wrong by up to
 * 0.09 px, always to the same side. So where greys run from even ink to even paper within a few pixels along the row or the column, the edge is put where
 * it keeps their area, which is exact for every straight edge at any slope and blur (the first moment of A. J. Tabatabai and O. R. Mitchell, Edge Location to Subpixel
 * Values in Digital Imagery, IEEE PAMI 6 (1984) 188, with both greys known). Elsewhere (thin lines, sharp corners) it is interpolated. `greys` null: always.
 */
export function edgePlacer(image: GreyImage, level: number, greys: EdgeGreys | null): EdgePlacer {
  const { width, height, values, white } = image;
  const limit = level * white;
  const ink = (greys?.ink ?? 0) * white;
  const span = ((greys?.paper ?? 1) - (greys?.ink ?? 0)) * white;
  const noise = greys === null ? 0 : greys.noise / (greys.paper - greys.ink);
  const rest = Math.min(MOST_REST, Math.max(CLEAN_REST, 1.5 / Math.abs(span), NOISE_WIDTHS * noise));

  /** Adds up what the pixels from (x, y) on lack of even grey `goal`, or NaN where they don't reach it. */
  function lacking(x: number, y: number, dx: number, dy: number, goal: 0 | 1): number {
    let sum = 0;
    let last = 2;
    for (let step = 0; step < REACH_PX; step++, x += dx, y += dy) {
      if (x < 0 || y < 0 || x >= width || y >= height) return Number.NaN;
      const share = (values[y * width + x] - ink) / span;
      const lack = goal === 0 ? share : 1 - share;
      if (lack > last + rest || lack < -2 * rest) return Number.NaN;
      sum += lack;
      if (lack <= rest) return sum;
      last = lack;
    }
    return Number.NaN;
  }

  /** The grey's change across the way, per pixel. */
  function across(x: number, y: number, dx: number, dy: number): number {
    if (dx !== 0) {
      const up = y > 0 ? -width : 0;
      const down = y < height - 1 ? width : 0;
      const k = y * width + x;
      const run = up !== 0 && down !== 0 ? 4 : 2;
      return (values[k + down] + values[k + dx + down] - values[k + up] - values[k + dx + up]) / run;
    }
    const left = x > 0 ? -1 : 0;
    const right = x < width - 1 ? 1 : 0;
    const k = y * width + x;
    const below = k + dy * width;
    const run = left !== 0 && right !== 0 ? 4 : 2;
    return (values[k + right] + values[below + right] - values[k + left] - values[below + left]) / run;
  }

  return {
    kind: BLENDED,
    place(x, y, dx, dy) {
      const from = values[y * width + x];
      const to = values[(y + dy) * width + x + dx];
      const straight = (limit - from) / (to - from);
      this.kind = BLENDED;
      if (greys === null) return straight;
      if (Math.abs(across(x, y, dx, dy)) > MOST_SLOPE * Math.abs(to - from)) {
        this.kind = ALONG;
        return straight;
      }
      const place = 0.5 - lacking(x, y, -dx, -dy, 0) + lacking(x + dx, y + dy, dx, dy, 1);
      if (!(Math.abs(place - straight) <= MOST_SHIFT_PX)) return straight;
      this.kind = PLACED;
      return place;
    },
  };
}
