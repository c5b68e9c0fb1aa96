import { boxContour, circleContour, type Drawing, InputError, type Item } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { renderPixels } from './pixels.js';

describe('renderPixels', () => {
  const dot: Item = { kind: 'path', contours: [circleContour({ x: 10, y: 10 }, 5)], fill: '#d55e00' };
  const page = { name: 'dot', widthMm: 20, heightMm: 30, items: [dot] };
  const drawing: Drawing = { title: 'Dot', date: '2024-05-01', groups: {}, pages: [page] };

  it('gives the page its size and paper', async () => {
    const pixels = await renderPixels(drawing, 0, { pixelsPerMm: 11.811 });
    expect([pixels.width, pixels.height]).toEqual([236, 354]);
    expect(pixels.colours).toEqual(['#ffffff', '#d55e00']);
    expect([pixels.data[0], pixels.data[118 * 236 + 118]]).toEqual([0, 255]);
    // Its area, where 255 stands for a whole pixel.
    const area = pixels.data.reduce((sum, v) => sum + v / 255, 0) / 11.811 ** 2;
    expect(Math.abs(area / (25 * Math.PI) - 1)).toBeLessThan(2e-3);
  });

  it('draws pictures wider than the renderer takes', async () => {
    const line: Item = {
      kind: 'path',
      contours: [boxContour({ x0: 0, y0: 0.25, x1: 40_000, y1: 0.75 })],
      fill: '#000000',
    };
    const wide = { ...drawing, pages: [{ name: 'tape', widthMm: 40_000, heightMm: 1, items: [line] }] };
    const pixels = await renderPixels(wide, 0, { pixelsPerMm: 4 });
    const { width, height } = pixels;
    expect([width, height]).toEqual([160_000, 4]);
    // One channel from white to black.
    expect(pixels.colours).toEqual(['#ffffff', '#000000']);
    for (const [row, value] of [0, 255, 255, 0].entries()) {
      expect(pixels.data.subarray(row * width, (row + 1) * width).every((v) => v === value)).toBe(true);
    }
  });

  it.each([
    ['too many pixels', { pixelsPerMm: 4000 }, /million/],
    ['no pixels', { pixelsPerMm: 0 }, /above zero/],
    ['not a number', { pixelsPerMm: Number.NaN }, /above zero/],
  ])('refuses %s', async (_, options, message) => {
    await expect(renderPixels(drawing, 0, options)).rejects.toThrow(InputError);
    await expect(renderPixels(drawing, 0, options)).rejects.toThrow(message);
  });

  it('refuses a page that is not there', async () => {
    await expect(renderPixels(drawing, 1, { pixelsPerMm: 1 })).rejects.toThrow(/no page 2/);
  });
});
