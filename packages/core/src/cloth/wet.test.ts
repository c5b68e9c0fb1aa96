import { Clipper, FillRule, type PathsD } from 'clipper2-ts';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour } from '../geometry/contour.js';
import { evaluateCubic } from '../geometry/curve.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Lattice, Repeat } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { laidLattice, laidSheet, sheetLattice } from './laid-sheet.js';
import { makePlan } from './plan.js';
import { boxOpenings, type PlanSheetOptions, planSheet } from './plan-sheet.test-help.js';
import type { Direction } from './plan-types.js';
import { boxMeetsArea, WET_TOUCH_MM, wetConflicts } from './wet.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
const THIRD_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 3 } };

function conflicts(lattice: Lattice, options: PlanSheetOptions = {}): string[] {
  return wetConflicts([laidSheet(planSheet(lattice, options), 'along')], lattice).map(({ i, j }) => `${i},${j}`);
}

describe('wetConflicts', () => {
  it('are the neighbours of a field that is full of openings', () => {
    expect(conflicts(makeLattice(STRAIGHT, 200, 300))).toEqual([
      '-1,-1',
      '-1,0',
      '-1,1',
      '0,-1',
      '0,1',
      '1,-1',
      '1,0',
      '1,1',
    ]);
    expect(conflicts(makeLattice(HALF_DROP, 200, 300))).toEqual(['-1,0', '-1,1', '0,-1', '0,1', '1,-1', '1,0']);
    expect(conflicts(makeLattice(THIRD_DROP, 200, 300))).toEqual(['-1,0', '-1,1', '0,-1', '0,1', '1,-1', '1,0']);
  });

  it('are fewer where openings stand back from the edge by more than the border', () => {
    const middle = boxOpenings([{ x0: 40, y0: 40, x1: 160, y1: 260 }]);
    expect(conflicts(makeLattice(STRAIGHT, 200, 300), { openings: middle })).toEqual([]);
    const tall = boxOpenings([{ x0: 40, y0: 0, x1: 160, y1: 300 }]);
    expect(conflicts(makeLattice(STRAIGHT, 200, 300), { openings: tall })).toEqual(['0,-1', '0,1']);
  });

  it('do not count paper that only touches', () => {
    const inset = (mm: number) => boxOpenings([{ x0: 30 + mm, y0: 30 + mm, x1: 175, y1: 275 }]);
    const lattice = makeLattice(STRAIGHT, 200, 300);
    expect(conflicts(lattice, { openings: inset(0), borderMm: 25, trailingMm: 30 })).toEqual([]);
    expect(conflicts(lattice, { openings: inset(-0.1), borderMm: 25, trailingMm: 30 })).not.toEqual([]);
  });

  it('take the sides as they are: a wide border on one side reaches farther', () => {
    const lattice = makeLattice(STRAIGHT, 100, 100);
    const one = boxOpenings([{ x0: 80, y0: 45, x1: 90, y1: 55 }]);
    // The left border of 15 mm covers the last 15 mm of the placement on the left.
    expect(conflicts(lattice, { openings: one, borderMm: 15, trailingMm: 0 })).toEqual(['-1,0', '1,0']);
    expect(conflicts(lattice, { openings: one, borderMm: 9, trailingMm: 15 })).toEqual([]);
  });

  it('lie turned when the sheet does', () => {
    for (const repeat of [STRAIGHT, HALF_DROP, THIRD_DROP, { kind: 'brick', step: { p: 2, q: 5 } } as const]) {
      const lattice = makeLattice(repeat, 200, 300);
      const sheet = planSheet(lattice);
      const turned = laidLattice(lattice, 'across');
      expect(turned).toMatchObject({ widthMm: 300, heightMm: 200 });
      const places = (of: Lattice, direction: Direction): string[] =>
        wetConflicts([laidSheet(sheet, direction)], sheetLattice([sheet], lattice, direction)).map((step) => {
          const { x, y } = latticePoint(of, step);
          // A clockwise quarter turn takes (x, y) to (−y, x): here it is taken back.
          const [u, v] = direction === 'across' ? [y, -x] : [x, y];
          return `${Math.round(u * 1e6) + 0},${Math.round(v * 1e6) + 0}`;
        });
      expect(places(turned, 'across').sort()).toEqual(places(lattice, 'along').sort());
    }
  });
});

describe('boxMeetsArea', () => {
  const ring = [circleContour({ x: 0, y: 0 }, 50), reverseContour(circleContour({ x: 0, y: 0 }, 40))];

  it('looks at the area, not at its box', () => {
    expect(boxMeetsArea({ x0: -10, y0: -10, x1: 10, y1: 10 }, ring)).toBe(false);
    expect(boxMeetsArea({ x0: 40, y0: 40, x1: 60, y1: 60 }, ring)).toBe(false);
    expect(boxMeetsArea({ x0: 44, y0: -1, x1: 46, y1: 1 }, ring)).toBe(true);
    expect(boxMeetsArea({ x0: 30, y0: 0, x1: 41, y1: 1 }, ring)).toBe(true);
    expect(boxMeetsArea({ x0: -100, y0: -100, x1: 100, y1: 100 }, ring)).toBe(true);
  });
});

/** Corners of an outline, close enough together that no more than a thousandth of a mm is lost. */
function corners({ coords }: Contour, by: Point): { x: number; y: number }[] {
  const points: { x: number; y: number }[] = [];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    for (let k = 0; k < 32; k++) {
      const p = evaluateCubic(coords, o, k / 32);
      points.push({ x: p.x + by.x, y: p.y + by.y });
    }
  }
  return points;
}

/** The area that the paper of a sheet at `paperAt` and the openings of one at `wetAt` share, by a polygon engine. Places of the field's upper left. */
function shared(sheet: Sheet, paperAt: Point, wetAt: Point, grow: number): number {
  const { field } = sheet;
  const paper: Box = {
    x0: paperAt.x - field.x0 - grow,
    y0: paperAt.y - field.y0 - grow,
    x1: paperAt.x - field.x0 + sheet.widthMm + grow,
    y1: paperAt.y - field.y0 + sheet.heightMm + grow,
  };
  const openings: PathsD = sheet.openings.flatMap((o) =>
    [...o.firstCut, ...o.secondCut].map((c) => corners(c, { x: wetAt.x - field.x0, y: wetAt.y - field.y0 })),
  );
  const both = Clipper.intersectD(openings, [corners(boxContour(paper), { x: 0, y: 0 })], FillRule.NonZero, 6);
  return both.reduce((sum, path) => sum + Clipper.areaD(path), 0);
}

const fractions = fc.constantFrom({ p: 1, q: 2 }, { p: 1, q: 3 }, { p: 2, q: 3 }, { p: 1, q: 4 }, { p: 2, q: 5 });
const repeats = fc.oneof(
  fc.constant(STRAIGHT),
  fc.tuple(fc.constantFrom('drop', 'brick'), fractions).map(([kind, step]) => ({ kind, step }) as Repeat),
);

describe('passes of a plan', () => {
  it('never print paper onto wet paste (checked by a polygon engine), and wait for no other reason', () => {
    const share = fc.double({ min: 0.02, max: 0.98, noNaN: true });
    const opening = fc.record({ x: share, y: share, r: share, kind: fc.constantFrom('disc', 'ring', 'triangle') });
    const mm = fc.integer({ min: 60, max: 200 });
    fc.assert(
      fc.property(
        repeats,
        mm,
        mm,
        fc.array(opening, { minLength: 1, maxLength: 4 }),
        fc.integer({ min: 0, max: 70 }),
        fc.integer({ min: 0, max: 70 }),
        (repeat, w, h, raw, borderMm, trailingMm) => {
          const lattice = makeLattice(repeat, w, h);
          const openings = raw.map(({ x, y, r, kind }): Contour[] => {
            const at = { x: x * w, y: y * h };
            const radius = 1 + 0.4 * r * Math.min(w, h);
            if (kind === 'disc') return [circleContour(at, radius)];
            if (kind === 'ring') return [circleContour(at, radius), reverseContour(circleContour(at, radius * 0.9))];
            const points = [0, 1, 2].map((k) => ({
              x: at.x + radius * Math.cos(2 * k + r),
              y: at.y + radius * Math.sin(2 * k + r),
            }));
            return [polyline(points, { closed: true })];
          });
          const sheet = planSheet(lattice, { openings, borderMm, trailingMm });
          const plan = makePlan([sheet], lattice, { cloth: { widthMm: 3.5 * w, lengthMm: 4.5 * h } });
          const known = new Set(plan.choice.conflicts.map(({ i, j }) => `${i},${j}`));
          for (const a of plan.placements) {
            for (const b of plan.placements) {
              if (a.id === b.id) continue;
              const [at, wet] = [
                { x: a.field.x0, y: a.field.y0 },
                { x: b.field.x0, y: b.field.y0 },
              ];
              if (a.pass === b.pass) expect(shared(sheet, at, wet, -WET_TOUCH_MM - 0.001)).toBe(0);
              if (!known.has(`${b.step.i - a.step.i},${b.step.j - a.step.j}`)) continue;
              expect(shared(sheet, at, wet, 0.001) + shared(sheet, wet, at, 0.001)).toBeGreaterThan(0);
            }
          }
        },
      ),
      { numRuns: 40 },
    );
  });
});
