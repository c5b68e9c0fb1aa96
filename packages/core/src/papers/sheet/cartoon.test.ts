import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { COLOURS, GREY } from '../../draw/palette.js';
import { textWidthMm } from '../../draw/text.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { uprightNumber } from '../../draw/upright-numbers.js';
import { evaluateCubic } from '../../geometry/curve.js';
import { insideContours } from '../../geometry/point-tests.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { Sheet } from '../../stencil/types.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { cartoonItems, drawCartoon, holdLine, paperOutline } from './cartoon.js';
import { labelFaults } from './label-check.js';
import { numberWritten } from './unwritten-numbers.js';

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

/** Middle, half sides and turn of the letters of a text, worked out apart from the code that placed it. */
function inkOf(t: TextItem): { at: Point; u: number; v: number; angle: number } {
  const length = textWidthMm(t.text, t, font);
  const rise = 0.73 * t.sizeMm;
  const along = t.anchor === 'middle' ? 0 : t.anchor === 'end' ? -length / 2 : length / 2;
  const angle = ((t.turn ?? 0) * Math.PI) / 180;
  const at = {
    x: t.x + along * Math.cos(angle) + (rise / 2) * Math.sin(angle),
    y: t.y + along * Math.sin(angle) - (rise / 2) * Math.cos(angle),
  };
  return { at, u: length / 2, v: rise / 2, angle };
}

function isOn(t: TextItem, p: Point): boolean {
  const { at, u, v, angle } = inkOf(t);
  const [dx, dy] = [p.x - at.x, p.y - at.y];
  const along = dx * Math.cos(angle) + dy * Math.sin(angle);
  const down = dy * Math.cos(angle) - dx * Math.sin(angle);
  return Math.abs(along) < u && Math.abs(down) < v;
}

/** Corners, and points between them along the outline and the middle line. */
function inkPoints(t: TextItem): Point[] {
  const { at, u, v, angle } = inkOf(t);
  const parts = [-1, -0.75, -0.5, -0.25, 0, 0.25, 0.5, 0.75, 1];
  return parts.flatMap((p) =>
    [-1, 0, 1].map((q) => ({
      x: at.x + p * u * Math.cos(angle) - q * v * Math.sin(angle),
      y: at.y + p * u * Math.sin(angle) + q * v * Math.cos(angle),
    })),
  );
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

describe('cartoonItems', () => {
  it('has its layers in their order', () => {
    const layers = cartoonItems(SHEETS[0][1], { font });
    expect(layers.map((l) => l.id)).toEqual([
      'border',
      'zones',
      'first-cut',
      'second-cut',
      'done',
      'hold-line',
      'stops',
      'dots',
      'leaders',
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

  it.each(SHEETS)('writes every number once or names it as missing, and no word on a cut line: %s', (_, sheet) => {
    const { layers, missingNumbers } = drawCartoon(sheet, { font });
    const words = texts(layers);
    const numbers = words.flatMap((t) => numberWritten(t.text) ?? []).map(String);
    const expected = sheet.openings.map((o) => `${o.number}`);
    expect([...numbers, ...missingNumbers.map(String)].sort()).toEqual(expected.sort());
    const lines = pointsOf([...sheet.openings.flatMap((o) => [...o.firstCut, ...o.secondCut]), ...holdLine(sheet)]);
    for (const word of words) {
      const hit = lines.find((p) => isOn(word, p));
      expect(hit, `“${word.text}” at ${word.x.toFixed(1)}, ${word.y.toFixed(1)}`).toBeUndefined();
    }
  });

  it.each(SHEETS)('keeps words on the paper and apart from each other: %s', (_, sheet) => {
    const words = texts(drawCartoon(sheet, { font }).layers);
    words.forEach((word, k) => {
      const points = inkPoints(word);
      expect(
        points.every((p) => p.x >= 0 && p.y >= 0 && p.x <= sheet.widthMm && p.y <= sheet.heightMm),
        word.text,
      ).toBe(true);
      const other = words.find((w, n) => n !== k && points.some((p) => isOn(w, p)));
      expect(other === undefined ? '' : `${word.text} on ${other.text}`).toBe('');
    });
  });

  it.each(SHEETS)('has no fault that the check of labels finds: %s', (_, sheet) => {
    expect(labelFaults(sheet, drawCartoon(sheet, { font }).layers, { font })).toEqual([]);
  });

  it('writes digits of 4 mm at least, and zones by letters of 12 mm', () => {
    for (const [, sheet] of SHEETS) {
      for (const t of texts(layer(sheet, 'labels'))) {
        if (/^[(ø]?\d/.test(t.text)) expect(t.sizeMm * 0.73, t.text).toBeGreaterThanOrEqual(4 - 1e-9);
        if (/^Z\d/.test(t.text)) expect(t.sizeMm * 0.73, t.text).toBeCloseTo(12, 9);
      }
    }
  });

  it('brackets the number of what is second cut only', () => {
    const sheet = SHEETS[2][1];
    const { layers, missingNumbers } = drawCartoon(sheet, { font });
    const written = new Set(texts(layers).map((t) => t.text));
    for (const o of sheet.openings) {
      if (missingNumbers.includes(o.number)) continue;
      const name = uprightNumber(o.number, sheet.openings);
      expect(written.has(o.firstCut.length > 0 ? name : `(${name})`)).toBe(true);
    }
  });

  it('leads to small waste with a thin grey line that crosses no outline but its own', () => {
    const sheet = SHEETS[2][1];
    const leaders = (layer(sheet, 'leaders') as PathItem[]).filter((i) => i.line !== undefined);
    expect(leaders.length).toBeGreaterThan(0);
    for (const { contours, line } of leaders) {
      expect(line).toMatchObject({ colour: GREY });
      expect(line?.widthMm).toBeLessThan(0.25);
      const { coords } = contours[0];
      const [from, to] = [
        { x: coords[0], y: coords[1] },
        { x: coords[6], y: coords[7] },
      ];
      const own = sheet.openings.find((o) => insideContours(o.firstCut.length > 0 ? o.firstCut : o.secondCut, from));
      expect(own).toBeDefined();
      for (const o of sheet.openings) {
        if (o !== own)
          expect(crosses([...o.firstCut, ...o.secondCut], from, to), `${own?.number} over ${o.number}`).toBe(false);
      }
    }
  });

  it('can leave the numbers out', () => {
    const numbers = texts(layer(SHEETS[0][1], 'labels', { numbers: false })).filter((t) => /^\(?\d/.test(t.text));
    expect(numbers).toEqual([]);
  });

  it.each(SHEETS)('says which side faces up and what the hold line means: %s', (_, sheet) => {
    const words = texts(layer(sheet, 'labels')).map((t) => t.text);
    expect(words).toContain('THIS SIDE UP');
    expect(words.filter((w) => w.startsWith('hold line'))).toHaveLength(2);
  });

  it('says in full what the hold line means where there is room', () => {
    const words = texts(layer(SHEETS[0][1], 'labels')).map((t) => t.text);
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
    expect(words.some((w) => /cut nothing beyond it|cut no further/.test(w))).toBe(false);
    expect(words.some((w) => /beyond it cut only what is drawn solid|past it only solid lines/.test(w))).toBe(true);
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
    // Digits are 1.65 mm high at least, 0.73 em.
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(1.65 / 0.73 - 1e-9);
  });

  it('tells which numbers it could not place', () => {
    const { layers, missingNumbers } = drawCartoon(SHEETS[2][1], { font, scale: 0.2, leaderReachMm: 0 });
    const written = texts(layers).filter((t) => numberWritten(t.text) !== null).length;
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
