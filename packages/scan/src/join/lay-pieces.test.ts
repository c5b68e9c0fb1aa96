import type { GreyImage } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { bicubicAt } from '../trace/sample-grey.js';
import { layPieces } from './lay-pieces.js';

const AS_IT_IS = { gain: 1, offset: 0 };

function even(width: number, height: number, grey: number): GreyImage {
  return { width, height, values: new Uint8Array(width * height).fill(grey), white: 255 };
}

describe('layPieces', () => {
  it('keeps the pixels of a piece that is shifted by whole ones, and fills what nothing covers', () => {
    const image: GreyImage = { width: 3, height: 2, values: Uint8Array.from([9, 80, 200, 255, 0, 31]), white: 255 };
    const laid = layPieces([{ image, motion: [1, 0, 0, 1, 1, 1], greys: AS_IT_IS }], {
      width: 5,
      height: 3,
      white: 255,
      ground: 0.5,
      blendPx: 1,
    });
    expect([...laid.values]).toEqual([128, 128, 128, 128, 128, 128, 9, 80, 200, 128, 128, 255, 0, 31, 128]);
  });

  it('changes from one piece to the other in the middle of their overlap, evenly, within the blend', () => {
    const options = { width: 60, height: 41, white: 255, ground: 1, blendPx: 4 } as const;
    const laid = layPieces(
      [
        { image: even(40, 41, 100), motion: [1, 0, 0, 1, 0, 0], greys: AS_IT_IS },
        { image: even(40, 41, 200), motion: [-1, 0, 0, -1, 60, 41], greys: AS_IT_IS },
      ],
      options,
    );
    const row = [...laid.values.subarray(20 * 60, 21 * 60)];
    // Overlap from 20 to 40: its middle is at 30, and depths differ by twice the distance from it.
    expect(row.slice(0, 28).every((grey) => grey === 100)).toBe(true);
    expect(row.slice(32).every((grey) => grey === 200)).toBe(true);
    expect(row[29] + row[30]).toBe(300);
    expect(row.slice(27, 33)).toEqual([...row.slice(27, 33)].sort((a, b) => a - b));
  });

  it('brings 8 bits to 16 by a straight line of greys', () => {
    const laid = layPieces([{ image: even(4, 4, 51), motion: [1, 0, 0, 1, 0, 0], greys: { gain: 2, offset: 0.1 } }], {
      width: 4,
      height: 4,
      white: 65535,
      ground: 1,
      blendPx: 1,
    });
    expect(laid.values[5]).toBe(Math.round(0.5 * 65535));
  });
});

describe('bicubicAt', () => {
  it('reproduces squares exactly (Keys 1981: a = −½ is the one cubic convolution that does)', () => {
    const [width, height] = [9, 8];
    const f = (x: number, y: number): number => 0.3 * x * x - 0.2 * x * y + 0.1 * y * y - x + 2;
    const values = Float32Array.from({ length: width * height }, (_, k) =>
      f((k % width) + 0.5, Math.floor(k / width) + 0.5),
    );
    for (const [x, y] of [
      [3.1, 4.7],
      [4.5, 2.5],
      [6.49, 5.01],
    ]) {
      expect(bicubicAt({ width, height, values }, x, y)).toBeCloseTo(f(x, y), 5);
    }
  });
});
