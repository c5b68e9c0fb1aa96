import { describe, expect, it } from 'vitest';
import { boxContour, circleContour } from '../../geometry/contour.js';
import { contourDistance } from '../../geometry/point-tests.js';
import { nearOpening } from './dots-near.js';
import { sampleSheet } from './sample-sheet.test-help.js';

const [base] = sampleSheet({ count: 1 }).openings;

function opening(number: number, contour: ReturnType<typeof circleContour>, box: typeof base.box): typeof base {
  return { ...base, number, firstCut: [contour], secondCut: [], box };
}

describe('nearOpening', () => {
  it('finds the nearest outline, its distance and its foot', () => {
    const disc = opening(1, circleContour({ x: 20, y: 0 }, 5), { x0: 15, y0: -5, x1: 25, y1: 5 });
    const far = { x0: -40, y0: -2, x1: -30, y1: 2 };
    const near = nearOpening({ openings: [opening(2, boxContour(far), far), disc] }, { x: 0, y: 0 });
    expect(near?.number).toBe(1);
    expect(near?.mm).toBeCloseTo(15, 4);
    expect(near?.foot.x).toBeCloseTo(15, 2);
    expect(near?.foot.y).toBeCloseTo(0, 1);
  });

  it('tells a place inside, and nothing without openings', () => {
    const disc = opening(1, circleContour({ x: 1, y: 0 }, 5), { x0: -4, y0: -5, x1: 6, y1: 5 });
    expect(nearOpening({ openings: [disc] }, { x: 0, y: 0 })).toMatchObject({ inside: true, mm: 0 });
    expect(nearOpening({ openings: [] }, { x: 0, y: 0 })).toBeNull();
  });

  it('is the same as looking at all', () => {
    const sheet = sampleSheet({ count: 300 });
    for (const at of [...sheet.dots.map((d) => d.at), { x: 200, y: 300 }, { x: 5, y: 640 }]) {
      const near = nearOpening(sheet, at);
      const all = sheet.openings.map((o) => contourDistance([...o.firstCut, ...o.secondCut], at));
      if (near && !near.inside) expect(near.mm).toBeCloseTo(Math.min(...all), 9);
      else expect(near?.inside).toBe(true);
    }
  });
});
