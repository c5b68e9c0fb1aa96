import { describe, expect, it } from 'vitest';
import type { Join } from '../joins/types.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { type GuideInput, guideDrawing } from './guide.js';
import { labelFont } from './label-font.test-help.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { textWidthMm } from './text.js';
import type { Drawing, Item, Page, PathItem, PlaceItem, TextItem } from './types.js';

const font = labelFont();
const A4 = { widthMm: 210, heightMm: 297 };
const LETTER = { widthMm: 215.9, heightMm: 279.4 };

function input(sheet: Sheet, more: Partial<GuideInput> = {}): GuideInput {
  return {
    title: 'Late summer leaves',
    revision: '3',
    date: '2026-01-02',
    statements: ['Printed with resist paste.'],
    lattice: makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 420, 560),
    sheets: [sheet],
    joins: [],
    findings: [],
    font,
    paper: A4,
    ...more,
  };
}

function join(k: number, state: Join['state']): Join {
  const open = state === 'open';
  return {
    seam: 'right',
    ink: '#000000',
    atMm: 10 * k,
    at: { x: 420, y: 10 * k },
    offsetMm: open ? null : 0.8,
    gapMm: open ? null : 0.61,
    kinkDeg: open ? null : 4,
    state,
    flush: false,
    widthMm: 5,
  };
}

function texts(items: readonly Item[]): TextItem[] {
  return items.flatMap((i) => (i.kind === 'text' ? [i] : i.kind === 'layer' ? texts(i.items) : []));
}

function prose(drawing: Drawing): string {
  return drawing.pages
    .map((p) =>
      texts(p.items)
        .map((t) => t.text)
        .join(' '),
    )
    .join(' ');
}

/** Boxes to tick: outlines of squares, with the bold number that stands right of each. */
function ticks(page: Page): { number: string; y: number; page: string }[] {
  const bold = page.items.filter((i): i is TextItem => i.kind === 'text' && i.bold === true && /^\d+$/.test(i.text));
  return page.items
    .filter((i): i is PathItem => i.kind === 'path' && i.contours.length === 1 && isSmallSquare(i))
    .map(({ contours: [{ coords }] }) => {
      const next = bold
        .filter((t) => t.x > coords[0] && t.y > coords[1] && t.y < coords[1] + 4)
        .sort((a, b) => a.x - b.x)[0];
      return { number: next.text, y: coords[1], page: page.name };
    });
}

function isSmallSquare({ contours: [{ closed, coords }] }: PathItem): boolean {
  return closed && coords.length === 26 && Math.abs(coords[6] - coords[0] - 3.2) < 1e-3;
}

describe('guideDrawing', () => {
  const sheet = sampleSheet({ count: 60 });
  const mixed = sampleSheet({ count: 300 });

  it.each([
    ['60 openings', sheet],
    ['300 openings, some in the second cut only', mixed],
  ])('has each opening of the first cut to tick off once, in order, then each of the second: %s', (_, own) => {
    const boxes = guideDrawing(input(own)).pages.flatMap(ticks);
    const first = own.openings.filter((o) => o.firstCut.length > 0).map((o) => `${o.number}`);
    const second = own.openings.filter((o) => o.secondCut.length > 0).map((o) => `${o.number}`);
    expect(boxes.map((b) => b.number)).toEqual([...first, ...second]);
  });

  it('says what the assistant has to know before the first cut', () => {
    const words = prose(guideDrawing(input(sheet)));
    for (const part of [
      'Late summer leaves',
      'revision 3',
      '2026-01-02',
      'sheet 1 of 1',
      'Printed with resist paste.',
      'half-drop',
      '420 × 560 mm',
      '485 × 625 mm',
      'THIS SIDE UP',
      'clipped corner = upper left',
      'Cut nothing in the held margin before the printed proof is in hand.',
      '700.0 mm',
      'cut away from that hand',
      'safety data sheet',
      'gloves',
      'dust mask',
      'Local rules and qualified advice',
    ]) {
      expect(words).toContain(part);
    }
  });

  it('marks the openings that stop at the hold line', () => {
    const words = prose(guideDrawing(input(sheet)));
    const stopping = new Set(sheet.stops.map((s) => s.number)).size;
    expect(stopping).toBeGreaterThan(0);
    expect(words.split('stops at the').length - 1).toBe(stopping);
  });

  it('shows the whole sheet on one page at a stated scale, numbers readable', () => {
    const drawing = guideDrawing(input(sheet));
    const places = drawing.pages.flatMap((p) => p.items.filter((i): i is PlaceItem => i.kind === 'place'));
    expect(places).toHaveLength(1);
    const [scale, , , down, x, y] = places[0].at[0];
    expect(scale).toBe(down);
    expect(x).toBeGreaterThanOrEqual(0);
    expect(x + scale * sheet.widthMm).toBeLessThanOrEqual(A4.widthMm);
    expect(y + scale * sheet.heightMm).toBeLessThanOrEqual(A4.heightMm);
    expect(prose(drawing)).toContain(`Drawn at 1 : ${(1 / scale).toFixed(2)}`);
    const sizes = texts(drawing.groups['sheet-1']).map((t) => t.sizeMm * scale);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(2.2 - 1e-3);
  });

  it('shows a dense sheet in parts as well, each on a page of its own, with its numbers', () => {
    const dense = sampleSheet({ count: 1000 });
    const drawing = guideDrawing(input(dense));
    const clips = drawing.pages.flatMap((p) => p.items.filter((i) => i.kind === 'clip'));
    const names = drawing.pages.flatMap((p) =>
      texts(p.items).filter((t) => /^Part [A-Z]\d of the sheet$/.test(t.text)),
    );
    expect(names.map((t) => t.text.slice(5, 7))).toEqual(['A1', 'A2', 'B1', 'B2']);
    expect(clips).toHaveLength(4);
    const numbers = (group: string) => texts(drawing.groups[group]).filter((t) => /^\(?\d+\)?$/.test(t.text)).length;
    expect(numbers('sheet-1')).toBe(0);
    expect(numbers('sheet-1-parts')).toBeGreaterThan(0.9 * dense.openings.length);
  });

  it('explains every kind of line in words', () => {
    const words = prose(guideDrawing(input(sheet)));
    for (const part of ['first cut:', 'second cut:', 'hold line:', 'stop:', 'dots:', 'edge of the paper:']) {
      expect(words).toContain(part);
    }
  });

  it.each([
    ['A4', A4],
    ['Letter', LETTER],
    ['A5', { widthMm: 148, heightMm: 210 }],
  ])('keeps all text on the page, body 9 pt or more, footers counted: %s', (_, paper) => {
    const title = 'A cloth of leaves and vines for the late summer '.repeat(8);
    const findings = Array.from({ length: 30 }, (__, k) => ({
      code: 'join-off',
      severity: 'fix' as const,
      message: `Finding ${k}: ${'move one of the two until they meet '.repeat(4)}`,
      atMm: null,
      measure: null,
    }));
    const joins = Array.from({ length: 90 }, (__, k) => join(k, k % 3 === 0 ? 'open' : 'off'));
    const drawing = guideDrawing(input(mixed, { paper, title, findings, joins }));
    drawing.pages.forEach((page, k) => {
      const words = texts(page.items);
      for (const t of words) {
        const width = textWidthMm(t.text, t, font);
        expect(t.anchor === 'end' ? t.x - width : t.x, t.text).toBeGreaterThanOrEqual(10);
        expect(t.anchor === 'end' ? t.x : t.x + width, t.text).toBeLessThanOrEqual(paper.widthMm - 10);
        expect(t.y).toBeLessThanOrEqual(paper.heightMm - 8);
        const footer = t.y > paper.heightMm - 12;
        expect(t.sizeMm).toBeGreaterThanOrEqual(footer ? 2.8 : 3.2);
      }
      expect(words.some((t) => t.text === `page ${k + 1} of ${drawing.pages.length}`)).toBe(true);
      expect(words.some((t) => t.text.includes('revision 3'))).toBe(true);
    });
  });

  it('lists the joins that do not meet, and counts those that do', () => {
    const words = prose(guideDrawing(input(sheet, { joins: [join(1, 'meets'), join(2, 'off'), join(3, 'open')] })));
    expect(words).toContain('1 of 3 joins meet.');
    expect(words).toContain('0.61 mm');
    expect(words).toContain('no partner');
  });

  it('leaves joins of other inks out', () => {
    const words = prose(guideDrawing(input(sheet, { joins: [{ ...join(1, 'off'), ink: '#ff0000' }] })));
    expect(words).toContain('no join has to meet');
  });

  it('puts what must be settled in the order of its weight, notes left out', () => {
    const finding = (severity: 'stop' | 'fix' | 'look' | 'note') => ({
      code: 'x',
      severity,
      message: `message-${severity}`,
      atMm: null,
      measure: null,
    });
    const words = prose(
      guideDrawing(input(sheet, { findings: (['note', 'look', 'fix', 'stop'] as const).map(finding) })),
    );
    const order = ['stop', 'fix', 'look'].map((s) => words.indexOf(`message-${s}`));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(order[0]).toBeGreaterThan(0);
    expect(words).not.toContain('message-note');
  });

  it('follows one sheet with the next', () => {
    const two = [sheet, { ...sheet, index: 2, count: 2 }];
    const drawing = guideDrawing(input(sheet, { sheets: two }));
    expect(Object.keys(drawing.groups)).toEqual(['sheet-1', 'sheet-2']);
    expect(prose(drawing)).toContain('sheet 2 of 2');
  });

  it('does not speak of a held margin where there is none', () => {
    const bare = { ...sheet, heldRight: null, heldBottom: null, stops: [] };
    const words = prose(guideDrawing(input(bare)));
    expect(words).toContain('Nothing is held on this sheet');
    expect(words).not.toContain('hold line:');
  });

  it('writes a guide for a sheet without openings', () => {
    const empty = { ...sheet, openings: [], stops: [] };
    expect(guideDrawing(input(empty)).pages.length).toBeGreaterThan(1);
  });

  it('refuses paper that cannot hold it', () => {
    expect(() => guideDrawing(input(sheet, { paper: { widthMm: 105, heightMm: 148 } }))).toThrow(InputError);
    expect(() => guideDrawing(input(sheet, { paper: { widthMm: Number.NaN, heightMm: 297 } }))).toThrow(InputError);
  });

  it('takes 1,000 openings in less than a second', () => {
    const large = input(sampleSheet({ count: 1000 }));
    const times = [1, 2, 3].map(() => {
      const start = performance.now();
      guideDrawing(large);
      return performance.now() - start;
    });
    expect(Math.min(...times)).toBeLessThan(1000);
  });
});
