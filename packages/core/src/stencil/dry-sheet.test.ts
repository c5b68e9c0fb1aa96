import { expect, it } from 'vitest';
import { contoursBox } from '../geometry/contour.js';
import { sampleSheet } from '../papers/guide/sample-sheet.test-help.js';
import { STEP_RUN } from '../register/limits.js';
import { drySheet, punchMeasures } from './dry-sheet.js';
import type { Sheet } from './types.js';

const MOVEMENT = { widthPercent: 1.5, heightPercent: -0.25 };
const printed: Sheet = {
  ...sampleSheet({ count: 40 }),
  register: { punch: 'dry', stepping: STEP_RUN, seat: 'corners', movement: MOVEMENT, dry: false },
};

it('is the sheet itself where nothing is known to move', () => {
  const plain = sampleSheet({ count: 10 });
  expect(drySheet(plain)).toBe(plain);
  expect(punchMeasures(plain)).toBe(plain.measures);
});

it('gives the print back when it is soaked: every place times 1 + movement', () => {
  const dry = drySheet(printed);
  const [across, down] = [1.015, 0.9975];
  expect(dry.register.dry).toBe(true);
  expect(dry.widthMm * across).toBeCloseTo(printed.widthMm, 9);
  expect(dry.heightMm * down).toBeCloseTo(printed.heightMm, 9);
  dry.dots.forEach(({ at, diameterMm }, k) => {
    expect(at.x * across).toBeCloseTo(printed.dots[k].at.x, 9);
    expect(at.y * down).toBeCloseTo(printed.dots[k].at.y, 9);
    expect(diameterMm).toBe(printed.dots[k].diameterMm);
  });
  dry.openings.forEach((opening, k) => {
    const [own, wet] = [opening, printed.openings[k]].map((o) => contoursBox([...o.firstCut, ...o.secondCut]));
    expect((own?.x1 ?? 0) * across).toBeCloseTo(wet?.x1 ?? 1, 6);
    expect((own?.y1 ?? 0) * down).toBeCloseTo(wet?.y1 ?? 1, 6);
    expect(opening.number).toBe(printed.openings[k].number);
  });
  expect((dry.heldRight?.x0 ?? 0) * across).toBeCloseTo(printed.heldRight?.x0 ?? 1, 9);
});

it('measures the dry paper by Pythagoras, and is dry only once', () => {
  const dry = drySheet(printed);
  const [w, h] = [420 / 1.015, 560 / 0.9975];
  const mm = (what: string) => dry.measures.filter((m) => m.what === what).map((m) => m.mm);
  for (const one of mm('width')) expect(one).toBeCloseTo(w, 9);
  for (const one of mm('height')) expect(one).toBeCloseTo(h, 9);
  for (const one of mm('diagonal')) expect(one).toBeCloseTo(Math.hypot(w, h), 9);
  expect(drySheet(dry)).toBe(dry);
});

it('punches by the dry measures, or by those of the soaked sheet', () => {
  expect(punchMeasures(printed)).toEqual(drySheet(printed).measures);
  const wet: Sheet = {
    ...printed,
    register: { punch: 'wet', stepping: STEP_RUN, seat: 'corners', movement: MOVEMENT, dry: false },
  };
  expect(punchMeasures(wet)).toBe(wet.measures);
});
