import { InputError } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { joinedFrame } from './joined-frame.js';
import { cornersOf, sharedAreaMm2 } from './overlap-area.js';

const A3 = { widthMm: 297, heightMm: 420 };

describe('joinedFrame', () => {
  it('holds all pieces, the first one shifted by whole pixels', () => {
    const frame = joinedFrame(
      [A3, A3],
      [
        [1, 0, 0, 1, 0, 0],
        [1, 0, 0, 1, -100.03, 50.02],
      ],
      10,
    );
    expect(frame).toEqual({ width: 3971, height: 4701, shift: { x: 1001, y: 0 } });
  });

  it('refuses a picture of more than 300 million pixels, and says at what resolution it would do', () => {
    const apart = [
      [1, 0, 0, 1, 0, 0],
      [1, 0, 0, 1, 500, 800],
    ] as const;
    expect(() => joinedFrame([A3, A3], apart, 600 / 25.4)).toThrow(
      new InputError(
        'The joined picture would be 797 × 1220 mm and 543 million pixels, more than 300 million: scan at 446 dpi or coarser.',
      ),
    );
    expect(joinedFrame([A3, A3], apart, 446 / 25.4).width).toBe(13_995);
  });
});

describe('sharedAreaMm2', () => {
  it('is that of two squares turned by 45° to each other: a regular octagon, 8 tan 22.5° r²', () => {
    const square = { widthMm: 2, heightMm: 2 };
    const h = Math.SQRT1_2;
    const turned = cornersOf(square, [h, h, -h, h, 1, 1 - 2 * h]);
    expect(sharedAreaMm2(cornersOf(square, [1, 0, 0, 1, 0, 0]), turned)).toBeCloseTo(8 * Math.tan(Math.PI / 8), 12);
  });

  it('is nothing for pieces apart', () => {
    expect(sharedAreaMm2(cornersOf(A3, [1, 0, 0, 1, 0, 0]), cornersOf(A3, [1, 0, 0, 1, 300, 0]))).toBeCloseTo(0, 9);
  });
});
