import type { GreyImage } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { discShare, normalNumbers, pictureOf } from '../scale/drawn-pictures.test-help.js';
import { evenLight } from './even-light.js';
import { greyRings } from './grey-rings.js';
import { inkLevel } from './ink-level.js';

/** 4 px/mm: 2 mm tiles. */
const TILES = { tilePx: 8 };

/** Light that falls off to 60 % from a lamp, with dark corners and the soft shadow of a hand. */
function light(x: number, y: number, width: number, height: number): number {
  const lamp = 1 - (0.4 * x) / width;
  const corner = 1 - 0.25 * (Math.hypot(x / width - 0.5, y / height - 0.5) / 0.71) ** 2;
  // 6 mm of half-shadow.
  const hand = 1 - 0.4 / (1 + Math.exp((Math.hypot(x - 80, y - height) - 120) / 6));
  return lamp * corner * hand;
}

/** An 80 mm square of ink, a row of discs and thin lines at 4 px/mm. */
function drawing(x: number, y: number): number {
  const square = x >= 150 && x < 470 && y >= 60 && y < 380 ? 1 : 0;
  const disc = y < 412 ? 0 : discShare(x, y, { x: 60 + 80 * Math.round((x - 60) / 80), y: 430, r: 14 });
  const line = x >= 40 && x < 44 ? 1 : 0;
  return 1 - 0.86 * Math.max(square, disc, line);
}

describe('even light', () => {
  it('leaves a clean picture as it is, object and all', () => {
    const black = pictureOf(600, 480, (x, y) => (drawing(x, y) - 0.14) / 0.86);
    expect(evenLight(black, TILES)).toBe(black);
    const grey = pictureOf(600, 480, (x, y) => 0.93 * drawing(x, y));
    expect(evenLight(grey, TILES)).toBe(grey);
  });

  it('leaves a picture without any paper as it is', () => {
    const dark = pictureOf(64, 64, () => 0);
    expect(evenLight(dark)).toBe(dark);
  });

  it('takes a lamp, dark corners and the shadow of a hand away, and leaves a black area 80 mm wide black', () => {
    const gauss = normalNumbers(3);
    const lit = pictureOf(600, 480, (x, y) => 0.92 * light(x, y, 600, 480) * drawing(x, y) + 0.01 * gauss());
    const even = evenLight(lit, TILES);
    const { paper, ink } = inkLevel(even);
    let [farthest, darkest, lightestInk] = [0, 1, 0];
    for (let y = 4; y < 476; y++) {
      for (let x = 4; x < 596; x++) {
        const grey = meanAround(even, x, y);
        if (minAround(drawing, x, y) === 1) {
          farthest = Math.max(farthest, Math.abs(grey - paper) / paper);
          darkest = Math.min(darkest, meanAround(lit, x, y));
        } else if (maxAround(drawing, x, y) < 0.2) lightestInk = Math.max(lightestInk, grey);
      }
    }
    // The shadow was nearly halfway to ink: no one threshold could do.
    expect(darkest).toBeLessThan((0.92 + 0.13) / 2);
    expect(farthest).toBeLessThan(0.08);
    expect(lightestInk).toBeLessThan((paper + ink) / 2 - 0.2);
  });

  it('keeps edges where they are, in shadow and beside the black area', () => {
    const lit = pictureOf(600, 480, (x, y) => 0.92 * light(x, y, 600, 480) * drawing(x, y));
    const even = evenLight(lit, TILES);
    const greys = inkLevel(even);
    const rings = greyRings(even, greys.level, { greys });
    let edges = 0;
    for (const { points } of rings) {
      for (let k = 0; k < points.length; k += 2) {
        const [x, y] = [points[k], points[k + 1]];
        if (x > 154 && x < 466 && y > 40 && y < 400) {
          edges++;
          expect(Math.min(Math.abs(y - 60), Math.abs(y - 380))).toBeLessThan(0.06);
        }
      }
    }
    expect(edges).toBeGreaterThan(600);
  });

  it('does the same to 16 bits', () => {
    const lit = pictureOf(
      160,
      120,
      (x, y) => (1 - 0.3 * (x / 160)) * (discShare(x, y, { x: 70, y: 60, r: 30 }) ? 0.1 : 0.9),
    );
    const deep: GreyImage = { ...lit, values: Uint16Array.from(lit.values, (v) => 257 * v), white: 65535 };
    const [a, b] = [evenLight(lit), evenLight(deep)];
    const apart = Array.from(a.values, (v, k) => Math.abs(b.values[k] / 257 - v));
    expect(Math.max(...apart)).toBeLessThan(0.51);
  });

  it('refuses tiles that are none', () => {
    expect(() =>
      evenLight(
        pictureOf(4, 4, () => 1),
        { tilePx: 0 },
      ),
    ).toThrow(RangeError);
  });
});

function meanAround({ width, values }: GreyImage, x: number, y: number): number {
  let sum = 0;
  for (let j = -2; j <= 2; j++) for (let i = -2; i <= 2; i++) sum += values[(y + j) * width + x + i];
  return sum / 25 / 255;
}

function minAround(grey: (x: number, y: number) => number, x: number, y: number): number {
  let least = 1;
  for (let j = -3; j <= 3; j += 3) for (let i = -3; i <= 3; i += 3) least = Math.min(least, grey(x + i, y + j));
  return least;
}

function maxAround(grey: (x: number, y: number) => number, x: number, y: number): number {
  return -minAround((i, j) => -grey(i, j), x, y);
}
