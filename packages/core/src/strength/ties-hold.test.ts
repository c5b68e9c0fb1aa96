import { describe, expect, it } from 'vitest';
import { circleContour, polyline, reverseContour } from '../geometry/contour.js';
import type { Contour, Point } from '../geometry/types.js';
import { suggestPaperTies } from '../ties/suggest-ties.js';
import { openingWithTies } from '../ties/tie-check.js';
import { indexCurves } from '../ties/tie-reach.js';
import { findIslands } from './islands.js';
import { findNecks, findSlits } from './narrow.js';
import { noise } from './outlines.test-help.js';
import type { CutPaper, NarrowPlace, PaperRules, SheetOutline, TieRules } from './types.js';

const TIE: TieRules = { widthMm: 2, flareMm: 0.4, largeMm2: 150, hide: true };
const RULES: PaperRules = { neckMm: 2, slitMm: 0.8, spanMm: 50, tongueRatio: 3, stroke: 'down', turnMm: 1.5 };

/** A closed line around a middle: a disc, a blob of a few lobes, or a star. */
function shape(random: () => number, middle: Point, radius: number): Contour {
  const kind = Math.floor(3 * random());
  if (kind === 0) return circleContour(middle, radius);
  const lobes = 4 + Math.floor(4 * random());
  const depth = 0.25 * random();
  const phase = 6.28 * random();
  const corners = kind === 1 ? 90 : 2 * lobes;
  return polyline(
    Array.from({ length: corners }, (_, k) => {
      const t = (2 * Math.PI * k) / corners + phase;
      const r =
        kind === 1 ? radius * (1 - depth * (1 + Math.cos(lobes * t)) * 0.5) : radius * (k % 2 === 0 ? 1 : 1 - depth);
      return { x: middle.x + r * Math.cos(t), y: middle.y + r * Math.sin(t) };
    }),
    { closed: true },
  );
}

/** A sheet of openings that stand clear of each other, with islands in them, and openings in those. */
function randomSheet(seed: number): CutPaper {
  const random = noise(seed);
  for (let k = 0; k < 5; k++) random();
  const outlines: SheetOutline[] = [];
  let opening = 0;
  const grow = (middle: Point, radius: number): void => {
    const own = opening++;
    outlines.push({ contour: shape(random, middle, radius), opening: own });
    // The least radius of a shape is three quarters of its radius.
    const room = 0.75 * radius;
    const islands = Math.floor(3 * random());
    for (let k = 0; k < islands; k++) {
      const size = (islands === 1 ? 0.5 + 0.45 * random() : 0.25 + 0.2 * random()) * room;
      const off = islands === 1 ? random() * (room - size) * 0.9 : room / 2;
      const turn = islands === 1 ? 6.28 * random() : Math.PI * k;
      const at = { x: middle.x + off * Math.cos(turn), y: middle.y + off * Math.sin(turn) };
      outlines.push({ contour: reverseContour(shape(random, at, size)), opening: own });
      const inner = 0.75 * size - (1 + 3 * random());
      if (inner > 3 && random() < 0.7) grow(at, inner);
    }
  };
  for (let row = 0; row < 2; row++) {
    for (let column = 0; column < 2; column++) grow({ x: 32 + 60 * column, y: 32 + 60 * row }, 6 + 22 * random());
  }
  return { edge: { x0: 0, y0: 0, x1: 124, y1: 124 }, outlines };
}

function withTies(paper: CutPaper, ties: readonly { from: Point; to: Point }[]): CutPaper {
  const openings = new Map<number, Contour[]>();
  for (const { contour, opening } of paper.outlines) openings.set(opening, [...(openings.get(opening) ?? []), contour]);
  const outlines = indexCurves(paper.outlines.map((o) => o.contour));
  const cut: SheetOutline[] = [];
  let number = 0;
  for (const opening of openings.keys()) {
    const all = ties.map((t) => ({ ...t, opening }));
    for (const piece of openingWithTies(opening, all, { tie: TIE, outlines, openings })) {
      for (const contour of piece.contours) cut.push({ contour, opening: number });
      number++;
    }
  }
  return { edge: paper.edge, outlines: cut };
}

/** Narrow places that none of before accounts for: as narrow or narrower, and within the length of the two strips. */
function newPlaces(before: readonly NarrowPlace[], after: readonly NarrowPlace[]): NarrowPlace[] {
  return after.filter(
    (is) =>
      !before.some(
        (was) =>
          was.widthMm <= is.widthMm + 0.01 &&
          Math.hypot(was.atMm.x - is.atMm.x, was.atMm.y - is.atMm.y) <= (was.lengthMm + is.lengthMm) / 2 + 1,
      ),
  );
}

describe('ties on random motifs', () => {
  const seeds = Array.from({ length: 24 }, (_, k) => k + 1);

  it.each(seeds)('hold every island but the impossible and spoil nothing: %i', (seed) => {
    const paper = randomSheet(seed);
    const islands = findIslands(paper);
    const { ties, impossible } = suggestPaperTies(paper, {
      islands,
      tie: TIE,
      rules: RULES,
      keepOff: [],
      same: ({ x, y }) => `${x} ${y}`,
      long: [],
      existing: [],
    });
    const cut = withTies(paper, ties);
    const left = findIslands(cut);
    expect(left.length).toBe(impossible.length);
    const slack = { slackMm: 0.01 };
    const necks = { limitMm: Math.min(RULES.neckMm, TIE.widthMm), ...slack };
    const slits = { limitMm: RULES.slitMm, ...slack };
    expect(newPlaces(findNecks(paper, necks), findNecks(cut, necks))).toEqual([]);
    expect(newPlaces(findSlits(paper, slits), findSlits(cut, slits))).toEqual([]);
  });
});
