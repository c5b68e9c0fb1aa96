import { describe, expect, it } from 'vitest';
import { textWidthMm } from '../../draw/text.js';
import type { Item, Page, PlaceItem, TextItem } from '../../draw/types.js';
import { boxContour, circleContour, contoursBox } from '../../geometry/contour.js';
import { apply } from '../../geometry/matrix.js';
import type { Box } from '../../geometry/types.js';
import { coverCheck } from '../../pages/cover-check.js';
import { sheetMeasures } from '../../stencil/measures.js';
import { InputError } from '../../units/input-error.js';
import { findPaper } from '../../units/paper-sizes.js';
import { sampleFont } from '../guide/sample-font.test-help.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { type PrintSheetsJob, printSheets } from './print-sheets.js';

const font = sampleFont();
const made = sampleSheet({ count: 12 });
const sheet = { ...made, measures: sheetMeasures(made.dots, made.field) };
const line = { colour: '#000000', widthMm: 0.25 };
/** The edge of the paper, and one hole near the upper left. */
const cartoon: Item[] = [
  { kind: 'path', contours: [boxContour({ x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm })], line },
  { kind: 'path', contours: [circleContour({ x: 60, y: 70 }, 5)], line },
  { kind: 'text', text: 'mark', x: 80, y: 80, sizeMm: 4, colour: '#000000' },
];
const job: PrintSheetsJob = {
  title: 'Willow by the weir',
  date: '2026-03-01',
  revision: 'B',
  pages: {
    orientation: 'auto',
    marginMm: 6.35,
    overlapMm: 10,
    mirror: false,
    skipBlank: false,
    scaleAcross: 1,
    scaleAlong: 1,
  },
};
const statements = ['Drawn for the cloth, printed by resist: the light is cut.', 'A second statement.'];

function sheetsWith(pages: Partial<PrintSheetsJob['pages']> = {}, paper = 'A4') {
  const own = { ...job, pages: { ...job.pages, ...pages } };
  return printSheets(sheet, { job: own, cartoon, font, paper: findPaper(paper), statements });
}

function flatten(items: readonly Item[]): Item[] {
  return items.flatMap((item) =>
    item.kind === 'clip' || item.kind === 'layer' ? [item, ...flatten(item.items)] : [item],
  );
}

function textsOf(page: Page): string[] {
  return flatten(page.items)
    .filter((item): item is TextItem => item.kind === 'text')
    .map(({ text }) => text);
}

function clipOf(page: Page): { box: Box; place: PlaceItem } {
  for (const item of page.items) {
    if (item.kind === 'clip' && item.items[0].kind === 'place') {
      return { box: contoursBox(item.contours) as Box, place: item.items[0] };
    }
  }
  throw new Error('no cartoon on the page');
}

describe('printSheets', () => {
  const { drawing, plan } = sheetsWith();
  const first = drawing.pages[0];
  const pages = drawing.pages.slice(1);

  it('has a first page and then every window once, named, the artwork stored once', () => {
    expect(first.name).toBe('map');
    const names = drawing.pages.map(({ name }) => name).filter((name) => !name.startsWith('map'));
    expect(names).toEqual(plan.pages.map(({ name }) => name));
    expect(Object.keys(drawing.groups)).toEqual(['cartoon']);
    expect(coverCheck(plan).complete).toBe(true);
  });

  it('puts every point of the sheet on a page at true size, inside the clip', () => {
    for (const p of [
      { x: 0, y: 0 },
      { x: 60, y: 70 },
      { x: sheet.widthMm / 2, y: sheet.heightMm / 2 },
      { x: sheet.widthMm, y: sheet.heightMm },
    ]) {
      const shown = drawing.pages
        .filter(({ name }) => !name.startsWith('map'))
        .filter((page) => {
          const { box, place } = clipOf(page);
          const q = apply(place.at[0], p);
          return q.x >= box.x0 - 1e-3 && q.x <= box.x1 + 1e-3 && q.y >= box.y0 - 1e-3 && q.y <= box.y1 + 1e-3;
        });
      expect(shown.length).toBeGreaterThan(0);
      for (const page of shown) expect(clipOf(page).place.at[0].slice(0, 4)).toEqual([1, 0, 0, 1]);
    }
  });

  it('says on each page which it is, of how many, dated, and how it is drawn', () => {
    const named = pages.filter(({ name }) => !name.startsWith('map'));
    named.forEach((page, k) => {
      const texts = textsOf(page);
      const all = texts.join(' ');
      expect(texts).toContain(page.name);
      expect(all).toContain('Willow by the weir');
      expect(all).toContain(`page ${k + 1} of ${named.length}`);
      expect(all).toContain('revision B · 2026-03-01');
      expect(all).toContain('this side up');
      expect(all).toContain('the light is cut');
      const name = flatten(page.items).find((item) => item.kind === 'text' && item.text === page.name) as TextItem;
      expect(name.sizeMm).toBe(12);
    });
  });

  it('keeps all words of 3 mm at least and within the margins', () => {
    for (const page of drawing.pages) {
      for (const item of flatten(page.items)) {
        if (item.kind !== 'text') continue;
        expect(item.sizeMm).toBeGreaterThanOrEqual(3);
        expect(item.colour).toBe('#000000');
        const long = textWidthMm(item.text, item, font);
        if (item.turn !== undefined && item.turn !== 0) continue;
        const from = item.x - (item.anchor === 'end' ? long : item.anchor === 'middle' ? long / 2 : 0);
        expect(from).toBeGreaterThanOrEqual(6 - 1e-3);
        expect(from + long).toBeLessThanOrEqual(page.widthMm - 6 + 1e-3);
        expect(item.y).toBeLessThanOrEqual(page.heightMm - 6.35 + 1e-3);
      }
    }
  });

  it('has two bars at right angles as long as the page allows, outside of the picture', () => {
    const page = pages[pages.length - 1];
    const layer = page.items.find((item) => item.kind === 'layer' && item.id === 'test-bars');
    if (layer?.kind !== 'layer') throw new Error('no bars');
    const bars = layer.items.flatMap((item) => (item.kind === 'path' ? [contoursBox([item.contours[0]]) as Box] : []));
    expect(bars).toHaveLength(2);
    const [across, along] = bars;
    expect(across.y1 - across.y0).toBe(0);
    expect(along.x1 - along.x0).toBe(0);
    expect(across.x1 - across.x0).toBeGreaterThan(page.widthMm - 2 * 6.35 - 10);
    expect(along.y1 - along.y0).toBeGreaterThan(0.7 * page.heightMm);
    expect((across.x1 - across.x0) % 10).toBe(0);
    const { box } = clipOf(page);
    expect(along.x1).toBeLessThan(box.x0);
    expect(across.y0).toBeGreaterThan(box.y1);
  });

  it('corrects picture and bars alike', () => {
    const corrected = sheetsWith({ orientation: 'portrait', scaleAcross: 1.01, scaleAlong: 0.98 }).drawing;
    const page = corrected.pages[corrected.pages.length - 1];
    expect(clipOf(page).place.at[0].slice(0, 4)).toEqual([1.01, 0, 0, 0.98]);
    const layer = page.items.find((item) => item.kind === 'layer' && item.id === 'test-bars');
    if (layer?.kind !== 'layer') throw new Error('no bars');
    const [across, along] = layer.items.flatMap((item) =>
      item.kind === 'path' ? [contoursBox([item.contours[0]]) as Box] : [],
    );
    expect(((across.x1 - across.x0) / 1.01) % 10).toBeCloseTo(0, 3);
    expect(Math.round(((along.y1 - along.y0) / 0.98) * 1e3) % 1e4).toBe(0);
  });

  it('explains printing, joining and checking, with all six measures and the cautions', () => {
    const all = drawing.pages
      .filter(({ name }) => name.startsWith('map'))
      .flatMap(textsOf)
      .join(' ');
    for (const words of [
      'A second statement.',
      '100 %',
      'one for the bar across and one for the bar along',
      'stated ÷ measured',
      'Join each row from left to right',
      'A–B',
      'A–D',
      'E–B',
      'diagonal',
      '560.0',
      'cut away from that hand',
      'puncture-proof',
      'safety data sheet',
      'dust mask',
      "paper maker's guidance",
      'Local rules and qualified advice come first.',
    ]) {
      expect(all).toContain(words);
    }
    expect(all).toContain('22 3/64');
  });

  it('maps all pages and tells which are blank', () => {
    const small = sheetsWith({}, '150mm x 200mm');
    expect(small.blank.length).toBeGreaterThan(0);
    const inner = small.plan.pages.filter(
      ({ row, column }) => row > 0 && row < small.plan.rows - 1 && column > 0 && column < small.plan.columns - 1,
    );
    for (const name of small.blank) expect(inner.map((page) => page.name)).toContain(name);
    const map = textsOf(small.drawing.pages[0]);
    for (const { name } of small.plan.pages) expect(map).toContain(name);
    expect(map.filter((text) => text === 'blank')).toHaveLength(small.blank.length);
    const kept = small.drawing.pages.find(({ name }) => name === small.blank[0]);
    expect(kept && textsOf(kept).join(' ')).toContain('nothing to cut on this page');

    const skipped = sheetsWith({ skipBlank: true }, '150mm x 200mm');
    const names = skipped.drawing.pages.map(({ name }) => name);
    for (const name of skipped.blank) expect(names).not.toContain(name);
    expect(names.filter((name) => !name.startsWith('map'))).toHaveLength(
      skipped.plan.pages.length - skipped.blank.length,
    );
    expect(textsOf(skipped.drawing.pages[0])).toContain('left out');
  });

  it('mirrors the whole sheet, not its words or bars', () => {
    const mirrored = sheetsWith({ mirror: true });
    const [, hole, word] = mirrored.drawing.groups.cartoon;
    if (hole.kind !== 'path') throw new Error('kind');
    expect(contoursBox(hole.contours)?.x0).toBeCloseTo(sheet.widthMm - 65, 3);
    expect(word).toMatchObject({ x: sheet.widthMm - 80, anchor: 'end', text: 'mark' });
    // The pages follow one another as the mirrored whole does: the hole is on the last column.
    const { plan: own } = mirrored;
    const at = { x: sheet.widthMm - 60, y: 70 };
    const holder = own.pages.filter(({ windowMm: w }) => at.x > w.x0 && at.x < w.x1 && at.y > w.y0 && at.y < w.y1);
    expect(holder.map(({ column }) => column)).toContain(own.columns - 1);
    const last = mirrored.drawing.pages[mirrored.drawing.pages.length - 1];
    expect(clipOf(last).place.at[0].slice(0, 4)).toEqual([1, 0, 0, 1]);
    expect(textsOf(last).join(' ')).toContain('mirrored: the back of the sheet');
  });

  it('copes with long titles, revisions and statements on small paper', () => {
    const long = 'a very long text without an end '.repeat(60);
    const { drawing: own } = printSheets(sheet, {
      job: { ...job, title: long, revision: long },
      cartoon,
      font,
      paper: findPaper('A5'),
      statements: [long],
    });
    for (const page of own.pages) {
      for (const item of flatten(page.items)) {
        if (item.kind === 'text' && item.turn === undefined) expect(item.y).toBeLessThanOrEqual(page.heightMm - 6);
      }
    }
  });

  it('explains on every page what its lines mean', () => {
    const named = pages.filter(({ name }) => !name.startsWith('map'));
    for (const page of named) {
      const legend = page.items.find((item) => item.kind === 'layer' && item.id === 'legend');
      if (legend?.kind !== 'layer') throw new Error('no legend');
      const all = textsOf({ ...page, items: legend.items }).join(' ');
      for (const part of ['grey comes out', 'not yet', 'hold line', 'stop: the cut ends here', 'dot: punch', 'zone']) {
        expect(all).toContain(part);
      }
      const grey = flatten(legend.items).filter((item) => item.kind === 'path' && item.fill === '#cccccc');
      expect(grey).toHaveLength(1);
    }
  });

  it('writes a title in another script as far as the font goes, and says how many characters are missing', () => {
    const { drawing: own } = printSheets(sheet, {
      job: { ...job, title: '型紙 willow' },
      cartoon,
      font,
      paper: findPaper('A4'),
      statements,
    });
    const all = textsOf(own.pages[0]).join(' ');
    expect(all).toContain('\ufffd\ufffd willow');
    expect(all).toContain("2 characters of the title can't be written in this font");
    expect(own.title).toContain('型紙 willow');
  });

  it('names on each page how many numbers it does not carry, and their zones', () => {
    const labels: Item = {
      kind: 'layer',
      id: 'labels',
      label: '',
      items: [{ kind: 'text', text: '1', x: 60, y: 70, sizeMm: 6, colour: '#000000' }],
    };
    const { drawing: own, plan: laid } = printSheets(sheet, {
      job,
      cartoon: [...cartoon, labels],
      font,
      paper: findPaper('A4'),
      statements,
    });
    expect(textsOf(own.pages[0]).join(' ')).toContain(
      `Numbers of ${sheet.openings.length - 1} small openings stand on the enlarged zone pages of the guide: Z1.`,
    );
    for (const { name, windowMm: w } of laid.pages) {
      const page = own.pages.find((one) => one.name === name) as Page;
      const there = sheet.openings.filter(
        ({ number, labelAt: { x, y } }) => number !== 1 && x >= w.x0 && x <= w.x1 && y >= w.y0 && y <= w.y1,
      ).length;
      const found = /Numbers? of (\d+) small openings?: see the guide, zones Z1\./.exec(textsOf(page).join(' '));
      expect(Number(found?.[1] ?? 0), name).toBe(there);
    }
  });

  it('refuses paper that leaves no room', () => {
    expect(() => sheetsWith({ marginMm: 80 })).toThrow(InputError);
    expect(() => sheetsWith({}, '60mm x 60mm')).toThrow(InputError);
  });
});
