import { describe, expect, it } from 'vitest';
import { listText } from '../units/words.js';
import { degText, holeName, kindText, spanName } from './say.js';
import { CORNERS, SPANS } from './spans.js';
import type { Shape } from './types.js';

const NAMES = { upperLeft: 'P', upperRight: 'Q', lowerRight: 'R', lowerLeft: 'S' };

describe('words for holes and shapes', () => {
  it('name every hole, distance and kind by its own place', () => {
    expect(CORNERS.map((corner) => holeName(corner, null))).toEqual([
      'the upper left hole',
      'the upper right hole',
      'the lower right hole',
      'the lower left hole',
    ]);
    expect(CORNERS.map((corner) => holeName(corner, NAMES))).toEqual([
      'hole P (upper left)',
      'hole Q (upper right)',
      'hole R (lower right)',
      'hole S (lower left)',
    ]);
    expect(holeName('M', NAMES)).toBe('dot M');
    for (const span of SPANS) {
      expect(spanName(span)).toBe(`${span} ${span === 'falling' || span === 'rising' ? 'diagonal' : 'side'}`);
    }
    const kind = (name: Shape['kind'], parallel: Shape['parallel'] = null) =>
      kindText({ kind: name, parallel } as Shape);
    expect([kind('kite'), kind('rectangle'), kind('general')]).toEqual([
      'a kite',
      'a rectangle',
      'a quadrilateral of no special kind',
    ]);
    expect(kind('trapezoid', 'top-bottom')).toBe('a trapezoid (top and bottom parallel)');
    expect(kind('trapezoid', 'left-right')).toBe('a trapezoid (left and right parallel)');
  });

  it('join things in a row, and give degrees to hundredths', () => {
    expect([[], ['a'], ['a', 'b'], ['a', 'b', 'c']].map(listText)).toEqual(['', 'a', 'a and b', 'a, b and c']);
    expect([90, 89.996, 90.126, -0.001].map(degText)).toEqual(['90°', '90°', '90.13°', '0°']);
  });
});
