import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import type { Item, TextItem } from '../../draw/types.js';
import { stencilDrawing } from '../cartoon/stencil-drawing.js';
import { paperSheet, soundPaper } from '../guide/paper-sheet.test-help.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { zonedSheet } from '../guide/zoned-sheet.test-help.js';
import { cartoonItems, drawCartoon } from './cartoon.js';
import { labelFaults } from './label-check.js';
import { paperNames } from './paper-names.js';

const font = labelFont();
const plain = zonedSheet(sampleSheet({ count: 60 }), 3, 3);

function texts(items: readonly Item[]): TextItem[] {
  return items.flatMap((i) => (i.kind === 'text' ? [i] : i.kind === 'layer' ? texts(i.items) : []));
}

describe('ties on the cartoon', () => {
  it.each([
    ['60 openings, 21 ties', paperSheet(plain, { tieEvery: 3 })],
    ['300 openings, every second tied', paperSheet(zonedSheet(sampleSheet({ count: 300 }), 4, 4), { tieEvery: 2 })],
    ['a small border', paperSheet(sampleSheet({ count: 40, borderMm: 14, trailingMm: 10 }), { tieEvery: 1 })],
  ])('have each its name, once, on no cut line and no other word: %s', (_, sheet) => {
    const { layers, missingTies } = drawCartoon(sheet, { font });
    expect(missingTies).toEqual([]);
    const layer = layers.filter((l) => l.id === 'ties');
    const written = texts(layer).map((t) => t.text);
    const names = paperNames(sheet).ties.map((t) => t.name);
    expect(names.length).toBeGreaterThan(10);
    expect([...written].sort()).toEqual([...names].sort());
    expect(labelFaults(sheet, layers, { font })).toEqual([]);
    // Read at arm's length as the numbers are: capitals of 3 mm and more.
    for (const t of texts(layer)) expect(t.sizeMm * 0.73).toBeGreaterThanOrEqual(3 - 1e-9);
  });

  it('lie below the cut lines, of which they hide nothing', () => {
    const ids = cartoonItems(paperSheet(plain, { tieEvery: 3 }), { font }).map((l) => l.id);
    expect(ids.indexOf('ties')).toBeLessThan(ids.indexOf('first-cut'));
    expect(ids).toContain('ties');
  });

  it('stand beside their tie', () => {
    const sheet = paperSheet(plain, { tieEvery: 3 });
    const layer = drawCartoon(sheet, { font }).layers.filter((l) => l.id === 'ties');
    for (const { name, tie } of paperNames(sheet).ties) {
      const word = texts(layer).find((t) => t.text === name) as TextItem;
      const far = Math.min(...[tie.from, tie.to].map((p) => Math.hypot(p.x - word.x, p.y - word.y)));
      expect(far, name).toBeLessThan(20);
    }
  });

  it('are told as missing where their name finds no place', () => {
    const sheet = paperSheet(plain, { tieEvery: 3 });
    const all: TextItem = { kind: 'text', text: 'nothing else', x: -900, y: 700, sizeMm: 900, colour: '#000000' };
    const { missingTies } = drawCartoon(sheet, { font, keepClearOf: [all] });
    expect(missingTies).toHaveLength(sheet.ties.length);
  });

  it('add nothing where the paper has none', () => {
    const sound = { ...plain, paper: soundPaper(plain) };
    expect(cartoonItems(sound, { font })).toEqual(cartoonItems(plain, { font }));
    const options = { title: 'Leaves', date: '2026-01-02', statements: [], font };
    expect(stencilDrawing(sound, options)).toEqual(stencilDrawing(plain, options));
  });
});

describe('the title block', () => {
  it('says which ties stay, which wait, and how many places are weak', () => {
    const sheet = paperSheet(plain, { tieEvery: 3, weak: 4 });
    const [page] = stencilDrawing(sheet, { title: 'Leaves', date: '2026-01-02', statements: [], font }).pages;
    const words = texts(page.items.filter((l) => l.kind === 'layer' && l.id === 'title'))
      .map((t) => t.text)
      .join(' ');
    expect(words).toMatch(/Ties T1, T\d+, .* \(heavy bars\) stay: never cut them\./);
    expect(words).toMatch(/Ties R\d+, .* \(double bars\): not yet, they wait for the release cut\./);
    expect(words).toContain('4 weak places');
  });

  it('names a sheet of two for one ink', () => {
    const { title } = stencilDrawing(
      { ...plain, part: 'B', index: 2, count: 2 },
      { title: 'Leaves', date: '2026-01-02', statements: [], font },
    );
    expect(title).toBe('Leaves – sheet 2 of 2');
  });
});
