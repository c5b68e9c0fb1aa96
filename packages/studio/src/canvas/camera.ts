import type { Box, Point } from '@okuri/core';

/** What is seen of a plane in mm on a window in px of the page. */
export interface Camera {
  /** mm, in the middle of the window. */
  readonly at: Point;
  readonly pxPerMm: number;
}

/** The window, px of the page. */
export interface WindowSize {
  readonly width: number;
  readonly height: number;
}

/** How near and how far one can go, px a mm: a join of 10 mm fills the window; 100 m of cloth fit into it. */
export const CLOSEST_PX_PER_MM = 120;
export const FARTHEST_PX_PER_MM = 0.005;

/** Rulers lie along the left and the top of the window, px. */
export const RULER_PX = 26;
/** Room about what is shown whole, px. */
const MARGIN_PX = 16;

/** The camera that shows the whole of a box in what the rulers leave free, with some room about it. */
export function fitBox(box: Box, { width, height }: WindowSize): Camera {
  const wide = Math.max(box.x1 - box.x0, 1e-6);
  const high = Math.max(box.y1 - box.y0, 1e-6);
  const taken = RULER_PX + 2 * MARGIN_PX;
  const pxPerMm = bounded(Math.min((width - taken) / wide, (height - taken) / high));
  const aside = RULER_PX / 2 / pxPerMm;
  return { at: { x: (box.x0 + box.x1) / 2 - aside, y: (box.y0 + box.y1) / 2 - aside }, pxPerMm };
}

/** Moved by a drag of the window, px: what was under the pointer stays under it. */
export function panBy({ at, pxPerMm }: Camera, dx: number, dy: number): Camera {
  return { at: { x: at.x - dx / pxPerMm, y: at.y - dy / pxPerMm }, pxPerMm };
}

/** Nearer (factor above 1) or farther; what lies under a place of the window (px) stays there. */
export function zoomAbout(camera: Camera, factor: number, place: Point, window: WindowSize): Camera {
  const under = toPlane(camera, place, window);
  const pxPerMm = bounded(camera.pxPerMm * factor);
  return {
    at: {
      x: under.x - (place.x - window.width / 2) / pxPerMm,
      y: under.y - (place.y - window.height / 2) / pxPerMm,
    },
    pxPerMm,
  };
}

/** A place of the window (px) on the plane (mm). */
export function toPlane({ at, pxPerMm }: Camera, place: Point, { width, height }: WindowSize): Point {
  return { x: at.x + (place.x - width / 2) / pxPerMm, y: at.y + (place.y - height / 2) / pxPerMm };
}

/** A place of the plane (mm) in the window (px). */
export function toWindow({ at, pxPerMm }: Camera, place: Point, { width, height }: WindowSize): Point {
  return { x: width / 2 + (place.x - at.x) * pxPerMm, y: height / 2 + (place.y - at.y) * pxPerMm };
}

/** What of the plane is seen, mm. */
export function seen(camera: Camera, window: WindowSize): Box {
  const a = toPlane(camera, { x: 0, y: 0 }, window);
  const b = toPlane(camera, { x: window.width, y: window.height }, window);
  return { x0: a.x, y0: a.y, x1: b.x, y1: b.y };
}

function bounded(pxPerMm: number): number {
  return Math.min(CLOSEST_PX_PER_MM, Math.max(FARTHEST_PX_PER_MM, pxPerMm));
}
