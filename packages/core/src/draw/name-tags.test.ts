import { describe, expect, it } from 'vitest';
import { boxContour, circleContour } from '../geometry/contour.js';
import { ClearSpace, NO_OWNER, SOFT } from './clear-space.js';
import { textTurnedBox } from './label-box.js';
import { labelFont } from './label-font.test-help.js';
import { placeTags, type Tag } from './name-tags.js';
import type { PathItem, TextItem } from './types.js';

const font = labelFont();
const frame = { x0: 0, y0: 0, x1: 100, y1: 100 };
const at = (x: number, y: number, text = 'W1'): Tag => ({ text, starts: [{ x, y }], aroundMm: 3 });

describe('placeTags', () => {
  it('writes a name beside its ring, without a leader where there is room', () => {
    const space = new ClearSpace();
    const { items, missing } = placeTags([at(50, 50)], { space, font, frame }, { capsMm: [3], reachMm: 20 });
    expect(missing).toEqual([]);
    const [word] = items as TextItem[];
    expect(items).toHaveLength(1);
    const { halfU } = textTurnedBox(word, font);
    expect(Math.hypot(word.x - 50, word.y - 50)).toBeLessThan(3 + 2.2 + halfU + 3);
  });

  it('leads over what is in the way of words, and over no line', () => {
    const space = new ClearSpace();
    // A field of dots too dense for words, 10 mm around the place; a line above it.
    for (let x = 38; x <= 62; x += 2)
      for (let y = 38; y <= 62; y += 2) {
        if (Math.hypot(x - 50, y - 50) > 3) space.addContours([circleContour({ x, y }, 0.2)], SOFT);
      }
    space.addContours([boxContour({ x0: 0, y0: 30, x1: 100, y1: 30.5 })], 7);
    const { items } = placeTags([at(50, 50)], { space, font, frame }, { capsMm: [3], reachMm: 40 });
    const lines = items.filter((i): i is PathItem => i.kind === 'path');
    const word = items.find((i) => i.kind === 'text') as TextItem;
    expect(lines).toHaveLength(1);
    expect(word.y).toBeGreaterThan(31);
  });

  it('keeps names apart, inside the frame, and out of waste where it can', () => {
    const space = new ClearSpace();
    const tags = Array.from({ length: 12 }, (_, k) => at(10 + 7 * k, 50, `W${k + 1}`));
    const inWaste = ({ y }: { y: number }) => y < 50;
    const { items, missing } = placeTags(tags, { space, font, frame, inWaste }, { capsMm: [3], reachMm: 40 });
    expect(missing).toEqual([]);
    const words = items.filter((i): i is TextItem => i.kind === 'text');
    expect(words.map((w) => w.text)).toEqual(tags.map((t) => t.text));
    const boxes = words.map((w) => textTurnedBox(w, font));
    boxes.forEach((b, k) => {
      expect(b.at.y).toBeGreaterThanOrEqual(50);
      expect(b.at.x - b.halfU).toBeGreaterThanOrEqual(0);
      expect(b.at.x + b.halfU).toBeLessThanOrEqual(100);
      for (const o of boxes.slice(k + 1)) {
        const apart = Math.abs(b.at.x - o.at.x) >= b.halfU + o.halfU || Math.abs(b.at.y - o.at.y) >= b.halfV + o.halfV;
        expect(apart).toBe(true);
      }
    });
  });

  it('names as missing what has no place', () => {
    const space = new ClearSpace();
    space.addBox(frame, NO_OWNER);
    expect(placeTags([at(50, 50)], { space, font, frame }, { capsMm: [3], reachMm: 40 })).toEqual({
      items: [],
      missing: ['W1'],
    });
  });
});
