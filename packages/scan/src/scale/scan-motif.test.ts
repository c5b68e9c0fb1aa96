import { type Box, boxContour, type Contour, circleContour, contoursBox } from '@okuri/core';
import { boxCorners, contourArea, reverseContour } from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { darkAreas, reachesInto } from '../trace/dark-areas.js';
import type { Trace } from '../types.js';
import type { FramedPicture } from './picture-frame.js';
import { scaleFromResolution } from './picture-scale.js';
import { motifFromTrace } from './scan-motif.js';

const FRAME: Box = { x0: 0, y0: 0, x1: 100, y1: 80 };

function traceOf(contours: readonly Contour[], more: Partial<Trace> = {}): Trace {
  const none = { count: 0, areaMm2: 0 };
  return { contours, nodes: 0, specks: none, pinholes: none, level: 0.5, noise: 0, paper: 1, ink: 0, ...more };
}

function pictureOf(frame = FRAME, more: Partial<FramedPicture> = {}): FramedPicture {
  const scale = scaleFromResolution({ across: 300, down: 300, unit: 'inch' }, 'file');
  return { scale, frame, seen: boxCorners(frame), region: null, dots: [], ...more };
}

const disc = (x: number, y: number, r: number) => circleContour({ x, y }, r);
const hole = (x: number, y: number, r: number) => reverseContour(disc(x, y, r));
const box = (x0: number, y0: number, x1: number, y1: number) => boxContour({ x0, y0, x1, y1 });
const codes = (trace: Trace, picture: FramedPicture) => motifFromTrace(trace, picture).notices.map(({ code }) => code);

describe('motifFromTrace', () => {
  it('makes a shape of each dark area with its holes, islands in holes being areas of their own', () => {
    const motif = motifFromTrace(
      traceOf([disc(30, 40, 20), disc(80, 40, 5), hole(30, 40, 15), disc(30, 40, 10), hole(30, 40, 5)]),
      pictureOf(),
    );
    expect(motif.shapes.map(({ contours }) => contours.length)).toEqual([2, 1, 2]);
    for (const { ink, rule, clips } of motif.shapes) expect([ink, rule, clips]).toEqual(['#000000', 'nonzero', []]);
    const areas = motif.shapes.map(({ contours }) => contours.reduce((sum, c) => sum + contourArea(c), 0));
    // A circle of cubics of 45°: the area of a disc to a millionth.
    for (const [k, expected] of [175, 25, 75].entries()) expect(areas[k] / Math.PI).toBeCloseTo(expected, 2);
    expect(motif.frame).toEqual({ widthMm: 100, heightMm: 80, from: 'page', assumedPpi: null });
    expect(motif.notices.map(({ message }) => message)).toEqual([
      "The scan's scale is from 300 dpi, as the file says: 100 × 80 mm.",
    ]);
  });

  it('says what was left out and filled, and how the scan was read', () => {
    const trace = traceOf([disc(30, 40, 20)], {
      specks: { count: 3, areaMm2: 0.456 },
      pinholes: { count: 1, areaMm2: 0.2 },
    });
    const { notices } = motifFromTrace(trace, pictureOf(), { speckMm2: 0.25, remarks: ['it has 2 pages'] });
    expect(notices.slice(1).map(({ message }) => message)).toEqual([
      'Of the scan: it has 2 pages.',
      '3 specks under 0.25 mm² were left out (0.46 mm² in all).',
      '1 pinhole under 0.5 mm² was filled (0.2 mm² in all).',
    ]);
    expect(new Set(notices.map(({ severity }) => severity))).toEqual(new Set(['note']));
  });

  it('tells which sides ink runs over, and which it only comes near', () => {
    const over = motifFromTrace(traceOf([box(0, 20, 10, 30), disc(50, 40, 5), box(90, 60, 100, 80)]), pictureOf());
    const edge = over.notices.find(({ code }) => code === 'scan-edge');
    expect(edge?.severity).toBe('look');
    expect(edge?.message).toContain('(right, bottom, left)');
    expect(over.shapes).toHaveLength(3);
    expect(codes(traceOf([box(0.5, 20, 10, 30)]), pictureOf())).toEqual(['scan-scale']);
  });

  it('leaves out the dots that gave the scale, and what lies around the frame up to the edge of the picture', () => {
    const seen = boxCorners({ x0: -30, y0: -30, x1: 130, y1: 110 });
    const dots = boxCorners(FRAME).map((atMm) => ({ atMm, diameterMm: 3 }));
    const table = [box(-30, -30, 130, 110), reverseContour(box(-10, -10, 110, 90))];
    const leaf = disc(98, 40, 6);
    const trace = traceOf([...table, ...dots.map(({ atMm: { x, y } }) => disc(x, y, 1.5)), leaf, disc(0.4, 30, 1.5)]);
    const { shapes, notices } = motifFromTrace(trace, pictureOf(FRAME, { seen, dots }));
    // A leaf that pokes out of the frame stays whole, and so does a disc on the frame that is none of the dots.
    expect(shapes.map(({ contours }) => contoursBox(contours))).toEqual([contoursBox([leaf]), expect.anything()]);
    expect(notices.map(({ code }) => code)).toEqual(['scan-scale', 'scan-dots', 'scan-around']);
    expect(notices[2].message).toContain('(1 area)');
  });

  it('puts the upper left of the frame at the origin', () => {
    const { shapes, frame } = motifFromTrace(traceOf([disc(30, 40, 5)]), pictureOf({ x0: 10, y0: 20, x1: 60, y1: 90 }));
    expect([frame.widthMm, frame.heightMm]).toEqual([50, 70]);
    expect(contoursBox(shapes[0].contours)).toEqual({ x0: 15, y0: 15, x1: 25, y1: 25 });
  });

  it('refuses sizes that are no unit, and a drawing of which nothing is left', () => {
    expect(() => motifFromTrace(traceOf([disc(1, 1, 1)]), pictureOf({ x0: 0, y0: 0, x1: 4, y1: 80 }))).toThrow(
      'The drawing would be 4 × 80 mm',
    );
    expect(() => motifFromTrace(traceOf([]), pictureOf())).toThrow('Nothing is left of the drawing');
  });
});

describe('darkAreas and reachesInto', () => {
  it('keep every outline, and each hole in the smallest disc around it', () => {
    const rings = fc.array(fc.integer({ min: 1, max: 6 }), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(rings, (depths) => {
        // Nested rings side by side: dark, light, dark …
        const contours = depths.flatMap((depth, column) =>
          Array.from({ length: depth }, (_, k) => (k % 2 === 0 ? disc : hole)(30 * column, 0, 12 - 2 * k)),
        );
        const areas = darkAreas(contours);
        expect(areas.reduce((sum, { contours: own }) => sum + own.length, 0)).toBe(contours.length);
        for (const { contours: own, box: b } of areas) {
          const widest = (b.x1 - b.x0) / 2;
          for (const inner of own.slice(1)) {
            const size = contoursBox([inner]);
            expect(size && (size.x1 - size.x0) / 2).toBeCloseTo(widest - 2, 6);
          }
        }
      }),
      { numRuns: 30 },
    );
  });

  it('tell a ring around a box from a disc over it, and a corner that enters from one that does not', () => {
    const [ring] = darkAreas([disc(50, 40, 200), hole(50, 40, 100)]);
    const [over] = darkAreas([disc(50, 40, 200)]);
    expect([reachesInto(ring, FRAME), reachesInto(over, FRAME)]).toEqual([false, true]);
    const near = (gap: number) => darkAreas([disc(100 + 10 * Math.SQRT1_2 + gap, -10 * Math.SQRT1_2 - gap, 10)])[0];
    expect([reachesInto(near(0.1), FRAME), reachesInto(near(-0.1), FRAME)]).toEqual([false, true]);
  });
});
