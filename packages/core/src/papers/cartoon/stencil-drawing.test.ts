import { describe, expect, it } from 'vitest';
import { textTurnedBox } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import { measureWords } from '../../draw/measure-words.js';
import { textWidthMm } from '../../draw/text.js';
import type { Item, TextItem } from '../../draw/types.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { stencilDrawing } from './stencil-drawing.js';

const font = labelFont();
const options = {
  title: 'Late summer leaves',
  date: '2026-01-02',
  statements: ['The dark of the drawing is what the knife cuts out.', 'Printed with resist paste.'],
  font,
};

function texts(items: readonly Item[]): TextItem[] {
  return items.flatMap((i) => (i.kind === 'text' ? [i] : i.kind === 'layer' ? texts(i.items) : []));
}

describe('stencilDrawing', () => {
  const sheet = sampleSheet({ count: 60 });
  const drawing = stencilDrawing(sheet, options);
  const words = texts(drawing.pages[0].items);

  it('is one page as large as the sheet, in layers', () => {
    expect(drawing.pages).toHaveLength(1);
    const [page] = drawing.pages;
    expect([page.widthMm, page.heightMm]).toEqual([sheet.widthMm, sheet.heightMm]);
    expect(page.items.every((i) => i.kind === 'layer')).toBe(true);
    expect(page.items.map((i) => (i.kind === 'layer' ? i.id : ''))).toEqual([
      'border',
      'zones',
      'first-cut',
      'second-cut',
      'done',
      'hold-line',
      'stops',
      'dots',
      'leaders',
      'labels',
      'title',
    ]);
  });

  it('carries title, date, statements and every dot measure', () => {
    const joined = words.map((t) => t.text).join(' ');
    for (const part of [options.title, options.date, ...options.statements, ...sheet.measures.map(measureWords)]) {
      expect(joined).toContain(part);
    }
  });

  it.each([
    ['usual border', sheet],
    ['small border', sampleSheet({ count: 40, borderMm: 14, trailingMm: 10 })],
    ['narrow sheet', sampleSheet({ count: 8, fieldWidthMm: 90, fieldHeightMm: 300 })],
    ['no border', sampleSheet({ count: 40, borderMm: 0, trailingMm: 0 })],
  ])('keeps the title block off the design and on the paper: %s', (_, own) => {
    const title = stencilDrawing(own, options).pages[0].items.find((i) => i.kind === 'layer' && i.id === 'title');
    for (const t of texts(title ? [title] : [])) {
      const above = t.y + 0.25 * t.sizeMm <= own.field.y0;
      const below = t.y - 0.75 * t.sizeMm >= own.field.y1;
      expect(above || below, t.text).toBe(true);
      expect(t.x).toBeGreaterThanOrEqual(0);
      expect(t.x + textWidthMm(t.text, t, font)).toBeLessThanOrEqual(own.widthMm);
      expect(t.y).toBeLessThanOrEqual(own.heightMm);
    }
  });

  it('names the sheet of several', () => {
    expect(stencilDrawing({ ...sheet, index: 2, count: 3 }, options).title).toBe('Late summer leaves – sheet 2 of 3');
  });
});

it('writes no number over its title block or its measures', () => {
  for (const count of [60, 300, 1000]) {
    const [page] = stencilDrawing(sampleSheet({ count }), options).pages;
    const texts = (id: string): TextItem[] =>
      page.items.flatMap((item) =>
        item.kind === 'layer' && item.id === id ? item.items.filter((t) => t.kind === 'text') : [],
      );
    const box = (t: TextItem) => {
      const { at, halfU, halfV, turn } = textTurnedBox(t, font);
      const [c, s] = [Math.abs(Math.cos((turn * Math.PI) / 180)), Math.abs(Math.sin((turn * Math.PI) / 180))];
      const [w, h] = [halfU * c + halfV * s, halfU * s + halfV * c];
      return { x0: at.x - w, y0: at.y - h, x1: at.x + w, y1: at.y + h };
    };
    const block = texts('title').map(box);
    expect(block.length).toBeGreaterThan(5);
    for (const label of texts('labels')) {
      const b = box(label);
      const over = block.filter((o) => b.x0 < o.x1 && o.x0 < b.x1 && b.y0 < o.y1 && o.y0 < b.y1);
      expect(over, label.text).toEqual([]);
    }
  }
});
