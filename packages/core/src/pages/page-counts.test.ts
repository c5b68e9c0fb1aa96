import { expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { type LayPagesOptions, LEAST_ADVANCE_MM, layPages, MAX_PAGES } from './lay-pages.js';

/** Shows 190 × 280 mm upright. */
const plain: LayPagesOptions = {
  paper: { widthMm: 200, heightMm: 290 },
  marginMm: 5,
  overlapMm: 10,
  orientation: 'portrait',
};
const SHOWN = { widthMm: 190, heightMm: 280 };

it('takes the fewest pages that reach the end, counted one by one', () => {
  const fewest = (lengthMm: number, shownMm: number, overlapMm: number): number => {
    let n = 1;
    for (let reachMm = shownMm; reachMm < lengthMm; reachMm += shownMm - overlapMm) n++;
    return n;
  };
  for (const overlapMm of [0, 7, 25]) {
    for (const lengthMm of [
      5, 24, 189, 190, 191, 355, 356, 365, 366, 373, 374, 380, 381, 1000, 1009, 1011, 1234.56, 3333.3,
    ]) {
      const wide = layPages({ widthMm: lengthMm, heightMm: 33 }, { ...plain, overlapMm });
      // The last one ends where the drawing ends, to the last digit.
      expect(wide.pages.at(-1)?.windowMm).toMatchObject({ x1: lengthMm, y1: 33 });
      expect([wide.columns, wide.rows], `${lengthMm} ${overlapMm}`).toEqual([fewest(lengthMm, 190, overlapMm), 1]);
      const high = layPages({ widthMm: 33, heightMm: lengthMm }, { ...plain, overlapMm });
      expect(high.pages.at(-1)?.windowMm).toMatchObject({ x1: 33, y1: lengthMm });
      expect([high.columns, high.rows], `${lengthMm} ${overlapMm}`).toEqual([1, fewest(lengthMm, 280, overlapMm)]);
    }
  }
});

it('takes no page more for what is longer by rounding alone', () => {
  const tenth = { ...plain, overlapMm: 10.1 };
  for (let n = 1; n <= 12; n++) {
    const widthMm = (10.1 + n * (190 - 10.1)) * (1 + 1e-13);
    expect(layPages({ widthMm, heightMm: 50 }, tenth).columns, `${n}`).toBe(n);
    expect(layPages({ widthMm: widthMm + 0.001, heightMm: 50 }, tenth).columns, `${n}`).toBe(n + 1);
  }
});

it('gives one page to a drawing smaller than the overlap, and to one that fills the page however wide the overlap', () => {
  const small = layPages({ widthMm: 4, heightMm: 3 }, plain);
  expect(small.pages.map(({ windowMm }) => windowMm)).toEqual([{ x0: 0, y0: 0, x1: 4, y1: 3 }]);
  expect(small.contentMm).toEqual({ x0: 5, y0: 5, x1: 9, y1: 8 });
  expect(layPages(SHOWN, { ...plain, overlapMm: 185 }).pages).toHaveLength(1);
});

it('refuses pages that bring less than a centimetre on, and takes those that bring one', () => {
  expect(LEAST_ADVANCE_MM).toBe(10);
  expect(layPages({ widthMm: 200, heightMm: 50 }, { ...plain, overlapMm: 180 }).columns).toBe(2);
  expect(() => layPages({ widthMm: 200, heightMm: 50 }, { ...plain, overlapMm: 180.5 })).toThrow(/leaves no room/);
  // Along the page 280 mm are shown.
  expect(layPages({ widthMm: 50, heightMm: 290 }, { ...plain, overlapMm: 270 }).rows).toBe(2);
  expect(() => layPages({ widthMm: 50, heightMm: 290 }, { ...plain, overlapMm: 270.5 })).toThrow(/leaves no room/);
  const strip = (leftMm: number, bottomMm: number) => ({ ...plain, overlapMm: 0, strip: { leftMm, bottomMm } });
  expect(layPages({ widthMm: 10, heightMm: 10 }, strip(180, 270)).pages).toHaveLength(1);
  expect(() => layPages({ widthMm: 5, heightMm: 5 }, strip(180.5, 0))).toThrow(/leaves no room/);
  expect(() => layPages({ widthMm: 5, heightMm: 5 }, strip(0, 270.5))).toThrow(/leaves no room/);
});

it('lays four hundred pages and no more, and says how large the drawing is and how many it would take', () => {
  expect(MAX_PAGES).toBe(400);
  const wide = (pages: number) => ({ widthMm: 10 + 180 * pages, heightMm: 80 });
  expect(layPages(wide(400), plain).pages).toHaveLength(400);
  expect(() => layPages(wide(401), plain)).toThrow('The drawing of 72190 mm by 80 mm would take 401 pages, and 400');
  // 25 across and 17 along.
  const sheet = { widthMm: 10 + 180 * 25, heightMm: 10 + 270 * 17 };
  expect(() => layPages(sheet, plain)).toThrow('The drawing of 4510 mm by 4600 mm would take 425 pages');
});

it('lays paper upright where both ways take as many pages, whichever way it was given', () => {
  for (const paper of [plain.paper, { widthMm: 290, heightMm: 200 }]) {
    const auto = { ...plain, paper, orientation: 'auto' } as const;
    expect(layPages({ widthMm: 60, heightMm: 40 }, auto)).toMatchObject({
      orientation: 'portrait',
      paper: { widthMm: 200, heightMm: 290 },
    });
    expect(layPages({ widthMm: 280, heightMm: 190 }, auto)).toMatchObject({
      orientation: 'landscape',
      paper: { widthMm: 290, heightMm: 200 },
    });
    // Where one way has no room the other is taken.
    expect(layPages({ widthMm: 60, heightMm: 40 }, { ...auto, strip: { leftMm: 185, bottomMm: 0 } }).orientation).toBe(
      'landscape',
    );
  }
});

it('keeps what it was given: the size, the printer correction of either way, the strip', () => {
  const options = { ...plain, strip: { leftMm: 8, bottomMm: 21 }, scaleAcross: 1.02, scaleAlong: 0.97 };
  const plan = layPages({ widthMm: 310, heightMm: 120 }, options);
  expect(plan).toMatchObject({
    widthMm: 310,
    heightMm: 120,
    marginMm: 5,
    overlapMm: 10,
    strip: { leftMm: 8, bottomMm: 21 },
    scaleAcross: 1.02,
    scaleAlong: 0.97,
  });
  // Two windows of 160 mm across: (310 + 10) / 2.
  expect(plan.contentMm.x0).toBe(5 + 8);
  expect(plan.contentMm.y0).toBe(5);
  expect(plan.contentMm.x1).toBeCloseTo(13 + 160 * 1.02, 9);
  expect(plan.contentMm.y1).toBeCloseTo(5 + 120 * 0.97, 9);
  expect(layPages({ widthMm: 310, heightMm: 120 }, plain)).toMatchObject({ scaleAcross: 1, scaleAlong: 1 });
});

it.each([
  [{ widthMm: 0, heightMm: 10 }, {}, /the width 0:/],
  [{ widthMm: Infinity, heightMm: 10 }, {}, /the width Infinity:/],
  [{ widthMm: 10, heightMm: -1 }, {}, /the height -1:/],
  [{ widthMm: 10, heightMm: Number.NaN }, {}, /the height NaN:/],
  [SHOWN, { scaleAcross: Infinity }, /the scaleAcross Infinity:/],
  [SHOWN, { scaleAlong: 0 }, /the scaleAlong 0:/],
  [SHOWN, { paper: { widthMm: 0, heightMm: 290 } }, /the paperWidth 0:/],
  [SHOWN, { paper: { widthMm: 200, heightMm: -2 } }, /the paperHeight -2:/],
  [SHOWN, { marginMm: Infinity }, /the margin Infinity mm/],
  [SHOWN, { overlapMm: -0.1 }, /the overlap -0.1 mm/],
  [SHOWN, { strip: { leftMm: -1, bottomMm: 0 } }, /the left -1 mm/],
  [SHOWN, { strip: { leftMm: 0, bottomMm: Infinity } }, /the bottom Infinity mm/],
] as const)('says what it can not lay pages with: %j %j', (drawing, more, message) => {
  const lay = () => layPages(drawing, { ...plain, ...more });
  expect(lay).toThrow(InputError);
  expect(lay).toThrow(message);
});
