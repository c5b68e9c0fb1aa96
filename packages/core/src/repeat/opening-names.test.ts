import { describe, expect, it } from 'vitest';
import { circleContour } from '../geometry/contour.js';
import { makeLattice } from './lattice.js';
import { openingNames, wholeOpeningId } from './opening-names.js';
import { findOpenings } from './openings.js';
import { bar, carried, HALF_DROP, INK, randomBars, randomCell, ring, shapeOf } from './random-cell.test-help.js';
import { subtractStrips } from './strips.js';

const RED = '#d55e00';
const lattice = makeLattice(HALF_DROP, 100, 80);

describe('names of openings in which paper was left', () => {
  it('stay where one is left, and count its parts in reading order where several are', () => {
    const cell = carried(
      [
        shapeOf([circleContour({ x: 20, y: 15 }, 8)]),
        ring({ x: 0, y: 50 }, 18, 12),
        shapeOf([circleContour({ x: 60, y: 60 }, 8)]),
      ],
      lattice,
    );
    const before = findOpenings(cell);
    const ringId = before.find((o) => o.crosses.length > 0)?.id;
    const last = before.find((o) => Math.abs(o.atMm.x - 60) < 8 && Math.abs(o.atMm.y - 60) < 8)?.id;
    const strips = [
      bar({ x: 20, y: 6 }, { lengthMm: 10, widthMm: 2, turn: Math.PI / 2 }),
      bar({ x: 0, y: 50 }, { lengthMm: 50, widthMm: 2, turn: Math.PI / 2 }),
      bar({ x: 60, y: 60 }, { lengthMm: 30, widthMm: 2, turn: 0 }),
    ];
    const left = subtractStrips(cell, 0, strips);
    const after = findOpenings(left.cell);
    const named = openingNames(before, after, new Map([[INK, left.from]]));
    expect(named.map((o) => ({ ...o, id: '' }))).toEqual(after.map((o) => ({ ...o, id: '' })));
    const ids = named.map((o) => o.id);
    expect([...ids].sort()).toEqual(['1', `${ringId}.1`, `${ringId}.2`, `${last}.1`, `${last}.2`].sort());
    expect(ids.indexOf(`${last}.1`)).toBeLessThan(ids.indexOf(`${last}.2`));
    const upper = named.find((o) => o.id === `${last}.1`);
    expect(upper?.atMm.y).toBeLessThan(60);
    expect(new Set(ids.map(wholeOpeningId))).toEqual(new Set(before.map((o) => o.id)));
  });

  it('lead back to the opening in which the part lies, on any motif', () => {
    for (let seed = 0; seed < 60; seed++) {
      const cell = randomCell(seed);
      const before = findOpenings(cell);
      const { cell: tied, from } = subtractStrips(cell, 0, randomBars(seed, 6));
      const named = openingNames(before, findOpenings(tied), new Map([[cell.inks[0].ink, from]]));
      expect(new Set(named.map((o) => o.id)).size).toBe(named.length);
      for (const part of named) {
        const whole = before.find((o) => o.id === wholeOpeningId(part.id));
        for (const k of part.pieces) expect(whole?.pieces).toContain(from[k]);
        expect(part.areaMm2).toBeLessThanOrEqual((whole?.areaMm2 ?? 0) * (1 + 1e-4));
      }
    }
  });

  it('keep inks apart, and refuse what has no opening before', () => {
    const cell = carried(
      [shapeOf([circleContour({ x: 30, y: 30 }, 8)], RED), shapeOf([circleContour({ x: 70, y: 30 }, 8)])],
      lattice,
    );
    const before = findOpenings(cell);
    const redInk = cell.inks.findIndex((i) => i.ink === RED);
    const { cell: tied, from } = subtractStrips(cell, redInk, [
      bar({ x: 30, y: 30 }, { lengthMm: 20, widthMm: 2, turn: 0 }),
    ]);
    const after = findOpenings(tied);
    const ids = openingNames(before, after, new Map([[RED, from]])).map((o) => o.id);
    expect([...ids].sort()).toEqual(['000000-1', 'd55e00-1.1', 'd55e00-1.2']);
    expect(() => openingNames([], after, new Map())).toThrow(/no opening before/);
  });
});
