import { describe, expect, it } from 'vitest';
import { makePlan } from '../../cloth/plan.js';
import type { PlanOptions } from '../../cloth/plan-options.js';
import { planSheet } from '../../cloth/plan-sheet.test-help.js';
import type { Plan } from '../../cloth/plan-types.js';
import { textTurnedBox } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import { GuidePages } from '../../draw/layout.js';
import type { Page, TextItem } from '../../draw/types.js';
import { boxesOverlap } from '../../geometry/boxes.js';
import { SIDES_FIX_MM } from '../../register/repunch.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { Sheet } from '../../stencil/types.js';
import { bothRulersWithError, inchFigure } from '../../units/format.js';
import { noPlanPage, planPages } from './plan.js';
import { clothSteps, lineStarts, markGroups, numberWords } from './plan-words.js';

const font = labelFont();
const A4 = { widthMm: 210, heightMm: 297 };
const A5 = { widthMm: 148, heightMm: 210 };

interface Case {
  readonly plan: Plan;
  readonly sheet: Sheet;
}

function caseOf(
  kind: 'straight' | 'drop' | 'brick',
  [p, q]: readonly [number, number],
  more: Partial<PlanOptions> = {},
): Case {
  const lattice = makeLattice({ kind, step: { p, q } }, 300, 400);
  const sheet = planSheet(lattice);
  const cloth = { widthMm: 1100, lengthMm: 8000, selvedgeLeftMm: 12, selvedgeRightMm: 12, startMm: 50 };
  return { plan: makePlan([sheet], lattice, { cloth, ...more }), sheet };
}

const CASES: readonly (readonly [string, Case])[] = [
  ['straight', caseOf('straight', [0, 1])],
  ['half-drop', caseOf('drop', [1, 2])],
  ['two-thirds drop', caseOf('drop', [2, 3])],
  ['brick', caseOf('brick', [1, 2])],
  ['half-drop, whole, a step in', caseOf('drop', [1, 2], { fill: 'whole', start: 'in' })],
  ['half-drop, stepped straight on', caseOf('drop', [1, 2], { stepping: 'on' })],
  ['brick across the cloth', caseOf('brick', [1, 3], { direction: 'across' })],
  ['of 120 m, both faces', caseOf('drop', [1, 2], { cloth: { widthMm: 1500, lengthMm: 120_000 }, faces: 'both' })],
];

function pagesOf({ plan, sheet }: Case, paper = A4): Page[] {
  const pages = new GuidePages(paper, font);
  planPages(pages, plan, [sheet]);
  return pages.finish('Test', []);
}

function texts(page: Page): TextItem[] {
  return page.items.filter((i): i is TextItem => i.kind === 'text');
}

function prose(pages: readonly Page[]): string {
  return pages
    .flatMap(texts)
    .map((t) => t.text)
    .join(' ');
}

describe('planPages', () => {
  it.each(CASES)('says all that is needed along the cloth: %s', (_, one) => {
    const words = prose(pagesOf(one));
    const { plan } = one;
    for (const part of [
      'Along the cloth',
      'NOTHING is allowed for',
      `${plan.placements.length} (${plan.whole} whole, ${plan.cut} cut)`,
      `The first placement is ${plan.placements[0].id}`,
      'Ground line and check marks',
      'from this one zero',
      `Passes: ${plan.choice.count} for each sheet`,
      'an estimate',
      `${Math.ceil(plan.paste.ml)} ml`,
      `${Math.ceil(plan.paste.grams)} g`,
      'a film of 0.7 mm',
      'plus 40 % for tool and bowl',
      'sheets to cut',
      'safety data sheet',
      'Local rules and qualified advice',
      plan.marking === null ? 'Wipe the back of the sheet' : 'First a marking walk',
    ]) {
      expect(words).toContain(part);
    }
    for (const { id } of lineStarts(plan)
      .slice(0, 12)
      .map(({ first }) => first))
      expect(words).toContain(id);
    for (const { side } of plan.masks)
      expect(words).toContain(`Along the ${side === 'start' || side === 'end' ? side : `${side} side`}:`);
  });

  it.each(CASES)('has every check mark in its table: %s', (_, one) => {
    const words = prose(pagesOf(one));
    const { ground, lattice } = one.plan;
    if (ground === null) throw new RangeError('got no ground line');
    expect(ground.marks.length).toBeGreaterThan(0);
    for (const { id, alongMm } of ground.marks) {
      expect(words).toContain(bothRulersWithError(alongMm));
      if (lattice.repeat.kind === 'brick') expect(words).toContain(id);
    }
    if (lattice.repeat.kind === 'brick') return;
    const grouped = markGroups(one.plan).reduce((sum, g) => sum + g.columns.length * g.marks.length, 0);
    expect(grouped).toBe(ground.marks.length);
  });

  it('puts no mark so far from its place that a join shows it, and says how far', () => {
    const fromDrop = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 300, 420);
    const sheet = planSheet(fromDrop);
    const plan = makePlan([sheet], fromDrop, { cloth: { widthMm: 1000, lengthMm: 30_000 }, checkEvery: 1 });
    const words = prose(pagesOf({ plan, sheet }));
    // 74 7/16 in are 1890.7125 mm, 0.71 too long; 74 13/32 in are 1889.91875 mm (an inch is 25.4 mm: 24 FR 5348).
    expect(words).toContain('1890 mm (74 13/32 in −0.08)');
    const errors = (plan.ground?.marks ?? []).map(({ alongMm }) => inchFigure(alongMm).errorMm);
    expect(errors.length).toBeGreaterThan(100);
    const worst = Math.max(...errors.map(Math.abs));
    expect(worst).toBeLessThanOrEqual(25.4 / 128 + 1e-9);
    // Two prints, each laid by its own mark, are then off by less than what spoils a join.
    expect(Math.max(...errors) - Math.min(...errors)).toBeLessThan(SIDES_FIX_MM);
  });

  it.each(CASES)('names for each step two pairs of dots that it brings together: %s', (_, { plan, sheet }) => {
    const steps = clothSteps(plan, sheet);
    expect(steps).toHaveLength(2);
    for (const { vector, pairs } of steps) {
      expect(pairs).toHaveLength(2);
      expect(new Set(pairs.flatMap(({ from, to }) => [from, to])).size).toBe(4);
      // On a sheet that lies turned clockwise by a quarter, (x, y) comes to lie along (−y, x).
      const own = plan.direction === 'across' ? { x: vector.y, y: -vector.x } : vector;
      for (const { from, to } of pairs) {
        const [a, b] = [from, to].map((name) => sheet.dots.find((d) => d.name === name)?.at ?? { x: NaN, y: NaN });
        expect(b.x - a.x).toBeCloseTo(own.x, 6);
        expect(b.y - a.y).toBeCloseTo(own.y, 6);
      }
      // It is a step of the plan's lattice: some placement has a neighbour there.
      const [x, y] = [vector.x, vector.y];
      const found = plan.placements.some((p) =>
        plan.placements.some((o) => Math.hypot(o.field.x0 - p.field.x0 - x, o.field.y0 - p.field.y0 - y) < 1e-6),
      );
      expect(found).toBe(true);
    }
  });

  it.each(CASES)('keeps texts apart and on the page: %s', (_, one) => {
    for (const page of [...pagesOf(one), ...pagesOf(one, A5)]) {
      const boxes = texts(page).map((t) => {
        const { at, halfU, halfV } = textTurnedBox(t, font);
        return { text: t.text, box: { x0: at.x - halfU, y0: at.y - halfV, x1: at.x + halfU, y1: at.y + halfV } };
      });
      boxes.forEach(({ text, box }, k) => {
        const on = boxes.slice(k + 1).find((other) => boxesOverlap(box, other.box));
        expect(on && `${text} / ${on.text}`).toBeUndefined();
        expect(box.x0, text).toBeGreaterThan(10);
        expect(box.x1, text).toBeLessThan(page.widthMm - 10);
        expect(box.y1, text).toBeLessThan(page.heightMm - 6);
      });
    }
  });

  it('numbers every placement on a map that shows all of the cloth', () => {
    const lattice = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 300, 400);
    const sheet = planSheet(lattice);
    const plan = makePlan([sheet], lattice, { cloth: { widthMm: 900, lengthMm: 2000 } });
    const [page] = pagesOf({ plan, sheet });
    const numbers = texts(page).filter(
      ({ anchor, bold, text }) => anchor === 'middle' && bold === true && /^\d+$/.test(text),
    );
    const counts = (list: readonly string[]) =>
      plan.passes.map(({ pass }) => list.filter((text) => text === `${pass}`).length);
    expect(counts(numbers.map(({ text }) => text))).toEqual(counts(plan.placements.map(({ pass }) => `${pass}`)));
  });

  it('shows the beginning of a long cloth and says so', () => {
    expect(prose(pagesOf(CASES[7][1]))).toContain('the beginning of the cloth');
    expect(prose(pagesOf(CASES[7][1]))).toContain('turn the cloth over and the sheet too');
  });

  it('says that nothing can be printed, and why there is no plan', () => {
    const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 300, 400);
    const sheet = planSheet(lattice);
    const plan = makePlan([sheet], lattice, { cloth: { widthMm: 200, lengthMm: 300 }, fill: 'whole' });
    expect(prose(pagesOf({ plan, sheet }))).toContain('No placement lies on this cloth');
    const pages = new GuidePages(A4, font);
    noPlanPage(pages, 'the cloth is too long.');
    expect(prose(pages.finish('Test', []))).toContain('could not be planned: the cloth is too long.');
  });
});

describe('numberWords', () => {
  it.each([
    [[3, 1], '1, 3'],
    [[1, 2, 3, 4], '1 to 4'],
    [[1, 3, 5, 7, 9], '1, 3, …, 9'],
    [[1, 2, 4, 5], '1, 2, 4, 5'],
    [[1, 2, 4, 5, 7, 8, 10], '1, 2, 4, 5, …, 10'],
    [[], ''],
  ])('%j', (numbers, words) => {
    expect(numberWords(numbers)).toBe(words);
  });
});
