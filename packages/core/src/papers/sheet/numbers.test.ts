import { describe, expect, it } from 'vitest';
import { ClearSpace } from '../../draw/clear-space.js';
import { emOfCap } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { boxContour, circleContour, contoursBox } from '../../geometry/contour.js';
import type { Box, Contour } from '../../geometry/types.js';
import { type LabelRequest, NUMBER_CAPS_MM, placeGuideNumbers } from './numbers.js';
import { outlinesOf } from './outlines.js';

const font = labelFont();
const FRAME: Box = { x0: 0, y0: 0, x1: 170, y1: 200 };

function place(shapes: readonly Contour[], frame = FRAME) {
  const space = new ClearSpace();
  const waste = shapes.map((c) => outlinesOf([c], contoursBox([c]) as Box));
  shapes.forEach((c, k) => {
    space.addContours([c], k + 1);
  });
  const wishes = waste.map(
    (w, k): LabelRequest => ({ number: k + 1, text: `${k + 1}`, waste: w, at: null, onHatch: false }),
  );
  return placeGuideNumbers(wishes, { space, frame, waste, font });
}

const texts = (items: readonly Item[]) => items.filter((i): i is TextItem => i.kind === 'text');
const leaders = (items: readonly Item[]) =>
  items.filter((i): i is PathItem => i.kind === 'path' && i.line !== undefined);

describe('placeGuideNumbers', () => {
  it('writes into the waste where there is room, as large as helps', () => {
    const { items, missing } = place([boxContour({ x0: 20, y0: 20, x1: 60, y1: 50 })]);
    expect(missing).toEqual([]);
    expect(texts(items)[0].sizeMm).toBeCloseTo(emOfCap(NUMBER_CAPS_MM[0], font), 9);
    expect(leaders(items)).toEqual([]);
  });

  it('points into an opening that is too small, crossing its outline and no other', () => {
    const shapes = [1, 2, 3].flatMap((i) => [1, 2, 3].map((j) => circleContour({ x: 40 + 7 * i, y: 40 + 7 * j }, 1.5)));
    const { items, missing } = place(shapes);
    expect(missing).toEqual([]);
    expect(leaders(items)).toHaveLength(9);
    const tips = leaders(items).map(({ contours: [{ coords }] }) => ({ x: coords[0], y: coords[1] }));
    texts(items).forEach((text, k) => {
      const n = Number(text.text) - 1;
      const centre = { x: 40 + 7 * (1 + Math.floor(n / 3)), y: 40 + 7 * (1 + (n % 3)) };
      expect(Math.hypot(tips[k].x - centre.x, tips[k].y - centre.y)).toBeLessThan(1.5);
    });
  });

  it('never writes lower than 3 mm, and reports what finds no place', () => {
    const bars = Array.from({ length: 12 }, (_, k) =>
      boxContour({ x0: 5, y0: 5 + 1.2 * k, x1: 25, y1: 5.6 + 1.2 * k }),
    );
    const { items, missing } = place(bars, { x0: 0, y0: 0, x1: 30, y1: 25 });
    expect(missing.length).toBeGreaterThan(0);
    for (const t of texts(items)) expect(t.sizeMm).toBeGreaterThanOrEqual(emOfCap(3, font) - 1e-9);
  });
});
