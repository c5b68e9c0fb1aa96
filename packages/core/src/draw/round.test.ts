import { expect, it } from 'vitest';
import { boxContour, polyline } from '../geometry/contour.js';
import { roundDrawing } from './round.js';
import type { Drawing } from './types.js';

it('rounds every coordinate to 0.1 µm, through clips and layers, and leaves the rest', () => {
  const box = { x0: 0.123449, y0: -0.00004, x1: 1 / 3, y1: 2 };
  const path = {
    kind: 'path',
    contours: [
      polyline(
        [
          { x: 1 / 3, y: -1e-9 },
          { x: 2 / 3, y: 1 },
        ],
        { closed: false },
      ),
    ],
    line: { colour: '#000000', widthMm: 1 / 3, dashMm: [2 / 3, 1] },
  } as const;
  const drawing: Drawing = {
    title: 'a',
    date: '2026-01-01',
    groups: { g: [{ kind: 'layer', id: 'l', label: 'L', items: [path] }] },
    pages: [
      {
        name: 'p',
        widthMm: 215.89999999999998,
        heightMm: 279.4,
        items: [
          { kind: 'clip', contours: [boxContour(box)], items: [path] },
          { kind: 'text', text: 't', x: 1 / 3, y: 2 / 3, sizeMm: 3.00001, colour: '#000000', turn: -90 },
          { kind: 'place', group: 'g', at: [[1 / 3, 0, -0, 1, 1 / 3, 0]], tile: box },
        ],
      },
    ],
  };
  const rounded = roundDrawing(drawing);
  const [clip, text, place] = rounded.pages[0].items;
  expect(rounded.pages[0]).toMatchObject({ widthMm: 215.9, heightMm: 279.4, name: 'p' });
  expect(clip).toMatchObject({ kind: 'clip' });
  if (clip.kind !== 'clip' || clip.items[0].kind !== 'path') throw new Error('kind');
  expect([...clip.contours[0].coords.slice(0, 2)]).toEqual([0.1234, 0]);
  expect(Object.is(clip.contours[0].coords[1], 0)).toBe(true);
  expect(clip.items[0].line).toEqual({ colour: '#000000', widthMm: 0.3333, dashMm: [0.6667, 1] });
  expect(text).toEqual({ kind: 'text', text: 't', x: 0.3333, y: 0.6667, sizeMm: 3, colour: '#000000', turn: -90 });
  expect(place).toMatchObject({
    at: [[0.333333333, 0, 0, 1, 0.3333, 0]],
    tile: { x0: 0.1234, y0: 0, x1: 0.3333, y1: 2 },
  });
  const layer = rounded.groups.g[0];
  if (layer.kind !== 'layer' || layer.items[0].kind !== 'path') throw new Error('kind');
  expect(layer.items[0].contours[0].coords[0]).toBe(0.3333);
  expect(roundDrawing(rounded)).toEqual(rounded);
});
