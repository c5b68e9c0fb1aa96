import { describe, expect, it } from 'vitest';
import { boxContour, circleContour, polyline, reverseContour } from '../geometry/contour.js';
import { segmentDistance } from '../geometry/segments.js';
import type { Contour, Point } from '../geometry/types.js';
import { findIslands } from '../strength/islands.js';
import { longOpenings } from '../strength/long-openings.js';
import type { CutPaper, PaperRules, SheetOutline, TieRules } from '../strength/types.js';
import { type SuggestOptions, suggestPaperTies } from './suggest-ties.js';
import { openingWithTies } from './tie-check.js';
import { inLine } from './tie-hiding.js';
import { indexCurves } from './tie-reach.js';

const TIE: TieRules = { widthMm: 2, flareMm: 0.4, largeMm2: 150, hide: false };
const RULES: PaperRules = { neckMm: 2, slitMm: 0.8, spanMm: 50, tongueRatio: 3, stroke: 'down', turnMm: 1.5 };
const EDGE = { x0: -100, y0: -100, x1: 200, y1: 200 };

function sheet(...openings: (readonly Contour[])[]): CutPaper {
  return {
    edge: EDGE,
    outlines: openings.flatMap((contours, opening) => contours.map((contour): SheetOutline => ({ contour, opening }))),
  };
}

function suggest(paper: CutPaper, more: Partial<SuggestOptions> & { hide?: boolean } = {}) {
  const { hide = false, ...rest } = more;
  return suggestPaperTies(paper, {
    islands: findIslands(paper),
    tie: { ...TIE, hide },
    rules: RULES,
    keepOff: [],
    same: ({ x, y }) => `${x.toFixed(3)} ${y.toFixed(3)}`,
    long: longOpenings(paper.outlines, { spanMm: RULES.spanMm }),
    existing: [],
    ...rest,
  });
}

/** The sheet with ties left standing. */
function withTies(paper: CutPaper, ties: readonly { from: Point; to: Point }[]): CutPaper {
  const openings = new Map<number, Contour[]>();
  for (const { contour, opening } of paper.outlines) openings.set(opening, [...(openings.get(opening) ?? []), contour]);
  const outlines = indexCurves(paper.outlines.map((o) => o.contour));
  const cut: SheetOutline[] = [];
  let number = 0;
  for (const opening of openings.keys()) {
    const own = ties.map((t) => ({ ...t, opening }));
    for (const piece of openingWithTies(opening, own, { tie: TIE, outlines, openings })) {
      for (const contour of piece.contours) cut.push({ contour, opening: number });
      number++;
    }
  }
  return { edge: paper.edge, outlines: cut };
}

const circle = (x: number, y: number, r: number): Contour => circleContour({ x, y }, r);
const rim = (x: number, y: number, r: number): Contour => reverseContour(circle(x, y, r));
const star = (x: number, y: number, tips: number, outer: number, inner: number): Contour =>
  polyline(
    Array.from({ length: 2 * tips }, (_, k) => {
      const r = k % 2 === 0 ? outer : inner;
      const t = (Math.PI * k) / tips;
      return { x: x + r * Math.cos(t), y: y + r * Math.sin(t) };
    }),
    { closed: true },
  );

describe('suggested ties', () => {
  it('holds a small island once, across the narrowest place', () => {
    const paper = sheet([circle(0, 0, 10), rim(2, 0, 5)]);
    const { ties, impossible } = suggest(paper);
    expect(impossible).toEqual([]);
    expect(ties).toHaveLength(1);
    expect(ties[0]).toMatchObject({ id: 'T1', kind: 'printed', island: '1' });
    expect(ties[0].lengthMm).toBeCloseTo(3, 2);
    expect(findIslands(withTies(paper, ties))).toEqual([]);
  });

  it('holds a large island twice, well apart', () => {
    const paper = sheet([circle(0, 0, 15), rim(0, 0, 10)]);
    const { ties } = suggest(paper);
    expect(ties).toHaveLength(2);
    const angle = (p: Point): number => Math.atan2(p.y, p.x);
    const apart = Math.abs(angle(ties[0].from) - angle(ties[1].from));
    expect(Math.min(apart, 2 * Math.PI - apart)).toBeGreaterThanOrEqual(Math.PI / 2 - 1e-3);
    for (const t of ties) expect(t.lengthMm).toBeCloseTo(5, 2);
  });

  it('holds rings within rings, the outer ones too', () => {
    const paper = sheet(
      [circle(0, 0, 30), rim(0, 0, 26)],
      [circle(0, 0, 20), rim(0, 0, 17)],
      [circle(0, 0, 10), rim(0, 0, 5)],
    );
    const { ties, impossible } = suggest(paper, { long: [] });
    expect(impossible).toEqual([]);
    expect(ties.map((t) => t.island).sort()).toEqual(['1', '1', '2', '2', '3']);
    expect(findIslands(withTies(paper, ties))).toEqual([]);
  });

  it('holds twice what a large island lies on, however small it is itself', () => {
    const paper = sheet([circle(0, 0, 20), rim(0, 0, 15)], [circle(0, 0, 12.9), rim(0, 0, 10)]);
    const { ties } = suggest(paper, { tie: { ...TIE, largeMm2: 200 }, long: [] });
    expect(findIslands(paper).map((i) => Math.round(i.areaMm2))).toEqual([184, 314]);
    expect(ties.map((t) => t.island).sort()).toEqual(['1', '1', '2', '2']);
  });

  it('ties one island to another where that is shortest', () => {
    const paper = sheet([boxContour({ x0: 0, y0: 0, x1: 40, y1: 20 }), rim(10, 10, 6), rim(25, 10, 6)]);
    const { ties } = suggest(paper);
    expect(ties).toHaveLength(2);
    expect(ties.map((t) => t.lengthMm).sort()[0]).toBeCloseTo(3, 2);
    expect(findIslands(withTies(paper, ties))).toEqual([]);
  });

  it('keeps clear of a seam', () => {
    const paper = sheet([circle(0, 0, 10), rim(2, 0, 5)]);
    const line = { from: { x: -50, y: 0 }, to: { x: 50, y: 0 } };
    const { ties } = suggest(paper, { keepOff: [line] });
    expect(ties).toHaveLength(1);
    expect(segmentDistance(ties[0], line)).toBeGreaterThanOrEqual(TIE.widthMm / 2 + TIE.flareMm + 1);
    const close = [-2, 2].map((y) => ({ from: { x: -50, y }, to: { x: 50, y } }));
    const all = [...close, ...close.map(({ from, to }) => ({ from: { x: from.y, y: -50 }, to: { x: to.y, y: 50 } }))];
    const none = suggest(sheet([circle(0, 0, 6), rim(0, 0, 3)]), { keepOff: all });
    expect(none.ties).toEqual([]);
    expect(none.impossible[0].reason).toContain('seam');
  });

  it('says which islands no tie can hold, and why', () => {
    const small = suggest(sheet([circle(0, 0, 6), rim(0, 0, 1)]));
    expect(small.ties).toEqual([]);
    expect(small.impossible).toMatchObject([
      { island: '1', reason: 'it is narrower than a tie of 2 mm with its flared ends' },
    ]);
    const far = suggest(sheet([circle(0, 0, 40), rim(0, 0, 5)]), { long: [] });
    expect(far.impossible[0].reason).toContain('25 mm');
    // What lies on it is not held either.
    const nested = suggest(sheet([circle(0, 0, 60), rim(0, 0, 30)], [circle(0, 0, 10), rim(0, 0, 5)]), { long: [] });
    expect(nested.ties).toEqual([]);
    expect(nested.impossible.map((i) => i.reason)[1]).toBe('it lies on paper that no tie can hold');
  });

  it('says so where a large island is held once only', () => {
    const paper = sheet([circle(0, 0, 15), rim(0, 0, 10)]);
    // Lines that leave the right side only, some 66° of it.
    const keepOff = Array.from({ length: 8 }, (_, k) => ({
      from: { x: 6 - 3 * k, y: -20 },
      to: { x: 6 - 3 * k, y: 20 },
    }));
    const { ties, impossible, once } = suggest(paper, { keepOff });
    expect(impossible).toEqual([]);
    expect(ties).toHaveLength(1);
    expect(once).toMatchObject([{ island: '1' }]);
  });

  it('chooses once for all copies', () => {
    const ring = (x: number): Contour[] => [circle(x, 0, 10), rim(x + 2, 0, 5)];
    const { ties, impossible } = suggest(sheet(ring(0), ring(30), ring(60)), {
      same: ({ x, y }) => `${(((x % 30) + 30) % 30).toFixed(3)} ${y.toFixed(3)}`,
    });
    expect(ties).toHaveLength(1);
    expect(impossible).toEqual([]);
  });

  it('cuts a long opening into stretches of no more than the span', () => {
    for (const [length, count] of [
      [90, 1],
      [140, 2],
      [190, 3],
    ]) {
      const paper = sheet([boxContour({ x0: 0, y0: 0, x1: length, y1: 4 })]);
      const { ties } = suggest(paper);
      expect(ties).toHaveLength(count);
      expect(ties.every((t) => t.island === null)).toBe(true);
      expect(longOpenings(withTies(paper, ties).outlines, { spanMm: RULES.spanMm })).toEqual([]);
    }
  });

  describe('hiding', () => {
    // A ring of even width whose outer bank has one corner, at the right: the way there is longer by `more`.
    const cornered = (more: number): CutPaper => {
      const outline: Point[] = [];
      for (let k = 0; k < 180; k++) {
        const t = (Math.PI * 2 * k) / 180;
        const near = Math.max(0, 1 - Math.min(t, 2 * Math.PI - t) / 0.5);
        outline.push({ x: (9 + more * near) * Math.cos(t), y: (9 + more * near) * Math.sin(t) });
      }
      return sheet([polyline(outline, { closed: true }), rim(0, 0, 6)]);
    };
    const atCorner = ({ to, from }: { from: Point; to: Point }): boolean =>
      [from, to].some((p) => p.x > 0 && Math.abs(p.y) < 2.5);

    it('prefers a corner up to half as much again', () => {
      const [tie] = suggest(cornered(1.3), { hide: true }).ties;
      expect(atCorner(tie)).toBe(true);
      expect(tie.hidden).toBe(true);
      expect(tie.lengthMm).toBeLessThanOrEqual(4.5 + 0.02);
    });

    it('and not beyond', () => {
      const [tie] = suggest(cornered(2.4), { hide: true }).ties;
      expect(tie.lengthMm).toBeLessThanOrEqual(4.5 + 0.02);
      expect(tie.hidden && tie.lengthMm > 4.5 + 0.02).toBe(false);
      const [plain] = suggest(cornered(2.4)).ties;
      expect(plain.lengthMm).toBeLessThan(3.02);
    });

    it('never makes a bar with a neighbour', () => {
      const paper = sheet([circle(0, 0, 15), rim(0, 0, 10)], [circle(36, 0, 15), rim(36, 0, 10)]);
      const existing = [{ from: { x: -20, y: 0 }, to: { x: -26, y: 0 } }];
      const { ties } = suggest(paper, { hide: true, existing });
      expect(ties).toHaveLength(4);
      const all = [...ties, ...existing];
      all.forEach((a, i) => {
        for (const b of all.slice(i + 1)) expect(inLine(a, b, TIE.widthMm)).toBe(false);
      });
    });

    it('is nearest to the tips of a star', () => {
      const paper = sheet([circle(0, 0, 16), reverseContour(star(0, 0, 4, 12, 9))]);
      const { ties } = suggest(paper, { hide: true });
      expect(ties.filter((t) => t.hidden)).toHaveLength(2);
    });
  });
});
