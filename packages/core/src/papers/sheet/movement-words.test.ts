import { describe, expect, it } from 'vitest';
import type { Item } from '../../draw/types.js';
import { STEP_RUN } from '../../register/limits.js';
import { drySheet } from '../../stencil/dry-sheet.js';
import type { JudgedSheet, SheetRegister } from '../../stencil/types.js';
import { findPaper } from '../../units/paper-sizes.js';
import { printSheets } from '../cartoon/print-sheets.js';
import { stencilDrawing } from '../cartoon/stencil-drawing.js';
import { sampleFont } from '../guide/sample-font.test-help.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { cartoonItems } from './cartoon.js';
import { movementWords, punchWords } from './movement-words.js';

const font = sampleFont();
const plain = sampleSheet({ count: 30 });

function moving(widthPercent: number, heightPercent: number, more: Partial<SheetRegister> = {}): JudgedSheet {
  const register: SheetRegister = {
    stepping: STEP_RUN,
    punch: 'dry',
    seat: 'corners',
    dry: false,
    movement: { widthPercent, heightPercent },
    ...more,
  };
  return { ...plain, practice: { ...plain.practice, grain: 'upright' }, register };
}

function pagesOf(printed: JudgedSheet) {
  const sheet = drySheet(printed);
  const pages = {
    orientation: 'auto',
    marginMm: 6.35,
    overlapMm: 10,
    mirror: false,
    skipBlank: false,
    scaleAcross: 1,
    scaleAlong: 1,
  } as const;
  return printSheets(sheet, {
    job: { title: 'Leaves', date: '2026-03-01', revision: 'A', pages },
    cartoon: cartoonItems(sheet, { font }),
    font,
    paper: findPaper('A4'),
    statements: [],
  }).drawing;
}

const textsOf = (items: readonly Item[]): string[] =>
  items.flatMap((item) =>
    item.kind === 'text' ? [item.text] : item.kind === 'layer' || item.kind === 'clip' ? textsOf(item.items) : [],
  );
const layerOf = (items: readonly Item[], id: string) => items.find((item) => item.kind === 'layer' && item.id === id);

describe('movementWords', () => {
  it('says by how much less is drawn: 1 − 1/(1 + p)', () => {
    expect(movementWords(drySheet(moving(1.5, 0.2)))).toBe(
      'Drawn 1.478 % narrower and 0.2 % lower than it prints, for paper that moves when it is soaked (grain upright).',
    );
    expect(movementWords(drySheet(moving(-0.5, 0)))).toMatch(/^Drawn 0\.503 % wider than it prints/);
  });

  it('says nothing of what does not move, or is as it prints', () => {
    expect(movementWords(plain)).toBeNull();
    expect(movementWords(moving(1, 1))).toBeNull();
    expect(movementWords(drySheet(moving(0, 0)))).toBeNull();
    expect(punchWords(plain)).toBeNull();
  });

  it('gives the size of the soaked sheet', () => {
    expect(punchWords(drySheet(moving(1.5, 0.2)))).toContain('485 mm × 625 mm');
  });
});

describe('drawings of paper that moves', () => {
  it('says so on every page, and leaves the bars at their length', () => {
    const [own, none] = [pagesOf(moving(1.5, 0.2)), pagesOf(plain)];
    for (const page of own.pages) expect(textsOf(page.items).join(' ')).toContain('1.478 % narrower');
    expect(none.pages.some((page) => textsOf(page.items).join(' ').includes('than it prints'))).toBe(false);
    const bars = (drawing: typeof own) => layerOf(drawing.pages[1].items, 'test-bars');
    // Bars begin where the strip of words leaves room, and have their stated length: a scaled one would not end on a whole centimetre.
    const [bar] = (bars(own) as { items: readonly Item[] }).items;
    const xs = bar.kind === 'path' ? [...bar.contours[0].coords].filter((_, k) => k % 2 === 0) : [];
    expect((Math.max(...xs) - Math.min(...xs)) % 10).toBeCloseTo(0, 3);
    expect(Math.max(...xs) - Math.min(...xs)).toBeGreaterThan(100);
  });

  it('draws dots and openings as they have to be dry, with the grain', () => {
    const cartoon = pagesOf(moving(1.5, 0.2)).groups.cartoon;
    const dots = layerOf(cartoon, 'dots') as { items: readonly Item[] };
    const [ring] = dots.items;
    const xs = ring.kind === 'path' ? [...ring.contours[0].coords].filter((_, k) => k % 2 === 0) : [];
    expect((Math.max(...xs) + Math.min(...xs)) / 2).toBeCloseTo(40 / 1.015, 3);
    expect(textsOf(cartoon)).toContain('grain');
    expect(textsOf(pagesOf(plain).groups.cartoon)).not.toContain('grain');
  });

  it('draws the same pages as ever where nothing moves', () => {
    const known: JudgedSheet = {
      ...plain,
      register: { punch: 'dry', stepping: STEP_RUN, seat: 'corners', dry: false, movement: null },
    };
    expect(pagesOf(known)).toEqual(pagesOf(plain));
  });

  it('cuts the cutting drawing dry, with its words and dry measures', () => {
    const options = { title: 'Leaves', date: '2026-03-01', statements: [], font };
    const [page] = stencilDrawing(moving(1.5, 0.2), options).pages;
    expect(page.widthMm).toBeCloseTo(485 / 1.015, 3);
    const words = textsOf(page.items).join(' ');
    expect(words).toContain('on the dry paper');
    expect(words).toContain(`${(420 / 1.015).toFixed(1)} mm`);
    const wet = stencilDrawing(moving(1.5, 0.2, { punch: 'wet' }), options);
    expect(textsOf(wet.pages[0].items).join(' ')).toMatch(/on the soaked sheet.*420\.0 mm/);
  });
});
