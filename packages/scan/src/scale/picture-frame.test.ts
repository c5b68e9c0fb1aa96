import type { Point } from '@okuri/core';
import { boxCorners } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { disc, pictureOf, scene } from './dot-pictures.test-help.js';
import { applyHomography } from './homography.js';
import { framePicture, PAPER_EDGE_MM } from './picture-frame.js';

/** Four dots of 12 px, 400 by 300 px apart and turned a little, round a blot; 4 px a mm makes them 100 by 75 mm apart. */
const [WIDTH, HEIGHT] = [520, 420];
const TURN = 0.05;
const DOTS = boxCorners({ x0: -200, y0: -150, x1: 200, y1: 150 }).map(({ x, y }) => ({
  x: WIDTH / 2 + x * Math.cos(TURN) - y * Math.sin(TURN),
  y: HEIGHT / 2 + x * Math.sin(TURN) + y * Math.cos(TURN),
}));
const SIZE = { widthMm: 100, heightMm: 75 };
const marks = [...DOTS.map((at) => disc(at, 12)), (x: number, y: number) => Math.abs(x - 250) + Math.abs(y - 200) < 60];
const image = pictureOf(scene(WIDTH, HEIGHT, (x, y) => marks.some((inked) => inked(x, y)), 4));

const near = (places: readonly Point[], expected: readonly Point[], within: number) => {
  for (const [k, { x, y }] of expected.entries()) {
    expect(Math.hypot(places[k].x - x, places[k].y - y)).toBeLessThan(within);
  }
};
const FRAME = { x0: 0, y0: 0, x1: 100, y1: 75 };

describe('framePicture', () => {
  it('takes what four dots enclose, and knows them as dots', () => {
    const picture = framePicture(image, { from: 'dots', ...SIZE });
    expect([picture.frame, picture.region, picture.scale.from]).toEqual([FRAME, null, 'dots']);
    near(
      picture.dots.map(({ atMm }) => atMm),
      boxCorners(FRAME),
      0.02,
    );
    for (const { diameterMm } of picture.dots) expect(Math.abs(diameterMm - 3)).toBeLessThan(0.1);
    expect(picture.scale.pixelsPerMm).toBeCloseTo(4, 2);
    // The corners of the picture lie where the map puts them.
    near(picture.seen.slice(0, 1), [applyHomography(picture.scale.toMm, { x: 0, y: 0 })], 1e-9);
  });

  it('measures dots near places that were pointed out roughly', () => {
    const points = DOTS.map(({ x, y }, k) => ({ x: x + 5 - 3 * k, y: y - 4 + 2 * k }));
    const picture = framePicture(image, { from: 'points', points, ...SIZE });
    expect([picture.frame, picture.region, picture.scale.from, picture.dots.length]).toEqual([
      FRAME,
      null,
      'points',
      4,
    ]);
    near(
      DOTS.map((at) => applyHomography(picture.scale.toMm, at)),
      boxCorners(FRAME),
      0.02,
    );
    expect(picture.scale.words).toContain('at the places given');
  });

  it("takes places without dots for the paper's corners, and keeps off its edge", () => {
    const points = boxCorners({ x0: 100, y0: 100, x1: 400, y1: 300 });
    const picture = framePicture(image, { from: 'points', points, ...SIZE });
    expect([picture.frame, picture.dots]).toEqual([FRAME, []]);
    const inner = { x0: PAPER_EDGE_MM, y0: PAPER_EDGE_MM, x1: 100 - PAPER_EDGE_MM, y1: 75 - PAPER_EDGE_MM };
    expect([picture.region, picture.seen]).toEqual([inner, boxCorners(inner)]);
    near(
      points.map((at) => applyHomography(picture.scale.toMm, at)),
      boxCorners(FRAME),
      1e-6,
    );
  });

  it('takes the whole picture by a resolution or a ruler, or the part to keep', () => {
    const resolution = { across: 4, down: 4, unit: 'mm' } as const;
    const whole = { x0: 0, y0: 0, x1: 130, y1: 105 };
    expect(framePicture(image, { from: 'resolution', resolution }).frame).toEqual(whole);
    const points = [
      { x: 10, y: 10 },
      { x: 410, y: 310 },
    ];
    const { frame, seen } = framePicture(image, { from: 'ruler', points, lengthMm: 125 });
    expect(frame.x1).toBeCloseTo(130, 9);
    near(seen, boxCorners(whole), 1e-9);
    const keep = { x0: 20, y0: 10, x1: 90, y1: 80 };
    const kept = framePicture(image, { from: 'resolution', resolution }, { keep });
    expect([kept.frame, kept.region, kept.seen]).toEqual([keep, keep, boxCorners(keep)]);
    expect(() => framePicture(image, { from: 'resolution', resolution }, { keep: { ...keep, x1: 140 } })).toThrow(
      'The part to keep, 120 × 70 mm at 20, 10, reaches beyond the picture, which goes from 0, 0 to 130, 105 mm',
    );
  });

  it('refuses places outside of the picture', () => {
    const points = [
      { x: 10, y: 10 },
      { x: 600, y: 10 },
    ];
    expect(() => framePicture(image, { from: 'ruler', points, lengthMm: 100 })).toThrow(
      'The place 600,10 px lies outside',
    );
    const four = [...points, { x: 600, y: 300 }, { x: 10, y: 300 }];
    expect(() => framePicture(image, { from: 'points', points: four, ...SIZE })).toThrow('lies outside');
  });
});
