import { describe, expect, it } from 'vitest';
import { sheetDots, sheetRepeat } from '../../register/dots.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { Repeat } from '../../repeat/types.js';
import { sampleSheet } from './sample-sheet.test-help.js';
import { proofSlides, vectorWords } from './slides.js';

const W = 420;
const H = 560;

function slides(repeat: Repeat) {
  const sheet = sampleSheet({ count: 4, fieldWidthMm: W, fieldHeightMm: H });
  const dots = sheetDots(sheet.field, sheetRepeat(repeat, 1, 1), { diameterMm: 1.2 });
  return proofSlides({ ...sheet, dots }, makeLattice(repeat, W, H));
}

describe('proofSlides', () => {
  it.each([
    [
      'straight',
      { kind: 'straight', step: { p: 0, q: 1 } },
      [
        [W, 0],
        [0, H],
        [W, H],
      ],
    ],
    [
      'half-drop',
      { kind: 'drop', step: { p: 1, q: 2 } },
      [
        [0, H],
        [W, H / 2],
        [W, -H / 2],
      ],
    ],
    [
      'drop of 1/3',
      { kind: 'drop', step: { p: 1, q: 3 } },
      [
        [0, H],
        [W, H / 3],
        [W, (-2 * H) / 3],
      ],
    ],
    [
      'brick',
      { kind: 'brick', step: { p: 1, q: 2 } },
      [
        [W, 0],
        [W / 2, H],
        [-W / 2, H],
      ],
    ],
  ] as const)('%s: its three vectors', (_, repeat, vectors) => {
    slides(repeat as Repeat).forEach(({ vector }, k) => {
      expect(vector.x).toBeCloseTo(vectors[k][0], 9);
      expect(vector.y).toBeCloseTo(vectors[k][1], 9);
    });
  });

  it('names the dots that fall together, half-drop', () => {
    // A left top, B right top, C right middle, D right bottom, E left bottom, F left middle.
    const pairs = slides({ kind: 'drop', step: { p: 1, q: 2 } }).map((s) => s.pairs.map((p) => `${p.from}${p.to}`));
    expect(pairs).toEqual([
      ['AE', 'BD'],
      ['AC', 'FD'],
      ['EC', 'FB'],
    ]);
  });

  it('names the dots that fall together, straight', () => {
    const pairs = slides({ kind: 'straight', step: { p: 0, q: 1 } }).map((s) => s.pairs.map((p) => `${p.from}${p.to}`));
    expect(pairs).toEqual([['AB', 'DC'], ['AD', 'BC'], ['AC']]);
  });

  it('says which way', () => {
    expect(vectorWords({ x: 300, y: -210 })).toBe('300.0 mm to the right, 210.0 mm up');
    expect(vectorWords({ x: 0, y: 560 })).toBe('560.0 mm down');
    expect(vectorWords({ x: -150, y: 420 })).toBe('150.0 mm to the left, 420.0 mm down');
  });
});
