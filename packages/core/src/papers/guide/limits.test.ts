import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { GuidePages } from '../../draw/layout.js';
import type { Item } from '../../draw/types.js';
import { movementFindings } from '../../findings/movement.js';
import { sheetDots, sheetRepeat } from '../../register/dots.js';
import { STEP_RUN, squareLimits } from '../../register/limits.js';
import type { SheetMovement } from '../../register/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import { sheetMeasures } from '../../stencil/measures.js';
import type { Sheet } from '../../stencil/types.js';
import { callTheDyer } from '../sheet/words.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { squarePages } from './square.js';

const font = labelFont();

const SIZES = [
  [120, 90],
  [300, 420],
  [180, 640],
  [850, 260],
] as const;
const MOVEMENTS: readonly (SheetMovement | null)[] = [
  null,
  { widthPercent: 0.3, heightPercent: 0.3 },
  { widthPercent: 2.5, heightPercent: 0.25 },
  { widthPercent: -0.6, heightPercent: 1.1 },
];
const RUNS = [
  { toleranceMm: 0.8, prints: 5 },
  { toleranceMm: 0.3, prints: 1 },
  { toleranceMm: 1.6, prints: 2 },
] as const;

function sheetOf([w, h]: (typeof SIZES)[number], register: Sheet['register']): Sheet {
  const sheet = sampleSheet({ count: 4, fieldWidthMm: w, fieldHeightMm: h });
  const repeat = sheetRepeat(makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, w, h).repeat, 1, 1);
  const dots = sheetDots(sheet.field, repeat, { diameterMm: 1, sightMm: 1.5 });
  const practice = { ...sheet.practice, soak: true, grain: 'upright' } as const;
  return { ...sheet, practice, dots, measures: sheetMeasures(dots, sheet.field), ...(register ? { register } : {}) };
}

function textsOf(items: readonly Item[]): string[] {
  return items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
}

/** Everything that the guide says of punching and squaring a sheet, and of when to stop. */
function said(sheet: Sheet): string {
  const pages = new GuidePages({ widthMm: 210, heightMm: 297 }, font);
  squarePages(pages, sheet);
  const words = pages.finish('Test', []).flatMap(({ items }) => textsOf(items));
  return [...words, ...callTheDyer(sheet)].join(' ').replace(/\s+/g, ' ');
}

interface Sizes {
  readonly top: number;
  readonly bottom: number;
  readonly left: number;
  readonly right: number;
  readonly falling: number;
  readonly rising: number;
}

/** A sheet of w × h whose lower side is `slid` mm to the right and `shorter` mm shorter at both ends together. */
function read(w: number, h: number, { slid = 0, shorter = 0 } = {}): Sizes {
  const [x0, x1] = [slid + shorter / 2, w + slid - shorter / 2];
  const dist = (ax: number, ay: number, bx: number, by: number) => Math.hypot(ax - bx, ay - by);
  return {
    top: w,
    bottom: x1 - x0,
    left: dist(0, 0, x0, h),
    right: dist(w, 0, x1, h),
    falling: dist(0, 0, x1, h),
    rising: dist(w, 0, x0, h),
  };
}

/** Whether the printed rule makes one stop. */
function stops(
  rule: { sidesMm: number; diagonalsMm: number },
  { top, bottom, left, right, falling, rising }: Sizes,
): boolean {
  const sides = Math.max(Math.abs(top - bottom), Math.abs(left - right));
  return sides > rule.sidesMm || Math.abs(falling - rising) > rule.diagonalsMm;
}

const RULE = /opposite sides differ by more than ([\d.]+) mm, or the diagonals by more than ([\d.]+) mm/g;

describe('what may differ and what must not, as the guide prints it', () => {
  const cases = SIZES.flatMap((size) =>
    MOVEMENTS.flatMap((movement) => (['dry', 'wet'] as const).map((punch) => ({ size, movement, punch }))),
  );

  it.each(cases)('never stops a true sheet whose paper moves as printed: $size, $movement, punched $punch', (one) => {
    const { size, movement, punch } = one;
    const stepping = RUNS[(size[0] + (movement === null ? 0 : 1)) % RUNS.length];
    const words = said(sheetOf(size, { punch, movement, stepping, seat: 'corners', dry: false }));
    const rules = [...words.matchAll(RULE)].map(([, sides, diagonals]) => ({
      sidesMm: Number(sides),
      diagonalsMm: Number(diagonals),
    }));
    // On the page of squaring and on the first page; one rule, and no other of a size.
    expect(rules.length).toBeGreaterThanOrEqual(2);
    expect(new Set(rules.map((rule) => JSON.stringify(rule))).size).toBe(1);
    expect(words).not.toMatch(/measure is off by more than|differ by more than [\d.]+ mm spoil/);
    const [rule] = rules;
    const [w, h] = size;
    // How the paper moves by the page's own words, 0.3 % where nobody measured it.
    const told = /width ([+-]?[\d.]+) % and height ([+-]?[\d.]+) %/.exec(words);
    const unknown = /([\d.]+) % would make this sheet/.exec(words);
    expect(told === null).toBe(movement === null);
    expect(unknown === null).toBe(movement !== null);
    const percent = told === null ? [Number(unknown?.[1]), Number(unknown?.[1])] : [Number(told[1]), Number(told[2])];
    expect(Math.max(...percent.map(Math.abs))).toBeGreaterThan(0.1);
    const [dryW, dryH] =
      punch === 'dry' && movement !== null ? [w / (1 + percent[0] / 100), h / (1 + percent[1] / 100)] : [w, h];
    const [wetW, wetH] = punch === 'wet' ? [w, h] : [dryW * (1 + percent[0] / 100), dryH * (1 + percent[1] / 100)];
    for (const sizes of [read(dryW, dryH), read(wetW, wetH)]) expect(stops(rule, sizes)).toBe(false);
    // What is not square does stop it, in either state: sides apart, or a lean that is worth a new hole.
    const slid = (1.1 * rule.diagonalsMm * Math.hypot(w, h)) / (2 * w);
    for (const [a, b] of [
      [dryW, dryH],
      [wetW, wetH],
    ]) {
      expect(stops(rule, read(a, b, { slid }))).toBe(true);
      expect(stops(rule, read(a, b, { shorter: 1.1 * rule.sidesMm }))).toBe(true);
    }
  });

  it.each(SIZES)('prints the measures of both states where the movement is known: %d × %d', (w, h) => {
    const movement = { widthPercent: 2.5, heightPercent: 0.25 };
    const register = { stepping: STEP_RUN, punch: 'dry', movement, seat: 'corners', dry: false } as const;
    const words = said(sheetOf([w, h] as (typeof SIZES)[number], register));
    const dryOf = (mm: number, percent: number) => Number((mm / (1 + percent / 100)).toFixed(1));
    // In the table: what is planned dry, in inches, and soaked; dry · (1 + movement) is what is wanted.
    for (const [row, mm, percent] of [
      ['top side A–B', w, 2.5],
      ['left side D–A', h, 0.25],
    ] as const) {
      const found = new RegExp(`${row} ([\\d.]+) mm [\\d /]+ in ([\\d.]+) mm`).exec(words);
      expect(Number(found?.[1])).toBeCloseTo(dryOf(mm, percent), 6);
      expect(Number(found?.[2])).toBe(mm);
      expect(Math.abs(Number(found?.[1]) * (1 + percent / 100) - mm)).toBeLessThan(0.06);
    }
    expect(words).toMatch(/it should then be [\d.]+ mm × [\d.]+ mm/);
  });

  it('says of sizes nobody knows that they may differ', () => {
    const register = { stepping: STEP_RUN, punch: 'dry', movement: null, seat: 'corners', dry: false } as const;
    const words = said(sheetOf([300, 420], register));
    expect(words).toContain('0.3 % would make this sheet 0.9 mm wider and 1.3 mm higher');
    expect(words).toContain('Sizes may differ from the plan');
    expect(words).toContain('top side A–B 300 mm 11 13/16 in –');
    const [unknown] = movementFindings({ widthMm: 300, heightMm: 420 }, null);
    expect(unknown.message).toContain('It stays square');
  });
});

describe('squareLimits', () => {
  it('keep every join of the run within the tolerance: n · d for sides that differ by d', () => {
    for (const { toleranceMm, prints } of RUNS) {
      const { sidesMm } = squareLimits({ widthMm: 300, heightMm: 420 }, { toleranceMm, prints });
      expect(prints * sidesMm).toBeLessThanOrEqual(toleranceMm + 1e-9);
      expect(sidesMm).toBeLessThanOrEqual(0.5);
    }
  });

  it('let a sheet lean by 2 mm a metre and the tolerance at most: p² − q² = 4 · width · lean', () => {
    for (const [w, h] of SIZES) {
      const { diagonalsMm, stopDiagonalsMm } = squareLimits({ widthMm: w, heightMm: h }, RUNS[0]);
      const { falling, rising } = read(w, h, { slid: Math.min(0.8, 0.002 * h) });
      expect(diagonalsMm).toBeCloseTo(falling - rising, 4);
      expect(stopDiagonalsMm).toBe(Math.max(0.5, diagonalsMm));
    }
  });
});
