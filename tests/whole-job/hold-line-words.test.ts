import type { Box, Drawing, Item, JobFile, Sheet, TextItem } from '@okuri/core';
import { drySheet, printSheetDrawings, stencilDrawings } from '@okuri/core/inside';
import { fontMetrics } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { disc, polygon, REPEATS, runShapes } from './support.js';

// The hold line's words stand along the hold line, on the side that waits, and nowhere else: never along an edge up to which everything is cut.

const FONT = fontMetrics();
/** Words stand no farther from their line than this, mm: their distance and their height. */
const NEAR_MM = 8;
/** … and no nearer to a lead edge than this, mm, or this share of the side. */
const FROM_LEAD = { mm: 10, share: 0.12 } as const;

/** A scatter of discs and bars, thicker or thinner; some cross the seams and the hold line. */
function scatter(widthMm: number, heightMm: number, gapMm: number) {
  const shapes = [];
  for (let i = 0; i * gapMm < widthMm; i++) {
    for (let k = 0; k * gapMm < heightMm; k++) {
      const at = { x: i * gapMm + ((k * 7) % 5), y: k * gapMm + ((i * 3) % 4) };
      const r = gapMm * (0.12 + 0.05 * ((i + 2 * k) % 4));
      const bar = [
        [at.x, at.y],
        [at.x + 3 * r, at.y + r],
        [at.x + 3 * r, at.y + 1.6 * r],
        [at.x, at.y + 0.6 * r],
      ] as const;
      shapes.push((i + k) % 3 === 0 ? polygon(`bar${i}-${k}`, bar) : disc(`disc${i}-${k}`, at, r));
    }
  }
  return shapes;
}

function textsOf(items: readonly Item[]): TextItem[] {
  return items.flatMap((item) =>
    item.kind === 'text' ? [item] : item.kind === 'layer' || item.kind === 'clip' ? textsOf(item.items) : [],
  );
}

/** The words of the line itself, not the legends that explain its look (`hold line: …`). */
function holdWordsIn({ groups, pages }: Drawing): TextItem[] {
  const all = [...Object.values(groups).flat(), ...pages.flatMap(({ items }) => items)];
  return textsOf(all).filter(({ text }) => /hold line/.test(text) && !/^hold line:/.test(text) && text.length < 70);
}

/** The upright box of a text's letters, by the font's own table. */
function boxOf({ text, x, y, sizeMm, bold = false, anchor = 'start', turn = 0 }: TextItem): Box {
  const face = bold ? FONT.bold : FONT.regular;
  const units = [...text].reduce((sum, c) => sum + (face.advances.get(c.codePointAt(0) as number) ?? 0), 0);
  const width = (units * sizeMm) / face.unitsPerEm;
  const cap = (face.capHeight * sizeMm) / face.unitsPerEm;
  const start = { start: 0, middle: -width / 2, end: -width }[anchor];
  expect([-90, 0, 90]).toContain(turn);
  const s = Math.sin((turn * Math.PI) / 180);
  const corners = [start, start + width].flatMap((u) =>
    [-cap, 0].map((v) => (turn === 0 ? { x: x + u, y: y + v } : { x: x - s * v, y: y + s * u })),
  );
  const [xs, ys] = [corners.map((p) => p.x), corners.map((p) => p.y)];
  return { x0: Math.min(...xs), y0: Math.min(...ys), x1: Math.max(...xs), y1: Math.max(...ys) };
}

/** Holds words against a sheet as it is drawn; returns how many there are. */
function expectBesideLine(words: readonly TextItem[], sheet: Sheet, mirrored: boolean): number {
  const { field, heldRight, heldBottom, widthMm } = sheet;
  for (const word of words) {
    const drawn = boxOf(word);
    const box = mirrored ? { ...drawn, x0: widthMm - drawn.x1, x1: widthMm - drawn.x0 } : drawn;
    const leg = word.turn === undefined ? heldBottom : heldRight;
    expect(leg, word.text).not.toBeNull();
    const { x0, y0, x1, y1 } = leg as Box;
    // On the side that waits, in the held margin.
    expect(Math.min(box.x0 - x0, box.y0 - y0, x1 - box.x1, y1 - box.y1), word.text).toBeGreaterThan(0);
    expect(word.turn === undefined ? box.y1 - y0 : box.x1 - x0, word.text).toBeLessThan(NEAR_MM);
    const lead = word.turn === undefined ? box.x0 - field.x0 : box.y0 - field.y0;
    const side = word.turn === undefined ? field.x1 - field.x0 : field.y1 - field.y0;
    expect(lead, word.text).toBeGreaterThan(Math.min(FROM_LEAD.mm, FROM_LEAD.share * side));
  }
  // Once a side.
  expect(words.filter(({ turn }) => turn === undefined).length).toBeLessThanOrEqual(1);
  expect(words.filter(({ turn }) => turn !== undefined).length).toBeLessThanOrEqual(1);
  return words.length;
}

const SIZES = [
  [300, 200, 40],
  [120, 180, 24],
  [90, 70, 18],
] as const;

const [LARGE, UPRIGHT, SMALL] = SIZES;
const [PLAIN, MIRRORED] = [
  { paper: 'A4', mirror: false },
  { paper: 'Letter', mirror: true },
] as const;

describe('the words of the hold line', () => {
  it.each([
    ['straight, right hand', UPRIGHT, PLAIN, { repeat: 'straight' }],
    ['half-drop, left hand', UPRIGHT, MIRRORED, { repeat: 'half-drop', hand: 'left' }],
    ['brick, what crosses alone is held', LARGE, PLAIN, { ...REPEATS[8], hold: { mode: 'crossing' } }],
    ['a small unit', SMALL, MIRRORED, { repeat: 'brick' }],
    ['several units', SMALL, PLAIN, { repeat: 'drop', step: '1/3', across: 2, down: 2 }],
    ['a small border', SMALL, PLAIN, { repeat: 'straight', sheet: { border: '12mm', trailing: '10mm' }, lap: '0mm' }],
    ['paper that moves', UPRIGHT, MIRRORED, { grain: 'upright', movement: { along: 0.4, across: 0.8 } }],
    ['cloth one sheet wide', UPRIGHT, PLAIN, { cloth: { width: '120mm', length: '2m' } }],
  ] as readonly (readonly [string, (typeof SIZES)[number], typeof PLAIN | typeof MIRRORED, object])[])(
    'stand beside it alone: %s',
    (_, [widthMm, heightMm, gapMm], pages, says) => {
      const shapes = scatter(widthMm, heightMm, gapMm);
      const result = runShapes(shapes, [widthMm, heightMm], { ...says, pages } as Partial<JobFile>);
      const dry = drySheet(result.sheets[0]);
      const legs = dry.heldRight === null ? 1 : 2;
      expect(expectBesideLine(holdWordsIn(stencilDrawings(result, FONT)[0]), dry, false)).toBe(legs);
      expect(expectBesideLine(holdWordsIn(printSheetDrawings(result, FONT)[0]), dry, pages.mirror)).toBe(legs);
    },
  );
});
