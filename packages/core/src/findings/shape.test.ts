import { describe, expect, it } from 'vitest';
import { checkSquare } from '../register/check-square.js';
import { asMeasured, holesAt } from '../register/sheets.test-help.js';
import { distancesOf } from '../register/spans.js';
import type { CheckSquareOptions } from '../register/types.js';
import { squareFindings } from './squaring.js';

type Corners = readonly (readonly [number, number])[];

/** The finding of a code on a sheet by its four holes, read without error. */
function found(corners: Corners, code: string, options: CheckSquareOptions = {}) {
  const findings = squareFindings(checkSquare(asMeasured(distancesOf(holesAt(...corners))), options));
  return findings.find((finding) => finding.code === code);
}

describe('what is said of the shape of a sheet', () => {
  it('that is proved square: its width and its height, which are told apart', () => {
    const proved = found(
      [
        [0, 0],
        [600, 0],
        [600, 450],
        [0, 450],
      ],
      'square-proved',
    );
    expect(proved?.message).toContain('a rectangle of 600 mm by 450 mm');
    expect(proved?.measure?.widthMm).toBeCloseTo(600, 6);
    expect(proved?.measure?.heightMm).toBeCloseTo(450, 6);
  });

  it.each([
    [12, 'right'],
    [-12, 'left'],
  ] as const)('that leans by %d mm: how far, which way, and what it does', (slide, way) => {
    const corners: Corners = [
      [0, 0],
      [600, 0],
      [600 + slide, 450],
      [slide, 450],
    ];
    const lean = found(corners, 'square-lean');
    expect(lean?.message).toContain(`its lower side has slid 12 mm to the ${way}, 26.7 mm a metre`);
    expect(lean?.message).not.toContain('If the paper is true');
    expect(lean?.severity).toBe('fix');
    expect(lean?.measure?.leanMm).toBeCloseTo(slide, 6);
    expect(lean?.measure?.leanMmPerM).toBeCloseTo((1000 * slide) / 450, 6);
    const planned = found(corners, 'square-lean', { targets: { widthMm: 600, heightMm: 450 } });
    expect(planned?.message).toContain('joins at the top and bottom are off by 12 mm sideways');
  });

  it('whose diagonals agree though it is not square: why they prove nothing of this one', () => {
    // A trapezoid with equal legs; and two lines of 750 that cross beside their middles.
    const trapezoid = found(
      [
        [10, 0],
        [590, 0],
        [600, 450],
        [0, 450],
      ],
      'square-diagonals',
    );
    expect(trapezoid?.message).toContain('a trapezoid with equal legs has equal diagonals too');
    const turn = (40 * Math.PI) / 180;
    const across = [590 - 750 * Math.cos(turn), 750 * Math.sin(turn)] as const;
    const crossed = found([[0, 0], [590, 0], [600, 450], across], 'square-diagonals');
    expect(crossed?.message).toContain('only where they halve each other');
    for (const one of [trapezoid, crossed]) expect(one?.message).toContain('opposite sides differ');
    expect(
      found(
        [
          [0, 0],
          [600, 0],
          [612, 450],
          [12, 450],
        ],
        'square-diagonals',
      ),
    ).toBeUndefined();
  });

  it('that is larger than the job: which way it is off', () => {
    const size = found(
      [
        [0, 0],
        [603, 0],
        [603, 446],
        [0, 446],
      ],
      'square-size',
      { targets: { widthMm: 600, heightMm: 450 } },
    );
    expect(size?.message).toContain('the width is 3 mm too long and the height 4 mm too short');
    expect(size?.measure?.widthOffMm).toBeCloseTo(3, 6);
    expect(size?.measure?.heightOffMm).toBeCloseTo(-4, 6);
  });
});
