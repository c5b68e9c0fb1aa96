import { it } from 'vitest';
import { circleContour, reverseContour } from '../geometry/contour.js';
import { findIslands } from './islands.js';
import { longOpenings } from './long-openings.js';
import { suggestPaperTies } from './suggest-ties.js';
import type { Outline } from './types.js';
it('scale', () => {
  for (const n of [10, 32, 64]) for (const hide of [false, true]) {
    const outlines: Outline[] = [];
    for (let r = 0; r < n; r++) for (let c = 0; c < n; c++) {
      const at = { x: 12 + 22 * c, y: 12 + 22 * r };
      outlines.push({ contour: circleContour(at, 9), opening: r * n + c });
      if ((r + c) % 2 === 0) outlines.push({ contour: reverseContour(circleContour({ x: at.x + 1 + (c % 3) * 0.5, y: at.y }, 5)), opening: r * n + c });
    }
    const paper = { edge: { x0: 0, y0: 0, x1: 24 * n, y1: 24 * n }, outlines };
    const t0 = performance.now();
    const islands = findIslands(paper);
    const long = longOpenings(outlines, { spanMm: 50 });
    const t1 = performance.now();
    const got = suggestPaperTies(paper, { islands, tie: { widthMm: 2, flareMm: 0.4, largeMm2: 150, hide }, rules: { neckMm: 2, slitMm: 0.8, spanMm: 50, tongueRatio: 3, stroke: 'down', turnMm: 1.5 }, keepOff: [], same: ({ x, y }) => `${x} ${y}`, long, existing: [] });
    console.log(n * n, hide, Math.round(t1 - t0), Math.round(performance.now() - t1), got.ties.length, got.impossible.length);
  }
}, 600000);
