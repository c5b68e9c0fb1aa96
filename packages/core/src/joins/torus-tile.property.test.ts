import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { insideContours } from '../geometry/point-tests.js';
import type { Contour, Point } from '../geometry/types.js';
import type { Cell } from '../repeat/cell.js';
import { latticePoint, nearestStep, unitOf } from '../repeat/lattice.js';
import { layRepeat } from '../repeat/lay-repeat.js';
import { pieceContours } from '../repeat/piece-contours.js';
import { INK, PAPER, randomFrom } from '../repeat/random-cell.test-help.js';
import { seamStretches } from '../repeat/seam-stretches.js';
import { checkJoins } from './checked.test-help.js';
import { junctionsOf } from './junction.js';
import { JOIN_DEFAULTS } from './options.js';
import { randomPattern } from './random-torus.test-help.js';
import { type Drawn, type Ruling, rulingsOf, type TorusPattern, tileShapes } from './torus-tile.test-help.js';
import type { Join } from './types.js';

// What is asked of the checks: offsets of a true pattern, and of a planted fault what is found of it. mm.
const OFFSET_MM = 0.02;
const SAME_MM = 1e-3;
const REACH_MM = JOIN_DEFAULTS.reachMm;

function layTile(pattern: TorusPattern, ruling: Ruling, drawn: Drawn): Cell {
  const shapes = tileShapes(pattern, ruling, drawn);
  // Of whole outlines every copy is drawn: they are trimmed, so that both sides are compared as drawn.
  const spill = drawn === 'whole' ? 'trim' : 'auto';
  return layRepeat(shapes, ruling.lattice, {
    spill,
    paperColour: PAPER,
    reachMm: REACH_MM,
    drawn: 'cut',
    method: 'resist',
    cut: null,
  }).cell;
}

/** Whether anything of the ink is seen: all of it may lie under paper. */
function showsInk(pattern: TorusPattern, ruling: Ruling): boolean {
  try {
    layTile(pattern, ruling, 'cut');
    return true;
  } catch {
    return false;
  }
}

const drawings = fc.constantFrom<Drawn>('cut', 'clipped', 'whole');
const cases = fc.record({ seed: fc.integer({ min: 0, max: 1e6 }), drawn: drawings });

/** The pattern of a seed, and where the unit's upper left lies on it. */
function sceneOf(seed: number) {
  const random = randomFrom(seed + 1);
  const origin = random() < 0.5 ? { x: 0, y: 0 } : { x: random(0, 90), y: random(0, 90) };
  return { pattern: randomPattern(seed), origin, random };
}

/** How far apart two places of the cloth are under the lattice, mm. */
function apart(p: Point, q: Point, { lattice }: Ruling): number {
  const { rest } = nearestStep(lattice, { x: p.x - q.x, y: p.y - q.y });
  return Math.hypot(rest.x, rest.y);
}

function onCloth(at: Point, { origin }: Ruling): Point {
  return { x: at.x + origin.x, y: at.y + origin.y };
}

function nearJunctions(at: Point, ruling: Ruling): boolean {
  return junctionsOf(ruling.lattice).some(
    (junction) => apart(at, onCloth(junction.at, ruling), ruling) <= REACH_MM + 0.1,
  );
}

describe('a pattern on the torus, drawn in one unit', () => {
  it('meets at every seam of any ruling of its lattice', () => {
    fc.assert(
      fc.property(cases, ({ seed, drawn }) => {
        const { pattern, origin } = sceneOf(seed);
        if (!showsInk(pattern, { lattice: pattern.lattice, origin })) return;
        for (const ruling of rulingsOf(pattern.lattice, origin)) {
          const { joins, findings } = checkJoins(seamStretches(layTile(pattern, ruling, drawn)), ruling.lattice);
          expect(joins.filter(({ state }) => state === 'off' || state === 'open')).toEqual([]);
          for (const { offsetMm } of joins) expect(Math.abs(offsetMm ?? Number.NaN)).toBeLessThanOrEqual(OFFSET_MM);
          expect(findings.filter(({ code }) => code !== 'join-kink')).toEqual([]);
        }
      }),
      { numRuns: 200 },
    );
  });

  it('has the same joins where seams of two rulings coincide, and is the same cloth', () => {
    fc.assert(
      fc.property(cases, ({ seed, drawn }) => {
        const { pattern, origin, random } = sceneOf(seed);
        const [own, ...others] = rulingsOf(pattern.lattice, origin);
        if (!showsInk(pattern, own)) return;
        const brick = own.lattice.repeat.kind === 'brick';
        const along = random(5, 40);
        // The unit slid along the seam that goes through without a step, and the unit of the other kind.
        const slid = {
          lattice: own.lattice,
          origin: brick ? { x: origin.x + along, y: origin.y } : { x: origin.x, y: origin.y + along },
        };
        const through = brick ? 'bottom' : 'right';
        const rows = brick ? 'right' : 'bottom';
        const cell = layTile(pattern, own, drawn);
        const joins = checkJoins(seamStretches(cell), own.lattice).joins;
        for (const [other, seam] of [[slid, through], ...others.map((ruling) => [ruling, rows] as const)] as const) {
          const otherCell = layTile(pattern, other, drawn);
          const theirs = checkJoins(seamStretches(otherCell), other.lattice).joins;
          expectSame(joins, theirs, own, other, seam);
          expectSameCloth(cell, otherCell, own, other, random);
        }
      }),
      { numRuns: 60 },
    );
  });

  it('shows a shift of one side with its true size', () => {
    let asked = 0;
    fc.assert(
      fc.property(cases, fc.constantFrom(0.5, 1, 2, -0.5, -1, -2), ({ seed, drawn }, shift) => {
        const { pattern, origin } = sceneOf(seed);
        const { lattice } = pattern;
        if (!showsInk(pattern, { lattice, origin })) return;
        const brick = lattice.repeat.kind === 'brick';
        const [own, partner] = brick ? ['bottom', 'top'] : ['right', 'left'];
        const moved = brick ? { x: origin.x - shift, y: origin.y } : { x: origin.x, y: origin.y - shift };
        const drawnTrue = seamStretches(layTile(pattern, { lattice, origin }, drawn));
        const shifted = seamStretches(layTile(pattern, { lattice, origin: moved }, drawn));
        const stretches = [
          ...drawnTrue.filter(({ side }) => side !== partner),
          ...shifted.filter(({ side }) => side === partner),
        ];
        const { joins, findings } = checkJoins(stretches, lattice);
        for (const { offsetMm } of joins) expect(Math.abs(offsetMm ?? 0)).toBeLessThanOrEqual(REACH_MM);
        const length = brick ? lattice.widthMm : lattice.heightMm;
        const onSeam = drawnTrue.filter(({ side }) => side === own);
        const ends = onSeam.flatMap(({ from, to }) => [from, to].filter(({ corner }) => !corner));
        for (const end of ends) {
          const across = Math.abs(brick ? end.tangent.y : end.tangent.x);
          // An outline alone within twice the reach, not at the seam's end, that crosses it at some angle, of an opening that a knife can follow.
          const alone = onSeam.every(({ from, to }) =>
            [from, to].every((one) => one === end || lengthOnCircle(one.atMm - end.atMm, length) > 2.05 * REACH_MM),
          );
          const runs = onSeam.some(({ from, to }) => (from === end || to === end) && to.atMm - from.atMm > 1);
          if (!alone || !runs || across < 0.2 || end.atMm < 0.1 || end.atMm > length - 0.1) continue;
          asked++;
          const join = joins.find(({ seam, atMm }) => seam === own && Math.abs(atMm - end.atMm) < SAME_MM);
          expect(join?.offsetMm).toBeCloseTo(shift, 1);
          expect(Math.abs((join?.offsetMm ?? Number.NaN) - shift)).toBeLessThanOrEqual(OFFSET_MM);
          if ((join?.gapMm ?? 0) < JOIN_DEFAULTS.gapMaxMm) continue;
          expect(join?.state).toBe('off');
          expect(findings.some(({ code, severity }) => code === 'join-off' && severity === 'fix')).toBe(true);
        }
      }),
      { numRuns: 150 },
    );
    expect(asked).toBeGreaterThan(100);
  });
});

function lengthOnCircle(along: number, period: number): number {
  return Math.abs(along - period * Math.round(along / period));
}

/** Joins of the first ruling on a seam that the other has too: the same pairs with the same measures, but near points where seams meet. */
function expectSame(
  joins: readonly Join[],
  theirs: readonly Join[],
  own: Ruling,
  other: Ruling,
  seam: Join['seam'],
): void {
  const candidates = theirs.filter((join) => join.seam === seam);
  for (const join of joins) {
    const at = onCloth(join.at, own);
    if (join.seam !== seam || nearJunctions(at, own) || nearJunctions(at, other)) continue;
    const same = candidates.find(
      (one) =>
        apart(at, onCloth(one.at, other), own) < SAME_MM &&
        one.ways?.own?.x.toFixed(2) === join.ways?.own?.x.toFixed(2),
    );
    expect(same, `${join.seam} at ${join.atMm}`).toBeDefined();
    expect(Math.abs((same?.offsetMm ?? Number.NaN) - (join.offsetMm ?? Number.NaN))).toBeLessThan(SAME_MM);
    expect(Math.abs((same?.gapMm ?? Number.NaN) - (join.gapMm ?? Number.NaN))).toBeLessThan(SAME_MM);
    expect(Math.abs((same?.kinkDeg ?? 0) - (join.kinkDeg ?? 0))).toBeLessThan(0.1);
    expect(same?.state).toBe(join.state);
  }
}

/** Outlines within this of a place may fall on either side of it: the snap to a seam of either unit. mm. */
const BESIDE_MM = 0.05;

function expectSameCloth(
  cell: Cell,
  otherCell: Cell,
  own: Ruling,
  other: Ruling,
  random: (low?: number, high?: number) => number,
): void {
  const [seen, seenOther] = [visible(cell, own), visible(otherCell, other)];
  for (let n = 0; n < 40; n++) {
    const at = { x: random(-100, 200), y: random(-100, 200) };
    if (seen(at) === seenOther(at)) continue;
    const around = Array.from({ length: 8 }, (_, k) =>
      seen({ x: at.x + BESIDE_MM * Math.cos((k * Math.PI) / 4), y: at.y + BESIDE_MM * Math.sin((k * Math.PI) / 4) }),
    );
    expect(around.includes(seenOther(at)), `at ${at.x}, ${at.y}`).toBe(true);
  }
}

/** Whether a place of the cloth is in the ink, from the pieces of its unit. */
function visible(cell: Cell, { lattice, origin }: Ruling): (at: Point) => boolean {
  const contours: Contour[] = cell.inks
    .filter(({ ink }) => ink === INK)
    .flatMap(({ pieces }) => pieces.flatMap((piece) => pieceContours(piece, cell).contours));
  return (at) => {
    const p = { x: at.x - origin.x, y: at.y - origin.y };
    const v = latticePoint(lattice, unitOf(lattice, p));
    return insideContours(contours, { x: p.x - v.x, y: p.y - v.y });
  };
}
