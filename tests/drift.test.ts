import {
  type Drift,
  type DriftSheet,
  driftOf,
  type Holes,
  moveBy,
  placeExtraDots,
  placementsUnderDrift,
  type Repeat,
} from '@okuri/core/inside';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

/**
 * A second way to lay sheets: polygons of complex numbers, each built from the prints of the last one alone. A corner z of the sheet is written by
 * the sheet's own two dots, (z − first) / direction from first to second, and set down again from the two marks. No angles, no motions, no powers.
 */
type Complex = readonly [re: number, im: number];
type Polygon = Readonly<Record<string, Complex>>;
interface Pairs {
  readonly first: readonly [dot: string, mark: string];
  readonly second: readonly [dot: string, mark: string];
}

/** The task's own bound, mm. */
const WITHIN_MM = 1e-6;

const W = 610;
const H = 455;

function sub(a: Complex, b: Complex): Complex {
  return [a[0] - b[0], a[1] - b[1]];
}

function direction(from: Complex, to: Complex): Complex {
  const [x, y] = sub(to, from);
  const length = Math.sqrt(x * x + y * y);
  return [x / length, y / length];
}

function layOn(sheet: Polygon, under: Polygon, { first, second }: Pairs): Polygon {
  const [dot, mark] = [sheet[first[0]], under[first[1]]];
  const own = direction(dot, sheet[second[0]]);
  const wanted = direction(mark, under[second[1]]);
  return Object.fromEntries(
    Object.entries(sheet).map(([name, z]) => {
      const [x, y] = sub(z, dot);
      // Divided by a direction: times its conjugate.
      const [u, v] = [x * own[0] + y * own[1], y * own[0] - x * own[1]];
      return [name, [mark[0] + u * wanted[0] - v * wanted[1], mark[1] + u * wanted[1] + v * wanted[0]]];
    }),
  );
}

function distance(a: Complex, b: Complex): number {
  const [x, y] = sub(a, b);
  return Math.sqrt(x * x + y * y);
}

/** Upper left, upper right, lower right, lower left, all a little off; by a part of the sheet in 0.1 mm. */
const offs = fc.array(fc.integer({ min: -15, max: 15 }), { minLength: 5, maxLength: 5 });

function holesOf([b, cx, cy, dx, dy]: readonly number[]): Holes {
  return {
    upperLeft: { x: 0, y: 0 },
    upperRight: { x: W + b / 10, y: 0 },
    lowerRight: { x: W + cx / 10, y: H + cy / 10 },
    lowerLeft: { x: dx / 10, y: H + dy / 10 },
  };
}

function corners({ upperLeft, upperRight, lowerRight, lowerLeft }: Holes): Polygon {
  const z = ({ x, y }: { x: number; y: number }): Complex => [x, y];
  return { ul: z(upperLeft), ur: z(upperRight), lr: z(lowerRight), ll: z(lowerLeft) };
}

function along(a: Complex, b: Complex, share: number): Complex {
  return [a[0] + share * (b[0] - a[0]), a[1] + share * (b[1] - a[1])];
}

const DOWN: Pairs = { first: ['ul', 'll'], second: ['ur', 'lr'] };
const RIGHT: Pairs = { first: ['ul', 'ur'], second: ['ll', 'lr'] };

/** Every placement's polygon by column and row, of a walk that is written out by hand. */
function compare(drift: Drift, laid: ReadonlyMap<string, Polygon>): void {
  const places = placementsUnderDrift(drift);
  expect(places).toHaveLength(laid.size);
  const { upperLeft, upperRight, lowerRight, lowerLeft } = drift.model.holes;
  for (const { column, row, motion } of places) {
    const polygon = laid.get(`${column},${row}`) as Polygon;
    for (const [name, hole] of [
      ['ul', upperLeft],
      ['ur', upperRight],
      ['lr', lowerRight],
      ['ll', lowerLeft],
    ] as const) {
      const { x, y } = moveBy(motion, hole);
      expect(distance([x, y], polygon[name])).toBeLessThan(WITHIN_MM);
    }
  }
}

function straightCloth(sheet: Polygon, down: number, across: number): Map<string, Polygon> {
  const laid = new Map<string, Polygon>();
  for (let column = 0; column < across; column++) {
    for (let row = 0; row < down; row++) {
      const under = column === 0 ? laid.get(`0,${row - 1}`) : laid.get(`${column - 1},${row}`);
      laid.set(`${column},${row}`, under === undefined ? sheet : layOn(sheet, under, column === 0 ? DOWN : RIGHT));
    }
  }
  return laid;
}

describe('drift against polygons laid dot on dot', () => {
  const straight: DriftSheet = { widthMm: W, heightMm: H, repeat: { kind: 'straight', step: { p: 0, q: 1 } } };

  it.each([
    [500, 1],
    [1, 500],
    [25, 20],
  ])('a straight repeat, %i down and %i across', (down, across) => {
    fc.assert(
      fc.property(offs, (off) => {
        const holes = holesOf(off);
        compare(
          driftOf(holes, straight, { down, across, toleranceMm: 0.5 }),
          straightCloth(corners(holes), down, across),
        );
      }),
      { numRuns: 12 },
    );
  });

  it('joins, the first above the tolerance, the last and the worst are those of the polygons', () => {
    fc.assert(
      fc.property(offs, fc.constantFrom(0.2, 0.5, 2, 20), (off, toleranceMm) => {
        const [down, across] = [9, 11];
        const holes = holesOf(off);
        const drift = driftOf(holes, straight, { down, across, toleranceMm });
        const laid = straightCloth(corners(holes), down, across);
        const errors: { column: number; row: number; mm: number }[] = [];
        for (let column = 0; column < across; column++) {
          for (let row = 0; row < down; row++) {
            const here = laid.get(`${column},${row}`) as Polygon;
            const [above, left] = [laid.get(`${column},${row - 1}`), laid.get(`${column - 1},${row}`)];
            const gaps = [
              ...(above ? [distance(above.ll, here.ul), distance(above.lr, here.ur)] : []),
              ...(left ? [distance(left.ur, here.ul), distance(left.lr, here.ll)] : []),
            ];
            errors.push({ column, row, mm: Math.max(0, ...gaps) });
          }
        }
        const over = errors.find(({ mm }) => mm > toleranceMm + WITHIN_MM);
        expect(drift.firstOver === null).toBe(over === undefined);
        if (over !== undefined) {
          expect([drift.firstOver?.column, drift.firstOver?.row]).toEqual([over.column, over.row]);
          expect(Math.abs((drift.firstOver?.mm ?? 0) - over.mm)).toBeLessThan(WITHIN_MM);
        }
        expect(Math.abs((drift.last?.mm ?? 0) - (errors.at(-1)?.mm ?? 0))).toBeLessThan(WITHIN_MM);
        expect(Math.abs((drift.worst?.mm ?? 0) - Math.max(...errors.map(({ mm }) => mm)))).toBeLessThan(WITHIN_MM);
      }),
      { numRuns: 60 },
    );
  });

  it.each<[string, boolean]>([
    ['its extra dots measured', true],
    ['its extra dots interpolated', false],
  ])('a half-drop, %s', (_, measured) => {
    fc.assert(
      fc.property(offs, fc.tuple(...[0, 1, 2, 3].map(() => fc.integer({ min: -15, max: 15 }))), (off, beside) => {
        const holes = holesOf(off);
        const four = corners(holes);
        const by = measured ? beside.map((tenths) => tenths / 10) : [0, 0, 0, 0];
        const [rx, ry] = along(four.ur, four.lr, 0.5);
        const [lx, ly] = along(four.ul, four.ll, 0.5);
        const sheet: Polygon = { ...four, rm: [rx + by[0], ry + by[1]], lm: [lx + by[2], ly + by[3]] };
        // Named clockwise from the upper left: A, B, C (right, halfway), D, E, F (left, halfway).
        const extra = [
          { name: 'C', at: { x: sheet.rm[0], y: sheet.rm[1] } },
          { name: 'F', at: { x: sheet.lm[0], y: sheet.lm[1] } },
        ];
        const repeat: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
        const drift = driftOf(
          holes,
          { widthMm: W, heightMm: H, repeat, ...(measured ? { extra } : {}) },
          { down: 25, across: 20, toleranceMm: 0.5 },
        );
        const dropped: Pairs = { first: ['ul', 'rm'], second: ['lm', 'lr'] };
        const up: Pairs = { first: ['ll', 'ul'], second: ['lr', 'ur'] };
        const laid = new Map<string, Polygon>();
        for (let row = 0; row < 25; row++) {
          const under = laid.get(`0,${row - 1}`);
          laid.set(`0,${row}`, under === undefined ? sheet : layOn(sheet, under, DOWN));
        }
        for (let column = 1; column < 20; column++) {
          // Odd columns lie half a placement lower than the one before, even ones half a placement higher.
          const rise = column % 2 === 0 ? 1 : 0;
          for (let row = rise; row < 25; row++) {
            laid.set(`${column},${row}`, layOn(sheet, laid.get(`${column - 1},${row - rise}`) as Polygon, dropped));
          }
          if (rise === 1) laid.set(`${column},0`, layOn(sheet, laid.get(`${column},1`) as Polygon, up));
        }
        compare(drift, laid);
      }),
      { numRuns: 12 },
    );
  });

  it('a brick of two thirds, whose rows are stepped from the row above and one third back', () => {
    fc.assert(
      fc.property(offs, (off) => {
        const holes = holesOf(off);
        const four = corners(holes);
        const sheet: Polygon = { ...four, t: along(four.ul, four.ur, 1 / 3), b: along(four.ll, four.lr, 2 / 3) };
        const [down, across] = [12, 15];
        const drift = driftOf(
          holes,
          { widthMm: W, heightMm: H, repeat: { kind: 'brick', step: { p: 2, q: 3 } } },
          { down, across, toleranceMm: 0.5 },
        );
        expect(drift.model.lines).toBe('rows');
        // One third leftwards: a third along the top lands on the lower left, the upper right on two thirds along the bottom.
        const back: Pairs = { first: ['t', 'll'], second: ['ur', 'b'] };
        const laid = new Map<string, Polygon>();
        for (let column = 0; column < across; column++) {
          const under = laid.get(`${column - 1},0`);
          laid.set(`${column},0`, under === undefined ? sheet : layOn(sheet, under, RIGHT));
        }
        for (let row = 1; row < down; row++) {
          // Rows lie at 0, 2/3, 1/3, 0, … of a width: the first after a whole one is stepped from one place on.
          const on = row % 3 === 1 ? 1 : 0;
          for (let column = 0; column < across; column++) {
            const under = laid.get(`${column + on},${row - 1}`);
            const near = laid.get(`${column - 1},${row}`) as Polygon;
            laid.set(`${column},${row}`, under === undefined ? layOn(sheet, near, RIGHT) : layOn(sheet, under, back));
          }
        }
        compare(drift, laid);
      }),
      { numRuns: 20 },
    );
  });
});

describe('places of extra dots', () => {
  it('come back from their distances', () => {
    fc.assert(
      fc.property(offs, fc.integer({ min: -20, max: 20 }), fc.integer({ min: -20, max: 20 }), (off, dx, dy) => {
        const holes = holesOf(off);
        const at = { x: W + dx / 10, y: H / 2 + dy / 10 };
        const far = (from: 'upperLeft' | 'lowerLeft' | 'upperRight') => ({
          from,
          readingsMm: [Math.hypot(at.x - holes[from].x, at.y - holes[from].y)],
        });
        const sheet: DriftSheet = { widthMm: W, heightMm: H, repeat: { kind: 'drop', step: { p: 1, q: 2 } } };
        const [placed] = placeExtraDots(
          [{ name: 'C', at: { x: W, y: H / 2 }, measured: [far('upperLeft'), far('upperRight'), far('lowerLeft')] }],
          holes,
          sheet,
        );
        expect(Math.hypot(placed.at.x - at.x, placed.at.y - at.y)).toBeLessThan(1e-6);
      }),
    );
  });
});
