import { type Box, boxContour, type Item, type Matrix } from '@okuri/core';
import { transformBox } from '@okuri/core/inside';
import { common } from '../shared/bounds.js';
import { PITCH_TOLERANCE, pixelSize, type Resolution } from './options.js';
import type { PixelBox } from './render.js';
import type { TiledPage } from './tile-plan.js';

/**
 * A part of the picture that is rendered once and then copied. `box` lies somewhere on the page's picture (perhaps partly outside it);
 * `items` draw it; `shifts` are the whole pixels by which it is copied, so that the window is filled.
 */
export interface CellPlan {
  readonly resolution: Resolution;
  readonly box: PixelBox;
  readonly items: readonly Item[];
  readonly shifts: readonly (readonly [x: number, y: number])[];
}

/** Places that agree to this share of a pixel are taken as the same: no 8-bit edge shows less than 1/255. */
const SAME_PX = 1 / 512;

/** Lengths below this are rounding of coordinates to 0.1 µm, added up over a few steps, mm. */
const ROUNDING_MM = 2e-3;

/**
 * How to fill the window by copying: first one tile alone, when the resolution can be bent (by `PITCH_TOLERANCE` at most) so that every
 * step is whole pixels; else the smallest block of tiles that repeats straight across and down in whole pixels. Null when neither can be
 * had from the copies that there are, or when it would be larger than the picture.
 */
export function cellPlan(page: TiledPage, pixelsPerMm: number): CellPlan | null {
  const plan = tilePlan(page, pixelsPerMm) ?? blockPlan(page, pixelsPerMm);
  if (plan === null) return null;
  const { width, height } = pixelSize(page.page, plan.resolution);
  // A cell as large as the picture saves nothing.
  return plan.box.width * plan.box.height > width * height ? null : plan;
}

function tilePlan(page: TiledPage, pixelsPerMm: number): CellPlan | null {
  const { place, window } = page;
  const { tile, at } = place;
  const x = wholePitch(commonMeasure([tile.x1 - tile.x0, ...at.map((m) => m[4] - at[0][4])]), pixelsPerMm, 1);
  const y = wholePitch(commonMeasure([tile.y1 - tile.y0, ...at.map((m) => m[5] - at[0][5])]), pixelsPerMm, 1);
  if (x === null || y === null) return null;
  const resolution = { x: x.perMm, y: y.perMm };
  const width = Math.round((tile.x1 - tile.x0) * resolution.x);
  const height = Math.round((tile.y1 - tile.y0) * resolution.y);
  const reference = middleCopy(at, tile, window);
  const cell = cellAt(place, reference, resolution, width, height);
  if (cell === null) return null;
  const first = at[reference];
  const shifts = at.map((m): [number, number] => [
    Math.round((m[4] - first[4]) * resolution.x),
    Math.round((m[5] - first[5]) * resolution.y),
  ]);
  const plan = { resolution, box: cell.box, items: cell.items, shifts };
  return fillsWindow(plan, pixelWindow(page, resolution)) ? plan : null;
}

function blockPlan(page: TiledPage, pixelsPerMm: number): CellPlan | null {
  const { place, window } = page;
  const { tile, at } = place;
  const centre = middleCopy(at, tile, window);
  const across = smallestStep(at, at[centre], 4, 5);
  const down = smallestStep(at, at[centre], 5, 4);
  if (across === null || down === null || !repeats(page, across, down)) return null;
  const x = wholePitch(across, pixelsPerMm, Math.ceil((window.x1 - window.x0) / across));
  const y = wholePitch(down, pixelsPerMm, Math.ceil((window.y1 - window.y0) / down));
  if (x === null || y === null) return null;
  const resolution = { x: x.perMm, y: y.perMm };
  const reference = cornerCopy(at, tile, window, x.times * across, y.times * down);
  const cell = cellAt(place, reference, resolution, x.pixels, y.pixels);
  if (cell === null) return null;
  const seen = pixelWindow(page, resolution);
  const shifts: [number, number][] = [];
  for (let j = Math.floor((seen.y - cell.box.y) / y.pixels); cell.box.y + j * y.pixels < seen.y + seen.height; j++) {
    for (let i = Math.floor((seen.x - cell.box.x) / x.pixels); cell.box.x + i * x.pixels < seen.x + seen.width; i++) {
      shifts.push([i * x.pixels, j * y.pixels]);
    }
  }
  return { resolution, box: cell.box, items: cell.items, shifts };
}

/** Pixels for a mm near the wanted, and the fewest pitches, for which a whole number of pixels fits. */
function wholePitch(
  pitchMm: number | null,
  pixelsPerMm: number,
  most: number,
): { readonly perMm: number; readonly times: number; readonly pixels: number } | null {
  if (pitchMm === null) return null;
  for (let times = 1; times <= most; times++) {
    const pixels = Math.round(pitchMm * times * pixelsPerMm);
    const perMm = pixels / (pitchMm * times);
    if (pixels > 0 && Math.abs(perMm / pixelsPerMm - 1) <= PITCH_TOLERANCE) return { perMm, times, pixels };
  }
  return null;
}

/** The largest length of which all the lengths are whole multiples, to rounding; null when there is none to speak of. */
function commonMeasure(lengths: readonly number[]): number | null {
  let measure = 0;
  let longest = 0;
  for (const length of lengths) {
    let a = Math.abs(length);
    longest = Math.max(longest, a);
    // Euclid's algorithm with a remainder of rounding taken as none.
    let b = measure;
    while (b > ROUNDING_MM) {
      const rest = Math.abs(a - b * Math.round(a / b));
      a = b;
      b = rest;
    }
    measure = a > ROUNDING_MM ? a : measure;
  }
  if (measure < 100 * ROUNDING_MM) return null;
  // The longest length states the measure best.
  return longest / Math.round(longest / measure);
}

/** The pixel box of a cell that begins with a copy's tile, and the copies whose tiles fill it; null where they do not. */
function cellAt(
  place: TiledPage['place'],
  reference: number,
  resolution: Resolution,
  width: number,
  height: number,
): { readonly box: PixelBox; readonly items: readonly Item[] } | null {
  const { tile, at } = place;
  const x = Math.round((tile.x0 + at[reference][4]) * resolution.x);
  const y = Math.round((tile.y0 + at[reference][5]) * resolution.y);
  const inset = { x: SAME_PX / resolution.x, y: SAME_PX / resolution.y };
  const cell = {
    x0: x / resolution.x + inset.x,
    y0: y / resolution.y + inset.y,
    x1: (x + width) / resolution.x - inset.x,
    y1: (y + height) / resolution.y - inset.y,
  };
  let covered = 0;
  const copies = at.filter((m) => {
    const seen = common(transformBox(tile, m), cell);
    if (seen === null) return false;
    covered += (seen.x1 - seen.x0) * (seen.y1 - seen.y0);
    return true;
  });
  const area = (cell.x1 - cell.x0) * (cell.y1 - cell.y0);
  const most = Math.max(inset.x, inset.y);
  if (covered < area - 2 * most * (cell.x1 - cell.x0 + cell.y1 - cell.y0)) return null;
  return { box: { x, y, width, height }, items: apartCopies({ ...place, at: copies }, resolution) };
}

/**
 * Copies of a tile, each seen only in pixels of its own: those whose middles lie in its tile. Drawn one over the other, the soft
 * edge of a copy would mix into its neighbour and show as a faint seam. Clips along whole pixels have no soft edge.
 */
export function apartCopies(place: TiledPage['place'], resolution: Resolution): Item[] {
  if (place.at.length === 1) return [place];
  const { x, y } = resolution;
  return place.at.map((m) => {
    const tile = transformBox(place.tile, m);
    const own = {
      x0: Math.round(tile.x0 * x - SAME_PX) / x,
      y0: Math.round(tile.y0 * y - SAME_PX) / y,
      x1: Math.round(tile.x1 * x - SAME_PX) / x,
      y1: Math.round(tile.y1 * y - SAME_PX) / y,
    };
    return { kind: 'clip', contours: [boxContour(own)], items: [{ ...place, at: [m] }] };
  });
}

/** The copy whose tile is nearest to the window's middle: if any has all its neighbours, it has. */
function middleCopy(at: readonly Matrix[], tile: Box, window: Box): number {
  const x = (window.x0 + window.x1 - tile.x0 - tile.x1) / 2;
  const y = (window.y0 + window.y1 - tile.y0 - tile.y1) / 2;
  return nearest(at, x, y);
}

/** The copy from which a block of the given size lies nearest to the window's middle. */
function cornerCopy(at: readonly Matrix[], tile: Box, window: Box, width: number, height: number): number {
  const x = (window.x0 + window.x1 - width) / 2 - tile.x0;
  const y = (window.y0 + window.y1 - height) / 2 - tile.y0;
  return nearest(at, x, y);
}

function nearest(at: readonly Matrix[], x: number, y: number): number {
  let best = 0;
  let least = Infinity;
  at.forEach((m, k) => {
    const distance = (m[4] - x) ** 2 + (m[5] - y) ** 2;
    if (distance < least) [best, least] = [k, distance];
  });
  return best;
}

/** The shortest step from one copy to another that lies straight along the axis; null when there is none. */
function smallestStep(at: readonly Matrix[], from: Matrix, axis: 4 | 5, other: 4 | 5): number | null {
  let least = Infinity;
  for (const m of at) {
    const step = Math.abs(m[axis] - from[axis]);
    if (Math.abs(m[other] - from[other]) <= ROUNDING_MM && step > ROUNDING_MM && step < least) least = step;
  }
  return least === Infinity ? null : least;
}

/** True where a step across or down from any copy that is seen meets another copy, or leaves the window. */
function repeats({ place, window }: TiledPage, across: number, down: number): boolean {
  const seen = (e: number, f: number): boolean => {
    const box = common(transformBox(place.tile, [1, 0, 0, 1, e, f]), window);
    return box !== null && Math.min(box.x1 - box.x0, box.y1 - box.y0) > ROUNDING_MM;
  };
  const places = new Set(place.at.map((m) => `${gridPlace(m[4])} ${gridPlace(m[5])}`));
  const taken = (e: number, f: number): boolean => {
    for (let u = -1; u <= 1; u++) {
      for (let v = -1; v <= 1; v++) if (places.has(`${gridPlace(e) + u} ${gridPlace(f) + v}`)) return true;
    }
    return false;
  };
  return place.at.every(([, , , , e, f]) => {
    if (!seen(e, f)) return true;
    const steps = [
      [e + across, f],
      [e - across, f],
      [e, f + down],
      [e, f - down],
    ];
    return steps.every(([x, y]) => !seen(x, y) || taken(x, y));
  });
}

function gridPlace(mm: number): number {
  return Math.round(mm / (2 * ROUNDING_MM));
}

/** The window in whole pixels, outwards, as far as the page's picture goes. */
export function pixelWindow({ page, window }: TiledPage, resolution: Resolution): PixelBox {
  const { width, height } = pixelSize(page, resolution);
  const x = Math.max(0, Math.floor(window.x0 * resolution.x + SAME_PX));
  const y = Math.max(0, Math.floor(window.y0 * resolution.y + SAME_PX));
  return {
    x,
    y,
    width: Math.min(width, Math.ceil(window.x1 * resolution.x - SAME_PX)) - x,
    height: Math.min(height, Math.ceil(window.y1 * resolution.y - SAME_PX)) - y,
  };
}

function fillsWindow({ box, shifts }: CellPlan, window: PixelBox): boolean {
  let covered = 0;
  for (const [dx, dy] of shifts) {
    const width = Math.min(box.x + dx + box.width, window.x + window.width) - Math.max(box.x + dx, window.x);
    const height = Math.min(box.y + dy + box.height, window.y + window.height) - Math.max(box.y + dy, window.y);
    if (width > 0 && height > 0) covered += width * height;
  }
  return covered >= window.width * window.height;
}
