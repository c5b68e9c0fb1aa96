import { expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { textWidthMm } from '../../draw/text.js';
import type { Drawing, Item, PathItem, TextItem } from '../../draw/types.js';
import { contoursBox } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import type { FirstCutEnd, SheetEnds, SheetJoin } from '../../proof/types.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { proofFormDrawing } from './form.js';

const font = labelFont();
const sheet = sampleSheet({ count: 12, fieldWidthMm: 330, fieldHeightMm: 470 });
const { x0, y0, x1, y1 } = sheet.field;

/** Inner edges of the guide's pages, mm from the left; what may be written ends 18 mm above the lower edge. */
const LEFT = 20;
const rightOf = (widthMm: number) => widthMm - 14;
const [BOX_WIDE, BOX_HIGH, ROW] = [21, 5, 6.2];

function join(k: number, seam: SheetJoin['seam'], along: number): SheetJoin {
  const at = seam === 'right' ? { x: x1, y: y0 + along } : { x: x0 + along, y: y1 };
  const step = seam === 'right' ? { x: 330, y: 0 } : { x: 0, y: 470 };
  const edge = k % 2 === 1 ? 'begins' : 'ends';
  return {
    name: `J${k}`,
    seam,
    at,
    lead: { x: at.x - step.x, y: at.y - step.y },
    step,
    own: 100 + k,
    partner: 1,
    edge,
  };
}

/** Joins 2 mm apart down the right side, then along the bottom, then stops. */
function endsOf(right: number, bottom: number, stops: number): SheetEnds {
  const numbers = (count: number, from: number) => Array.from({ length: count }, (_, n) => from + n + 1);
  return {
    joins: [
      ...numbers(right, 0).map((k) => join(k, 'right', 2 * k)),
      ...numbers(bottom, right).map((k) => join(k, 'bottom', 2 * k)),
    ],
    firstCutEnds: numbers(stops, right + bottom).map((k): FirstCutEnd => {
      return { name: `J${k}`, at: { x: 3 * k, y: 77 }, along: { x: 0, y: 1 }, opening: 100 + k };
    }),
  };
}

function form(ends: SheetEnds, more: { widthMm?: number; own?: typeof sheet } = {}): Drawing {
  const { widthMm = 210, own = sheet } = more;
  return proofFormDrawing(own, {
    title: 'Reeds',
    revision: 'C',
    date: '2026-01-02',
    font,
    paper: { widthMm, heightMm: 297 },
    ends,
  });
}

interface FormRow {
  readonly page: number;
  readonly at: Point;
  /** All that stands on the line of its name, in its column, from the left. */
  readonly words: readonly string[];
  readonly box: Box | null;
}

const isText = (item: Item): item is TextItem => item.kind === 'text';

/** The rows by their names, read off the page. */
function rowsOf({ pages }: Drawing, columnWidth: number): Map<string, FormRow> {
  const found = new Map<string, FormRow>();
  pages.forEach(({ items }, page) => {
    const boxes = items
      .filter((i): i is PathItem => i.kind === 'path' && i.contours.length === 1 && i.contours[0].closed)
      .map(({ contours }) => contoursBox(contours) as Box);
    for (const name of items.filter(isText).filter(({ text, bold }) => bold && /^J\d+$/.test(text))) {
      expect(found.has(name.text), name.text).toBe(false);
      const end = name.x + columnWidth;
      const level = items.filter(isText).filter((t) => t.y === name.y && t.x >= name.x && t.x <= end + 0.01);
      const words = level.sort((a, b) => a.x - b.x).map(({ text }) => text);
      const box = boxes.find((b) => b.y0 < name.y && b.y1 > name.y && Math.abs(b.x1 - end) < 0.01) ?? null;
      found.set(name.text, { page, at: { x: name.x, y: name.y }, words, box });
      // No part of a row runs into the next or into the box.
      level.forEach((t, k) => {
        const next = level[k + 1];
        if (t.anchor === 'end' || next === undefined || next.anchor === 'end') return;
        expect(t.x + textWidthMm(t.text, { sizeMm: t.sizeMm, bold: t.bold === true }, font)).toBeLessThan(next.x);
      });
    }
  });
  return found;
}

it('has a box for every join and every stop, with its place, edge and opening in front of it', () => {
  const ends = endsOf(9, 4, 3);
  const wide = (rightOf(210) - LEFT - 6) / 2;
  const rows = rowsOf(form(ends), wide);
  expect([...rows.keys()].sort()).toEqual([...ends.joins, ...ends.firstCutEnds].map(({ name }) => name).sort());
  for (const { box, at } of rows.values()) {
    expect(box).not.toBeNull();
    const { x0: a, y0: b, x1: c, y1: d } = box as Box;
    expect([c - a, d - b].map((v) => Math.round(v * 1e3) / 1e3)).toEqual([BOX_WIDE, BOX_HIGH]);
    expect(c).toBeCloseTo(at.x + wide, 3);
    // Small letters of the row stand in the middle of the box.
    expect(at.y - 0.35 * 3.3).toBeCloseTo((b + d) / 2, 3);
  }
  // Dots A, B, … are the corners; J1 lies 2 mm below B, the upper right one, and J11 22 mm right of E, the lower left one.
  expect(rows.get('J1')?.words).toEqual(['J1', '2.0 below B', 'upper 101']);
  expect(rows.get('J2')?.words).toEqual(['J2', '4.0 below B', 'lower 102']);
  expect(rows.get('J11')?.words).toEqual(['J11', '22.0 right of E', 'left 111']);
  expect(rows.get('J12')?.words).toEqual(['J12', '24.0 right of E', 'right 112']);
  expect(rows.get('J14')?.words).toEqual(['J14', '42, 77', '114']);
});

it('goes down the left column first, a row every 6.2 mm', () => {
  const rows = rowsOf(form(endsOf(9, 0, 0)), (rightOf(210) - LEFT - 6) / 2);
  const at = (k: number) => rows.get(`J${k}`)?.at as Point;
  const second = LEFT + (rightOf(210) - LEFT + 6) / 2;
  for (let k = 1; k <= 9; k++) {
    expect(at(k).x).toBeCloseTo(k <= 5 ? LEFT : second, 3);
    expect(at(k).y - at(1).y).toBeCloseTo(ROW * ((k - 1) % 5), 3);
  }
});

it('takes one column where two would be too narrow to write in', () => {
  const rows = rowsOf(form(endsOf(5, 0, 0), { widthMm: 160 }), rightOf(160) - LEFT);
  expect([...rows.values()].map(({ at }) => at.x)).toEqual([20, 20, 20, 20, 20]);
  for (const { box } of rows.values()) expect(box?.x1).toBeCloseTo(rightOf(160), 3);
});

it('heads its parts, once more on every page that they run over, and ends above the lower margin', () => {
  const drawing = form(endsOf(140, 60, 4));
  const rows = rowsOf(drawing, (rightOf(210) - LEFT - 6) / 2);
  expect(rows.size).toBe(204);
  expect(drawing.pages.length).toBeGreaterThan(2);
  for (const { box } of rows.values()) expect(box?.y1).toBeLessThanOrEqual(297 - 18);
  const heads = drawing.pages.flatMap(({ items }, page) =>
    items.filter(isText).flatMap(({ text, bold, y }) => {
      const [, name, more] = /^(Right side|Bottom|Stops)(, continued)?$/.exec(text) ?? [];
      return bold && name !== undefined ? [{ name, more: more !== undefined, page, y }] : [];
    }),
  );
  for (const [name, from, to] of [
    ['Right side', 1, 140],
    ['Bottom', 141, 200],
    ['Stops', 201, 204],
  ] as const) {
    const own = heads.filter((head) => head.name === name);
    const pages = new Set(Array.from({ length: to - from + 1 }, (_, n) => rows.get(`J${from + n}`)?.page));
    expect(own.map(({ page }) => page)).toEqual([...pages]);
    expect(own.map(({ more }) => more)).toEqual(own.map((_, k) => k > 0));
    for (let k = from; k <= to; k++) {
      const { page, at } = rows.get(`J${k}`) as FormRow;
      const head = own.find((one) => one.page === page);
      expect(at.y, `J${k}`).toBeGreaterThan(head?.y ?? Infinity);
    }
    // The heads of columns stand over both of them.
    const [first] = own;
    const over = drawing.pages[first.page].items.filter(isText).filter(({ text }) => /^(edge of|of)$/.test(text));
    expect(over.length % 2).toBe(0);
  }
  // No row lies on another.
  const places = [...rows.values()].map(({ page, at }) => `${page} ${at.x} ${at.y}`);
  expect(new Set(places).size).toBe(204);
});

it('says instead of a box where no edge is printed, and for a sheet without joins that there is nothing to measure', () => {
  const ends = endsOf(3, 0, 0);
  const waiting = { ...ends, joins: ends.joins.map((j, k) => (k === 1 ? { ...j, leadCut: 'second' as const } : j)) };
  const rows = rowsOf(form(waiting), (rightOf(210) - LEFT - 6) / 2);
  expect(rows.get('J2')).toMatchObject({ box: null, words: ['J2', '4.0 below B', 'lower 102', 'not printed'] });
  expect(rows.get('J1')?.box).not.toBeNull();
  const said = (drawing: Drawing) =>
    drawing.pages.flatMap(({ items }) => items.filter(isText).map(({ text }) => text)).join(' ');
  const none = said(form(endsOf(0, 0, 0)));
  expect(none).toContain('there is nothing to measure');
  expect(none).not.toContain('Write mm to 0.1');
  expect(said(form(ends))).toContain('Hand the form back with the print');
  expect(form(ends, { own: { ...sheet, index: 2, count: 3 } }).title).toMatch(
    /^Reeds – .*2.* – measured at the joins$/,
  );
  expect(form(ends).title).toBe('Reeds – measured at the joins');
  expect(said(form(ends))).toContain('revision C · 2026-01-02');
});
