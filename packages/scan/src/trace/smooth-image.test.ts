import { describe, expect, it } from 'vitest';
import { halfPlaneShare, pictureOf } from '../scale/drawn-pictures.test-help.js';
import { greyRings } from './grey-rings.js';
import { smoothImage } from './smooth-image.js';

describe('a smoothed picture', () => {
  it('has a step spread as the normal law, and even greys as they were', () => {
    const step = smoothImage(
      pictureOf(41, 9, (x) => (x < 20 ? 0 : 1)),
      2,
    );
    for (let x = 0; x < 41; x++) {
      // Sum of the normal density at whole pixels, up to 1 level of rounding.
      let [below, all] = [0, 0];
      for (let k = -20; k <= 20; k++) {
        const weight = Math.exp(-(k * k) / 8);
        all += weight;
        if (k <= x - 20) below += weight;
      }
      expect(Math.abs(step.values[4 * 41 + x] - (255 * below) / all)).toBeLessThan(1.2);
    }
    expect(
      new Set(
        smoothImage(
          pictureOf(9, 7, () => 0.7),
          1,
        ).values,
      ),
    ).toEqual(new Set([179]));
  });

  it('has a straight edge where it was', () => {
    const line = { a: Math.cos(0.4), b: Math.sin(0.4), c: 26.2 };
    const image = smoothImage(
      pictureOf(40, 40, (x, y) => 1 - halfPlaneShare(x, y, line)),
      0.8,
    );
    const greys = { ink: 0, paper: 1, noise: 0 };
    const { points } = greyRings(image, 0.5, { greys })[0];
    for (let k = 0; k < points.length; k += 2) {
      const [x, y] = [points[k], points[k + 1]];
      if (Math.min(x, y) < 5 || Math.max(x, y) > 35) continue;
      expect(Math.abs(line.a * x + line.b * y - line.c)).toBeLessThan(0.02);
    }
  });
});
