import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contoursBox, polyline } from '../geometry/contour.js';
import { insideContours } from '../geometry/point-tests.js';
import type { Box } from '../geometry/types.js';
import { sampleSheet } from '../papers/guide/sample-sheet.test-help.js';
import { numberedPart, WasteIndex } from './waste-index.js';

const sheet = sampleSheet({ count: 60 });
const index = new WasteIndex(sheet.openings);

describe('WasteIndex', () => {
  it('finds the opening that a plain test of all of them finds', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: sheet.widthMm + 5, noNaN: true }),
        fc.double({ min: -5, max: sheet.heightMm + 5, noNaN: true }),
        (x, y) => {
          const p = { x, y };
          const plain = sheet.openings.find((o) => insideContours(o.firstCut, p) || insideContours(o.secondCut, p));
          expect(index.at(p)?.number).toBe(plain?.number);
        },
      ),
    );
  });

  it('knows the place of every number in its part', () => {
    for (const o of sheet.openings) expect(index.isIn(o, o.labelAt, numberedPart(o)), `${o.number}`).toBe(true);
  });

  it('tells along which line a part lies', () => {
    for (const turn of [0, 25, 60, -70]) {
      const [cos, sin] = [Math.cos((turn * Math.PI) / 180), Math.sin((turn * Math.PI) / 180)];
      const corners = [
        [-10, -2],
        [10, -2],
        [10, 2],
        [-10, 2],
      ].map(([u, v]) => ({ x: 50 + u * cos - v * sin, y: 50 + u * sin + v * cos }));
      const firstCut = [polyline(corners, { closed: true })];
      const bar = { ...sheet.openings[0], firstCut, box: contoursBox(firstCut) as Box };
      expect(new WasteIndex([bar]).axisDeg(bar, 'first')).toBeCloseTo(turn, 9);
      expect(new WasteIndex([bar]).axisDeg({ ...bar }, 'first')).toBe(0);
    }
  });
});
