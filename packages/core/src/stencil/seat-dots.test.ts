import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline } from '../geometry/contour.js';
import { contourDistance, insideContours } from '../geometry/point-tests.js';
import type { Contour, Point } from '../geometry/types.js';
import { dotFrame, sheetDots, sheetSteps } from '../register/dots.js';
import { fractionalPart } from '../repeat/fraction.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { seatDots } from './seat-dots.js';
import type { SeatedSheet } from './seat-ground.js';

const [W, H, BORDER, TRAILING] = [120, 90, 40, 25];
const TIE_MM = 2;
const straight: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
const BOTH = { right: true, bottom: true };

/** A sheet as far as dots are concerned. Outlines in mm from the upper left of the field. */
function sheetOf(outlines: readonly Contour[], repeat: Repeat = straight): SeatedSheet {
  const field = { x0: BORDER, y0: BORDER, x1: BORDER + W, y1: BORDER + H };
  const moved = outlines.map(({ coords, closed }) => ({ closed, coords: coords.map((v) => v + BORDER) }));
  const openings = moved.map((contour) => ({ firstCut: [contour], secondCut: [] }));
  return {
    widthMm: field.x1 + TRAILING,
    heightMm: field.y1 + TRAILING,
    field,
    lapMm: 0.4,
    dots: sheetDots(field, repeat, { diameterMm: 1 }),
    openings,
  };
}

function seat(outlines: readonly Contour[], repeat: Repeat = straight, sides = BOTH) {
  const sheet = sheetOf(outlines, repeat);
  const lattice = makeLattice(repeat, W, H);
  return {
    sheet,
    lattice,
    ...seatDots([sheet], { lattice, sides, tieWidthMm: TIE_MM, diameterMm: 1, sightMm: 1.5 }),
  };
}

/** The distance from a place to the nearest outline on the cloth, by trying every copy; below zero inside an opening. */
function roomAt(at: Point, { openings }: SeatedSheet, lattice: ReturnType<typeof makeLattice>): number {
  let best = Number.POSITIVE_INFINITY;
  for (let i = -2; i <= 2; i++) {
    for (let j = -3; j <= 3; j++) {
      const v = latticePoint(lattice, { i, j });
      const own = { x: at.x - v.x, y: at.y - v.y };
      for (const { firstCut } of openings) {
        if (insideContours(firstCut, own)) return -1;
        best = Math.min(best, contourDistance(firstCut, own));
      }
    }
  }
  return best;
}

const square = (x: number, y: number, side: number) => boxContour({ x0: x, y0: y, x1: x + side, y1: y + side });
/** A leaf whose tip points to the left, at `x, y`. */
const leaf = (x: number, y: number) =>
  polyline(
    [
      { x, y },
      { x: x + 12, y: y - 4 },
      { x: x + 22, y },
      { x: x + 12, y: y + 4 },
    ],
    { closed: true },
  );

describe('seatDots', () => {
  it('leaves dots on the corners where nothing is cut', () => {
    const { seat: where, dots, sheet } = seat([]);
    expect(where).toBe('corners');
    expect(dots.map(({ at }) => at)).toEqual(sheet.dots.map(({ at }) => at));
  });

  it('goes beside the tip of a leaf, a tie clear of it', () => {
    const { seat: where, dots, movedMm, sheet, lattice, score } = seat([leaf(10, 8)]);
    expect(where).toBe('openings');
    // The tip lies at 10, 8: a dot of 1 mm (and one of 1.5 mm) a tie's width off it.
    const off = Math.hypot(movedMm.x - 10, movedMm.y - 8);
    expect(off).toBeGreaterThanOrEqual(TIE_MM + 0.75);
    expect(off).toBeLessThan(TIE_MM + 0.75 + Math.SQRT2);
    expect(score).toBeLessThan(0.2);
    for (const dot of dots) {
      expect(roomAt(dot.at, sheet, lattice) - dot.diameterMm / 2).toBeGreaterThanOrEqual(TIE_MM - 1e-6);
    }
  });

  it('prefers a tip to a straight edge that is nearer to the corners', () => {
    const bar = boxContour({ x0: 20, y0: -4, x1: 90, y1: -2 });
    const { movedMm } = seat([bar, leaf(9, 10)]);
    expect(Math.hypot(movedMm.x - 9, movedMm.y - 10)).toBeLessThan(TIE_MM + 3);
  });

  it('minds the openings of the neighbours: a dot in the border prints on their ground', () => {
    // Cut near the right seam: on the cloth it lies left of the next placement's corner.
    const { dots, sheet, lattice } = seat([square(W - 12, 3, 10)]);
    for (const dot of dots) expect(roomAt(dot.at, sheet, lattice)).toBeGreaterThanOrEqual(TIE_MM + 0.5 - 1e-6);
  });

  it('stays on the corners, and says so, where no place is clear', () => {
    // All of the ground is cut into stripes that leave less paper than two ties and a dot.
    const stripes = Array.from({ length: 45 }, (_, k) => boxContour({ x0: 0, y0: 2 * k, x1: W, y1: 2 * k + 1 }));
    expect(seat(stripes)).toMatchObject({ seat: 'corners', movedMm: { x: 0, y: 0 }, score: null });
  });

  it('goes out into both selvedges where one column prints', () => {
    const sides = { right: false, bottom: true };
    const { seat: where, dots, sheet } = seat([square(0, 0, 30), square(90, 50, 30)], straight, sides);
    expect(where).toBe('selvedge');
    const { x0, x1, y0, y1 } = dotFrame(dots);
    expect([sheet.field.x0 - x0, x1 - sheet.field.x1]).toEqual([5, 5]);
    expect([y0, y1]).toEqual([sheet.field.y0, sheet.field.y1]);
    const [down] = sheetSteps(sheet.field, straight, dots, sides);
    expect(down.vector).toEqual({ x: 0, y: H });
    expect(dots.map(({ lead, diameterMm }) => (lead ? 1 : 1.5) === diameterMm)).not.toContain(false);
  });

  it('takes the places of all sheets into account', () => {
    const [one, other] = [sheetOf([leaf(10, 8)]), sheetOf([square(0, 0, 9)])];
    const lattice = makeLattice(straight, W, H);
    const options = { lattice, sides: BOTH, tieWidthMm: TIE_MM, diameterMm: 1, sightMm: 1.5 };
    const { dots } = seatDots([one, other], options);
    for (const sheet of [one, other]) {
      for (const { at } of dots) expect(roomAt(at, sheet, lattice)).toBeGreaterThanOrEqual(TIE_MM + 0.5 - 1e-6);
    }
    expect(seatDots([other, one], options).dots).toEqual(dots);
  });

  it('moves the whole frame, so that every step keeps its pairs, clear of all openings, for any repeat', () => {
    const repeats = fc
      .record({
        kind: fc.constantFrom('straight', 'drop', 'brick'),
        p: fc.integer({ min: 1, max: 7 }),
        q: fc.integer({ min: 2, max: 8 }),
      })
      .map(({ kind, p, q }): Repeat => {
        const step = fractionalPart({ p, q });
        return kind === 'straight' || step.p === 0 ? straight : { kind: kind as 'drop' | 'brick', step };
      });
    const spots = fc.array(
      fc.tuple(fc.integer({ min: 4, max: W - 4 }), fc.integer({ min: 4, max: H - 4 }), fc.integer({ min: 1, max: 4 })),
      { minLength: 1, maxLength: 14 },
    );
    fc.assert(
      fc.property(repeats, spots, (repeat, list) => {
        const {
          dots,
          sheet,
          lattice,
          movedMm,
          seat: where,
        } = seat(
          list.map(([x, y, r]) => circleContour({ x, y }, r)),
          repeat,
        );
        const plain = sheetDots(sheet.field, repeat, { diameterMm: 1, sightMm: 1.5 });
        dots.forEach(({ at, name }, k) => {
          expect(name).toBe(plain[k].name);
          expect(at.x).toBeCloseTo(plain[k].at.x + movedMm.x, 9);
          expect(at.y).toBeCloseTo(plain[k].at.y + movedMm.y, 9);
        });
        expect(sheetSteps(sheet.field, repeat, dots)).toEqual(sheetSteps(sheet.field, repeat, plain));
        if (where === 'corners') return;
        for (const dot of dots) {
          // Curves are flattened to 0.05 mm for the search.
          expect(roomAt(dot.at, sheet, lattice) - dot.diameterMm / 2).toBeGreaterThanOrEqual(TIE_MM - 0.05);
        }
      }),
      { numRuns: 25 },
    );
  });
});

it('the frame moves as far as the paper allows on each side: up into a wide border, not down into a narrow one', () => {
  /** A square around each upper corner of the field, so that dots have to get above or below it, and how high its middle lies. */
  const moved = (middle: number, half: number, border: { top: number; bottom: number }) => {
    const field = { x0: 40, y0: border.top, x1: 160, y1: border.top + 90 };
    const bar = boxContour({ x0: 40, y0: field.y0 + middle - half, x1: 160, y1: field.y0 + middle + half });
    const sheet = {
      ...{ widthMm: 200, heightMm: field.y1 + border.bottom, field, lapMm: 0.4 },
      dots: sheetDots(field, straight, { diameterMm: 1 }),
      openings: [{ firstCut: [bar], secondCut: [] }],
    };
    const lattice = makeLattice(straight, 120, 90);
    return seatDots([sheet], { lattice, sides: BOTH, tieWidthMm: TIE_MM, diameterMm: 1, sightMm: 1 });
  };
  // The bar reaches 13 mm up and 7 mm down: 10 mm down is the shorter way.
  expect(moved(-3, 10, { top: 40, bottom: 40 }).movedMm.y).toBe(10);
  expect(moved(3, 10, { top: 40, bottom: 40 }).movedMm.y).toBe(-10);
  // With 12 mm of paper below only 2 mm may be gone down, so it goes up; and the other way about.
  expect(moved(-3, 10, { top: 40, bottom: 12 }).movedMm.y).toBe(-16);
  expect(moved(3, 10, { top: 13, bottom: 40 }).movedMm.y).toBe(16);
  expect(moved(-3, 10, { top: 13, bottom: 12 }).seat).toBe('corners');
});
