import { describe, expect, it } from 'vitest';
import { ClearSpace } from '../../draw/clear-space.js';
import { textTurnedBox } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import { GuidePages } from '../../draw/layout.js';
import { COLOURS } from '../../draw/palette.js';
import type { Item, Page, PathItem, TextItem } from '../../draw/types.js';
import { boxesOverlap } from '../../geometry/boxes.js';
import type { Contour } from '../../geometry/types.js';
import { sheetDots, sheetRepeat } from '../../register/dots.js';
import { STEP_RUN } from '../../register/limits.js';
import { makeLattice } from '../../repeat/lattice.js';
import { sheetMeasures } from '../../stencil/measures.js';
import type { Sheet } from '../../stencil/types.js';
import { AROUND_DOT_MM } from './dots.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { squarePages } from './square.js';
import { toMeasure } from './square-table.js';
import { squareWork } from './square-work.js';

const font = labelFont();
const A4 = { widthMm: 210, heightMm: 297 };
const [W, H] = [300, 400];

type Kind = 'straight' | 'drop' | 'brick';

/** A sample sheet with the dots of a repeat. */
function sheetOf(kind: Kind, [p, q] = [0, 1], more: Partial<Sheet> = {}): Sheet {
  const sheet = sampleSheet({ count: 60, fieldWidthMm: W, fieldHeightMm: H });
  const repeat = sheetRepeat(makeLattice({ kind, step: { p, q } }, W, H).repeat, 1, 1);
  const dots = sheetDots(sheet.field, repeat, { diameterMm: 1, sightMm: 1.5 });
  return { ...sheet, dots, measures: sheetMeasures(dots, sheet.field), ...more };
}

function pagesOf(sheet: Sheet, paper = A4): Page[] {
  const pages = new GuidePages(paper, font);
  squarePages(pages, sheet);
  return pages.finish('Test', []);
}

function texts(items: readonly Item[]): TextItem[] {
  return items.filter((i): i is TextItem => i.kind === 'text');
}

function prose(pages: readonly Page[]): string {
  return pages.flatMap((p) => texts(p.items).map((t) => t.text)).join(' ');
}

function ends({ coords }: Contour): [number, number, number, number] {
  return [coords[0], coords[1], coords[coords.length - 2], coords[coords.length - 1]];
}

const CASES: readonly (readonly [string, Sheet])[] = [
  ['straight', sheetOf('straight')],
  ['half-drop', sheetOf('drop', [1, 2])],
  ['third-drop', sheetOf('drop', [1, 3])],
  ['brick', sheetOf('brick', [1, 2])],
  ['brick of 2/5', sheetOf('brick', [2, 5])],
];

describe('squarePages', () => {
  it.each(CASES)('writes every distance of the order and the blank table: %s', (_, sheet) => {
    const work = squareWork(sheet);
    if (work === null) throw new RangeError('got no work');
    const pages = pagesOf(sheet);
    const words = prose(pages);
    const all = toMeasure(work);
    expect(all.slice(0, 6).map(({ what }) => what)).toEqual([
      'top side',
      'right side',
      'bottom side',
      'left side',
      'diagonal',
      'diagonal',
    ]);
    const extra = sheet.dots.length - 4;
    expect(all).toHaveLength(6 + 3 * extra);
    for (const { what, between, mm, soakedMm } of all) {
      // Nobody knows how far this paper moves.
      expect(soakedMm).toBeNull();
      expect(words).toContain(what);
      expect(words).toContain(between);
      const [from, to] = between.split('–').map((name) => sheet.dots.find((d) => d.name === name)?.at);
      if (!from || !to) throw new RangeError('got no such dot');
      expect(mm).toBeCloseTo(Math.hypot(from.x - to.x, from.y - to.y), 9);
    }
    expect(texts(pages.flatMap((p) => p.items)).filter(({ text }) => /^(dry is|soaked is)$/.test(text)).length).toBe(2);
    for (const [k, step] of work.order.steps.entries()) {
      const name = step.hole in work.names ? work.names[step.hole as keyof typeof work.names] : step.hole;
      expect(words).toContain(`${name} (${k + 1}${['st', 'nd', 'rd'][k] ?? 'th'})`);
    }
    expect(words).toContain('Equal diagonals alone prove nothing');
  });

  it.each(CASES)('lays no text of a page on another text: %s', (_, sheet) => {
    for (const page of [...pagesOf(sheet), ...pagesOf(sheet, { widthMm: 148, heightMm: 210 })]) {
      const boxes = texts(page.items).map((t) => {
        const { at, halfU, halfV, turn } = textTurnedBox(t, font);
        const [u, v] = turn === 0 ? [halfU, halfV] : [halfV, halfU];
        return { text: t.text, box: { x0: at.x - u, y0: at.y - v, x1: at.x + u, y1: at.y + v } };
      });
      boxes.forEach(({ text, box }, k) => {
        const on = boxes.slice(k + 1).find((other) => boxesOverlap(box, other.box));
        expect(on && `${text} / ${on.text}`).toBeUndefined();
        expect(box.x0).toBeGreaterThan(10);
        expect(box.x1).toBeLessThan(page.widthMm - 10);
      });
    }
  });

  it.each(CASES)('shows what lies around each dot at true size: %s', (_, sheet) => {
    const pages = pagesOf(sheet);
    const items = pages.flatMap((p) => p.items);
    const arms = items.filter(
      (i): i is PathItem => i.kind === 'path' && i.line?.colour === COLOURS.green && i.contours.length === 4,
    );
    expect(arms).toHaveLength(sheet.dots.length);
    const pictures = items.filter((i) => i.kind === 'clip');
    expect(pictures).toHaveLength(sheet.dots.length);
    pictures.forEach((picture, k) => {
      if (picture.kind !== 'clip') return;
      const { at } = sheet.dots[k];
      const [x0, y0] = ends(picture.contours[0]);
      const shift = { x: x0 + AROUND_DOT_MM / 2 - at.x, y: y0 + AROUND_DOT_MM / 2 - at.y };
      const [a, , b] = arms[k].contours.map(ends);
      expect((a[0] + b[0]) / 2).toBeCloseTo(at.x + shift.x, 9);
      // Every cut in it is the sheet's own, moved and not scaled.
      const drawn = picture.items.filter(
        (i): i is PathItem =>
          i.kind === 'path' && (i.line?.colour === COLOURS.black || i.line?.colour === COLOURS.blue),
      );
      const own = sheet.openings.flatMap((o) => [...o.firstCut, ...o.secondCut]);
      for (const contour of drawn.flatMap((i) => i.contours)) {
        const match = own.some(
          (o) =>
            o.coords.length === contour.coords.length &&
            o.coords.every((v, n) => Math.abs(v + (n % 2 === 0 ? shift.x : shift.y) - contour.coords[n]) < 1e-9),
        );
        expect(match).toBe(true);
      }
    });
    const bar = items.find(
      (i): i is PathItem => i.kind === 'path' && i.line?.widthMm === 0.3 && i.contours.length === 3,
    );
    if (!bar) throw new RangeError('got no bar');
    const [x0, , x1] = ends(bar.contours[0]);
    expect(Math.abs(x1 - x0)).toBeCloseTo(20, 9);
  });

  it('has no name of a dot on a cut, in its picture at true size', () => {
    for (const [, sheet] of CASES) {
      for (const page of pagesOf(sheet)) {
        const space = new ClearSpace();
        for (const i of page.items) {
          if (i.kind !== 'clip') continue;
          for (const j of i.items) {
            if (j.kind === 'path' && (j.line?.colour === COLOURS.black || j.line?.colour === COLOURS.blue)) {
              space.addContours(j.contours, 1);
            }
          }
        }
        for (const t of texts(page.items)) {
          if (t.anchor !== 'middle' || t.sizeMm < 3.9) continue;
          expect(space.isClearTurned(textTurnedBox(t, font)), t.text).toBe(true);
        }
      }
    }
  });

  it('tells the paper’s movement in every case, never a silent zero', () => {
    const practice = { ...sheetOf('straight').practice, grain: 'upright' as const };
    const register = { stepping: STEP_RUN, punch: 'dry', seat: 'corners', movement: null, dry: false } as const;
    expect(prose(pagesOf(sheetOf('straight', [0, 1], { practice, register })))).toContain(
      'not measured: NOTHING is allowed for',
    );
    const dryPaper = { ...practice, soak: false };
    expect(prose(pagesOf(sheetOf('straight', [0, 1], { practice: dryPaper, register })))).toContain('is not soaked');
    const movement = { widthPercent: 1.5, heightPercent: 0.25 };
    const dry = prose(pagesOf(sheetOf('straight', [0, 1], { practice, register: { ...register, movement } })));
    // 300 / 1.015 = 295.57, 400 / 1.0025 = 399.00.
    expect(dry).toContain('295.6 mm × 399 mm from dot to dot on the dry paper');
    expect(dry).toContain('Measure again when the sheet is soaked');
    expect(dry).toContain('then be 300 mm × 400 mm');
    const wet = prose(
      pagesOf(sheetOf('straight', [0, 1], { practice, register: { ...register, punch: 'wet', movement } })),
    );
    expect(wet).toContain('all lengths here are those of the soaked sheet');
    expect(wet).not.toContain('295.6');
  });

  it('draws the grain, or says that it has to be asked for', () => {
    const known = sheetOf('drop', [1, 2], { practice: { ...sheetOf('straight').practice, grain: 'level' } });
    expect(texts(pagesOf(known)[0].items).some(({ text }) => text === 'grain')).toBe(true);
    expect(prose(pagesOf(sheetOf('drop', [1, 2])))).toContain('grain: ask');
  });

  it('says where the first dot goes when dots are not on the corners', () => {
    const sheet = sheetOf('straight');
    const dots = sheet.dots.map((d) => ({ ...d, at: { x: d.at.x - 6, y: d.at.y + 4 } }));
    expect(prose(pagesOf({ ...sheet, dots }))).toMatch(/corner 6 mm left, 4 mm\s+down/);
  });

  it('has nothing for a sheet without dots or too small for a ruler', () => {
    expect(squareWork({ ...sheetOf('straight'), dots: [] })).toBeNull();
    const small = sampleSheet({ count: 1, fieldWidthMm: 7, fieldHeightMm: 7 });
    expect(squareWork(small)).toBeNull();
  });
});
