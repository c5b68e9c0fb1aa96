import { InputError } from '@okuri/core';
import { boxCorners, type Homography } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { discShift } from './dot-centres.js';
import { homographyFrom } from './fit-homography.js';
import { applyHomography } from './homography.js';
import { looksUnmeasured, scaleFromResolution, scaleFromRuler } from './picture-scale.js';
import { scaleFromDots, scaleFromPoints } from './scale-from-points.js';

const at = (x: number, y: number) => ({ x, y });
const dpi = (across: number, down = across) => ({ across, down, unit: 'inch' as const });

describe('the scale by a resolution', () => {
  it('says where it is from', () => {
    const scale = scaleFromResolution(dpi(300), 'file');
    expect(scale).toMatchObject({ from: 'file', perspective: false, words: '300 dpi, as the file says' });
    expect(scale.pixelsPerMm).toBeCloseTo(300 / 25.4, 12);
    expect(applyHomography(scale.toMm, at(3000, 600))).toEqual({
      x: expect.closeTo(254, 9),
      y: expect.closeTo(50.8, 9),
    });
    const uneven = scaleFromResolution(dpi(300, 299.5), 'resolution');
    expect(uneven.words).toBe('300 × 299.5 dpi, as given');
    expect(uneven.pixelsPerMm).toBeCloseTo(Math.sqrt(300 * 299.5) / 25.4, 12);
    expect(scaleFromResolution({ across: 118.1, down: 118.1, unit: 'cm' }, 'file').words).toBe(
      '118.1 px/cm, as the file says',
    );
    expect(scaleFromResolution(dpi(72), 'file').words).toBe(
      '72 dpi, as the file says (many programs write this without having measured it)',
    );
    expect(looksUnmeasured({ across: 37.8, down: 37.8, unit: 'cm' })).toBe(true);
    expect(looksUnmeasured(dpi(300))).toBe(false);
  });

  it('is refused where it can not be', () => {
    expect(() => scaleFromResolution(dpi(0), 'file')).toThrow('A resolution of 0 dpi the file says, which is none');
    expect(() => scaleFromResolution(dpi(Number.NaN), 'resolution')).toThrow(InputError);
    expect(() => scaleFromResolution(dpi(300, 30), 'file')).toThrow(
      "300 × 30 dpi across and down the file says, which can't both be right",
    );
    expect(() => scaleFromResolution(dpi(30), 'file')).toThrow(
      '30 dpi, as the file says, makes 1.18 pixels a mm, too few',
    );
    expect(() => scaleFromResolution({ ...dpi(300), unit: 'mm' }, 'resolution')).toThrow(
      'makes 300 pixels a mm, more than any scanner',
    );
  });
});

describe('the scale by a ruler', () => {
  it('is the length over the pixels', () => {
    const scale = scaleFromRuler([at(100, 100), at(700, 900)], 200);
    expect(scale).toMatchObject({ from: 'ruler', words: 'a length of 200 mm between two places' });
    expect(scale.pixelsPerMm).toBeCloseTo(5, 12);
  });

  it('is refused for places too close and lengths that are none', () => {
    expect(() => scaleFromRuler([at(0, 0), at(30, 0)], 10)).toThrow('are 30 px apart, too close');
    expect(() => scaleFromRuler([at(0, 0), at(300, 0)], -1)).toThrow('is -1 mm: give one above 0 mm');
    expect(() => scaleFromRuler([at(0, 0), at(300, 0)], 300)).toThrow(
      'A length of 300 mm over 300 px makes 1.00 pixels a mm',
    );
    expect(() => scaleFromRuler([at(0, 0)], 300)).toThrow(RangeError);
  });
});

const PAPER = { widthMm: 240, heightMm: 320, picture: { width: 1300, height: 1700 } };
const by = (points: { x: number; y: number }[], more: Partial<typeof PAPER> = {}) =>
  scaleFromPoints(points, { ...PAPER, ...more, from: 'points' });
const RECTANGLE = [at(100, 100), at(1060, 100), at(1060, 1380), at(100, 1380)];

describe('the scale by four places', () => {
  it('has its origin at the upper left one', () => {
    const scale = by(RECTANGLE);
    expect(scale).toMatchObject({ from: 'points', perspective: false, words: 'four places 240 × 320 mm apart' });
    expect(scale.pixelsPerMm).toBeCloseTo(4, 9);
    const p = applyHomography(scale.toMm, at(180, 140));
    expect([p.x, p.y]).toEqual([expect.closeTo(20, 9), expect.closeTo(10, 9)]);
    // A picture on its head: the paper's upper left is the picture's lower right.
    const turned = by([RECTANGLE[2], RECTANGLE[3], RECTANGLE[0], RECTANGLE[1]]);
    expect(applyHomography(turned.toMm, at(1060, 1380)).x).toBeCloseTo(0, 9);
    expect(turned.words).toBe('four places 240 × 320 mm apart');
  });

  it('tells a slanting view, a stretch and a lean from small errors', () => {
    expect(by([at(140, 100), at(1020, 120), at(1060, 1380), at(100, 1380)])).toMatchObject({
      perspective: true,
      words: 'four places 240 × 320 mm apart, slanting view set right',
    });
    expect(by(RECTANGLE.map(({ x, y }, k) => at(x + (k === 2 ? 0.4 : 0), y)))).toMatchObject({ perspective: false });
    expect(by(RECTANGLE.map(({ x, y }) => at(1.02 * x, y))).words).toContain(', drawn out 2.0 % across and set right');
    expect(by(RECTANGLE.map(({ x, y }) => at(x, 1.01 * y))).words).toContain(', drawn out 1.0 % down and set right');
    expect(by(RECTANGLE.map(({ x, y }) => at(x + 0.01 * y, y))).words).toContain(', leaning and set right');
  });

  it.each<[string, () => unknown, string]>([
    ['too few', () => by(RECTANGLE.slice(1)), 'Four places are needed and 3 were given: upper left, upper right,'],
    [
      'outside the picture',
      () => by([at(-5, 100), ...RECTANGLE.slice(1)]),
      'The place -5,100 px lies outside the picture, which is 1300 × 1700 px',
    ],
    ['not a number', () => by([at(Number.NaN, 100), ...RECTANGLE.slice(1)]), 'lies outside the picture'],
    [
      'too close',
      () => by([at(1040, 100), ...RECTANGLE.slice(1)]),
      'The upper left and upper right places (1040,100 1060,100 px) are 20 px apart',
    ],
    [
      'on a line',
      () => by([RECTANGLE[0], at(500, 100), at(1060, 100.2), RECTANGLE[3]]),
      'The upper left, upper right, lower right places (100,100 500,100 1060,100 px) lie on one line',
    ],
    [
      'crosswise',
      () => by([RECTANGLE[0], RECTANGLE[2], RECTANGLE[1], RECTANGLE[3]]),
      'cross each other: give them in the order upper left',
    ],
    ['anticlockwise', () => by([...RECTANGLE].reverse()), 'run anticlockwise'],
    ['one within', () => by([RECTANGLE[0], RECTANGLE[1], at(300, 400), RECTANGLE[3]]), 'one lies between the others'],
    [
      'the other way round',
      () => by(RECTANGLE, { widthMm: 320, heightMm: 240 }),
      'but lie in the picture as if 240 × 320 mm: give the distance across first',
    ],
    ['no length', () => by(RECTANGLE, { widthMm: 0 }), "can't be 0 × 320 mm apart"],
    ['far too large', () => by(RECTANGLE, { widthMm: 2400, heightMm: 3200 }), 'makes 0.40 pixels a mm, too few'],
    [
      'a unit for another',
      () => by(RECTANGLE, { widthMm: 2.4, heightMm: 3.2 }),
      'makes 400 pixels a mm, more than any scanner',
    ],
    [
      'beyond the horizon',
      () => by([at(560, 600), at(640, 600), at(1060, 1380), at(100, 1380)]),
      "the paper's horizon lies in the picture",
    ],
    [
      'too flat',
      () => by([at(520, 60), at(720, 60), at(1190, 1690), at(40, 1690)], { picture: { width: 1300, height: 1700 } }),
      'seen at so flat a slant',
    ],
  ])('is refused for places %s', (_, run, sentence) => {
    expect(run).toThrow(InputError);
    expect(run).toThrow(sentence);
  });
});

describe('slanting discs', () => {
  /** Paper → px: a camera near by, 6 px/mm. */
  const toPicture = homographyFrom(
    boxCorners({ x0: 0, y0: 0, x1: 150, y1: 200 }).map((from, k) => ({
      from,
      to: [at(300, 200), at(1000, 220), at(1150, 1400), at(120, 1380)][k],
    })),
  ) as Homography;

  it('have their middle where the mean of their outline says', () => {
    for (const [x, y, r] of [
      [10, 20, 3],
      [140, 30, 1.5],
      [75, 190, 12],
    ]) {
      // Centroid of the mapped outline as a polygon of 20 000 corners (shoelace), apart from the closed form.
      const outline = Array.from({ length: 20_000 }, (_, k) =>
        applyHomography(
          toPicture,
          at(x + r * Math.cos((k * Math.PI) / 10_000), y + r * Math.sin((k * Math.PI) / 10_000)),
        ),
      );
      let [area, sx, sy] = [0, 0, 0];
      for (const [k, p] of outline.entries()) {
        const q = outline[(k + 1) % outline.length];
        const cross = p.x * q.y - q.x * p.y;
        area += cross / 2;
        sx += ((p.x + q.x) * cross) / 6;
        sy += ((p.y + q.y) * cross) / 6;
      }
      const centre = applyHomography(toPicture, at(x, y));
      const shift = discShift(toPicture, at(x, y), r);
      expect(shift.x).toBeCloseTo(sx / area - centre.x, 6);
      expect(shift.y).toBeCloseTo(sy / area - centre.y, 6);
    }
  });

  it('of 12 mm give the true scale', () => {
    const dots = boxCorners({ x0: 0, y0: 0, x1: 150, y1: 200 }).map((p) => {
      const centre = applyHomography(toPicture, p);
      const shift = discShift(toPicture, p, 6);
      const e = 1e-4;
      const [a, b] = [applyHomography(toPicture, at(p.x + e, p.y)), applyHomography(toPicture, at(p.x, p.y + e))];
      const grown = ((a.x - centre.x) * (b.y - centre.y) - (a.y - centre.y) * (b.x - centre.x)) / e ** 2;
      return { at: at(centre.x + shift.x, centre.y + shift.y), diameter: 12 * Math.sqrt(grown), roundness: 0.99 };
    });
    const picture = { width: 1300, height: 1600 };
    const off = (toMm: Homography) =>
      Math.max(
        ...[at(0, 0), at(150, 200), at(60, 90)].map((p) => {
          const q = applyHomography(toMm, applyHomography(toPicture, p));
          return Math.hypot(q.x - p.x, q.y - p.y);
        }),
      );
    const plain = scaleFromPoints(
      dots.map((d) => d.at),
      { widthMm: 150, heightMm: 200, picture, from: 'dots' },
    );
    expect(off(plain.toMm)).toBeGreaterThan(0.05);
    expect(off(scaleFromDots(dots, { widthMm: 150, heightMm: 200, picture }).toMm)).toBeLessThan(0.002);
  });
});
