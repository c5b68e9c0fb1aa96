import { describe, expect, it } from 'vitest';
import { textWidthMm } from '../../draw/text.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { contoursBox } from '../../geometry/contour.js';
import { layPages } from '../../pages/lay-pages.js';
import type { PlannedPage } from '../../pages/types.js';
import { pageLegendHeight } from '../cartoon/page-legend.js';
import { type PageWords, type PrintPageOptions, pageStrip, printPage } from '../cartoon/print-page.js';
import { sampleFont } from './sample-font.test-help.js';

const font = sampleFont();

const words: PageWords = {
  title: 'Leaves',
  dated: 'revision B',
  statement: 'Drawn at true size.',
  mirrored: false,
  legend: [
    { meaning: 'first-cut', text: 'cut' },
    { meaning: 'seam', text: 'edge' },
  ],
  movement: '',
  longestNote: '',
};
const paper = { widthMm: 210, heightMm: 297 };
const marginMm = 6;
const strip = pageStrip(words, paper.widthMm - 2 * marginMm, font);
const plan = layPages(
  { widthMm: 485, heightMm: 625 },
  { paper, marginMm, overlapMm: 10, strip, orientation: 'portrait' },
);
/** A page by its row as a letter and its column as a number, whatever it is called. */
const page = (place: string) =>
  plan.pages.find(
    ({ row, column }) => row === place.charCodeAt(0) - 65 && column === Number(place.slice(1)) - 1,
  ) as PlannedPage;
const nameOf = (place: string) => page(place).name;

function printed(name: string, more: Partial<PrintPageOptions> = {}): readonly Item[] {
  return printPage(plan, page(name), {
    words,
    ordinal: 3,
    count: 9,
    blank: false,
    note: '',
    space: null,
    font,
    ...more,
  });
}

const texts = (items: readonly Item[]) => items.filter((item): item is TextItem => item.kind === 'text');
const said = (items: readonly Item[]) =>
  texts(items)
    .map(({ text }) => text)
    .join(' ');
const layer = (items: readonly Item[], id: string) =>
  items.flatMap((item) => (item.kind === 'layer' && item.id === id ? item.items : []));

describe('the words of a page', () => {
  it('name the pages on which its trimmed edges are laid: the one to the left, the one above', () => {
    expect(plan.rows).toBeGreaterThan(2);
    expect(plan.columns).toBeGreaterThan(2);
    expect(said(printed('B2'))).toContain(
      `Trim: left edge, lay it on ${nameOf('B1')}; top edge, lay it on ${nameOf('A2')}.`,
    );
    expect(said(printed('C2'))).toContain(
      `Trim: left edge, lay it on ${nameOf('C1')}; top edge, lay it on ${nameOf('B2')}.`,
    );
    expect(said(printed('A2'))).toContain(`Trim: left edge, lay it on ${nameOf('A1')}.`);
    expect(said(printed('B1'))).toContain(`Trim: top edge, lay it on ${nameOf('A1')}.`);
    expect(said(printed('A1'))).toContain('Trim: nothing on this page.');
  });

  it('say which page of how many it is, which edge is up, and what is to be said of it alone', () => {
    const one = said(printed('B2', { note: 'Cut this one last.' }));
    expect(one).toContain('this side up · page 3 of 9 ·');
    expect(one).toContain('Cut this one last.');
    expect(one).toContain('Drawn at true size.');
    expect(said(printed('B2', { words: { ...words, mirrored: true } }))).toContain('mirrored: the back of the sheet');
    expect(said(printed('B2', { words: { ...words, movement: 'Wider by 1 mm.' } }))).toContain('Wider by 1 mm.');
  });

  it('lie one under the other between the margins, below the bars and the legend, above the lower margin', () => {
    const items = texts(printed('B2', { note: 'Note. '.repeat(8).trim() }));
    const foot = paper.heightMm - marginMm;
    const legend = pageLegendHeight(words.legend, paper.widthMm - 2 * marginMm, font);
    const top = foot - strip.bottomMm + 2 + 10 + legend;
    for (const item of items) {
      expect(item.y - 0.7 * item.sizeMm, item.text).toBeGreaterThan(top - 0.5);
      expect(item.x, item.text).toBeGreaterThanOrEqual(marginMm);
      const style = { sizeMm: item.sizeMm, bold: item.bold === true };
      expect(item.x + textWidthMm(item.text, style, font), item.text).toBeLessThanOrEqual(
        paper.widthMm - marginMm + 1e-6,
      );
    }
    const [name, title, dated, ...lines] = items;
    expect([name.text, title.text, dated.text]).toEqual([nameOf('B2'), 'Leaves', 'revision B']);
    expect(name.x).toBe(marginMm);
    expect(title.x).toBeGreaterThan(name.x + textWidthMm(nameOf('B2'), { sizeMm: 12, bold: true }, font) + 3.9);
    expect(dated.x).toBeCloseTo(title.x + textWidthMm('Leaves', { sizeMm: 3.4, bold: true }, font) + 3, 6);
    expect(dated.y).toBe(title.y);
    // The first line stands behind the arrow, the others below it, all the same distance apart.
    expect(lines.length).toBeGreaterThan(1);
    const ys = [title, ...lines].map(({ y }) => y);
    for (const [k, y] of ys.slice(1).entries()) expect(y - ys[k]).toBeCloseTo(3.9, 6);
    for (const { x } of lines.slice(1)) expect(x).toBe(title.x);
    const [arrow] = printed('B2').filter((item): item is PathItem => item.kind === 'path' && item.fill !== undefined);
    const box = contoursBox(arrow.contours) as NonNullable<ReturnType<typeof contoursBox>>;
    expect(box.x0).toBeCloseTo(title.x, 6);
    expect(box.x1).toBeLessThan(lines[0].x);
    expect(box.y1).toBeCloseTo(lines[0].y, 6);
    expect(box.y0).toBeGreaterThan(title.y);
  });

  it('have a strip that is high enough for the longest of them, and wider paper needs no higher one', () => {
    const longer = { ...words, longestNote: 'A long note. '.repeat(12) };
    expect(pageStrip(longer, 198, font).bottomMm).toBeGreaterThan(strip.bottomMm);
    expect(pageStrip(longer, 280, font).bottomMm).toBeLessThan(pageStrip(longer, 198, font).bottomMm);
    // Bars of 10 mm along both sides.
    expect(strip.leftMm).toBe(11);
    const legend = pageLegendHeight(words.legend, 198, font);
    expect(strip.bottomMm - legend).toBeGreaterThanOrEqual(12 + 12);
  });

  it('shorten a statement that goes on for ever, and keep all the rest', () => {
    const endless = said(printed('B2', { words: { ...words, statement: 'and so on '.repeat(80) } }));
    expect(endless).toContain(`Trim: left edge, lay it on ${nameOf('B1')}; top edge, lay it on ${nameOf('A2')}.`);
    expect(endless.endsWith('…')).toBe(true);
    const lines = texts(printed('B2', { words: { ...words, statement: 'and so on '.repeat(80) } })).length;
    expect(lines - texts(printed('B2')).length).toBeLessThanOrEqual(4);
  });
});

describe('a page', () => {
  it('shows its own window of the drawing, clipped to where all pages show theirs', () => {
    const [clip] = printed('B2');
    expect(clip.kind === 'clip' && contoursBox(clip.contours)).toEqual(plan.contentMm);
    expect(clip.kind === 'clip' && clip.items).toEqual([{ kind: 'place', group: 'cartoon', at: [page('B2').toPage] }]);
    const [other] = printed('B2', { group: 'strip' });
    expect(other.kind === 'clip' && other.items).toMatchObject([{ group: 'strip' }]);
  });

  it('has a bar along its foot and one up its left side, within the margins and clear of the picture', () => {
    const bars = layer(printed('B2'), 'test-bars').filter((item): item is PathItem => item.kind === 'path');
    expect(bars).toHaveLength(2);
    const [across, along] = bars.map(
      ({ contours }) => contoursBox(contours) as NonNullable<ReturnType<typeof contoursBox>>,
    );
    const { contentMm } = plan;
    expect(across.x0).toBeCloseTo(marginMm, 6);
    expect(across.x1).toBeCloseTo(marginMm + 190, 6);
    expect(across.y0).toBeGreaterThan(paper.heightMm - marginMm - strip.bottomMm);
    expect(along.x1).toBeLessThan(contentMm.x0);
    expect(along.x0).toBeGreaterThan(marginMm);
    expect(along.y1).toBeCloseTo(paper.heightMm - marginMm - strip.bottomMm, 6);
    expect(along.y0).toBeGreaterThanOrEqual(marginMm);
    expect((along.y1 - along.y0) % 10).toBeCloseTo(0, 6);
    const legend = layer(printed('B2'), 'legend');
    for (const item of legend) if (item.kind === 'text') expect(item.y).toBeGreaterThan(across.y1);
  });

  it('says in its middle when there is nothing to cut on it', () => {
    const blank = texts(printed('B2', { blank: true })).find(({ text }) => text.startsWith('nothing to cut'));
    const { x0, x1, y0, y1 } = plan.contentMm;
    expect(blank).toMatchObject({ x: (x0 + x1) / 2, y: (y0 + y1) / 2, anchor: 'middle' });
    expect(said(printed('B2'))).not.toContain('nothing to cut');
  });
});
