import { colourChannels } from '../shared/colours.js';
import type { PixelBox } from './render.js';

/** A picture in the making; `data` is written to. */
export interface Canvas {
  readonly data: Uint8Array;
  readonly width: number;
  readonly height: number;
  readonly channels: 1 | 3;
}

/** An opaque canvas of one colour; with one channel, of its red. */
export function plainCanvas(width: number, height: number, channels: 1 | 3, colour: string): Canvas {
  const data = new Uint8Array(width * height * channels);
  const [red, green, blue] = colourChannels(colour);
  if (channels === 1 || (red === green && green === blue)) return { data: data.fill(red), width, height, channels };
  for (let k = 0; k < data.length; k += 3) {
    data[k] = red;
    data[k + 1] = green;
    data[k + 2] = blue;
  }
  return { data, width, height, channels };
}

/** Lays rendered pixels (red, green, blue, alpha) over a part of the canvas; with one channel, their red. */
export function layOver(canvas: Canvas, rgba: Uint8Array, box: PixelBox): void {
  const { data, channels } = canvas;
  for (let row = 0; row < box.height; row++) {
    let from = row * box.width * 4;
    let to = ((box.y + row) * canvas.width + box.x) * channels;
    for (const end = from + box.width * 4; from < end; from += 4, to += channels) {
      const alpha = rgba[from + 3];
      if (alpha === 0) continue;
      for (let c = 0; c < channels; c++) {
        data[to + c] = alpha === 255 ? rgba[from + c] : mixed(data[to + c], rgba[from + c], alpha / 255);
      }
    }
  }
}

/** The colours of rendered pixels without their alpha; with one channel, their red. Null where a pixel is not opaque. */
export function opaqueSamples(rgba: Uint8Array, channels: 1 | 3): Uint8Array | null {
  const samples = new Uint8Array((rgba.length / 4) * channels);
  for (let from = 0, to = 0; from < rgba.length; from += 4, to += channels) {
    if (rgba[from + 3] !== 255) return null;
    for (let c = 0; c < channels; c++) samples[to + c] = rgba[from + c];
  }
  return samples;
}

/** Copies a cell row by row to every shift, as far as it falls into the window. */
export function copyCell(
  canvas: Canvas,
  cell: { readonly samples: Uint8Array; readonly box: PixelBox },
  shifts: readonly (readonly [x: number, y: number])[],
  window: PixelBox,
): void {
  const { channels, width } = canvas;
  const { box } = cell;
  const from = Buffer.from(cell.samples.buffer, cell.samples.byteOffset, cell.samples.byteLength);
  const to = Buffer.from(canvas.data.buffer, canvas.data.byteOffset, canvas.data.byteLength);
  for (const [dx, dy] of shifts) {
    const x0 = Math.max(window.x, box.x + dx);
    const x1 = Math.min(window.x + window.width, box.x + dx + box.width);
    const y0 = Math.max(window.y, box.y + dy);
    const y1 = Math.min(window.y + window.height, box.y + dy + box.height);
    if (x0 >= x1) continue;
    for (let y = y0; y < y1; y++) {
      const start = ((y - box.y - dy) * box.width + (x0 - box.x - dx)) * channels;
      from.copy(to, (y * width + x0) * channels, start, start + (x1 - x0) * channels);
    }
  }
}

/** Mixes what lay under a window's edge pixels back in, where the window covers only a share of them. */
export function softenEdges(canvas: Canvas, under: Canvas, window: PixelBox, shares: EdgeShares): void {
  const { left, right, top, bottom } = shares;
  const lastColumn = window.x + window.width - 1;
  const lastRow = window.y + window.height - 1;
  const soften = (x: number, y: number): void => {
    const across = (x === window.x ? left : 1) * (x === lastColumn ? right : 1);
    const share = across * (y === window.y ? top : 1) * (y === lastRow ? bottom : 1);
    const place = (y * canvas.width + x) * canvas.channels;
    for (let c = 0; c < canvas.channels; c++) {
      canvas.data[place + c] = mixed(under.data[place + c], canvas.data[place + c], share);
    }
  };
  const rows = [...(top < 1 ? [window.y] : []), ...(bottom < 1 && lastRow !== window.y ? [lastRow] : [])];
  for (const y of rows) for (let x = window.x; x <= lastColumn; x++) soften(x, y);
  const columns = [...(left < 1 ? [window.x] : []), ...(right < 1 && lastColumn !== window.x ? [lastColumn] : [])];
  for (const x of columns) for (let y = window.y; y <= lastRow; y++) if (!rows.includes(y)) soften(x, y);
}

/** How much of its outermost pixels a window covers, 0 to 1. */
export interface EdgeShares {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

function mixed(under: number, over: number, share: number): number {
  return Math.round(under + (over - under) * share);
}
