import type { Contour, Motif, Shape } from '@okuri/core';
import { contourArea } from '@okuri/core/inside';
import { type ReadOptions, readSvg } from './read-svg.js';

/** A drawing of 100 × 80 mm with 1 mm user units: for tests. */
export function drawing(body: string, attributes = 'width="100mm" height="80mm" viewBox="0 0 100 80"'): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${attributes}>${body}</svg>`;
}

export function read(body: string, options: ReadOptions = {}): Motif {
  return readSvg(drawing(body), options);
}

/** The signed areas of a shape's contours, summed, mm². */
export function areaOf(shape: Shape): number {
  return shape.contours.reduce((sum, contour) => sum + contourArea(contour), 0);
}

export function codes(motif: Motif): string[] {
  return motif.notices.map((notice) => notice.code);
}

/** Ends of a contour's curves, rounded to a thousandth. */
export function corners(contour: Contour): [number, number][] {
  const out: [number, number][] = [];
  const round = (value: number) => Math.round(value * 1000) / 1000 + 0;
  for (let k = 0; k < contour.coords.length; k += 6) out.push([round(contour.coords[k]), round(contour.coords[k + 1])]);
  return out;
}
