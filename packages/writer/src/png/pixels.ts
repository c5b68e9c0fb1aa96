import { boxContour, type Drawing, type Item } from '@okuri/core';
import { checkedColour } from '../shared/colours.js';
import { pageOf } from '../shared/lengths.js';
import { type Canvas, copyCell, type EdgeShares, layOver, opaqueSamples, plainCanvas, softenEdges } from './blend.js';
import { apartCopies, type CellPlan, cellPlan, pixelWindow } from './cell-plan.js';
import { PAPER, type PixelOptions, type Pixels, pixelSize, type Resolution } from './options.js';
import { recoloured, recolouredGroups } from './recolour.js';
import { type PixelBox, renderBox } from './render.js';
import { coloursOf, type TiledPage, tiledPage } from './tile-plan.js';

/** Pixels drawn at a time, so that four channels of a large picture need not be held at once. */
const PART_PIXELS = 16_000_000;

/**
 * One page as opaque pixels on white paper, edges softened. Copies of a tile are rendered once and copied by the row, wherever the
 * resolution can be bent by `PITCH_TOLERANCE` so that they repeat in whole pixels; what lies under and over them is drawn by the
 * general renderer. A page of two colours at most comes as one channel. Throws an `InputError` for a resolution that is not
 * above zero, for more than `MAX_PIXELS`, and for what `toSvg` refuses.
 */
export async function renderPixels(drawing: Drawing, pageIndex: number, options: PixelOptions): Promise<Pixels> {
  const page = pageOf(drawing, pageIndex);
  const wanted: Resolution = { x: options.pixelsPerMm, y: options.pixelsPerMm };
  const size = pixelSize(page, wanted);
  const tiled = tiledPage(page);
  const plan = tiled === null ? null : cellPlan(tiled, wanted.x);
  if (tiled !== null && plan !== null) {
    const palette = paletteOf(drawing, page.items, !coversPage(tiled));
    const pixels = await drawTiled(palette, tiled, plan);
    if (pixels !== null) return pixels;
  }
  const palette = paletteOf(drawing, page.items, true);
  const canvas = plainCanvas(size.width, size.height, palette.channels, palette.paper);
  // Without copying, the copies still must not mix at their edges.
  const items = tiled !== null && plan === null ? apartItems(tiled, wanted) : page.items;
  await drawItems(canvas, palette, items, wanted);
  return pixelsOf(canvas, palette, wanted);
}

/** How the colours of a page become channels. */
interface Palette {
  readonly channels: 1 | 3;
  readonly colours?: readonly [string, string];
  /** The paper's colour on the canvas. */
  readonly paper: string;
  /** The drawing's groups, and items of the page, in the canvas's colours. */
  readonly drawing: Drawing;
  readonly recolour: (items: readonly Item[]) => readonly Item[];
}

function paletteOf(drawing: Drawing, items: readonly Item[], paperShows: boolean): Palette {
  const colours = new Set([...(paperShows ? [PAPER] : []), ...coloursOf(drawing, items).map(checkedColour)]);
  if (colours.size > 2) return { channels: 3, paper: PAPER, drawing, recolour: (list) => list };
  const [first = PAPER, second = first] = [...colours];
  // The pair as black and white: then any channel is the share of the second colour.
  const map = new Map([
    [second, '#ffffff'],
    [first, '#000000'],
  ]);
  return {
    channels: 1,
    colours: [first, second],
    paper: map.get(PAPER) ?? PAPER,
    drawing: recolouredGroups(drawing, map),
    recolour: (list) => recoloured(list, map),
  };
}

function pixelsOf(canvas: Canvas, { colours }: Palette, resolution: Resolution): Pixels {
  return { ...canvas, ...(colours !== undefined && { colours }), resolution };
}

function apartItems({ under, place, window, over }: TiledPage, resolution: Resolution): Item[] {
  return [...under, { kind: 'clip', contours: [boxContour(window)], items: apartCopies(place, resolution) }, ...over];
}

/** Null when the cell's content leaves part of it open, against the promise of `PlaceItem.tile`. */
async function drawTiled(palette: Palette, tiled: TiledPage, plan: CellPlan): Promise<Pixels | null> {
  const { resolution, box } = plan;
  const { width, height } = pixelSize(tiled.page, resolution);
  const rgba = await renderBox(palette.drawing, palette.recolour(plan.items), box, resolution);
  const samples = opaqueSamples(rgba, palette.channels);
  if (samples === null) return null;

  const window = pixelWindow(tiled, resolution);
  const shares = edgeShares(tiled, window, resolution);
  const canvas = plainCanvas(width, height, palette.channels, palette.paper);
  const soft = Math.min(...Object.values(shares)) < 1;
  if (tiled.under.length > 0 && (soft || window.width < width || window.height < height)) {
    await drawItems(canvas, palette, tiled.under, resolution);
  }
  const under = soft ? { ...canvas, data: canvas.data.slice() } : canvas;
  copyCell(canvas, { samples, box }, plan.shifts, window);
  if (soft) softenEdges(canvas, under, window, shares);
  if (tiled.over.length > 0) await drawItems(canvas, palette, tiled.over, resolution);
  return pixelsOf(canvas, palette, resolution);
}

async function drawItems(
  canvas: Canvas,
  palette: Palette,
  items: readonly Item[],
  resolution: Resolution,
): Promise<void> {
  const list = palette.recolour(items);
  const rows = Math.max(1, Math.floor(PART_PIXELS / canvas.width));
  for (let y = 0; y < canvas.height; y += rows) {
    const box = { x: 0, y, width: canvas.width, height: Math.min(rows, canvas.height - y) };
    layOver(canvas, await renderBox(palette.drawing, list, box, resolution), box);
  }
}

function coversPage({ window, page }: TiledPage): boolean {
  return window.x0 <= 0 && window.y0 <= 0 && window.x1 >= page.widthMm && window.y1 >= page.heightMm;
}

function edgeShares({ window, page }: TiledPage, box: PixelBox, resolution: Resolution): EdgeShares {
  const share = (covered: number): number => Math.min(1, Math.max(0, covered));
  return {
    left: window.x0 <= 0 ? 1 : share(box.x + 1 - window.x0 * resolution.x),
    top: window.y0 <= 0 ? 1 : share(box.y + 1 - window.y0 * resolution.y),
    right: window.x1 >= page.widthMm ? 1 : share(window.x1 * resolution.x - (box.x + box.width - 1)),
    bottom: window.y1 >= page.heightMm ? 1 : share(window.y1 * resolution.y - (box.y + box.height - 1)),
  };
}
