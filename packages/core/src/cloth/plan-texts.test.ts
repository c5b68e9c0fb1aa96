import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { formatMm } from '../units/format.js';
import { makePlan } from './plan.js';
import { planCsv, shortNumber } from './plan-csv.js';
import { planDocument } from './plan-document.js';
import type { PlanOptions } from './plan-options.js';
import { planReport } from './plan-report.js';
import { boxOpenings, planSheet } from './plan-sheet.test-help.js';
import type { Plan } from './plan-types.js';

const DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
const CLOTH = {
  widthMm: 951.4,
  lengthMm: 2307.3,
  shrinkAcrossPercent: 4,
  shrinkAlongPercent: 7,
  selvedgeLeftMm: 13,
  selvedgeRightMm: 22,
  startMm: 41,
  endMm: 58,
};

/** A plan in which no two figures are alike. */
function plan(more: Partial<PlanOptions> = {}, repeat: Repeat = DROP): Plan {
  const lattice = makeLattice(repeat, 210, 330);
  const openings = boxOpenings([{ x0: 5, y0: 7, x1: 190, y1: 300 }]);
  const sheets = [planSheet(lattice, { openings, gauze: false }), planSheet(lattice, { ink: '#aa0000' })];
  return makePlan(sheets, lattice, {
    cloth: CLOTH,
    order: { finishedMm: 1500, wholeRepeats: true },
    panels: { count: 3, finishedMm: 400 },
    ...more,
  });
}

/** The three digits that a document gives. */
const short = (mm: number) => expect.closeTo(mm, 3);

describe('the document of a plan', () => {
  const made = plan({ faces: 'both' });
  const document = planDocument(made);

  it('has every placement with its own place, pass and share, and those of the back in the same order', () => {
    expect(document.placements).toHaveLength(made.placements.length);
    for (const [k, p] of made.placements.entries()) {
      expect(document.placements[k]).toEqual({
        id: p.id,
        xMm: short(p.at.x),
        yMm: short(p.at.y),
        pass: p.pass,
        order: p.order,
        whole: p.whole,
        share: short(p.share),
      });
      expect(document.back?.[k]).toEqual({ xMm: short(made.cloth.table.widthMm - p.at.x), yMm: short(p.at.y) });
    }
    expect(planDocument(plan()).back).toBeNull();
  });

  it('has the cloth as it was given, left and right, start and end apart', () => {
    expect(document.cloth).toMatchObject({
      sizes: 'table',
      tableWidthMm: 951.4,
      tableLengthMm: 2307.3,
      finishedWidthMm: short(951.4 * 0.96),
      finishedLengthMm: short(2307.3 * 0.93),
      shrinkAcrossPercent: 4,
      shrinkAlongPercent: 7,
      usable: { leftMm: 13, topMm: 41, rightMm: short(951.4 - 22), bottomMm: short(2307.3 - 58) },
      // 916.4 wide: four columns of 210 leave 76.4; 2208.3 long: six of 330 leave 228.3.
      leftoverAcrossMm: 76.4,
      leftoverAlongMm: 228.3,
      trimmedWidthMm: 0,
    });
    expect(document).toMatchObject({
      across: made.across,
      along: made.along,
      whole: made.placements.filter((p) => p.whole).length,
      cut: made.placements.filter((p) => !p.whole).length,
      repeat: { kind: 'drop', step: '1/2', widthMm: 210, heightMm: 330 },
    });
    expect(document.masks).toEqual(
      made.masks.map(({ side, box, onClothMm, beyondMm }) => ({
        side,
        leftMm: short(box.x0),
        topMm: short(box.y0),
        rightMm: short(box.x1),
        bottomMm: short(box.y1),
        onClothMm: short(onClothMm),
        beyondMm: short(beyondMm),
      })),
    );
    expect(document.masks.length).toBeGreaterThan(2);
  });

  it('has marks, passes, times, paste and cuts as the plan has them', () => {
    expect(document.groundLine).toEqual({
      xMm: short(13),
      zeroXMm: short(13),
      zeroYMm: short(41),
      dot: 'A',
      marks: made.ground?.marks.map(({ id, acrossMm, alongMm }) => ({
        id,
        acrossMm: short(acrossMm),
        alongMm: short(alongMm),
      })),
    });
    expect(document.passes).toEqual(made.passes.map((p) => ({ ...p, walkMm: short(p.walkMm) })));
    const { schedule, paste, wear, panels } = made;
    expect(document.time).toMatchObject({ days: schedule.days, passesADay: short(schedule.passesADay) });
    expect(document.paste.inks).toEqual(
      paste.inks.map(({ ink, openMm2, printedMl, ml, grams }) => ({
        ink,
        openMm2: short(openMm2),
        printedMl: short(printedMl),
        ml: short(ml),
        grams: short(grams),
      })),
    );
    expect(document.paste).toMatchObject({
      ml: short(paste.ml),
      grams: short(paste.grams),
      placements: short(paste.placements),
    });
    expect(document.sheets.needed).toEqual(wear.sheets.map(({ sheet, ink, needed }) => ({ sheet, ink, needed })));
    expect(document.panels).toMatchObject({
      count: 3,
      lengthMm: short(400 / 0.93),
      columns: 4,
      neededMm: short(panels?.neededMm ?? -1),
      wasteMm: short(panels?.wasteMm ?? -1),
      fits: true,
    });
    expect(document.panels?.cuts.map(({ fromMm, toMm }) => toMm - fromMm)).toEqual(
      [1, 2, 3].map(() => expect.closeTo(400 / 0.93, 2)),
    );
    expect(document.stepping).toEqual({
      mode: 'every-other',
      passes: made.choice.count,
      least: made.choice.least,
      wipeEvery: null,
    });
    expect([document.time.estimate, document.paste.estimate, document.sheets.estimate]).toEqual([true, true, true]);
  });
});

describe('the table of placements', () => {
  it('has one row a placement in the order of printing, each with the edges of what is seen of it', () => {
    const made = plan();
    const [head, ...rows] = planCsv(made)
      .trimEnd()
      .split('\r\n')
      .map((line) => line.split(','));
    expect(rows).toHaveLength(made.placements.length);
    let last = 0;
    for (const row of rows) {
      const of = (name: string) => row[head.indexOf(name)];
      const p = made.placements.find(({ id }) => id === of('id'));
      if (p === undefined) throw new Error(`${row} is no placement`);
      expect([of('column'), of('row'), of('pass'), of('order'), of('whole')].map(Number)).toEqual([
        p.column,
        p.row,
        p.pass,
        p.order,
        p.whole ? 1 : 0,
      ]);
      const mm = [
        'x_mm',
        'y_mm',
        'visible_left_mm',
        'visible_top_mm',
        'visible_right_mm',
        'visible_bottom_mm',
        'share',
      ];
      const { at, visible, share } = p;
      const own = [at.x, at.y, visible.x0, visible.y0, visible.x1, visible.y1, share];
      expect(mm.map((name) => Number(of(name)))).toEqual(own.map(short));
      const place = p.pass * 1e6 + p.order;
      expect(place).toBeGreaterThan(last);
      last = place;
    }
    expect([1.23456, -0.0001, 1e-7, 12_345_678.9].map(shortNumber)).toEqual([1.235, 0, 0, 12_345_678.9]);
  });
});

describe('the plan in lines', () => {
  const report = (made: Plan) => planReport(made).join('\n');

  it('says the cloth, what is printed of it and the placement, width before length', () => {
    const text = report(plan());
    expect(text).toContain(
      `Cloth: 951.4 mm × 2307.3 mm on the table, ${formatMm(951.4 * 0.96)} × ${formatMm(2307.3 * 0.93)} when finished (shrinks 4 % across, 7 % along).`,
    );
    expect(text).toContain('Printed: 916.4 mm × 2208.3 mm, from 13 mm beside the left edge and 41 mm after the start.');
    expect(text).toContain('Placement: 210 mm × 330 mm, drop of 1/2.');
    expect(text).toContain('Whole placements leave 76.4 mm of the width and 228.3 mm of the length.');
    expect(text).toContain('Columns that the repeat shifts begin before the start, the part beyond it on waste.');
    const half = report(plan({ cloth: { ...CLOTH, shrinkAlongPercent: null } }));
    expect(half).toContain('shrinks 4 % across, an unknown amount along');
    expect(report(plan({ cloth: { ...CLOTH, shrinkAlongPercent: null, shrinkAcrossPercent: null } }))).toContain(
      'Cloth: 951.4 mm × 2307.3 mm on the table.',
    );
    const across = report(plan({ direction: 'across', cloth: { widthMm: 660, lengthMm: 2100 } }));
    expect(across).toContain('Placement: 330 mm × 210 mm, brick of 1/2, the sheet turned clockwise by a quarter.');
    expect(across).toContain('Rows that the repeat shifts begin beside the cloth');
    expect(across).toContain('Whole placements leave no strip of cloth over.');
    expect(report(plan({ start: 'in' }))).toContain(
      'Columns that the repeat shifts begin up to 165 mm in; the gap is trimmed off.',
    );
    expect(report(plan({ fill: 'whole' }))).toContain('begin up to 165 mm in');
    const straight = report(plan({}, { kind: 'straight', step: { p: 0, q: 1 } }));
    expect(straight).toContain('210 mm × 330 mm, straight.');
    expect(straight).not.toContain('that the repeat shifts');
  });

  it('says each mask, mark, pass, ink, sheet and panel with its own figures', () => {
    const made = plan();
    const text = report(made);
    for (const { side, onClothMm, beyondMm } of made.masks) {
      expect(text).toContain(
        `Mask, ${side}: ${formatMm(onClothMm)} of cloth, ${formatMm(beyondMm)} of waste beyond it.`,
      );
    }
    const { placements, whole, cut, across, along, passes, schedule, paste, wear, panels, order } = made;
    expect(text).toContain(
      `Placements: ${placements.length} (${whole} whole, ${cut} cut), at most ${across} across and ${along} along.`,
    );
    expect(text).toContain(`: ${passes.map((p) => `pass ${p.pass} ${p.placements}`).join(', ')}.`);
    expect(text).toContain(`${2 * passes.length} passes in all`);
    expect(text).toContain(`${schedule.days} days.`);
    for (const { ink, ml, grams } of paste.inks) {
      expect(text).toContain(`ink ${ink} (an estimate`);
      expect(text).toContain(`: ${Math.ceil(ml)} ml, ${Math.ceil(grams)} g.`);
    }
    for (const { sheet, ink, needed } of wear.sheets) {
      expect(text).toMatch(
        new RegExp(`Cut sheets of stencil ${sheet}, ink ${ink} .*a sheet and 2 days of use\\): ${needed}\\.`),
      );
    }
    panels?.panels.forEach(({ fromMm, toMm }, k) => {
      expect(text).toContain(`panel ${k + 1}: from ${formatMm(fromMm, 1)} to ${formatMm(toMm, 1)}`);
    });
    expect(text).toContain(
      `Panels: 3 of ${formatMm(400 / 0.93)} take ${formatMm(panels?.neededMm ?? 0)} of cloth, ${formatMm(panels?.wasteMm ?? 0)} of it`,
    );
    // 1500 / 0.93 is 1612.9 on the table: five repeats of 330, and both ends.
    expect(order).toMatchObject({ repeats: 5, printedMm: 1650, orderMm: 1650 + 41 + 58 });
    expect(text).toContain(
      `For 1500 mm finished in whole repeats (5): order 1749 mm, of which 1650 mm are printed (${formatMm(1650 * 0.93)} finished).`,
    );
    expect(text).toContain('Ground line: 13 mm beside the left edge, along the cloth; dot A stands on it.');
    expect(text).toContain('one zero 41 mm after the start: c1r1 at 0 mm, c1r6 at 1650 mm.');
  });

  it('says what is left to be wished for: passes, marks and panels that are more than a line holds', () => {
    const long = plan({ cloth: { widthMm: 400, lengthMm: 25_000 }, panels: { count: 14, finishedMm: 400 } });
    const text = report(long);
    // Fifteen marks and more: the first twelve, five placements of 330 apart.
    const marks = /after the start: (.*), …\.$/m.exec(text)?.[1].split(', ');
    expect(marks).toEqual(Array.from({ length: 12 }, (_, k) => `c1r${5 * k + 1} at ${5 * k * 330} mm`));
    expect(text).toContain('panel 12: ');
    expect(text).not.toContain('panel 13: ');
    const least = { ...long, choice: { ...long.choice, least: long.choice.count - 1 } };
    expect(report(least)).toContain(`at least ${long.choice.count - 1} are needed`);
    expect(text).toContain('no plan needs fewer');
    expect(text).toContain('First a marking walk');
    expect(report(plan({ stepping: 'on' }))).toContain('no marking walk');
    const whole = plan({ cloth: { widthMm: 420, lengthMm: 660 } });
    expect(report(whole)).toContain('2 across, 210 mm × 330 mm (as it is)');
    expect(report(plan({ cloth: { widthMm: 840 * 1.1, lengthMm: 660 } }))).toContain(
      '4 across, 231 mm × 363 mm (× 1.1)',
    );
    expect(report({ ...long, schedule: { ...long.schedule, days: 1 } })).toContain(', 1 day.');
  });
});
