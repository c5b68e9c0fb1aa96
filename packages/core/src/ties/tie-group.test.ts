import { describe, expect, it } from 'vitest';
import { circleContour, polyline, reverseContour } from '../geometry/contour.js';
import type { Contour } from '../geometry/types.js';
import { findIslands } from '../strength/islands.js';
import { noise } from '../strength/outlines.test-help.js';
import type { CutPaper } from '../strength/types.js';
import { StandingTies } from './standing-ties.js';
import { chooseInGroup, type GroupOptions, type GroupPlace, layPlaces } from './tie-group.js';
import { paperBanks } from './tie-nodes.js';
import { indexCurves } from './tie-reach.js';

const WIDTH_MM = 2;

/** An opening of uneven outline with one island or two. */
function randomOpening(seed: number): CutPaper {
  const random = noise(seed);
  for (let k = 0; k < 5; k++) random();
  const lobes = 3 + Math.floor(4 * random());
  const outer = polyline(
    Array.from({ length: 120 }, (_, k) => {
      const t = (2 * Math.PI * k) / 120;
      const r = 17 + 1.5 * Math.cos(lobes * t);
      return { x: r * Math.cos(t), y: r * Math.sin(t) };
    }),
    { closed: true },
  );
  const islands: Contour[] =
    random() < 0.5
      ? [circleContour({ x: 5 * random(), y: 5 * random() }, 4 + 5 * random())]
      : [-1, 1].map((side) => circleContour({ x: side * (6.2 + random()), y: 3 * random() }, 2.5 + 2.5 * random()));
  return {
    edge: { x0: -50, y0: -50, x1: 50, y1: 50 },
    outlines: [outer, ...islands.map(reverseContour)].map((contour) => ({ contour, opening: 0 })),
  };
}

/** Whether a set of ties holds all: each piece once by some way, a piece that needs two by two ties of its own that land a quarter apart. */
function holds(set: readonly GroupPlace[], needs: readonly number[]): boolean {
  const reached = new Set([0]);
  for (let k = 0; k < set.length; k++) {
    for (const { a, b } of set) {
      if (reached.has(a)) reached.add(b);
      if (reached.has(b)) reached.add(a);
    }
  }
  if (reached.size < needs.length) return false;
  if (needs.length > 2 || needs[1] < 2) return true;
  const [p, q] = set.map((e) => (e.a === 1 ? e.placeA : e.placeB));
  return set.length > 1 && Math.min(Math.abs(p - q), 1 - Math.abs(p - q)) >= 0.25 - 1e-9;
}

describe('ties of one opening', () => {
  it('are within 1.1 of the shortest over the same places, by trying all pairs', () => {
    let tried = 0;
    for (let seed = 1; seed <= 16; seed++) {
      const paper = randomOpening(seed);
      const members = findIslands(paper);
      const needs = members.length === 1 ? [0, 2] : [0, 1, 1];
      const options: GroupOptions = {
        tie: { widthMm: WIDTH_MM, flareMm: 0.4, largeMm2: 150, hide: false },
        rules: { neckMm: 2, slitMm: 0.8, spanMm: 50, tongueRatio: 3, stroke: 'down', turnMm: 1.5 },
        keepOff: [],
        paper: paperBanks(paper, members),
        outlines: indexCurves(paper.outlines.map((o) => o.contour)),
        pieces: members.map((_, k) => k + 1),
        needs,
        banned: () => false,
        standing: new StandingTies(WIDTH_MM),
      };
      const group = { openings: [0], members };
      const { places, trouble } = layPlaces(group, options);
      const free = places.filter((_, k) => trouble(k) === null);
      let best = Infinity;
      free.forEach((e, i) => {
        for (const f of free.slice(i + 1)) {
          const length = e.candidate.lengthMm + f.candidate.lengthMm;
          if (length < best && holds([e, f], needs)) best = length;
        }
      });
      const { ties } = chooseInGroup(group, options);
      expect(best, `case ${seed}`).toBeLessThan(Infinity);
      expect(ties, `case ${seed}`).toHaveLength(2);
      const length = ties.reduce((sum, t) => sum + t.lengthMm, 0);
      expect(length / best, `case ${seed}`).toBeLessThanOrEqual(1.1);
      expect(length / best, `case ${seed}`).toBeGreaterThanOrEqual(1 - 1e-9);
      tried++;
    }
    expect(tried).toBe(16);
  });
});
