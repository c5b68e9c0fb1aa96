import { bicubicAt, type InkRaster } from './sample-grey.js';

/** Samples along the line, px apart: an edge is at least a pixel wide. */
const STEP_PX = 0.5;

/**
 * How far along a line from `(x, y)` (mm) in the unit direction `(nx, ny)` ink turns into paper: the nearest place at which the share of ink falls through
 * `share`, mm, below zero against the direction; NaN where there is none within `reachMm`. Outside of the picture its border goes on.
 */
export function edgeAlong(
  { raster, perMm, paper, ink }: InkRaster,
  x: number,
  y: number,
  nx: number,
  ny: number,
  { share, reachMm }: { share: number; reachMm: number },
): number {
  const scale = 1 / (ink - paper);
  const px = x * perMm;
  const py = y * perMm;
  const dx = nx * STEP_PX;
  const dy = ny * STEP_PX;
  const steps = Math.ceil((reachMm * perMm) / STEP_PX);
  let ahead = (bicubicAt(raster, px, py) - paper) * scale - share;
  let behind = ahead;
  for (let k = 1; k <= steps; k++) {
    const next = (bicubicAt(raster, px + k * dx, py + k * dy) - paper) * scale - share;
    const last = (bicubicAt(raster, px - k * dx, py - k * dy) - paper) * scale - share;
    const forth = ahead > 0 && next <= 0 ? k - 1 + ahead / (ahead - next) : Number.POSITIVE_INFINITY;
    const back = last > 0 && behind <= 0 ? k - last / (last - behind) : Number.POSITIVE_INFINITY;
    const nearest = Math.min(forth, back);
    if (nearest < Number.POSITIVE_INFINITY) {
      const mm = (nearest * STEP_PX) / perMm;
      return mm > reachMm ? Number.NaN : forth < back ? mm : -mm;
    }
    ahead = next;
    behind = last;
  }
  return Number.NaN;
}
