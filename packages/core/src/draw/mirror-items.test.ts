import { describe, expect, it } from 'vitest';
import { contoursBox, polyline } from '../geometry/contour.js';
import { mirrorItems } from './mirror-items.js';
import type { Item, TextItem } from './types.js';

const text: TextItem = { kind: 'text', text: 'A', x: 30, y: 20, sizeMm: 4, colour: '#000000', turn: -90 };
const path: Item = {
  kind: 'path',
  contours: [
    polyline(
      [
        { x: 10, y: 5 },
        { x: 30, y: 7 },
      ],
      { closed: false },
    ),
  ],
  fill: '#000000',
};

describe('mirrorItems', () => {
  it('mirrors outlines, through layers and clips', () => {
    const items: Item[] = [
      { kind: 'layer', id: 'l', label: 'L', items: [{ kind: 'clip', contours: path.contours, items: [path] }] },
    ];
    const [layer] = mirrorItems(items, 100);
    if (layer.kind !== 'layer' || layer.items[0].kind !== 'clip' || layer.items[0].items[0].kind !== 'path') {
      throw new Error('kind');
    }
    const expected = { x0: 70, y0: 5, x1: 90, y1: 7 };
    expect(contoursBox(layer.items[0].contours)).toEqual(expected);
    expect(contoursBox(layer.items[0].items[0].contours)).toEqual(expected);
  });

  it('keeps words readable on the mirrored place', () => {
    // From 30 to 40 before, so from 60 to 70 after.
    expect(mirrorItems([{ ...text, turn: 0 }], 100)[0]).toMatchObject({ x: 70, y: 20, anchor: 'end', turn: 0 });
    // Read upwards, the letters' tops to the left; mirrored: read downwards, the tops to the right.
    expect(mirrorItems([text], 100)[0]).toMatchObject({ x: 70, y: 20, anchor: 'end', turn: 90 });
    expect(mirrorItems([{ ...text, anchor: 'middle' }], 100)[0]).toMatchObject({ anchor: 'middle' });
  });

  it('done twice, changes nothing', () => {
    const [outline, word] = mirrorItems(mirrorItems([path, { ...text, anchor: 'start' }], 100), 100);
    expect(word).toEqual({ ...text, anchor: 'start' });
    if (outline.kind !== 'path' || path.kind !== 'path') throw new Error('kind');
    outline.contours[0].coords.forEach((value, k) => {
      expect(value).toBeCloseTo(path.contours[0].coords[k], 12);
    });
  });

  it('refuses placed groups', () => {
    expect(() => mirrorItems([{ kind: 'place', group: 'g', at: [] }], 100)).toThrow(RangeError);
  });
});
