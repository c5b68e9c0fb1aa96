import { describe, expect, it } from 'vitest';
import { makeLattice } from '../repeat/lattice.js';
import { estimatePaste, estimateWear, extraWords } from './paste.js';
import { boxOpenings, planSheet } from './plan-sheet.test-help.js';

const LATTICE = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 200, 300);
const OPTIONS = { filmMm: 0.7, extraPercent: 40, densityGPerMl: 1.2 };

describe('estimatePaste', () => {
  it('is open area times film times placements, and a share on top of that', () => {
    const openings = boxOpenings([
      { x0: 10, y0: 10, x1: 60, y1: 50 },
      { x0: 80, y0: 10, x1: 90, y1: 110 },
    ]);
    const black = planSheet(LATTICE, { openings });
    const red = planSheet(LATTICE, { openings: openings.slice(1), ink: '#cc0000' });
    const paste = estimatePaste([black, red, black], 12.5, OPTIONS);
    // 3000 mm² · 0.7 mm · 12.5 = 26.25 ml; plus 40 % for tool and bowl 36.75 ml; 44.1 g at 1.2 g/ml. Two sheets print it.
    expect(paste.inks[0]).toMatchObject({ ink: '#000000', sheets: 2, openMm2: expect.closeTo(6000, 6) });
    expect(paste.inks[0].printedMl).toBeCloseTo(52.5, 9);
    expect(paste.inks[0].ml).toBeCloseTo(73.5, 9);
    expect(paste.inks[0].grams).toBeCloseTo(88.2, 9);
    expect(paste.inks[1].ml).toBeCloseTo(12.25, 9);
    expect(paste.ml).toBeCloseTo(85.75, 9);
    expect(paste).toMatchObject(OPTIONS);
  });

  it.each([0, 12.5, 40, 250])('says what it adds: %d %%', (extraPercent) => {
    const openings = boxOpenings([{ x0: 10, y0: 10, x1: 60, y1: 50 }]);
    const [{ printedMl, ml }] = estimatePaste([planSheet(LATTICE, { openings })], 3, { ...OPTIONS, extraPercent }).inks;
    const words = extraWords({ extraPercent });
    const added = /^plus ([\d.]+) % for tool and bowl$/.exec(words)?.[1];
    expect(added === undefined ? words : Number(added)).toBe(extraPercent || 'nothing added for tool and bowl');
    expect(ml).toBeCloseTo(printedMl + (printedMl * Number(added ?? 0)) / 100, 9);
  });
});

describe('estimateWear', () => {
  const passes = [1, 2, 2].map((day, k) => ({
    sheet: 1,
    face: 'front' as const,
    pass: k + 1,
    minutes: 60,
    startDay: day,
    startMinute: 0,
    endDay: day + (k === 2 ? 3 : 0),
    endMinute: 60,
  }));

  it('counts placements and, for bare paper, days of use', () => {
    const bare = [planSheet(LATTICE, { gauze: false })];
    const none = { placementsASheet: null, daysASheet: null };
    // Days 1 to 5: two days of use a sheet.
    expect(estimateWear(bare, { placements: 100, passes }, none)).toMatchObject({
      gauze: false,
      daysASheet: 2,
      sheets: [{ sheet: 1, days: 5, needed: 3 }],
    });
    expect(
      estimateWear(bare, { placements: 100, passes }, { placementsASheet: 10, daysASheet: 5 }).sheets[0].needed,
    ).toBe(10);
    expect(estimateWear([planSheet(LATTICE)], { placements: 2001, passes }, none)).toMatchObject({
      gauze: true,
      daysASheet: null,
      sheets: [{ needed: 2 }],
    });
  });
});
