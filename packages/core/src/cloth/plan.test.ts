import { describe, expect, it } from 'vitest';
import { planFindings } from '../findings/plan.js';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';
import { makePlan } from './plan.js';
import { csvRecord, planCsv } from './plan-csv.js';
import { planDocument } from './plan-document.js';
import type { PlanOptions } from './plan-options.js';
import { planReport } from './plan-report.js';
import { boxOpenings, type PlanSheetOptions, planSheet } from './plan-sheet.test-help.js';
import type { Plan } from './plan-types.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
const THIRD_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 3 } };
const HALF_BRICK: Repeat = { kind: 'brick', step: { p: 1, q: 2 } };

const WIDE = { cloth: { widthMm: 1118, lengthMm: 3000 } };

function plan(
  repeat: Repeat,
  options: PlanOptions = WIDE,
  { size = [200, 300], ...sheet }: PlanSheetOptions & { size?: readonly [number, number] } = {},
): Plan {
  const lattice = makeLattice(repeat, ...size);
  return makePlan([planSheet(lattice, sheet)], lattice, options);
}

function codes(p: Plan): string[] {
  return planFindings(p).map((f) => f.code);
}

describe('passes', () => {
  it.each([
    [STRAIGHT, 4],
    [HALF_DROP, 3],
    [THIRD_DROP, 3],
    [HALF_BRICK, 3],
  ])('of %j are as few as can be for units filled with openings', (repeat, count) => {
    for (const borderMm of [25, 30]) {
      const { choice, passes } = plan(repeat, WIDE, { borderMm, trailingMm: borderMm });
      expect(choice).toMatchObject({ count, least: count });
      expect(passes).toHaveLength(count);
    }
  });

  it.each([STRAIGHT, HALF_DROP, THIRD_DROP])('of a single column of %j are two', (repeat) => {
    expect(plan(repeat, { cloth: { widthMm: 200, lengthMm: 3000 } }).choice).toMatchObject({ count: 2, least: 2 });
  });

  it('print odd columns, then even ones', () => {
    const { placements } = plan(STRAIGHT);
    for (const { column, pass } of placements) expect(pass <= 2).toBe(column % 2 === 1);
    const on = plan(STRAIGHT, { ...WIDE, stepping: 'on' });
    for (const { column, pass } of on.placements) expect(pass).toBe(column % 2 === 1 ? 1 : 2);
    expect(on.choice).toMatchObject({ count: 2, least: 2, wipeEvery: 4 });
    expect(on.marking).toBeNull();
    expect(codes(on)).toContain('plan-wet-stepping');
  });

  it('walk down one column and back up the next', () => {
    const { placements, passes } = plan(STRAIGHT);
    const first = placements.filter((p) => p.pass === 1).sort((a, b) => a.order - b.order);
    expect(first.map((p) => p.id)).toEqual([
      'c1r1',
      'c1r3',
      'c1r5',
      'c1r7',
      'c1r9',
      'c3r9',
      'c3r7',
      'c3r5',
      'c3r3',
      'c3r1',
      'c5r1',
      'c5r3',
      'c5r5',
      'c5r7',
      'c5r9',
    ]);
    expect(passes[0].walkMm).toBeCloseTo(3 * 2400 + 2 * 400, 9);
  });

  it('follow the rows of a brick to and fro when stepped straight on', () => {
    const { placements } = plan(HALF_BRICK, { cloth: { widthMm: 400, lengthMm: 900 }, stepping: 'on' });
    const order = (pass: number) =>
      placements
        .filter((p) => p.pass === pass)
        .sort((a, b) => a.order - b.order)
        .map((p) => p.id);
    expect(order(1)).toEqual(['c1r1', 'c2r1', 'c2r3', 'c1r3']);
    expect(order(2)).toEqual(['c1r2', 'c2r2', 'c3r2']);
  });

  it('ask for what any of several sheets asks for', () => {
    const lattice = makeLattice(STRAIGHT, 200, 300);
    const tall = planSheet(lattice, { openings: boxOpenings([{ x0: 40, y0: 0, x1: 160, y1: 300 }]) });
    const wide = planSheet(lattice, { openings: boxOpenings([{ x0: 0, y0: 40, x1: 200, y1: 260 }]), ink: '#cc0000' });
    expect(makePlan([tall], lattice, WIDE).choice.count).toBe(2);
    const both = makePlan([tall, wide], lattice, WIDE);
    expect(both.choice.count).toBe(2);
    expect(both.choice.conflicts).toHaveLength(4);
    expect(both.schedule.passes).toHaveLength(4);
  });
});

describe('makePlan', () => {
  it('steps sheets of several units as one placement', () => {
    // Two units across in a half-drop make a straight sheet; three make a half-drop of the sheet.
    const two = plan(HALF_DROP, { cloth: { widthMm: 800, lengthMm: 900 } }, { across: 2 });
    expect(two.lattice).toMatchObject({ widthMm: 400, heightMm: 300, repeat: { kind: 'straight' } });
    expect(two).toMatchObject({ across: 2, along: 3, whole: 6, cut: 0 });
    const three = plan(HALF_DROP, { cloth: { widthMm: 1200, lengthMm: 900 } }, { across: 3 });
    expect(three.lattice.repeat).toEqual(HALF_DROP);
    expect(three).toMatchObject({ across: 2, along: 4, whole: 5, cut: 2 });
  });

  it('lays the sheet across the cloth: the first dot is then at the upper right', () => {
    const across = plan(HALF_DROP, { cloth: { widthMm: 600, lengthMm: 800 }, direction: 'across' });
    expect(across.lattice).toMatchObject({
      widthMm: 300,
      heightMm: 200,
      repeat: { kind: 'brick', step: { p: 1, q: 2 } },
    });
    expect(across.placements[0]).toMatchObject({ at: { x: 300, y: 0 }, field: { x0: 0, y0: 0, x1: 300, y1: 200 } });
    expect(across.sheetBox).toEqual({ x0: -25, y0: -30, x1: 330, y1: 225 });
    // Lower left of the sheet: dots clockwise A upper left, B upper right, C right middle, D lower right, E lower left.
    expect(across.ground?.dot).toBe('E');
  });

  it('prints the back in register: what the front has at x is at width − x', () => {
    const both = plan(THIRD_DROP, { ...WIDE, faces: 'both' });
    expect(both.back?.lattice.repeat).toEqual({ kind: 'drop', step: { p: 2, q: 3 } });
    const places = both.placements.map((p, k) => [p.at, both.back!.at[k]] as const);
    for (const [front, back] of places) expect(back).toEqual({ x: 1118 - front.x, y: front.y });
    const one = plan(THIRD_DROP);
    expect(one.back).toBeNull();
    expect(both.paste.ml).toBeCloseTo(2 * one.paste.ml, 6);
    expect(both.schedule.passes).toHaveLength(2 * one.schedule.passes.length);
  });

  it('takes as much paste for cut placements as lies on the cloth', () => {
    const { paste } = plan(STRAIGHT, { cloth: { widthMm: 500, lengthMm: 900 } });
    // Two and a half columns of three; the whole field is open.
    expect(paste.placements).toBeCloseTo(7.5, 9);
    expect(paste.ml).toBeCloseTo(500 * 900 * 0.7 * 1.4 * 1e-3, 6);
  });

  it('says what a cloth narrower than one placement trims, and plans it', () => {
    const narrow = plan(STRAIGHT, { cloth: { widthMm: 180, lengthMm: 900 } });
    expect(narrow).toMatchObject({ whole: 0, cut: 3, trimmedWidthMm: 20 });
    expect(planFindings(narrow).find((f) => f.code === 'plan-narrow')?.message).toContain('20 mm of the pattern');
  });

  it('orders and cuts panels by the unit, with the ends and the plain start', () => {
    const cloth = { ...WIDE.cloth, startMm: 20, endMm: 30, shrinkAlongPercent: 0, shrinkAcrossPercent: 0 };
    const made = plan(HALF_DROP, {
      cloth,
      start: 'in',
      order: { finishedMm: 2500, wholeRepeats: true },
      panels: { count: 2, finishedMm: 700 },
    });
    expect(made.cloth.headWasteMm).toBe(150);
    expect(made.order).toMatchObject({ repeats: 9, orderMm: 9 * 300 + 20 + 30 + 150 });
    // Five columns are odd: the second panel begins half a repeat on, 170 + 2.5 · 300.
    expect(made.panels?.panels.map((p) => p.fromMm)).toEqual([170, 920]);
    expect(codes(made)).toEqual(expect.arrayContaining(['plan-start-plain', 'plan-panels-trimmed']));
    expect(codes(made)).not.toContain('plan-shrinkage-unknown');
  });

  it('finds nothing whole on a cloth that is too small', () => {
    const empty = plan(STRAIGHT, { cloth: { widthMm: 180, lengthMm: 200 }, fill: 'whole' });
    expect(empty).toMatchObject({ whole: 0, cut: 0, across: 0, ground: null, passes: [] });
    expect(planFindings(empty)[0]).toMatchObject({ code: 'plan-empty', severity: 'stop' });
    expect(planReport(empty).join('\n')).not.toMatch(/NaN|undefined|Infinity/);
    expect(JSON.stringify(planDocument(empty))).not.toContain('null,null,null');
  });

  const cloth = WIDE.cloth;
  it.each<[PlanOptions, RegExp]>([
    [{ cloth: { ...cloth, widthMm: 0 } }, /^The width of the cloth is 0 mm: /],
    [{ cloth: { ...cloth, lengthMm: -5 } }, /^The length of the cloth is -5 mm: /],
    [{ cloth: { ...cloth, lengthMm: Number.NaN } }, /^The length of the cloth is no number: /],
    [{ cloth: { ...cloth, shrinkAlongPercent: 100 } }, /^The shrinkage along the cloth is 100 %: /],
    [{ cloth: { ...cloth, shrinkAcrossPercent: -60 } }, /^The shrinkage across the cloth is -60 %: /],
    [{ cloth: { ...cloth, selvedgeLeftMm: -1 } }, /^The left selvedge is -1: /],
    [{ cloth: { ...cloth, selvedgeRightMm: 1118 } }, /leave nothing of a cloth/],
    [{ cloth, checkEvery: 0 }, /check marks is 0/],
    [{ cloth, wipeEvery: 1.5 }, /wipings is 1.5/],
    [{ cloth, order: { finishedMm: 0, wholeRepeats: true } }, /finished length that is wanted is 0/],
    [{ cloth, panels: { count: 0, finishedMm: 10 } }, /number of panels is 0/],
    [{ cloth, panels: { count: 1e6, finishedMm: 10 } }, /at most 10000/],
    [{ cloth, time: { hoursADay: 25 } }, /hours of work a day are 25/],
    [{ cloth, time: { secondsAPlacement: 0 } }, /time a placement is 0/],
    [{ cloth, paste: { filmMm: 0 } }, /film is 0/],
    [{ cloth, paste: { extraPercent: -1 } }, /paste for tool and bowl is -1/],
    [{ cloth, wear: { placementsASheet: 0 } }, /sheet lasts is 0/],
  ])('refuses %j', (options, message) => {
    expect(() => plan(STRAIGHT, options)).toThrow(message);
    expect(() => plan(STRAIGHT, options)).toThrow(InputError);
  });

  it('refuses no sheet, and sheets that do not step alike', () => {
    const lattice = makeLattice(STRAIGHT, 200, 300);
    expect(() => makePlan([], lattice, WIDE)).toThrow(InputError);
    expect(() => makePlan([planSheet(lattice), planSheet(lattice, { across: 2 })], lattice, WIDE)).toThrow(
      /step alike/,
    );
    expect(() => plan(STRAIGHT, { cloth: { widthMm: 20, lengthMm: 20 } }, { size: [1, 1], borderMm: 60 })).toThrow(
      InputError,
    );
  });
});

describe('what a plan is written as', () => {
  it('a table by RFC 4180', () => {
    const csv = planCsv(plan(HALF_DROP, { cloth: { widthMm: 400, lengthMm: 100 / 3 } }));
    const lines = csv.split('\r\n');
    expect(lines.pop()).toBe('');
    expect(lines[0].split(',').slice(0, 8)).toEqual(['id', 'column', 'row', 'pass', 'order', 'whole', 'x_mm', 'y_mm']);
    expect(lines).toHaveLength(3);
    expect(lines[1]).toBe('c1r1,1,1,1,1,0,0,0,0,0,200,33.333,0.111');
    expect(lines[2]).toBe('c2r1,2,1,2,1,0,200,-150,200,0,400,33.333,0.111');
    for (const line of lines) expect(line.split(',')).toHaveLength(13);
  });

  it('records whose fields are quoted where they must be', () => {
    // RFC 4180, 2.5 to 2.7.
    expect(csvRecord(['a', 1.5, 'b, c', 'd "e"', 'f\r\ng', ''])).toBe('a,1.5,"b, c","d ""e""","f\r\ng",\r\n');
  });

  it('a document that survives being written and read', () => {
    const made = plan(HALF_DROP, { ...WIDE, faces: 'both', panels: { count: 2, finishedMm: 700 } });
    const document = planDocument(made);
    expect(JSON.parse(JSON.stringify(document))).toEqual(document);
    expect(document).toMatchObject({
      across: 6,
      along: 11,
      cloth: { tableWidthMm: 1118 },
      paste: { estimate: true, filmMm: 0.7 },
    });
    expect(document.placements[0]).toMatchObject({ id: 'c1r1', xMm: 0, yMm: 0, pass: 1, whole: true });
    expect(document.passes.map((p) => p.pass)).toEqual([1, 2, 3]);
  });

  it('lines for a person, with the inputs of every estimate', () => {
    const text = planReport(
      plan(HALF_DROP, {
        ...WIDE,
        order: { finishedMm: 2500, wholeRepeats: false },
        panels: { count: 2, finishedMm: 700 },
      }),
    ).join('\n');
    expect(text).toContain('Placements: 63 (');
    expect(text).toContain('Passes: 3 for each sheet (no plan needs fewer)');
    expect(text).toMatch(/an estimate from \d+ mm² open, a film of 0.7 mm, .* plus 40 % for tool and bowl,/);
    expect(text).toMatch(/an estimate from 2000 placements a sheet/);
    expect(text).toContain(
      'Check marks, all measured from one zero 0 mm after the start: c1r1 at 0 mm, c1r6 at 1500 mm',
    );
    expect(text).not.toMatch(/NaN|undefined|null|Infinity/);
  });
});
