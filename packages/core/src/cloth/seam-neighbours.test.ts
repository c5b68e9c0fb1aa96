import { describe, expect, it } from 'vitest';
import { driftModel, linePlace, onHoles, slidBy, stepAt } from '../register/drift-model.js';
import { rectangleHoles } from '../register/repunch.js';
import { holesAt } from '../register/sheets.test-help.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Repeat } from '../repeat/types.js';
import { InputError } from '../units/input-error.js';

const W = 200;
const H = 120;
const DROP: Repeat = { kind: 'drop', step: { p: 1, q: 3 } };
const BRICK: Repeat = { kind: 'brick', step: { p: 1, q: 4 } };
const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };

const modelOf = (repeat: Repeat, holes = rectangleHoles(W, H)) =>
  driftModel(holes, { widthMm: W, heightMm: H, repeat });

describe('the neighbours that share a seam', () => {
  it.each([
    ['straight', STRAIGHT, ['0,1', '1,0']],
    ['drop', DROP, ['0,1', '1,-1', '1,0']],
    ['brick', BRICK, ['-1,1', '0,1', '1,0']],
  ] as const)('of a %s are those after it whose unit touches along a length', (_, repeat, names) => {
    const { neighbours } = modelOf(repeat);
    expect(neighbours.map(({ by }) => `${by.i},${by.j}`).sort()).toEqual(names);
    const lattice = makeLattice(repeat, W, H);
    for (const { by, contacts } of neighbours) {
      const v = latticePoint(lattice, by);
      for (const { onEarlier, onLater } of contacts) {
        // One place of the cloth: on the edge of either unit.
        expect(onEarlier.x).toBeCloseTo(onLater.x + v.x, 9);
        expect(onEarlier.y).toBeCloseTo(onLater.y + v.y, 9);
        for (const { x, y } of [onEarlier, onLater]) {
          expect(x).toBeGreaterThanOrEqual(-1e-9);
          expect(x).toBeLessThanOrEqual(W + 1e-9);
          expect(y).toBeGreaterThanOrEqual(-1e-9);
          expect(y).toBeLessThanOrEqual(H + 1e-9);
          expect([x, W - x, y, H - y].some((mm) => Math.abs(mm) < 1e-9)).toBe(true);
        }
      }
    }
  });

  it('share together each seam once: the lengths are those of one right and one lower side', () => {
    for (const repeat of [STRAIGHT, DROP, BRICK]) {
      const sum = modelOf(repeat).neighbours.reduce((total, { contacts: [a, b] }) => {
        return total + Math.hypot(a.onEarlier.x - b.onEarlier.x, a.onEarlier.y - b.onEarlier.y);
      }, 0);
      expect(sum).toBeCloseTo(W + H, 9);
    }
  });

  it('come in the order of the walk: across a row first in a brick, down a column first else', () => {
    expect(modelOf(BRICK).neighbours[0].by).toEqual({ i: 1, j: 0 });
    expect(modelOf(DROP).neighbours[0].by).toEqual({ i: 0, j: 1 });
    expect(modelOf(BRICK).lines).toBe('rows');
    expect(modelOf(STRAIGHT).lines).toBe('columns');
    expect(modelOf(BRICK).within?.to).toBe('right');
    expect(modelOf(BRICK).between?.to).toBe('bottom');
    expect(modelOf(DROP).within?.to).toBe('bottom');
    expect(modelOf(DROP).between?.to).toBe('right');
  });
});

describe('places of a sheet that is not true', () => {
  const holes = holesAt([0, 0], [204, 2], [203, 126], [-1, 121]);
  const sheet = { widthMm: W, heightMm: H, repeat: DROP };

  it('corners are the holes, and the middle is their mean', () => {
    expect(onHoles(holes, sheet, { x: 0, y: 0 })).toEqual(holes.upperLeft);
    expect(onHoles(holes, sheet, { x: W, y: 0 })).toEqual(holes.upperRight);
    expect(onHoles(holes, sheet, { x: W, y: H })).toEqual(holes.lowerRight);
    expect(onHoles(holes, sheet, { x: 0, y: H })).toEqual(holes.lowerLeft);
    expect(onHoles(holes, sheet, { x: W / 2, y: H / 2 })).toEqual({ x: 406 / 4, y: 249 / 4 });
    // A third of the way along the top, and along the left.
    expect(onHoles(holes, sheet, { x: W / 4, y: 0 })).toEqual({ x: 51, y: 0.5 });
    expect(onHoles(holes, sheet, { x: 0, y: H / 2 })).toEqual({ x: -0.5, y: 60.5 });
  });

  it('takes dots between the corners as measured where they are, and as shares of the sides where not', () => {
    const plain = driftModel(holes, sheet);
    const between = plain.dots.filter(({ known }) => known === 'interpolated');
    expect(between.length).toBeGreaterThan(0);
    for (const { jobAt, at } of between) expect(at).toEqual(onHoles(holes, sheet, jobAt));
    const [{ name }] = between;
    const measured = driftModel(holes, { ...sheet, extra: [{ name, at: { x: 1, y: 41 } }] });
    expect(measured.dots.find((dot) => dot.name === name)).toMatchObject({ known: 'measured', at: { x: 1, y: 41 } });
  });

  it('refuses a dot that is none, or a corner, by the names there are', () => {
    const corner = driftModel(holes, sheet).dots.find(({ known }) => known === 'corner');
    for (const name of ['nowhere', corner?.name ?? '']) {
      const ask = () => driftModel(holes, { ...sheet, extra: [{ name, at: { x: 1, y: 1 } }] });
      expect(ask).toThrow(InputError);
      expect(ask).toThrow(/is no dot between the corners/);
    }
    const [{ name }] = driftModel(holes, sheet).dots.filter(({ known }) => known === 'interpolated');
    expect(() => driftModel(holes, { ...sheet, extra: [{ name, at: { x: Number.NaN, y: 1 } }] })).toThrow(/no number/);
    const straight = { ...sheet, repeat: STRAIGHT };
    expect(() => driftModel(holes, { ...straight, extra: [{ name: 'q', at: { x: 1, y: 1 } }] })).toThrow(
      /corner holes only/,
    );
  });

  it('refuses sheets that are none', () => {
    const model = (more: object, some = holes) => driftModel(some, { ...sheet, ...more });
    expect(() => model({ widthMm: 0 })).toThrow(/width is 0 mm/);
    expect(() => model({ heightMm: -1 })).toThrow(/height is -1 mm/);
    expect(() => model({ heightMm: Number.NaN })).toThrow(/height is no number/);
    expect(() => model({ widthMm: 20_001 })).toThrow(/at most 20 m/);
    expect(() => model({ widthMm: 20_000 })).not.toThrow();
    expect(() => model({}, holesAt([0, 0], [0, H], [W, H], [W, 0]))).toThrow(/clockwise/);
    expect(() => model({}, holesAt([0, 0], [W, Number.NaN], [W, H], [0, H]))).toThrow(/no number/);
  });

  it('walks a drop by columns and a brick by rows only, a straight repeat either way', () => {
    const walk = (repeat: Repeat, lines: 'rows' | 'columns') => () =>
      driftModel(rectangleHoles(W, H), { ...sheet, repeat }, { lines });
    expect(walk(DROP, 'rows')).toThrow(/walk the cloth by columns/);
    expect(walk(BRICK, 'columns')).toThrow(/walk the cloth by rows/);
    expect(walk(STRAIGHT, 'rows')().lines).toBe('rows');
    expect(walk(STRAIGHT, 'columns')().lines).toBe('columns');
  });
});

describe('lines of a walk', () => {
  it('are columns or rows of the lattice, there and back', () => {
    for (const lines of ['columns', 'rows'] as const) {
      const { line, pos } = linePlace(lines, { i: 2, j: -3 });
      expect(stepAt(lines, line, pos)).toEqual({ i: 2, j: -3 });
    }
    expect(linePlace('columns', { i: 2, j: -3 })).toEqual({ line: 2, pos: -3 });
    expect(linePlace('rows', { i: 2, j: -3 })).toEqual({ line: -3, pos: 2 });
  });

  it('slide by a whole step when the fractions add up to one', () => {
    const sheet = { widthMm: W, heightMm: H, repeat: { kind: 'drop', step: { p: 2, q: 3 } } } as const;
    expect([0, 1, 2, 3, 4, -1].map((line) => slidBy(sheet, line))).toEqual([0, 0, 1, 2, 2, -1]);
  });
});
