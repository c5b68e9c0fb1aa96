import { describe, expect, it } from 'vitest';
import { sampleFont } from '../papers/guide/sample-font.test-help.js';
import { textWidthMm } from './text.js';
import { type FlowBlock, flowText } from './text-flow.js';
import type { TextItem } from './types.js';

const font = sampleFont();
const column = (x0: number, x1: number, y1 = 60) => ({ x0, y0: 10, x1, y1 });
const words = Array.from({ length: 120 }, (_, k) => `word${k}`).join(' ');

function texts(pages: ReturnType<typeof flowText>): TextItem[][] {
  return pages.map((items) => items.filter((item): item is TextItem => item.kind === 'text'));
}

describe('flowText', () => {
  it('goes on from column to column and page to page, and loses no word', () => {
    const boxes = [column(10, 60), column(70, 120)];
    const pages = texts(flowText([{ kind: 'paragraph', text: words }], { font, pages: [boxes, [column(10, 120)]] }));
    expect(pages.length).toBeGreaterThan(1);
    expect(
      pages
        .flat()
        .map(({ text }) => text)
        .join(' '),
    ).toBe(words);
    for (const [k, page] of pages.entries()) {
      for (const { x, y, text, sizeMm } of page) {
        const box = (k === 0 ? boxes : [column(10, 120)]).find((one) => one.x0 === x);
        if (box === undefined) throw new Error('outside of every column');
        expect(x + textWidthMm(text, { sizeMm }, font)).toBeLessThanOrEqual(box.x1 + 1e-6);
        expect(y).toBeGreaterThan(box.y0);
        expect(y).toBeLessThanOrEqual(box.y1);
        expect(sizeMm).toBeGreaterThanOrEqual(3);
      }
    }
  });

  it('indents after a label, and wraps cells only where they need more than there is', () => {
    const blocks: FlowBlock[] = [
      { kind: 'paragraph', label: '1', text: 'go' },
      { kind: 'row', tick: 'box', at: [0, 0.5], cells: ['abc', 'a cell much too long for its share'] },
    ];
    const [page] = texts(flowText(blocks, { font, pages: [[column(10, 60)]] }));
    const cells = page.slice(2).map(({ text }) => text);
    expect(page.slice(0, 2).map(({ text }) => text)).toEqual(['1', 'go']);
    expect(cells.join(' ')).toBe('abc a cell much too long for its share');
    for (const { text, x, sizeMm } of page)
      expect(x + textWidthMm(text, { sizeMm }, font)).toBeLessThanOrEqual(60 + 1e-6);
    const narrow: FlowBlock[] = [
      { kind: 'row', at: [0, 0.8], cells: ['a', 'bb bb'] },
      { kind: 'row', at: [0, 0.8], cells: ['a', 'b'] },
    ];
    const [rows] = texts(flowText(narrow, { font, pages: [[column(10, 60)]] }));
    expect(rows.map(({ text }) => text)).toEqual(['a', 'bb bb', 'a', 'b']);
    expect(rows[1].x).toBeLessThanOrEqual(50);
    expect(rows[3].x).toBe(rows[1].x);
    expect(page[1].x).toBeGreaterThan(page[0].x);
  });

  it('never leaves a heading alone at the foot of a column', () => {
    const filler: FlowBlock[] = Array.from({ length: 8 }, () => ({ kind: 'paragraph', text: 'x' }));
    const blocks: FlowBlock[] = [...filler, { kind: 'heading', text: 'Head' }, { kind: 'paragraph', text: 'tail' }];
    const [page] = texts(flowText(blocks, { font, pages: [[column(10, 60), column(70, 120)]] }));
    const head = page.find(({ text }) => text === 'Head');
    const tail = page.find(({ text }) => text === 'tail');
    expect(head?.x).toBe(tail?.x);
  });

  it('refuses a column that is too low for a line', () => {
    expect(() => flowText([{ kind: 'paragraph', text: 'x' }], { font, pages: [[column(10, 60, 12)]] })).toThrow(
      RangeError,
    );
  });
});
