import { contoursBox, InputError } from '@okuri/core';
import { contourArea, type Homography } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { discShare, normalNumbers, pictureOf, straightScale } from '../scale/drawn-pictures.test-help.js';
import { applyHomography, invertHomography } from '../scale/homography.js';
import type { PictureScale } from '../types.js';
import { traceImage } from './trace-image.js';

const SCALE = straightScale(10);

function sum(contours: Parameters<typeof contourArea>[0][]): number {
  return contours.reduce((total, contour) => total + contourArea(contour), 0);
}

/** A disc of 8 mm radius with a hole of 3, a hole of a tenth of a mm², and three specks. */
const dotted = pictureOf(240, 220, (x, y) => {
  const disc = discShare(x, y, { x: 110, y: 110, r: 80 });
  const holes = discShare(x, y, { x: 100, y: 110, r: 30 }) + discShare(x, y, { x: 160, y: 110, r: 1.8 });
  const specks = [
    { x: 15, y: 15, r: 2 },
    { x: 220, y: 30, r: 3 },
    { x: 100, y: 110, r: 3 },
  ].reduce((most, speck) => Math.max(most, discShare(x, y, speck)), 0);
  return 1 - Math.max(disc - Math.min(1, holes), specks);
});

describe('a traced picture', () => {
  it('gives outlines in mm, holes turned back, specks and pinholes counted', () => {
    const trace = traceImage(dotted, SCALE);
    expect(trace.contours.length).toBe(2);
    expect(sum([...trace.contours])).toBeCloseTo(Math.PI * (64 - 9), 1);
    expect(contourArea(trace.contours[1])).toBeLessThan(0);
    expect(trace.specks.count).toBe(3);
    // Chords across a circle of two or three pixels lose some percents.
    expect(Math.abs(trace.specks.areaMm2 / (Math.PI * (0.04 + 0.09 + 0.09)) - 1)).toBeLessThan(0.05);
    expect(trace.pinholes.count).toBe(1);
    expect(Math.abs(trace.pinholes.areaMm2 / (Math.PI * 0.18 ** 2) - 1)).toBeLessThan(0.12);
    expect([trace.level, trace.ink, trace.paper]).toEqual([0.5, 0, 1]);
    expect(trace.nodes).toBe(trace.contours.reduce((n, { coords }) => n + (coords.length - 2) / 6, 0));
    const all = traceImage(dotted, SCALE, { speckMm2: 0, pinholeMm2: 0 });
    expect(all.contours.length).toBe(6);
  });

  it('takes the light parts for the drawing when told to', () => {
    const trace = traceImage(dotted, SCALE, { light: true, region: { x0: 1, y0: 1, x1: 23, y1: 21 } });
    expect([trace.ink, trace.paper]).toEqual([1, 0]);
    // The specks of ink are pinholes in it now.
    expect(trace.pinholes.count).toBe(3);
    expect(sum([...trace.contours])).toBeCloseTo(22 * 20 - Math.PI * (64 - 9), 0);
  });

  it('keeps to a region, with a true edge where it cuts through ink', () => {
    const half = traceImage(dotted, SCALE, {
      region: [
        { x: 11.037, y: 0 },
        { x: 22, y: 0 },
        { x: 22, y: 22 },
        { x: 11.037, y: 22 },
      ],
    });
    const box = contoursBox(half.contours)!;
    expect(box.x0).toBeCloseTo(11.037, 2);
    expect(box.x1).toBeCloseTo(19, 1);
  });

  it('maps points, not pixels: through a slanting view a disc has its true place and area', () => {
    // From paper (mm) to picture (px), as a hand-held camera sees it.
    const toPx: Homography = [11, 1.5, 20, -1.2, 10, 40, 0.004, 0.006, 1];
    const toMm = invertHomography(toPx)!;
    const image = pictureOf(260, 250, (x, y) => {
      let inside = 0;
      for (let k = 0; k < 64; k++) {
        const p = applyHomography(toMm, { x: x + ((k & 7) + 0.5) / 8, y: y + ((k >> 3) + 0.5) / 8 });
        if (Math.hypot(p.x - 11, p.y - 10) < 6) inside++;
      }
      return 1 - inside / 64;
    });
    const scale: PictureScale = { toMm, from: 'points', pixelsPerMm: 9, perspective: true, words: 'test' };
    const { contours } = traceImage(image, scale);
    expect(contours.length).toBe(1);
    expect(Math.abs(contourArea(contours[0]) / (36 * Math.PI) - 1)).toBeLessThan(0.002);
    const { x0, y0, x1, y1 } = contoursBox(contours)!;
    for (const [got, true_] of [
      [x0, 5],
      [y0, 4],
      [x1, 17],
      [y1, 16],
    ])
      expect(Math.abs(got - true_)).toBeLessThan(0.02);
    // Seen in a mirror, outlines still turn clockwise.
    const mirror: Homography = [
      -toMm[0],
      -toMm[1],
      -toMm[2],
      ...(toMm.slice(3) as [number, number, number, number, number, number]),
    ];
    const seen = traceImage(image, { ...scale, toMm: mirror });
    expect(contourArea(seen.contours[0])).toBeCloseTo(contourArea(contours[0]), 1);
  });

  it('finds the same outline in shadow and noise', () => {
    const gauss = normalNumbers(2);
    const image = pictureOf(300, 240, (x, y) => {
      const shadow = 1 - 0.35 / (1 + Math.exp((x - 150) / 12));
      return 0.9 * shadow * (1 - 0.85 * discShare(x, y, { x: 140.3, y: 118.6, r: 90 })) + 0.03 * gauss();
    });
    const trace = traceImage(image, SCALE);
    expect(trace.contours.length).toBe(1);
    expect(Math.abs(contourArea(trace.contours[0]) / (81 * Math.PI) - 1)).toBeLessThan(0.003);
    expect(trace.noise).toBeGreaterThan(0.02);
  });

  it('moves the threshold with the offset, and says how far it has come', () => {
    // A wedge of grey 1 mm wide around a disc.
    const soft = pictureOf(200, 200, (x, y) => (Math.hypot(x + 0.5 - 100, y + 0.5 - 100) - 55) / 10);
    const steps: number[] = [];
    const radius = (offset: number): number =>
      Math.sqrt(
        sum([...traceImage(soft, SCALE, { offset, evenLight: false, progress: (d) => steps.push(d) }).contours]) /
          Math.PI,
      );
    expect(radius(0)).toBeCloseTo(6, 1);
    expect(radius(0.3)).toBeCloseTo(6.3, 1);
    expect(radius(-0.3)).toBeCloseTo(5.7, 1);
    expect(steps.every((d) => d >= 0 && d <= 1)).toBe(true);
    expect(steps.at(-1)).toBe(1);
  });

  it('says when there is nothing to trace, and what is no picture', () => {
    expect(() =>
      traceImage(
        pictureOf(40, 40, () => 0.95),
        SCALE,
      ),
    ).toThrow(InputError);
    expect(() => traceImage({ width: 3, height: 3, values: new Uint8Array(8), white: 255 }, SCALE)).toThrow(RangeError);
  });
});
