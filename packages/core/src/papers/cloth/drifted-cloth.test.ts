import { describe, expect, it } from 'vitest';
import type { Item } from '../../draw/types.js';
import { boxContour, contoursBox, transformContour } from '../../geometry/contour.js';
import type { Box, Matrix } from '../../geometry/types.js';
import { driftOf } from '../../register/drift.js';
import type { DriftSheet } from '../../register/drift-types.js';
import type { Holes } from '../../register/types.js';
import { InputError } from '../../units/input-error.js';
import { sampleFont } from '../guide/sample-font.test-help.js';
import { type DriftedClothInput, driftedCloth } from './drifted-cloth.js';

const [W, H] = [300, 400];
const SHEET: DriftSheet = { widthMm: W, heightMm: H, repeat: { kind: 'straight', step: { p: 0, q: 1 } } };
const FIELD: Box = { x0: 0, y0: 0, x1: W, y1: H };
const TRUE: Holes = {
  upperLeft: { x: 0, y: 0 },
  upperRight: { x: W, y: 0 },
  lowerRight: { x: W, y: H },
  lowerLeft: { x: 0, y: H },
};
const COUNTS = { down: 4, across: 3, toleranceMm: 0.8 };

const input = (more: Partial<DriftedClothInput> = {}): DriftedClothInput => ({
  sheets: [{ ink: '#000000', contours: [boxContour(FIELD)] }],
  field: FIELD,
  widthMm: 900,
  lengthMm: 1600,
  method: 'resist',
  clothColour: '#ffffff',
  dyeColours: '#123456',
  font: sampleFont(),
  title: 'Reeds',
  date: '2026-01-02',
  ...more,
});

function placed(items: readonly Item[]): readonly Matrix[] {
  return items.flatMap((item) =>
    item.kind === 'place' ? item.at : item.kind === 'clip' || item.kind === 'layer' ? placed(item.items) : [],
  );
}

function words(items: readonly Item[]): string[] {
  return items.flatMap((item) =>
    item.kind === 'text' ? [item.text] : item.kind === 'clip' || item.kind === 'layer' ? words(item.items) : [],
  );
}

it('lays a true sheet side by side, without a ring', () => {
  const { pages } = driftedCloth(driftOf(TRUE, SHEET, COUNTS), input());
  const at = placed(pages[0].items);
  expect(at).toHaveLength(12);
  const places = at.map(([, , , , x, y]) => `${x} ${y}`).sort();
  const wanted = [0, 1, 2].flatMap((i) => [0, 1, 2, 3].map((j) => `${i * W} ${j * H}`)).sort();
  expect(places).toEqual(wanted);
  expect(words(pages[0].items)).toEqual([]);
});

it('moves the pattern with the holes, so that the gap at a join is what the drift says', () => {
  // One corner hole 2 mm too low: the field reaches that far there.
  const holes = { ...TRUE, lowerRight: { x: W, y: H + 2 } };
  const drift = driftOf(holes, SHEET, COUNTS);
  const { pages, groups } = driftedCloth(drift, input());
  const [shape] = groups['sheet-1'];
  if (shape.kind !== 'path') throw new Error('expected outlines');
  const at = placed(pages[0].items);
  // The corners of the field, carried by the placements: the lower right of the first against the upper right of the one below.
  const carried = (m: Matrix) => [...transformContour(shape.contours[0], m).coords];
  const near = (list: readonly number[], x: number, y: number): { x: number; y: number } => {
    let best = { x: list[0], y: list[1] };
    for (let k = 0; k < list.length; k += 2) {
      if (Math.hypot(list[k] - x, list[k + 1] - y) < Math.hypot(best.x - x, best.y - y))
        best = { x: list[k], y: list[k + 1] };
    }
    return best;
  };
  const first = at.find(([, , , , x, y]) => Math.hypot(x, y) < 1) as Matrix;
  const below = at.find(([, , , , x, y]) => Math.hypot(x, y - H) < 5) as Matrix;
  const [p, q] = [near(carried(first), W, H), near(carried(below), W, H)];
  const right = Math.hypot(p.x - q.x, p.y - q.y);
  const within = drift.within;
  expect(Math.abs(within?.secondDotMm ?? 0)).toBeGreaterThan(0);
  expect(right).toBeCloseTo(Math.abs(within?.secondDotMm ?? 0), 3);
  expect(words(pages[0].items).some((text) => text.startsWith('first over 0.8 mm'))).toBe(drift.firstOver !== null);
});

it('puts the upper left of the field on that of the cloth where dots stand elsewhere', () => {
  const field = { x0: 12, y0: 7, x1: W + 12, y1: H + 7 };
  const { pages, groups } = driftedCloth(
    driftOf(TRUE, SHEET, COUNTS),
    input({ field, sheets: [{ ink: '#000000', contours: [boxContour(field)] }] }),
  );
  const [shape] = groups['sheet-1'];
  if (shape.kind !== 'path') throw new Error('expected outlines');
  const boxes = placed(pages[0].items).map((m) => contoursBox([transformContour(shape.contours[0], m)]) as Box);
  expect(boxes.some(({ x0, y0 }) => Math.hypot(x0, y0) < 1e-3)).toBe(true);
});

describe('refuses', () => {
  it('a cloth of too many placements', () => {
    expect(() => driftedCloth(driftOf(TRUE, SHEET, COUNTS), input({ lengthMm: 1e6 }))).toThrow(InputError);
  });
  it('a cloth wider than the drift was worked out for', () => {
    expect(() => driftedCloth(driftOf(TRUE, SHEET, { ...COUNTS, across: 1 }), input())).toThrow(InputError);
  });
});
