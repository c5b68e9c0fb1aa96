import { circleContour, polyline } from '@okuri/core';
import { flatRing, reverseContour } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { sampleProofSheet } from '../../../core/src/proof/sample-proof-sheet.test-help.js';
import { spreadOf } from './lead-edges.js';
import { edgeSamples, outwardOf, plannedRings } from './planned-edges.js';
import { printedEdges, printedOffset } from './printed-edges.js';

const SHEET = sampleProofSheet();
const { field, lapMm } = SHEET;
const samples = edgeSamples(SHEET, plannedRings(SHEET));

describe('places along planned edges', () => {
  it('leave out stops, ends of laps and corners', () => {
    const own = (number: number) => samples.filter(({ opening }) => opening === number);
    // The band is 34.4 mm long above and below and 9 mm wide at its end; four corners.
    expect(own(1).length).toBeGreaterThan(120);
    for (const { at } of own(1)) expect(at.x).toBeGreaterThan(field.x0 - lapMm + 0.1);
    for (const { at } of own(2)) expect(at.x).toBeLessThan(field.x0 + 105 - 0.5);
    expect(own(4)).toEqual([]);
  });

  it('look out of their opening', () => {
    const [x, y] = [field.x0 + 20, field.y0 + 60];
    const berry = samples.filter(({ opening }) => opening === 5);
    expect(berry.length).toBeGreaterThan(30);
    for (const { at, outward } of berry) {
      expect((at.x - x) * outward.x + (at.y - y) * outward.y).toBeCloseTo(3, 1);
    }
    // Paper within an opening: out of the opening is into the paper.
    const island = flatRing(reverseContour(circleContour({ x: 0, y: 0 }, 5)), 1) ?? expect.fail('no ring');
    const out = outwardOf(island, 0);
    expect(out.x * island.x[0] + out.y * island.y[0]).toBeCloseTo(-5, 1);
  });

  it('are not taken at release ties', () => {
    const outline = polyline(
      [
        { x: field.x0 + 10, y: field.y0 + 18 },
        { x: field.x0 + 12, y: field.y0 + 18 },
        { x: field.x0 + 12, y: field.y0 + 34 },
        { x: field.x0 + 10, y: field.y0 + 34 },
      ],
      { closed: true },
    );
    const tie = { id: 'T1', kind: 'release', from: { x: 0, y: 0 }, to: { x: 0, y: 0 }, outline } as const;
    const sheet = { ...SHEET, ties: [tie] };
    const left = edgeSamples(sheet, plannedRings(sheet)).filter(({ opening }) => opening === 1);
    const near = ({ at }: (typeof left)[number]) => at.x > field.x0 + 9.1 && at.x < field.x0 + 12.9;
    expect(left.some(near)).toBe(false);
    expect(samples.filter(({ opening }) => opening === 1).some(near)).toBe(true);
  });
});

describe('the printed edge', () => {
  const at = { x: 0, y: 0 };
  const outward = { x: 0, y: -1 };
  const box = (x0: number, y0: number, x1: number, y1: number) =>
    polyline(
      [
        { x: x0, y: y0 },
        { x: x1, y: y0 },
        { x: x1, y: y1 },
        { x: x0, y: y1 },
      ],
      { closed: true },
    );

  it('is the nearest one that runs the same way', () => {
    expect(printedOffset(printedEdges([box(-5, -0.3, 5, 8)]), { at, outward }, 2)).toBeCloseTo(0.3, 9);
    expect(printedOffset(printedEdges([box(-5, 0.4, 5, 8)]), { at, outward }, 2)).toBeCloseTo(-0.4, 9);
    // A neighbour's lower edge is nearer, but runs the other way.
    const neighbour = box(-5, -6, 5, -0.2);
    expect(printedOffset(printedEdges([box(-5, 0.4, 5, 8), neighbour]), { at, outward }, 2)).toBeCloseTo(-0.4, 9);
  });

  it('is none where another lies between, or none is within reach', () => {
    const between = box(-5, -1.2, 5, -0.2);
    expect(printedOffset(printedEdges([between]), { at, outward }, 2)).toBeNaN();
    expect(printedOffset(printedEdges([box(-5, 3, 5, 8)]), { at, outward }, 2)).toBeNaN();
    expect(printedOffset(printedEdges([]), { at, outward }, 2)).toBeNaN();
  });
});

it('takes the middle offset for the spread, whatever few edges do', () => {
  const offsets = [0.1, 0.1, 0.12, 0.09, 1.8, -1.5, Number.NaN].map((offsetMm) => ({ offsetMm }));
  expect(spreadOf(offsets)).toBeCloseTo(0.1, 9);
  expect(spreadOf([{ offsetMm: Number.NaN }])).toBe(0);
});
