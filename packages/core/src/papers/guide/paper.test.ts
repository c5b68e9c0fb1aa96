import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { textWidthMm } from '../../draw/text.js';
import type { Drawing, Item, Page, TextItem } from '../../draw/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { JudgedSheet } from '../../stencil/types.js';
import { findPaper } from '../../units/paper-sizes.js';
import { paperNames, tiesOf } from '../sheet/paper-names.js';
import { guideDrawing } from './guide.js';
import { paperSheet, soundPaper } from './paper-sheet.test-help.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { zonedSheet } from './zoned-sheet.test-help.js';

const font = labelFont();
const A4 = findPaper('A4');
const plain = zonedSheet(sampleSheet({ count: 60 }), 3, 3);
const dense = zonedSheet(sampleSheet({ count: 300 }), 4, 4);

function guide(sheets: readonly JudgedSheet[], paper = A4): Drawing {
  return guideDrawing({
    title: 'Late summer leaves',
    revision: '3',
    date: '2026-01-02',
    statements: ['Printed with resist paste.'],
    lattice: makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 420, 560),
    sheets,
    joins: [],
    findings: [],
    font,
    paper,
  });
}

function texts(items: readonly Item[]): TextItem[] {
  return items.flatMap((i) =>
    i.kind === 'text' ? [i] : i.kind === 'clip' || i.kind === 'layer' ? texts(i.items) : [],
  );
}

function words(pages: readonly Page[]): string {
  return pages.flatMap((p) => texts(p.items).map((t) => t.text)).join(' ');
}

/** Pages from one whose heading begins so to the last before another heading that `ends` it. */
function pagesFrom({ pages }: Drawing, start: RegExp, end: RegExp): Page[] {
  const at = pages.findIndex((p) => texts(p.items).some((t) => start.test(t.text)));
  if (at < 0) return [];
  const rest = pages.slice(at + 1).findIndex((p) => texts(p.items).some((t) => end.test(t.text)));
  return pages.slice(at, rest < 0 ? undefined : at + 1 + rest);
}

const zonePages = (drawing: Drawing, letter: string): Page[] =>
  pagesFrom(drawing, new RegExp(`^Zone ${letter}[,:]`), /^(Zone Z\d+[,:]|The proof)/).length > 0
    ? drawing.pages.filter((p) => texts(p.items).some((t) => new RegExp(`^Zone ${letter}[,:]`).test(t.text)))
    : [];

/** Names in the pictures of a page: they are centred on their place. */
const pictured = (pages: readonly Page[], name: RegExp): string[] =>
  pages.flatMap((p) =>
    texts(p.items)
      .filter((t) => t.anchor === 'middle' && name.test(t.text))
      .map((t) => t.text),
  );

describe('weak places in the guide', () => {
  it.each([
    ['60 openings', paperSheet(plain, { weak: 9, tieEvery: 3 })],
    ['300 openings', paperSheet(dense, { weak: 60, tieEvery: 2 })],
  ])('are each on the picture of their own zone and in the list of it: %s', (_, sheet) => {
    const drawing = guide([sheet]);
    const { weak, ties } = paperNames(sheet);
    expect(weak.length).toBeGreaterThan(8);
    for (const { name, zone } of [...weak, ...ties]) {
      expect(pictured(zonePages(drawing, zone), /^[WTR]\d+$/), `${name} in ${zone}`).toContain(name);
    }
    for (const { name, zone } of weak) {
      expect(words(zonePages(drawing, zone)), `${name} in ${zone}`).toMatch(new RegExp(`Weak: [^.]*\\b${name}\\b`));
    }
  });

  it('are ringed on the overview', () => {
    const sheet = paperSheet(plain, { weak: 9 });
    const overview = guide([sheet]).pages.filter((p) =>
      texts(p.items).some((t) => t.text === 'The whole sheet and its zones'),
    );
    expect(pictured(overview, /^W\d+$/).sort()).toEqual(
      paperNames(sheet)
        .weak.map((w) => w.name)
        .sort(),
    );
    const rings = overview[0].items.filter(
      (i) => i.kind === 'path' && i.line?.widthMm === 0.6 && i.line.dashMm?.[0] === 2,
    );
    expect(rings.flatMap((i) => (i.kind === 'path' ? i.contours : [])).length).toBeGreaterThanOrEqual(9);
  });

  it('are in a table with width, what hangs on them and what to do; the rest is counted', () => {
    const sheet = paperSheet(dense, { weak: 60 });
    const paper = words(pagesFrom(guide([sheet]), /^The paper: weak places/, /^Zone Z1[,:]/));
    for (const part of [
      'Weak places, the worst first',
      '0.80 mm',
      '400 mm²',
      'strip over it, then cut on',
      'strip along it, 12 mm long',
      'And 20 more weak places',
    ])
      expect(paper).toContain(part);
    for (const { name } of paperNames(sheet).weak) expect(paper.split(' ')).toContain(name);
  });
});

describe('islands, tongues and long openings', () => {
  const sheet = paperSheet(plain, { islands: 6, tongues: 2, longOpenings: 2 });
  const paper = (own: JudgedSheet) => words(pagesFrom(guide([own]), /^The paper: weak places/, /^Zone Z1[,:]/));

  it('are listed with where they are and what to do first', () => {
    const said = paper(sheet);
    for (const part of [
      '4 pieces of paper would fall out. Do not cut before a tie is decided for each.',
      'W1',
      'W5',
      'with the first cut',
      'with the second cut',
      '2 islands hang on release ties alone',
      'tongue, 14 mm long, root 3.0 mm',
      '143 mm long without a tie',
      'Where the gauze has most to hold',
    ])
      expect(said).toContain(part);
  });

  it('want strips where there is no gauze', () => {
    const bare = { ...sheet, practice: { ...sheet.practice, gauze: false } };
    expect(paper(bare)).toContain('Where gauze or a glued strip goes');
  });

  it('give way to one sentence where the ground itself is cut', () => {
    const cut = { ...plain, paper: { ...soundPaper(plain), groundCut: true } };
    expect(paper(cut)).toContain('The ground itself is cut');
  });
});

describe('the release cut', () => {
  it.each([
    ['10 ties', paperSheet(plain, { tieEvery: 3 })],
    ['hundreds', paperSheet(zonedSheet(sampleSheet({ count: 600 }), 5, 5), { tieEvery: 1, kinds: ['release'] })],
  ])('is a step of its own: every tie in a picture and once in the tick list: %s', (_, sheet) => {
    const names = tiesOf(paperNames(sheet), 'release').map((t) => t.name);
    const pages = pagesFrom(guide([sheet]), /^Release cut: only when/, /^never$/);
    expect(names.length).toBeGreaterThan(9);
    expect(new Set(pictured(pages, /^R\d+$/))).toEqual(new Set(names));
    const ticks = pages.flatMap((p) => texts(p.items).filter((t) => t.anchor !== 'middle' && /^R\d+$/.test(t.text)));
    expect(ticks.map((t) => t.text)).toEqual(names);
    expect(words(pages)).toContain('only the paper is cut');
  });

  it('stands in the order of the work, and is cautioned of on page one', () => {
    const [page] = guide([paperSheet(plain, { tieEvery: 3 })]).pages;
    const steps = ['first cut', 'proof', 'second cut', 'gauze', 'dry', 'release cut', 'soak', 'square', 'print'];
    expect(words([page])).toContain(steps.join(' '));
    expect(words([page])).toContain('only the paper is cut');
  });

  it('falls away where no tie waits for it, and asks for gauze where the job has none', () => {
    const printed = guide([paperSheet(plain, { tieEvery: 3, kinds: ['printed'] })]);
    expect(words(printed.pages)).toContain('gauze dry soak square print');
    expect(words(printed.pages)).not.toContain('Release cut');
    const sheet = paperSheet(plain, { tieEvery: 3 });
    const bare = guide([{ ...sheet, practice: { ...sheet.practice, gauze: false } }]);
    expect(words(bare.pages)).toContain('the job has none: ask the dyer');
    expect(words(bare.pages)).toContain('second cut gauze dry release cut soak');
  });
});

describe('page one', () => {
  it('has the facts of the paper, as an estimate, and all else still with them', () => {
    const [page] = guide([{ ...paperSheet(plain, { tieEvery: 3 }), part: 'A', count: 2 }]).pages;
    const said = words([page]);
    for (const part of [
      '34 % of the design',
      '51 %',
      '312 to 362 mm down',
      '412 corners',
      '2 h 10 min and 6 blades',
      'our estimate, at 150 mm a minute',
      'Local rules',
    ])
      expect(said).toContain(part);
  });

  it('says which of two sheets is printed first', () => {
    const two = (['A', 'B'] as const).map((part, k) => ({ ...plain, part, index: k + 1, count: 2 }));
    const said = words(guide(two).pages);
    expect(said).toContain('Two sheets print this ink: this one first, sheet 2 on the same dots when it is dry.');
    expect(said).toContain('Two sheets print this ink: sheet 1 first, this one on the same dots when it is dry.');
  });
});

describe('the guide with much to say of its paper', () => {
  it.each([
    ['A4', A4],
    ['Letter', findPaper('Letter')],
    ['A5', findPaper('A5')],
  ])('keeps all words on the page, 9 pt or more: %s', (_, size) => {
    const sheet = paperSheet(dense, { tieEvery: 2, weak: 60, tongues: 50, longOpenings: 20, islands: 90 });
    for (const page of guide([{ ...sheet, part: 'A', count: 2 }], size).pages) {
      for (const t of texts(page.items)) {
        const width = textWidthMm(t.text, t, font);
        const left = t.anchor === 'end' ? t.x - width : t.anchor === 'middle' ? t.x - width / 2 : t.x;
        expect(left, t.text).toBeGreaterThanOrEqual(10);
        expect(left + width, t.text).toBeLessThanOrEqual(size.widthMm - 10);
        expect(t.y).toBeLessThanOrEqual(size.heightMm - 8);
        expect(t.sizeMm).toBeGreaterThanOrEqual(3.2);
      }
    }
  });

  it('adds no page where the paper is sound', () => {
    const sound = guide([{ ...plain, paper: soundPaper(plain) }]);
    expect(sound.pages).toHaveLength(guide([plain]).pages.length);
    expect(words(sound.pages)).not.toMatch(/The paper: weak|Release cut|\bW1\b|\bT1\b/);
  });
});
