import { describe, expect, it } from 'vitest';
import { ClearSpace } from '../../draw/clear-space.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import { COLOURS, GREY } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { Drawing, Item, Page, PathItem, TextItem } from '../../draw/types.js';
import { boxesOverlap } from '../../geometry/boxes.js';
import type { Join } from '../../joins/types.js';
import { STEP_RUN } from '../../register/limits.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { JudgedSheet, SheetOpening } from '../../stencil/types.js';
import { InputError } from '../../units/input-error.js';
import { findPaper } from '../../units/paper-sizes.js';
import { numberBox } from '../sheet/numbers.js';
import { outlinesOf } from '../sheet/outlines.js';
import { type GuideInput, guideDrawing } from './guide.js';
import { crossings } from './join-names.js';
import { paperSheet } from './paper-sheet.test-help.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { TICK_BOX_MM } from './tick-list.js';
import { zonedSheet } from './zoned-sheet.test-help.js';

const font = labelFont();
const A4 = findPaper('A4');
const LETTER = findPaper('Letter');

function input(sheet: JudgedSheet, more: Partial<GuideInput> = {}): GuideInput {
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
  return items.flatMap((i) => (i.kind === 'text' ? [i] : i.kind === 'clip' ? texts(i.items) : []));
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
  const bold = page.items.filter((i): i is TextItem => i.kind === 'text' && i.bold === true && /^\d+\.?$/.test(i.text));
  return page.items
    .filter((i): i is PathItem => i.kind === 'path' && i.contours.length === 1 && isSmallSquare(i))
    .map(({ contours: [{ coords }] }) => {
      const next = bold
        .filter((t) => t.x > coords[0] && t.y > coords[1] && t.y < coords[1] + 4)
        .sort((a, b) => a.x - b.x)[0];
      return { number: next.text.replace('.', ''), y: coords[1], page: page.name };
    });
}

function isSmallSquare({ contours: [{ closed, coords }] }: PathItem): boolean {
  return closed && coords.length === 26 && Math.abs(coords[6] - coords[0] - TICK_BOX_MM) < 1e-3;
}

/** Lines that are cut by this list or by another: first cut, second cut, faint. */
const CUT_COLOURS: ReadonlySet<string> = new Set([COLOURS.black, COLOURS.blue, '#8c8c8c']);

describe('guideDrawing', () => {
  const sheet = zonedSheet(sampleSheet({ count: 60 }), 3, 3);
  const mixed = zonedSheet(sampleSheet({ count: 300 }), 4, 4);

  it.each([
    ['60 openings', sheet],
    ['300 openings, some in the second cut only', mixed],
  ])(
    'has each opening of the first cut on one tick list, zone by zone in order, and each of the second: %s',
    (_, own) => {
      const boxes = guideDrawing(input(own)).pages.flatMap(ticks);
      const inOrder = own.zones.flatMap((z) => [...z.firstCut, ...z.secondCut]).map((n) => `${n}`);
      expect(boxes.map((b) => b.number)).toEqual(inOrder);
      const first = own.openings.filter((o) => o.firstCut.length > 0);
      expect(own.zones.flatMap((z) => z.firstCut).sort((a, b) => a - b)).toEqual(first.map((o) => o.number));
    },
  );

  it('says what the assistant has to know before the first cut', () => {
    const waiting = paperSheet(sheet, { tieEvery: 9, kinds: ['release'] });
    const words = prose(guideDrawing(input(waiting)));
    for (const part of [
      'Late summer leaves',
      'revision 3',
      '2026-01-02',
      'sheet 1 of 1',
      'Printed with resist paste.',
      'half-drop',
      '420 × 560 mm',
      '485 × 625 mm',
      'right: begin at the upper left',
      'cut through: ',
      'not mirrored',
      'not known: ask',
      'Length of cut',
      'After a slip',
      'call the dyer',
      'THIS SIDE UP',
      'clipped corner = upper left',
      'Cut nothing in the held margin before the printed proof is in hand.',
      'release cut',
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

  it('says all of that on page one', () => {
    const [page] = guideDrawing(
      input(sheet, { statements: ['Printed with resist paste: openings stay the colour of the cloth.'] }),
    ).pages;
    const words = prose({ pages: [page] } as unknown as Drawing);
    for (const part of ['Working order', 'After a slip', 'call the dyer', 'Take care', 'Local rules']) {
      expect(words).toContain(part);
    }
  });

  it('marks the openings that stop at the hold line', () => {
    const words = prose(guideDrawing(input(sheet)));
    const stopping = new Set(sheet.stops.map((s) => s.number)).size;
    expect(stopping).toBeGreaterThan(0);
    expect(words.split('stops at the').length - 1).toBe(stopping);
  });

  it('shows the whole sheet on one page at a stated scale, with the pages of its zones', () => {
    const drawing = guideDrawing(input(sheet));
    const overview = drawing.pages.find((p) => texts(p.items).some((t) => t.text === 'The whole sheet and its zones'));
    const words = texts((overview as Page).items).map((t) => t.text);
    expect(words.join(' ')).toContain('Drawn at 1 : ');
    for (const zone of sheet.zones.filter((z) => z.firstCut.length + z.secondCut.length > 0)) {
      const page = drawing.pages.findIndex((p) => texts(p.items).some((t) => t.text.startsWith(`Zone ${zone.letter}`)));
      expect(words[words.indexOf(zone.letter) + 1]).toBe(`page ${page + 1}`);
    }
  });

  it.each([
    ['60', sheet],
    ['300', mixed],
    ['1000', zonedSheet(sampleSheet({ count: 1000 }), 6, 6)],
  ])('writes every number 3 mm high or more on its zone page, once: %s openings', (_, own) => {
    const least = (3 * font.bold.unitsPerEm) / font.bold.capHeight;
    const zonePages = guideDrawing(input(own)).pages.filter((p) =>
      texts(p.items).some((t) => /^Zone Z\d+.*: .*true size/.test(t.text)),
    );
    const numbers = zonePages.flatMap((p) =>
      texts(p.items).filter((t) => t.anchor === 'middle' && /^\(?\d+\.?\)?( not yet)?$/.test(t.text)),
    );
    for (const t of numbers) expect(t.sizeMm).toBeGreaterThanOrEqual(least - 1e-3);
    const first = own.openings.filter((o) => o.firstCut.length > 0).map((o) => o.number);
    const plain = numbers.map((t) => t.text).filter((t) => /^\d+\.?$/.test(t));
    expect(plain.map(Number).sort((a, b) => a - b)).toEqual(first);
    const later = own.openings.filter((o) => o.secondCut.length > 0).map((o) => o.number);
    const bracketed = numbers.map((t) => t.text).filter((t) => t.startsWith('('));
    expect(bracketed.map((t) => Number.parseInt(t.slice(1), 10)).sort((a, b) => a - b)).toEqual(later);
  });

  it.each([
    ['60', sheet],
    ['300', mixed],
    ['1000', zonedSheet(sampleSheet({ count: 1000 }), 6, 6)],
  ])('has no number on a cut or on another number, and no leader across a second cut line: %s openings', (_, own) => {
    let leaders = 0;
    for (const page of guideDrawing(input(own)).pages.filter((p) =>
      texts(p.items).some((t) => /^Zone Z/.test(t.text)),
    )) {
      const cuts = page.items
        .filter((i) => i.kind === 'clip')
        .flatMap((i) => i.items)
        .filter((i): i is PathItem => i.kind === 'path' && CUT_COLOURS.has(i.line?.colour ?? ''));
      const space = new ClearSpace();
      for (const { contours } of cuts) space.addContours(contours, 1);
      const boxes = texts(page.items)
        .filter((t) => t.anchor === 'middle')
        .map((t) => {
          const cap = (t.sizeMm * font.bold.capHeight) / font.bold.unitsPerEm;
          return numberBox({ x: t.x, y: t.y - cap / 2 }, t.text, cap, font);
        });
      for (const [k, box] of boxes.entries()) {
        expect(space.isClear(box)).toBe(true);
        expect(boxes.slice(k + 1).some((other) => boxesOverlap(box, other))).toBe(false);
      }
      const sides = outlinesOf(
        cuts.flatMap((c) => c.contours).filter((c) => c.closed),
        { x0: 0, y0: 0, x1: 210, y1: 297 },
      ).sides();
      for (const i of page.items) {
        if (i.kind !== 'path' || i.line?.widthMm !== 0.2 || i.line.colour !== GREY) continue;
        leaders++;
        const { coords } = i.contours[0];
        const [from, to] = [
          { x: coords[0], y: coords[1] },
          { x: coords[6], y: coords[7] },
        ];
        expect(crossings(sides, from, to)).toBe(1);
      }
    }
    expect(leaders).toBeGreaterThan(0);
  });

  it('draws what is done hatched and ticks it, unless it changed since', () => {
    const done = { ...sheet, openings: sheet.openings.map((o): SheetOpening => ({ ...o, done: o.number <= 5 })) };
    const ticked = (drawing: Drawing) =>
      drawing.pages
        .flatMap((p) => p.items)
        .filter(
          (i) =>
            i.kind === 'path' && i.line?.widthMm === 0.5 && !i.contours[0].closed && i.contours[0].coords.length === 14,
        ).length;
    expect(ticked(guideDrawing(input(sheet)))).toBe(0);
    expect(ticked(guideDrawing(input(done)))).toBe(5);
    const changes = [{ cutAgain: [2], patch: [], fresh: [] }];
    expect(ticked(guideDrawing(input(done, { changes })))).toBe(4);
  });

  it('has a page of what changed, and marks it in pictures and lists', () => {
    const changes = [{ cutAgain: [2], patch: [3, 999], fresh: [7] }];
    const words = prose(guideDrawing(input(sheet, { changes })));
    for (const part of [
      'What changed: revision 3',
      '2 again',
      '3 patch',
      '7 new',
      'new in this revision',
      'gone from the design',
    ])
      expect(words).toContain(part);
    expect(prose(guideDrawing(input(sheet, { changes: [null] })))).not.toContain('What changed');
  });

  it.each([
    ['cut-through', 'cut page and paper in one'],
    ['carbon', 'carbon paper, dark side down'],
    ['lightbox', 'tape the joined pages to the glass'],
  ] as const)('says how to transfer by %s, and what mirrored pages are for', (transfer, says) => {
    const own = { ...sheet, practice: { ...sheet.practice, transfer } };
    const plain = prose(guideDrawing(input(own)));
    expect(plain).toContain(says);
    expect(plain).toContain('not mirrored');
    expect(prose(guideDrawing(input(own, { transferMirrored: true })))).toContain('mirrored: words read right');
  });

  it('leaves out the steps that a job does not use', () => {
    const bare = { ...sheet, practice: { ...sheet.practice, gauze: false, soak: false } };
    const words = texts(guideDrawing(input(bare)).pages[0].items).map((t) => t.text);
    for (const step of ['first cut', 'proof', 'second cut', 'square', 'print']) expect(words).toContain(step);
    for (const step of ['gauze', 'dry', 'release cut', 'soak']) expect(words).not.toContain(step);
  });

  it('counts the characters that the font lacks', () => {
    const words = prose(guideDrawing(input(sheet, { title: '型染め leaves' })));
    expect(words).toContain('3 characters of the job’s words are not in this font');
  });

  it('shows an opening of 3 mm larger and one of 2 m in its zones', () => {
    const long = sampleSheet({ count: 1, fieldWidthMm: 2040, fieldHeightMm: 300 });
    const small = sampleSheet({ count: 1, fieldWidthMm: 7, fieldHeightMm: 7 });
    for (const own of [zonedSheet(long, 14, 2), zonedSheet(small, 1, 1)]) {
      const drawing = guideDrawing(input(own));
      expect(drawing.pages.flatMap(ticks).length).toBeGreaterThan(0);
      for (const page of drawing.pages)
        for (const t of texts(page.items)) expect(Number.isFinite(t.x + t.y + t.sizeMm)).toBe(true);
    }
    expect(prose(guideDrawing(input(zonedSheet(long, 14, 2))))).toMatch(/reaches into Z\d+, Z\d+/);
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
    ['A5', findPaper('A5')],
  ])('keeps all text on the page, body 9 pt or more, footers counted: %s', (_, paper) => {
    const title = 'A cloth of leaves and vines for the late summer '.repeat(8);
    const findings = Array.from({ length: 30 }, (__, k) => ({
      code: 'join-off',
      topic: 'paper' as const,
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
        const left = t.anchor === 'end' ? t.x - width : t.anchor === 'middle' ? t.x - width / 2 : t.x;
        expect(left, t.text).toBeGreaterThanOrEqual(10);
        expect(left + width, t.text).toBeLessThanOrEqual(paper.widthMm - 10);
        expect(t.y).toBeLessThanOrEqual(paper.heightMm - 8);
        expect(t.sizeMm).toBeGreaterThanOrEqual(3.2);
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
      topic: 'paper' as const,
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
    expect(prose(drawing)).toContain('sheet 2 of 2');
  });

  it('does not speak of a held margin where there is none', () => {
    const bare = { ...sheet, heldRight: null, heldBottom: null, stops: [] };
    const words = prose(guideDrawing(input(bare)));
    expect(words).toContain('Nothing is held on this sheet');
    expect(words).not.toContain('hold line:');
  });

  it('writes a guide for a sheet without openings', () => {
    const zones = sheet.zones.map((z) => ({ ...z, firstCut: [], secondCut: [] }));
    const empty = { ...sheet, openings: [], stops: [], zones };
    expect(guideDrawing(input(empty)).pages.length).toBeGreaterThan(1);
  });

  it('tells how to punch and square where that comes in the work: dry before the zones, wet at the end', () => {
    const pageWith = (drawing: Drawing, start: string) =>
      drawing.pages.findIndex((p) => texts(p.items).some((t) => t.text.startsWith(start)));
    const dry = guideDrawing(input(sheet));
    expect(pageWith(dry, 'Punch and square')).toBeGreaterThan(pageWith(dry, 'The whole sheet and its zones'));
    expect(pageWith(dry, 'Punch and square')).toBeLessThan(pageWith(dry, 'Zone Z1'));
    expect(prose(dry)).toContain('Punch the dots, check every dot measure');
    const register = { stepping: STEP_RUN, punch: 'wet', seat: 'corners', movement: null, dry: false } as const;
    const wet = guideDrawing(input({ ...sheet, register }));
    expect(pageWith(wet, 'Punch and square')).toBeGreaterThan(pageWith(wet, 'The proof and its joins'));
    expect(prose(wet)).toContain('Punch no dot yet');
    expect(prose(wet)).not.toContain('Punch the dots, check every dot measure');
  });

  it('has dot measures of the dry paper where the paper moves and is punched dry', () => {
    const register = { stepping: STEP_RUN, punch: 'dry', seat: 'corners', dry: false } as const;
    const movement = { widthPercent: 5, heightPercent: 0 };
    const dry = prose(guideDrawing(input({ ...sheet, register: { ...register, movement } })));
    expect(dry).toContain('Dot measures, centre to centre, on the dry paper');
    // 420 / 1.05
    expect(dry).toContain('400.0 mm');
    const still = prose(guideDrawing(input({ ...sheet, register: { ...register, movement: null } })));
    expect(still).toContain('Dot measures, centre to centre ');
    expect(still).toContain('420.0 mm');
  });

  it('ends with the run along the cloth, or why it could not be planned', () => {
    const refused = 'the cloth is 0 mm wide.';
    const drawing = guideDrawing(input(sheet, { plan: { refused } }));
    const last = texts((drawing.pages.at(-1) as Page).items).map((t) => t.text);
    expect(last).toContain('Along the cloth');
    expect(last.join(' ')).toContain(refused);
    expect(prose(guideDrawing(input(sheet)))).not.toContain('Along the cloth');
  });

  it('refuses paper that cannot hold it', () => {
    expect(() => guideDrawing(input(sheet, { paper: { name: 'A6', widthMm: 105, heightMm: 148 } }))).toThrow(
      InputError,
    );
    expect(() => guideDrawing(input(sheet, { paper: { name: 'none', widthMm: Number.NaN, heightMm: 297 } }))).toThrow(
      InputError,
    );
  });

  it('takes 1,000 openings, whose zone pages all come', () => {
    const large = zonedSheet(sampleSheet({ count: 1000 }), 6, 6);
    expect(guideDrawing(input(large)).pages.length).toBeGreaterThan(large.zones.length / 2);
  });
});
