import type { GreyImage } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { fillCracks } from './fill-cracks.js';

const GREYS = { ink: 0.2, paper: 0.9, level: 0.55, noise: 0 };
/** 300 dpi: a crack of a quarter of a millimetre is three pixels wide. */
const PER_MM = 300 / 25.4;
const [WIDTH, HEIGHT] = [40, 40];

/** A picture by the share of paper in every pixel. */
function pictureOf(paper: (x: number, y: number) => number): GreyImage {
  const values = new Uint8Array(WIDTH * HEIGHT);
  for (let k = 0; k < values.length; k++) {
    values[k] = Math.round(255 * (0.2 + 0.7 * paper(k % WIDTH, Math.floor(k / WIDTH))));
  }
  return { width: WIDTH, height: HEIGHT, values, white: 255 };
}

const inBar = (x: number): boolean => x >= 10 && x < 30;
const isInk = ({ values }: GreyImage, x: number, y: number): boolean => values[y * WIDTH + x] < 0.55 * 255;

describe('cracks in ink', () => {
  it('are filled across a bar, so that a fold parts nothing', () => {
    const picture = pictureOf((x, y) => (!inBar(x) ? 1 : y === 20 ? 0.7 : y === 21 ? 0.6 : 0));
    const filled = fillCracks(picture, GREYS, PER_MM);
    for (let x = 12; x < 28; x++) expect([isInk(picture, x, 20), isInk(filled, x, 20)]).toEqual([false, true]);
    // Paper beside the bar is what it was.
    for (let y = 0; y < HEIGHT; y++) expect(isInk(filled, 5, y)).toBe(false);
  });

  it('are not what a person drew: a gap as light as paper, a wide grey one, pencil beside ink, a wash', () => {
    const drawn: ((x: number, y: number) => number)[] = [
      (x, y) => (!inBar(x) || y === 20 || y === 21 ? 1 : 0),
      (x, y) => (!inBar(x) ? 1 : y >= 18 && y < 23 ? 0.65 : 0),
      (x, y) => (inBar(x) ? 0 : y >= 18 && y < 21 ? 0.6 : 1),
      (_, y) => (y < 20 ? 0.6 : 1),
      // A wedge of paper, 20°, whose tip is lighter than ink over half a pixel.
      (x, y) => Math.max(0, Math.min(1, (30 - y) * 0.35 - Math.abs(x - 20))),
    ];
    for (const paper of drawn) {
      const picture = pictureOf(paper);
      expect(fillCracks(picture, GREYS, PER_MM)).toBe(picture);
    }
  });

  it('reach no farther than a quarter of a millimetre at any resolution', () => {
    for (const [perMm, wide] of [
      [200 / 25.4, 2],
      [300 / 25.4, 3],
      [600 / 25.4, 6],
    ]) {
      const gap = (rows: number) => pictureOf((x, y) => (!inBar(x) ? 1 : y >= 15 && y < 15 + rows ? 0.7 : 0));
      expect(isInk(fillCracks(gap(wide - 1), GREYS, perMm), 20, 15)).toBe(true);
      expect(isInk(fillCracks(gap(wide), GREYS, perMm), 20, 15)).toBe(false);
    }
  });
});
