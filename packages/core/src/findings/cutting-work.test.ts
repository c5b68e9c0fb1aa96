import { describe, expect, it } from 'vitest';
import type { Point } from '../geometry/types.js';
import type { CutAway, CuttingWork, OpeningWork } from '../strength/types.js';
import { workFindings } from './cutting-work.js';

const cutAway: CutAway = { share: 0.3, weakestBand: { x0: 100, y0: 0, x1: 150, y1: 200 }, bandShare: 0.4 };
const easy: CuttingWork = { lengthMm: 80, corners: 2, tightMm: 0, tightPlaces: 0, jerks: 0, minutes: 1, blades: 0.1 };
const options = {
  gauze: false,
  name: (opening: number) => String(opening + 1),
  place: ({ x, y }: Point) => ({ x: x - 5, y: y - 6 }),
};
const workOf = (work: Partial<CuttingWork>, places: Partial<OpeningWork> = {}): OpeningWork => ({
  ...easy,
  ...work,
  opening: 4,
  jerkAt: null,
  tightAt: null,
  ...places,
});
const told = (found: Partial<Parameters<typeof workFindings>[0]>, { gauze = false } = {}) =>
  workFindings(
    { rules: { spanMm: 50, turnMm: 1.5 }, longOpenings: [], cutAway, workOf: [], ...found },
    { ...options, gauze },
  );

describe('what is said about the work', () => {
  it('is nothing where all is well', () => {
    expect(told({ workOf: [workOf({})] })).toEqual([]);
  });

  it('tells long openings, and those that are far too long', () => {
    const [long, far] = told({
      longOpenings: [
        { opening: 0, lengthMm: 71.26, at: { x: 15, y: 16 } },
        { opening: 6, lengthMm: 100.4, at: { x: 25, y: 26 } },
      ],
    });
    expect(long).toEqual({
      code: 'opening-long',
      topic: 'paper',
      severity: 'look',
      message:
        'Opening 1 runs on for 71 mm without a tie, more than the 50 mm that this paper spans: ' +
        'see whether its edges stay put, or leave a tie across it.',
      atMm: { x: 10, y: 10 },
      measure: { lengthMm: 71.26, spanMm: 50, opening: '1' },
    });
    expect(far).toMatchObject({ severity: 'fix', atMm: { x: 20, y: 20 } });
    expect(far.message).toBe(
      'Opening 7 runs on for 100 mm without a tie, more than twice the 50 mm that this paper spans: leave ties across it or put gauze over the sheet.',
    );
  });

  it('asks for no gauze where it is to come, and finds nothing to mend then', () => {
    const found = told(
      {
        longOpenings: [
          { opening: 0, lengthMm: 71.26, at: { x: 15, y: 16 } },
          { opening: 6, lengthMm: 100.4, at: { x: 25, y: 26 } },
        ],
        cutAway: { ...cutAway, bandShare: 0.714 },
      },
      { gauze: true },
    );
    expect(found.map(({ code, severity }) => `${code} ${severity}`)).toEqual([
      'opening-long note',
      'opening-long look',
      'cut-away-band note',
    ]);
    for (const { message } of found) expect(message).not.toMatch(/put gauze|ties or gauze|leave/);
    expect(found[1].message).toContain('the gauze has to hold its edges');
  });

  it('tells a weak band, upright or level', () => {
    expect(told({ cutAway: { ...cutAway, bandShare: 0.65 } })).toEqual([]);
    const [upright] = told({ cutAway: { ...cutAway, bandShare: 0.714 } });
    expect(upright).toEqual({
      code: 'cut-away-band',
      topic: 'paper',
      severity: 'look',
      message:
        'Of a band 50 mm wide, upright around x = 120 mm, 71 % is cut away (30 % of the whole sheet): ' +
        'lift the sheet there with both hands, or strengthen it with ties or gauze.',
      atMm: { x: 120, y: 94 },
      measure: { bandShare: 0.714, share: 0.3, widthMm: 50 },
    });
    const [level] = told({ cutAway: { share: 0.5, weakestBand: { x0: 0, y0: 10, x1: 300, y1: 60 }, bandShare: 0.7 } });
    expect(level.message).toContain('level around y = 29 mm');
  });

  it('tells jerky outlines and tight bends, jerks first', () => {
    const [jerky, tight] = told({
      workOf: [
        workOf({ tightPlaces: 2, tightMm: 3.14 }, { tightAt: { x: 45, y: 46 } }),
        workOf({ jerks: 1 }, { opening: 8, jerkAt: { x: 35, y: 36 } }),
      ],
    });
    expect(jerky).toEqual({
      code: 'outline-jerky',
      topic: 'paper',
      severity: 'look',
      message:
        'The outline of opening 9 jerks at one place, as a bad trace does: draw one smooth line there, or the knife follows every jerk.',
      atMm: { x: 30, y: 30 },
      measure: { jerks: 1, opening: '9' },
    });
    expect(tight).toEqual({
      code: 'curve-tight',
      topic: 'paper',
      severity: 'note',
      message:
        'The outline of opening 5 bends tighter than a radius of 1.5 mm at 2 places, 3.1 mm in all: ' +
        'turn the sheet under a pointed blade there, or punch the round.',
      atMm: { x: 40, y: 40 },
      measure: { tightMm: 3.14, tightPlaces: 2, turnMm: 1.5, opening: '5' },
    });
  });
});
