import { describe, expect, it } from 'vitest';
import { evaluateCubic } from '../geometry/curve.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { Sheet } from '../stencil/types.js';
import { cartoonItems, drawCartoon, holdLine, paperOutline } from './cartoon.js';
import { labelFont } from './label-font.test-help.js';
import { COLOURS, GREY } from './palette.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { textWidthMm } from './text.js';
import type { Item, PathItem, TextItem } from './types.js';

const font = labelFont();

const SHEETS: readonly (readonly [string, Sheet])[] = [
  ['5 openings', sampleSheet({ count: 5, fieldWidthMm: 180, fieldHeightMm: 240 })],
  ['60 openings', sampleSheet({ count: 60 })],
  ['300 openings', sampleSheet({ count: 300 })],
  ['a small border', sampleSheet({ count: 40, borderMm: 14, trailingMm: 10 })],
  ['a small sheet', sampleSheet({ count: 30, fieldWidthMm: 120, fieldHeightMm: 100 })],
];

function layer(sheet: Sheet, id: string, options = {}): readonly Item[] {
  return cartoonItems(sheet, { font, ...options }).find((l) => l.id === id)?.items ?? [];
}

function texts(items: readonly Item[]): TextItem[] {
  return items.flatMap((i) => (i.kind === 'text' ? [i] : i.kind === 'layer' ? texts(i.items) : []));
}

/** Where the letters of a text are, worked out apart from the code that placed it. */
function inkBox(t: TextItem): Box {
  const length = textWidthMm(t.text, t, font);
  const start = t.anchor === 'middle' ? -length / 2 : t.anchor === 'end' ? -length : 0;
  const rise = 0.73 * t.sizeMm;
  if (t.turn === -90) return { x0: t.x - rise, x1: t.x, y0: t.y - start - length, y1: t.y - start };
  return { x0: t.x + start, x1: t.x + start + length, y0: t.y - rise, y1: t.y };
}

function pointsOf(contours: readonly Contour[]): Point[] {
  return contours.flatMap(({ coords }) => {
    const points: Point[] = [];
    for (let k = 0; k + 7 < coords.length; k += 6) {
      const length = Math.hypot(coords[k + 6] - coords[k], coords[k + 7] - coords[k + 1]);
      const n = Math.max(2, Math.ceil(length / 0.2));
      for (let i = 0; i <= n; i++) points.push(evaluateCubic(coords, k, i / n));
    }
    return points;
  });
}

function meets(box: Box, other: Box): boolean {
  return box.x0 < other.x1 && other.x0 < box.x1 && box.y0 < other.y1 && other.y0 < box.y1;
}

describe('cartoonItems', () => {
  it('has its layers in their order', () => {
    const layers = cartoonItems(SHEETS[0][1], { font });
    expect(layers.map((l) => l.id)).toEqual([
      'border',
      'first-cut',
      'second-cut',
      'hold-line',
      'stops',
      'dots',
      'labels',
    ]);
  });

  it('outlines the first cut in solid black on a tint, the second dotted on none', () => {
    const sheet = SHEETS[1][1];
    const first = layer(sheet, 'first-cut') as PathItem[];
    const second = layer(sheet, 'second-cut') as PathItem[];
    expect(first.length).toBe(sheet.openings.filter((o) => o.firstCut.length > 0).length);
    expect(second.length).toBe(sheet.openings.filter((o) => o.secondCut.length > 0).length);
    expect(first.every((i) => i.fill !== undefined && i.line?.colour === COLOURS.black && !i.line.dashMm)).toBe(true);
    expect(second.every((i) => i.fill === undefined && i.line?.dashMm !== undefined)).toBe(true);
    expect((layer(sheet, 'first-cut', { tint: false }) as PathItem[]).every((i) => i.fill === undefined)).toBe(true);
  });

  it.each(SHEETS)('writes every number once, and no word on a cut line: %s', (_, sheet) => {
    const words = [...texts(layer(sheet, 'labels')), ...texts(layer(sheet, 'dots'))];
    const numbers = words.map((t) => t.text.replace(/[()]/g, '')).filter((t) => /^\d+$/.test(t));
    const expected = sheet.openings.map((o) => `${o.number}`);
    expect(numbers.sort()).toEqual(expected.sort());
    const lines = pointsOf([...sheet.openings.flatMap((o) => [...o.firstCut, ...o.secondCut]), ...holdLine(sheet)]);
    for (const word of words) {
      const box = inkBox(word);
      const hit = lines.find((p) => p.x > box.x0 && p.x < box.x1 && p.y > box.y0 && p.y < box.y1);
      expect(hit, `“${word.text}” at ${word.x.toFixed(1)}, ${word.y.toFixed(1)}`).toBeUndefined();
    }
  });

  it.each(SHEETS)('keeps words on the paper and apart from each other: %s', (_, sheet) => {
    const words = [...texts(layer(sheet, 'labels')), ...texts(layer(sheet, 'dots'))];
    const boxes = words.map(inkBox);
    boxes.forEach((box, k) => {
      expect(box.x0 >= 0 && box.y0 >= 0 && box.x1 <= sheet.widthMm && box.y1 <= sheet.heightMm, words[k].text).toBe(
        true,
      );
      const other = boxes.findIndex((b, n) => n > k && meets(b, box));
      expect(other < 0 ? '' : `${words[k].text} on ${words[other].text}`).toBe('');
    });
  });

  it('brackets the number of what is second cut only', () => {
    const sheet = SHEETS[2][1];
    const written = new Set(texts(layer(sheet, 'labels')).map((t) => t.text));
    for (const o of sheet.openings) {
      expect(written.has(o.firstCut.length > 0 ? `${o.number}` : `(${o.number})`)).toBe(true);
    }
  });

  it('leads to small waste with a thin grey line that crosses no outline but its own', () => {
    const sheet = SHEETS[2][1];
    const leaders = (layer(sheet, 'labels') as PathItem[]).filter((i) => i.kind === 'path' && i.line !== undefined);
    expect(leaders.length).toBeGreaterThan(0);
    for (const { contours, line } of leaders) {
      expect(line).toMatchObject({ colour: GREY });
      expect(line?.widthMm).toBeLessThan(0.25);
      const { coords } = contours[0];
      const [from, to] = [
        { x: coords[0], y: coords[1] },
        { x: coords[6], y: coords[7] },
      ];
      const own = sheet.openings.find((o) => o.labelAt.x === from.x && o.labelAt.y === from.y);
      expect(own).toBeDefined();
      for (const o of sheet.openings) {
        if (o !== own)
          expect(crosses([...o.firstCut, ...o.secondCut], from, to), `${own?.number} over ${o.number}`).toBe(false);
      }
    }
  });

  it('can leave the numbers out', () => {
    const numbers = texts(layer(SHEETS[0][1], 'labels', { numbers: false })).filter((t) => /\d/.test(t.text));
    expect(numbers).toEqual([]);
  });

  it.each(SHEETS)('says which side faces up and what the hold line means: %s', (_, sheet) => {
    const words = texts(layer(sheet, 'labels')).map((t) => t.text);
    expect(words).toContain('THIS SIDE UP');
    expect(words.filter((w) => w.startsWith('hold line'))).toHaveLength(2);
  });

  it('says in full what the hold line means where there is room', () => {
    const words = texts(layer(SHEETS[1][1], 'labels')).map((t) => t.text);
    expect(words.filter((w) => w === 'hold line – cut nothing beyond it before the proof')).toHaveLength(2);
  });

  it('does not forbid what the sheet itself cuts beyond the line', () => {
    const sheet = SHEETS[1][1];
    const released = {
      ...sheet,
      openings: sheet.openings.map((o, k) =>
        k === 6 ? { ...o, firstCut: [...o.firstCut, ...o.secondCut], secondCut: [] } : o,
      ),
    };
    const words = texts(layer(released, 'labels')).map((t) => t.text);
    expect(words.some((w) => w.includes('cut nothing beyond it'))).toBe(false);
    expect(words.some((w) => w.includes('beyond it cut only what is drawn solid'))).toBe(true);
  });

  it('rings and letters every dot', () => {
    const sheet = SHEETS[1][1];
    expect(texts(layer(sheet, 'dots')).map((t) => t.text)).toEqual(['A', 'B', 'C', 'D', 'E', 'F']);
    expect(layer(sheet, 'dots').filter((i) => i.kind === 'path')).toHaveLength(12);
  });

  it('keeps letters readable on a reduced picture', () => {
    const scale = 0.3;
    const { layers } = drawCartoon(SHEETS[1][1], { font, scale, leaderReachMm: 12 });
    const sizes = texts(layers).map((t) => t.sizeMm * scale);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(2.2 - 1e-9);
  });

  it('tells which numbers it could not place', () => {
    const { layers, missingNumbers } = drawCartoon(SHEETS[2][1], { font, scale: 0.2, leaderReachMm: 0 });
    const written = texts(layers).filter((t) => /^\(?\d+\)?$/.test(t.text)).length;
    expect(missingNumbers.length).toBeGreaterThan(0);
    expect(written + missingNumbers.length).toBe(SHEETS[2][1].openings.length);
  });

  it('draws a sheet without openings, dots or held margin', () => {
    const bare: Sheet = { ...SHEETS[0][1], openings: [], stops: [], dots: [], heldRight: null, heldBottom: null };
    expect(layer(bare, 'hold-line')).toEqual([]);
    expect(layer(bare, 'first-cut')).toEqual([]);
    expect(texts(layer(bare, 'labels')).map((t) => t.text)).toContain('THIS SIDE UP');
  });
});

describe('paperOutline', () => {
  it('lacks the upper left corner and no other, well clear of the dot there', () => {
    const sheet = SHEETS[1][1];
    const { coords } = paperOutline(sheet);
    const points = Array.from({ length: coords.length / 6 }, (_, k) => `${coords[6 * k]} ${coords[6 * k + 1]}`);
    expect(points).not.toContain('0 0');
    for (const corner of [`${sheet.widthMm} 0`, `0 ${sheet.heightMm}`, `${sheet.widthMm} ${sheet.heightMm}`]) {
      expect(points).toContain(corner);
    }
    expect(coords[0]).toBeLessThan((sheet.field.x0 + sheet.field.y0) / 2);
  });
});

function crosses(contours: readonly Contour[], a: Point, b: Point): boolean {
  const side = (p: Point, q: Point, r: Point) => Math.sign((q.x - p.x) * (r.y - p.y) - (q.y - p.y) * (r.x - p.x));
  return contours.some(({ coords }) => {
    for (let k = 0; k + 7 < coords.length; k += 6) {
      const p = { x: coords[k], y: coords[k + 1] };
      const q = { x: coords[k + 6], y: coords[k + 7] };
      if (side(p, q, a) * side(p, q, b) < 0 && side(a, b, p) * side(a, b, q) < 0) return true;
    }
    return false;
  });
}
