import type { Box, Point } from '../../geometry/types.js';

/** A part of the cloth and where it is shown on its page. */
export interface MapWindow {
  /** On the cloth, mm. */
  readonly shows: Box;
  /** The upper left of it on the page, mm. */
  readonly at: Point;
}

/** The cloth spread over pages at one scale. */
export interface MapLayout {
  /** mm of page for a mm of cloth. */
  readonly scale: number;
  readonly pages: readonly (readonly MapWindow[])[];
  /** At this scale every placement has room for its number. */
  readonly numbered: boolean;
}

export interface MapLayoutOptions {
  /** Size of a placement's field, mm. */
  readonly field: { readonly widthMm: number; readonly heightMm: number };
  /** Corner of a field: the cloth is cut between placements counted from here. */
  readonly origin: Point;
  /** Room on a page, page mm. */
  readonly room: Box;
  /** The least a field may measure on the page to hold its number, mm. */
  readonly leastMm: { readonly width: number; readonly height: number };
  /** Free page kept at the left of every window and above it, mm. */
  readonly besideMm: number;
  readonly aboveMm: number;
}

/** More pages than this nobody hangs up beside the table; the table of placements has every number. */
export const MAP_PAGES_MAX = 40;
/** Strips side by side on a page. */
const STRIPS_MAX = 8;
/** A cut through the cloth is worth it where it shows it larger by this share. */
const CUT_COST = 0.15;
/** A map is no full-size drawing. */
const SCALE_MAX = 0.5;

/**
 * Spreads an area of cloth over as few pages as show every number: in strips side by side, cut between rows of placements; where the cloth is too wide for one strip also
 * between columns. Where `MAP_PAGES_MAX` pages don't do, one page without numbers.
 */
export function layMap(extent: Box, options: MapLayoutOptions): MapLayout {
  const { field, leastMm } = options;
  const least = Math.min(SCALE_MAX, Math.max(leastMm.width / field.widthMm, leastMm.height / field.heightMm));
  const strips = stripLayouts(extent, options);
  const readable = strips.filter(({ scale, pages }) => scale >= least && pages.length <= MAP_PAGES_MAX);
  const best = (layouts: readonly MapLayout[]): MapLayout | undefined =>
    layouts.reduce<MapLayout | undefined>((a, b) => (a === undefined || better(b, a) ? b : a), undefined);
  const found = best(readable) ?? tiled(extent, Math.max(least, (2 * leastMm.width) / field.widthMm), options);
  if (found !== null && found !== undefined) return found;
  const one = best(strips.filter(({ pages }) => pages.length === 1));
  if (one === undefined) throw new RangeError('got no layout of a map on one page, expected at least one');
  return { ...one, numbered: false };
}

/** Fewer pages first; then larger, where every cut through the cloth has to make it larger by a good deal. */
export function better(a: MapLayout, b: MapLayout): boolean {
  if (a.pages.length !== b.pages.length) return a.pages.length < b.pages.length;
  return a.scale * worth(b) > b.scale * worth(a);
}

function worth({ pages }: MapLayout): number {
  return 1 + CUT_COST * (pages.reduce((sum, windows) => sum + windows.length, 0) - 1);
}

/** Every way to cut the cloth between rows into strips, so many on a page. */
function stripLayouts(extent: Box, { field, origin, room, besideMm, aboveMm }: MapLayoutOptions): MapLayout[] {
  const [width, height] = [room.x1 - room.x0, room.y1 - room.y0];
  const rows = Math.max(1, Math.ceil((extent.y1 - origin.y) / field.heightMm));
  const layouts: MapLayout[] = [];
  for (const each of stripRows(rows)) {
    const cuts = cutsBetween(extent.y0, extent.y1, { from: origin.y, by: each * field.heightMm });
    const longest = Math.max(...cuts.slice(1).map((cut, k) => cut - cuts[k]));
    for (let n = 1; n <= Math.min(STRIPS_MAX, cuts.length - 1); n++) {
      const across = (width / n - besideMm) / (extent.x1 - extent.x0);
      const scale = Math.min(SCALE_MAX, across, (height - aboveMm) / longest);
      if (!(scale > 0)) continue;
      const wide = besideMm + scale * (extent.x1 - extent.x0);
      // What is over goes between the strips and at both sides.
      const gap = Math.max(0, width - n * wide) / (n + 1);
      const count = Math.ceil((cuts.length - 1) / n);
      if (count > MAP_PAGES_MAX) continue;
      const pages = Array.from({ length: count }, (_, page) =>
        cuts.slice(1 + page * n, 1 + (page + 1) * n).map((cut, k) => ({
          shows: { ...extent, y0: cuts[page * n + k], y1: cut },
          at: { x: room.x0 + gap + k * (wide + gap) + besideMm, y: room.y0 + aboveMm },
        })),
      );
      layouts.push({ scale, pages, numbered: true });
    }
  }
  return layouts;
}

/** Rows a strip, as far as they make a different number of strips. */
function stripRows(rows: number): number[] {
  const most = MAP_PAGES_MAX * STRIPS_MAX;
  return [...new Set(Array.from({ length: most }, (_, k) => Math.ceil(rows / (k + 1))))];
}

/** One window a page, at a scale at which half a placement still holds its number, cut between rows and columns; null where that takes too many pages. */
function tiled(extent: Box, scale: number, options: MapLayoutOptions): MapLayout | null {
  const { field, origin, room, besideMm, aboveMm } = options;
  const xs = fewestCuts(extent.x0, extent.x1, {
    from: origin.x,
    by: field.widthMm,
    most: (room.x1 - room.x0 - besideMm) / scale,
  });
  const ys = fewestCuts(extent.y0, extent.y1, {
    from: origin.y,
    by: field.heightMm,
    most: (room.y1 - room.y0 - aboveMm) / scale,
  });
  if (xs === null || ys === null) return null;
  if ((xs.length - 1) * (ys.length - 1) > MAP_PAGES_MAX) return null;
  const pages = ys.slice(1).flatMap((y1, r) =>
    xs.slice(1).map((x1, c) => [
      {
        shows: { x0: xs[c], y0: ys[r], x1, y1 },
        at: { x: room.x0 + besideMm, y: room.y0 + aboveMm },
      },
    ]),
  );
  return { scale, pages, numbered: true };
}

/** Cuts at whole placements so that no part is longer than `most`; null where a placement is. */
function fewestCuts(
  start: number,
  end: number,
  { from, by, most }: { from: number; by: number; most: number },
): number[] | null {
  for (let n = Math.floor(most / by); n >= 1; n--) {
    const cuts = cutsBetween(start, end, { from, by: n * by });
    if (cuts.slice(1).every((cut, k) => cut - cuts[k] <= most)) return cuts;
  }
  return null;
}

/** From `start` to `end`, cut at whole steps from a place; a last part of less than half a step goes to the one before. */
function cutsBetween(start: number, end: number, { from, by }: { from: number; by: number }): number[] {
  const cuts = [start];
  for (let k = 1; from + k * by < end - by / 2; k++) {
    if (from + k * by > start) cuts.push(from + k * by);
  }
  return [...cuts, end];
}
