import { describe, expect, it } from 'vitest';
import { contoursBox } from '../geometry/contour.js';
import type { Box } from '../geometry/types.js';
import { pageLegend, pageLegendEntries, pageLegendHeight } from '../papers/cartoon/page-legend.js';
import { sampleFont } from '../papers/guide/sample-font.test-help.js';
import { sampleSheet } from '../papers/guide/sample-sheet.test-help.js';
import { smallSheet } from '../papers/guide/small-sheet.js';
import { rangeWords } from '../papers/guide/zone-pages.js';
import { grainMark } from '../papers/sheet/grain-mark.js';
import { gutterNames } from '../papers/sheet/gutter-names.js';
import { STEP_RUN } from '../register/limits.js';
import type { Sheet } from '../stencil/types.js';
import { ClearSpace, NO_OWNER } from './clear-space.js';
import { textWidthMm } from './text.js';
import type { Item, PathItem, TextItem } from './types.js';

const font = sampleFont();
const sheet = sampleSheet({ count: 12 });

const flat = (items: readonly Item[]): Item[] =>
  items.flatMap((item) => (item.kind === 'clip' || item.kind === 'layer' ? flat(item.items) : [item]));
const texts = (items: readonly Item[]) => flat(items).filter((item): item is TextItem => item.kind === 'text');
const paths = (items: readonly Item[]) => flat(items).filter((item): item is PathItem => item.kind === 'path');
const boxOf = (...some: readonly PathItem[]) => contoursBox(some.flatMap(({ contours }) => contours)) as Box;
const practised = (more: Partial<Sheet['practice']>): Sheet => ({ ...sheet, practice: { ...sheet.practice, ...more } });

describe('the grain on a cutting drawing', () => {
  const dry = (grain: 'upright' | 'level' | null): Sheet => ({
    ...practised({ grain }),
    register: { punch: 'dry', stepping: STEP_RUN, seat: 'corners', movement: null, dry: true },
  });

  it('is an arrow along it in the border beside the design, its word beside it, and takes up its place', () => {
    for (const grain of ['upright', 'level'] as const) {
      const space = new ClearSpace();
      const items = grainMark(dry(grain), space, font);
      const arrow = boxOf(...paths(items));
      const [long, broad] =
        grain === 'upright' ? [arrow.y1 - arrow.y0, arrow.x1 - arrow.x0] : [arrow.x1 - arrow.x0, arrow.y1 - arrow.y0];
      expect(long).toBeCloseTo(36, 9);
      expect(broad).toBeCloseTo(3, 9);
      const far = grain === 'upright' ? arrow.x1 : arrow.y1;
      expect(far).toBeLessThan(grain === 'upright' ? sheet.field.x0 : sheet.field.y0);
      // Both heads lie within the arrow's length: they point outwards.
      const [line, ...heads] = paths(items)[0].contours;
      expect(heads).toHaveLength(2);
      const ends = [line.coords.slice(0, 2), line.coords.slice(-2)];
      heads.forEach((head, k) => {
        expect([...head.coords.slice(6, 8)]).toEqual([...ends[k]]);
        const key = grain === 'upright' ? 1 : 0;
        expect(Math.abs(head.coords[key] - ends[k][key])).toBeCloseTo(3, 9);
        expect(Math.abs(head.coords[key] - ends[1 - k][key])).toBeCloseTo(33, 9);
      });
      const [word] = texts(items);
      expect(word.text).toBe('grain');
      const wide = textWidthMm('grain', { sizeMm: word.sizeMm }, font);
      if (grain === 'upright') {
        expect(word.x).toBeGreaterThan(arrow.x1);
        expect(word.x + wide).toBeLessThan(sheet.field.x0);
        expect(word.y).toBeGreaterThan(arrow.y0 + 12);
        expect(word.y).toBeLessThan(arrow.y1 - 12);
      } else {
        expect(word.y).toBeLessThan(arrow.y0);
        expect(word.x + wide / 2).toBeCloseTo((arrow.x0 + arrow.x1) / 2, 9);
      }
      expect(space.isClear(arrow)).toBe(false);
      // The next one finds another place.
      const next = boxOf(...paths(grainMark(dry(grain), space, font)));
      expect(next.x0 > arrow.x1 || next.x1 < arrow.x0 || next.y0 > arrow.y1 || next.y1 < arrow.y0).toBe(true);
    }
  });

  it('is not drawn where the drawing does not allow for it, nor where it has no place', () => {
    expect(grainMark(sheet, new ClearSpace(), font)).toEqual([]);
    expect(grainMark(dry(null), new ClearSpace(), font)).toEqual([]);
    expect(grainMark(practised({ grain: 'upright' }), new ClearSpace(), font)).toEqual([]);
    const full = new ClearSpace();
    full.addBox({ x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm }, NO_OWNER);
    expect(grainMark(dry('upright'), full, font)).toEqual([]);
  });
});

describe('the small sheet at the beginning of the guide', () => {
  const box = { x0: 20, y0: 30, x1: 120, y1: 170 };

  it('is the sheet in small, in its box with room for words below, in the middle of it', () => {
    const items = smallSheet(sheet, box, font);
    const paper = boxOf(paths(items)[0]);
    const scale = Math.min(100 / sheet.widthMm, 130 / sheet.heightMm);
    expect(paper.x1 - paper.x0).toBeCloseTo(scale * sheet.widthMm, 6);
    expect(paper.y1 - paper.y0).toBeCloseTo(scale * sheet.heightMm, 6);
    expect(paper.x0 - box.x0).toBeCloseTo(box.x1 - paper.x1, 6);
    expect(paper.y0).toBeCloseTo(30, 6);
    const dots = paths(items).filter(({ fill, line }) => fill !== undefined && line === undefined);
    expect(dots).toHaveLength(sheet.dots.length);
    dots.forEach((dot, k) => {
      const { x0, x1, y0, y1 } = boxOf(dot);
      expect((x0 + x1) / 2).toBeCloseTo(paper.x0 + scale * sheet.dots[k].at.x, 6);
      expect((y0 + y1) / 2).toBeCloseTo(paper.y0 + scale * sheet.dots[k].at.y, 6);
    });
  });

  it('shows where to begin by the hand, and an arrow from there towards the other side', () => {
    for (const hand of ['right', 'left'] as const) {
      const items = smallSheet(practised({ hand }), box, font);
      const begin = texts(items).find(({ text }) => text === 'begin') as TextItem;
      const field = boxOf(paths(items)[1]);
      const middle = (field.x0 + field.x1) / 2;
      expect(begin.x < middle).toBe(hand === 'right');
      const arrow = paths(items).at(-1) as PathItem;
      const [shaft, head] = arrow.contours;
      const tip = head.coords.slice(6, 8);
      expect([...shaft.coords.slice(-2)]).toEqual([...tip]);
      expect(Math.sign(tip[0] - shaft.coords[0])).toBe(hand === 'right' ? 1 : -1);
      // The head's ends lie behind its tip.
      expect(Math.sign(head.coords[0] - tip[0])).toBe(hand === 'right' ? -1 : 1);
      const bounds = boxOf(arrow);
      expect(bounds.x0).toBeGreaterThan(field.x0);
      expect(bounds.x1).toBeLessThan(field.x1);
      expect(bounds.y0).toBeGreaterThan(begin.y);
    }
  });

  it('has the grain’s arrow along the grain, or asks for it', () => {
    expect(texts(smallSheet(sheet, box, font)).map(({ text }) => text)).toContain('grain: ask');
    for (const grain of ['upright', 'level'] as const) {
      const items = smallSheet(practised({ grain }), box, font);
      const arrow = paths(items).find(
        ({ contours, line }) =>
          contours.length === 3 && line?.dashMm === undefined && contours.every(({ closed }) => !closed),
      ) as PathItem;
      const bounds = boxOf(arrow);
      const field = boxOf(paths(items)[1]);
      const [long, of] =
        grain === 'upright'
          ? [bounds.y1 - bounds.y0, field.y1 - field.y0]
          : [bounds.x1 - bounds.x0, field.x1 - field.x0];
      expect(long / of).toBeCloseTo(0.6, 6);
      expect((bounds.x0 + bounds.x1) / 2).toBeCloseTo((field.x0 + field.x1) / 2, 6);
      const word = texts(items).find(({ text }) => text === 'grain') as TextItem;
      expect(grain === 'upright' ? word.x > bounds.x1 : word.y - word.sizeMm > bounds.y1).toBe(true);
    }
  });

  it('says it below where the picture is too small', () => {
    const small = { x0: 0, y0: 0, x1: 30, y1: 45 };
    const said = (more: Partial<Sheet['practice']>) => texts(smallSheet(practised(more), small, font));
    expect(said({ hand: 'right' }).map(({ text }) => text)).toEqual(['begin at the upper left', 'grain: ask']);
    expect(said({ hand: 'left', grain: 'level' }).map(({ text }) => text)).toEqual([
      'begin at the upper right',
      'grain level',
    ]);
    const paper = boxOf(paths(smallSheet(sheet, small, font))[0]);
    for (const { x, y } of said({})) {
      expect(x).toBe(15);
      expect(y).toBeGreaterThan(paper.y1);
    }
  });
});

describe('numbers in words', () => {
  it('draw runs of three and more together', () => {
    expect(rangeWords([])).toBe('');
    expect(rangeWords([4])).toBe('4');
    expect(rangeWords([1, 2, 4, 5, 6, 9])).toBe('1, 2, 4–6, 9');
    expect(rangeWords([1, 2, 3, 7, 8, 9, 10])).toBe('1–3, 7–10');
    expect(rangeWords([3, 5, 7, 8])).toBe('3, 5, 7, 8');
  });
});

describe('a gutter', () => {
  it('leads from each place to its name, on the side where it lies, without a bend where the name is level with it', () => {
    for (const [side, box] of [
      ['right', { x0: 40, y0: 0, x1: 60, y1: 100 }],
      ['left', { x0: -40, y0: 0, x1: -20, y1: 100 }],
      ['bottom', { x0: 0, y0: 40, x1: 100, y1: 60 }],
      ['top', { x0: 0, y0: -40, x1: 100, y1: -20 }],
    ] as const) {
      const at = side === 'left' || side === 'right' ? { x: 10, y: 50 } : { x: 50, y: 10 };
      const items = gutterNames([{ name: 'X1', at }], { box, side }, { font, aroundMm: 2 });
      const [leader] = paths(items);
      const { coords } = leader.contours[0];
      const [sx, sy] = { right: [1, 0], left: [-1, 0], bottom: [0, 1], top: [0, -1] }[side];
      expect(coords[0]).toBeCloseTo(at.x + 2 * sx, 6);
      expect(coords[1]).toBeCloseTo(at.y + 2 * sy, 6);
      const end = { x: coords[coords.length - 2], y: coords[coords.length - 1] };
      // It ends a little into the gutter, before the name.
      const near = { right: 40, left: -20, bottom: 40, top: -20 }[side];
      const into = sx !== 0 ? (end.x - near) * sx : (end.y - near) * sy;
      expect(into).toBeGreaterThan(0);
      expect(into).toBeLessThan(0.8);
      expect(sx !== 0 ? end.y : end.x).toBeCloseTo(50, 6);
      const [bx, by] = [coords[6], coords[7]];
      const straight = sx !== 0 ? Math.abs(end.x - bx) : Math.abs(end.y - by);
      expect(straight).toBeCloseTo(2.5, 6);
    }
  });
});

describe('the legend of a page', () => {
  const entries = pageLegendEntries({
    ...sheet,
    openings: sheet.openings.map((o, k) =>
      k === 0 ? { ...o, done: true } : k === 1 ? { ...o, tool: 'punch', punchMm: 2 } : o,
    ),
  });
  const at = { x: 10, y: 200 };

  it('explains what the sheet has and nothing else', () => {
    const meanings = (of: Sheet) => pageLegendEntries(of).map(({ meaning }) => meaning);
    expect(entries.map(({ meaning }) => meaning)).toEqual(
      expect.arrayContaining(['first-cut', 'second-cut', 'hold-line', 'stop', 'done', 'punch', 'dot', 'zone', 'seam']),
    );
    const bare: Sheet = { ...sheet, openings: [], stops: [], dots: [], zones: [], heldRight: null, heldBottom: null };
    expect(meanings(bare)).toEqual(['seam', 'leader']);
    expect(meanings({ ...bare, heldBottom: sheet.heldBottom })).toContain('hold-line');
    expect(meanings({ ...bare, heldRight: sheet.heldRight })).toContain('hold-line');
    expect(meanings(sheet)).not.toContain('done');
    expect(meanings(sheet)).not.toContain('tie');
  });

  it('is as high as its lines, wraps within its width, and has a sample before every word', () => {
    for (const widthMm of [60, 120, 200]) {
      const items = pageLegend(entries, at, widthMm, font);
      // A sample may be a number itself, in bold.
      const words = texts(items).filter(({ bold }) => bold !== true);
      expect(words).toHaveLength(entries.length);
      const rows = [...new Set(words.map(({ y }) => y))];
      expect(pageLegendHeight(entries, widthMm, font)).toBeCloseTo(4 * rows.length, 6);
      rows.forEach((y, k) => {
        expect(y).toBeCloseTo(at.y + 4 * k + 2 + (3.1 * 0.7) / 2, 6);
        const row = words.filter((word) => word.y === y);
        row.forEach((word, n) => {
          const end = word.x + textWidthMm(word.text, { sizeMm: word.sizeMm }, font);
          expect(end).toBeLessThanOrEqual(at.x + widthMm + 1e-6);
          if (n + 1 < row.length) expect(row[n + 1].x).toBeGreaterThan(end + 3);
        });
        const before = row[0].x - at.x;
        expect(before).toBeGreaterThan(4);
      });
      // Every sample lies in its line, between the word before and its own.
      for (const item of items) {
        if (item.kind !== 'path') continue;
        const { x0, x1, y0, y1 } = boxOf(item);
        const k = Math.floor(((y0 + y1) / 2 - at.y) / 4);
        expect(y0).toBeGreaterThanOrEqual(at.y + 4 * k);
        expect(y1).toBeLessThanOrEqual(at.y + 4 * (k + 1));
        const row = words.filter((word) => Math.abs(word.y - rows[k]) < 1e-9);
        expect(row.some((word) => word.x > x1 && word.x - x0 < 21)).toBe(true);
        expect(x0).toBeGreaterThanOrEqual(at.x - 0.5);
      }
    }
  });

  it('tells lines apart by their look', () => {
    const looks = entries
      .filter(({ meaning }) => meaning !== 'hold-line')
      .map((entry) =>
        JSON.stringify(
          paths(pageLegend([entry], at, 120, font)).map(({ contours, line, fill }) => [
            contours.map((c) => [...c.coords]),
            line,
            fill,
          ]),
        ),
      );
    expect(new Set(looks).size).toBe(looks.length);
  });
});
