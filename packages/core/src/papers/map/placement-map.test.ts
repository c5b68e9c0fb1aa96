import { describe, expect, it } from 'vitest';
import { makePlan } from '../../cloth/plan.js';
import type { PlanOptions } from '../../cloth/plan-options.js';
import { planSheet } from '../../cloth/plan-sheet.test-help.js';
import type { Drawing, Item, TextItem } from '../../draw/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { Repeat } from '../../repeat/types.js';
import { InputError } from '../../units/input-error.js';
import { findPaper } from '../../units/paper-sizes.js';
import { sampleFont } from '../guide/sample-font.test-help.js';
import { passGround } from './passes.js';
import { placementMap } from './placement-map.js';

const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };

function planned(options: Partial<PlanOptions> = {}, size: readonly [number, number] = [300, 420]) {
  const lattice = makeLattice(HALF_DROP, ...size);
  return makePlan([planSheet(lattice)], lattice, { cloth: { widthMm: 1000, lengthMm: 2000 }, ...options });
}

function mapped(plan: ReturnType<typeof planned>, paper = 'A4'): Drawing {
  return placementMap(plan, {
    title: 'Reeds',
    revision: '2',
    date: '2026-01-02',
    font: sampleFont(),
    paper: findPaper(paper),
    orientation: 'auto',
    marginMm: 6,
  });
}

function texts(items: readonly Item[]): TextItem[] {
  return items.flatMap((item) =>
    item.kind === 'text' ? [item] : item.kind === 'clip' || item.kind === 'layer' ? texts(item.items) : [],
  );
}

const numbersOn = (drawing: Drawing): string[] =>
  drawing.pages.flatMap(({ items }) => texts(items).flatMap(({ text }) => (/^\d+-\d+$/.test(text) ? [text] : [])));

it.each([
  [{ widthMm: 1000, lengthMm: 2000 }],
  [{ widthMm: 1000, lengthMm: 12_000, selvedgeLeftMm: 20, selvedgeRightMm: 15, startMm: 50 }],
  [{ widthMm: 250, lengthMm: 900 }],
])('writes every placement with its pass and its place in it: %j', (cloth) => {
  const plan = planned({ cloth });
  const drawing = mapped(plan);
  const wanted = plan.placements.map(({ pass, order }) => `${pass}-${order}`);
  expect([...new Set(numbersOn(drawing))].sort()).toEqual([...wanted].sort());
  for (const { widthMm, heightMm, items } of drawing.pages) {
    expect([widthMm, heightMm].sort()).toEqual([210, 297]);
    for (const { x, y, sizeMm } of texts(items)) {
      expect(sizeMm).toBeGreaterThanOrEqual(1.6 - 1e-9);
      expect(x > 0 && x < widthMm && y > 0 && y < heightMm).toBe(true);
    }
  }
});

it('says what it shows: cloth, scale, masks, ground line and check marks', () => {
  const words = texts(mapped(planned()).pages[0].items).map(({ text }) => text);
  const all = words.join('\n');
  for (const part of [
    'Reeds · placement map',
    '1000 mm × 2000 mm on the table',
    'ground line',
    'check mark',
    'Masks, start: 0 mm of cloth, 210 mm of waste',
    'about 1 : ',
    'zero',
  ]) {
    expect(all).toContain(part);
  }
});

it('measures the check marks from the zero', () => {
  const plan = planned({ cloth: { widthMm: 1000, lengthMm: 12_000 } });
  const words = mapped(plan).pages.flatMap(({ items }) => texts(items).map(({ text }) => text));
  for (const along of [2100, 4200, 6300, 8400, 10_500]) expect(words).toContain(`${along} mm`);
});

it('tells passes apart by their hatching, without their colours', () => {
  const box = { x0: 0, y0: 0, x1: 20, y1: 30 };
  const shapes = [1, 2, 3, 4, 5, 6, 7].map((pass) =>
    JSON.stringify(
      passGround(pass, box).map((item) => (item.kind === 'path' ? item.contours.map((c) => [...c.coords]) : [])),
    ),
  );
  expect(new Set(shapes).size).toBe(7);
  for (const pass of [2, 3, 4, 5, 6, 7]) {
    for (const item of passGround(pass, box)) {
      if (item.kind !== 'path') continue;
      for (const { coords } of item.contours) {
        for (let k = 0; k < coords.length; k += 2) {
          expect(coords[k] >= -0.3 && coords[k] <= 20.3 && coords[k + 1] >= -0.3 && coords[k + 1] <= 30.3).toBe(true);
        }
      }
    }
  }
});

it('shows the back as it is seen from there', () => {
  const plan = planned({ faces: 'both' });
  const drawing = mapped(plan);
  expect(drawing.pages).toHaveLength(2);
  const [front, back] = drawing.pages.map(({ items }) => texts(items));
  expect(back.map(({ text }) => text).join('\n')).toContain('back of the cloth');
  // The mask at the right of the front lies at the left of the back.
  const masks = (items: readonly TextItem[]) => items.find(({ text }) => text.startsWith('Masks'))?.text;
  expect(masks(front)).toContain('right: 0 mm');
  expect(masks(back)).toContain('left: 0 mm');
  const at = (words: readonly TextItem[], text: string) => words.find((one) => one.text === text)?.x as number;
  // What lies at the left of another on the front lies at its right on the back.
  const [a, b] = ['c1r2', 'c3r2'];
  expect(at(front, a)).toBeLessThan(at(front, b));
  expect(at(back, a)).toBeGreaterThan(at(back, b));
});

describe('many placements', () => {
  it('are drawn without numbers where these could not be read, which is said', () => {
    const plan = planned({ cloth: { widthMm: 2000, lengthMm: 40_000 } }, [60, 80]);
    const drawing = mapped(plan);
    expect(drawing.pages).toHaveLength(1);
    expect(numbersOn(drawing)).toEqual([]);
    const all = texts(drawing.pages[0].items)
      .map(({ text }) => text)
      .join(' ');
    expect(all).toContain(`The ${plan.placements.length} placements are too many`);
  });

  it('are not drawn at all where they would be grey', () => {
    const plan = planned({ cloth: { widthMm: 2000, lengthMm: 50_000 } }, [50, 50]);
    expect(plan.placements.length).toBeGreaterThan(20_000);
    expect(JSON.stringify(mapped(plan).pages[0].items)).not.toContain('"place"');
  });
});

it('refuses paper without room', () => {
  expect(() => mapped(planned(), '50mm x 60mm')).toThrow(InputError);
});
