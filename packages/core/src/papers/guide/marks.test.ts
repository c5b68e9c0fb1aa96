import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { numberText } from '../../draw/number-labels.js';
import { WASTE_TINT } from '../../draw/palette.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { circleContour, contoursBox } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import type { Sheet, SheetOpening } from '../../stencil/types.js';
import { drawCartoon } from '../sheet/cartoon.js';
import { labelFaults } from '../sheet/label-check.js';
import { sampleSheet } from './sample-sheet.test-help.js';

const font = labelFont();
const sheet = sampleSheet({ count: 60 });

function layer(own: Sheet, id: string, options = {}): readonly Item[] {
  return drawCartoon(own, { font, ...options }).layers.find((l) => l.id === id)?.items ?? [];
}

function words(own: Sheet, options = {}): string[] {
  return layer(own, 'labels', options).flatMap((i) => (i.kind === 'text' ? [i.text] : []));
}

/** Round holes of a punch's size among the leaves. */
function punched(own: Sheet, places: readonly (readonly [number, number, number])[]): Sheet {
  const holes = places.map(([x, y, punchMm], k): SheetOpening => {
    const firstCut = [circleContour({ x, y }, punchMm / 2)];
    const number = own.openings.length + k + 1;
    return {
      ...own.openings[0],
      number,
      openingId: `hole ${number}`,
      firstCut,
      secondCut: [],
      box: contoursBox(firstCut) as Box,
      labelAt: { x, y },
      labelRoomMm: punchMm / 2,
      tool: 'punch',
      punchMm,
    };
  });
  return { ...own, openings: [...own.openings, ...holes] };
}

describe('what is done', () => {
  const done = { ...sheet, openings: sheet.openings.map((o) => ({ ...o, done: o.number <= 10 })) };

  it('is hatched, not grey, and ticked', () => {
    expect(layer(sheet, 'done')).toEqual([]);
    const first = done.openings.filter((o) => o.firstCut.length > 0);
    expect(layer(done, 'done')).toHaveLength(first.filter((o) => o.done).length);
    const filled = (layer(done, 'first-cut') as PathItem[]).filter((i) => i.fill === WASTE_TINT);
    expect(filled).toHaveLength(first.filter((o) => !o.done).length);
    const { missingNumbers } = drawCartoon(done, { font });
    const ticks = words(done).filter((w) => w.endsWith(' ✓'));
    const expected = first.filter((o) => o.done && !missingNumbers.includes(o.number)).map((o) => numberText(o, done));
    expect(ticks.sort()).toEqual(expected.sort());
    expect(labelFaults(done, drawCartoon(done, { font }).layers, { font })).toEqual([]);
  });

  it('is hatched within its box', () => {
    const clips = layer(done, 'done').flatMap((i) => (i.kind === 'clip' ? [i] : []));
    for (const { contours, items } of clips) {
      const box = contoursBox(contours) as Box;
      const lines = contoursBox((items[0] as PathItem).contours) as Box;
      expect(lines.x0).toBeGreaterThanOrEqual(box.x0 - 1e-9);
      expect(lines.y1).toBeLessThanOrEqual(box.y1 + 1e-9);
    }
  });
});

describe('what is punched', () => {
  const own = punched(sampleSheet({ count: 12 }), [
    [180, 46, 3],
    [188, 46, 3],
    [260, 46, 3],
    [180, 52, 1.5],
  ]);

  it('has a cross each, and its size once for like holes nearby, not its number', () => {
    const [crosses] = layer(own, 'leaders') as PathItem[];
    expect(crosses.contours).toHaveLength(8);
    expect(
      words(own)
        .filter((w) => w.startsWith('ø'))
        .sort(),
    ).toEqual(['ø1.5', 'ø3', 'ø3']);
    const holes = own.openings.filter((o) => o.tool === 'punch').map((o) => `${o.number}`);
    expect(words(own).filter((w) => holes.includes(w))).toEqual([]);
    expect(
      drawCartoon(own, { font })
        .missingNumbers.map(String)
        .filter((n) => holes.includes(n)),
    ).toEqual([]);
  });

  it('has its numbers where they are asked for', () => {
    const numbered = { punched: 'numbers', digits: { largestMm: 3, smallestMm: 2 } };
    const holes = own.openings.filter((o) => o.tool === 'punch').map((o) => `${o.number}`);
    expect(
      words(own, numbered)
        .filter((w) => holes.includes(w))
        .sort(),
    ).toEqual(holes);
  });
});

describe('zones', () => {
  const { x0, y0, x1, y1 } = sheet.field;
  const [mx, my] = [(x0 + x1) / 2, (y0 + y1) / 2];
  const boxes = [
    { x0, y0, x1: mx, y1: my },
    { x0: mx, y0, x1, y1: my },
    { x0, y0: my, x1: mx, y1 },
    { x0: mx, y0: my, x1, y1 },
  ];
  const zoned = { ...sheet, zones: boxes.map((box, k) => ({ ...sheet.zones[0], letter: `Z${k + 1}`, box })) };

  it('have an outline that is dashed, corner brackets, and a letter of 12 mm in or beside them', () => {
    const [outline, brackets] = layer(zoned, 'zones') as PathItem[];
    expect(outline.line?.dashMm).toHaveLength(6);
    expect(brackets.contours).toHaveLength(16);
    const { layers, missingZones } = drawCartoon(zoned, { font });
    expect(missingZones).toEqual([]);
    const letters = layers
      .flatMap((l) => l.items)
      .filter((i): i is TextItem => i.kind === 'text' && /^Z\d$/.test(i.text));
    expect(letters.map((t) => t.text).sort()).toEqual(['Z1', 'Z2', 'Z3', 'Z4']);
    for (const t of letters) expect(t.sizeMm * 0.73).toBeCloseTo(12, 9);
    expect(labelFaults(zoned, layers, { font })).toEqual([]);
  });

  it('can be left out', () => {
    expect(layer(zoned, 'zones', { zones: false })).toEqual([]);
    expect(words(zoned, { zones: false }).filter((w) => w.startsWith('Z'))).toEqual([]);
  });

  it('are named as missing where the sheet leaves no room at all', () => {
    const narrow = {
      ...zoned,
      zones: [{ ...zoned.zones[0], letter: 'Z77', box: { x0: 200, y0: 300, x1: 203, y1: 303 } }],
    };
    expect(drawCartoon(narrow, { font }).missingZones).toEqual(['Z77']);
  });
});

describe('stops', () => {
  it('have a bar each, over the end of the cut, and the word where there is room', () => {
    const [bars] = layer(sheet, 'stops') as PathItem[];
    expect(bars.contours).toHaveLength(sheet.stops.length);
    expect(words(sheet).filter((w) => w === 'stop').length).toBeGreaterThan(0);
    expect(words(sheet).filter((w) => w === 'stop').length).toBeLessThanOrEqual(sheet.stops.length);
    // Ticks point away from the first cut: into the held margin, right of or below the hold line.
    for (const { coords } of bars.contours) {
      const out = { x: coords[0] - coords[6], y: coords[1] - coords[7] };
      expect(out.x + out.y).toBeGreaterThan(0);
    }
  });

  it('draws bars at any angle', () => {
    const opening = sheet.openings.find((o) => o.firstCut.length > 0 && o.secondCut.length === 0) as SheetOpening;
    const slanting = {
      ...sheet,
      stops: [
        { number: opening.number, from: opening.labelAt, to: { x: opening.labelAt.x + 3, y: opening.labelAt.y + 4 } },
      ],
    };
    const [bars] = layer(slanting, 'stops') as PathItem[];
    const q = bars.contours[0].coords;
    // Ticks stand at right angles to the bar, which runs on by 1 mm at either end.
    expect((q[6] - q[0]) * 3 + (q[7] - q[1]) * 4).toBeCloseTo(0, 9);
    expect(Math.hypot(q[12] - q[6], q[13] - q[7])).toBeCloseTo(7, 9);
  });

  it('says "not yet" all along the held margin', () => {
    expect(words(sheet).filter((w) => w === 'not yet').length).toBeGreaterThanOrEqual(12);
  });
});
