import { describe, expect, it } from 'vitest';
import { ClearSpace } from '../../draw/clear-space.js';
import { lineStyle } from '../../draw/palette.js';
import { contoursBox, polyline } from '../../geometry/contour.js';
import { insideContours } from '../../geometry/point-tests.js';
import type { Contour, Point } from '../../geometry/types.js';
import type { SheetTie, TieKind } from '../../strength/types.js';
import { paperSheet } from '../guide/paper-sheet.test-help.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { paperNames } from './paper-names.js';
import { barReach, tieBars, tieItems, tieStarts } from './tie-marks.js';

/** A tie across an opening 10 mm wide, 2 mm wide in the middle and 3 mm at its ends, turned about its first end. */
function flared(kind: TieKind, turnDeg: number): SheetTie {
  const a = (turnDeg * Math.PI) / 180;
  const turn = ([x, y]: readonly [number, number]): Point => ({
    x: 50 + x * Math.cos(a) - y * Math.sin(a),
    y: 50 + x * Math.sin(a) + y * Math.cos(a),
  });
  const corners = [
    [0, -1.5],
    [1, -1],
    [9, -1],
    [10, -1.5],
    [10, 1.5],
    [9, 1],
    [1, 1],
    [0, 1.5],
  ] as const;
  const outline = polyline(corners.map(turn), { closed: true });
  return { id: '1', kind, from: turn([0, 0]), to: turn([10, 0]), outline };
}

function ends({ coords }: Contour): [Point, Point] {
  const n = coords.length;
  return [
    { x: coords[0], y: coords[1] },
    { x: coords[n - 2], y: coords[n - 1] },
  ];
}

const length = ([p, q]: [Point, Point]) => Math.hypot(p.x - q.x, p.y - q.y);

describe('tieBars', () => {
  it.each([0, 33, 90, 200])('stand across both ends as wide as the flare, outside of the tie: turned by %d', (turn) => {
    for (const kind of ['printed', 'release'] as const) {
      const tie = flared(kind, turn);
      const bars = tieBars(tie, 1).map(ends);
      expect(bars).toHaveLength(kind === 'printed' ? 2 : 4);
      const half = lineStyle(kind === 'release' ? 'release-tie' : 'tie').widthMm / 2;
      for (const bar of bars) {
        expect(length(bar)).toBeCloseTo(3, 6);
        const middle = { x: (bar[0].x + bar[1].x) / 2, y: (bar[0].y + bar[1].y) / 2 };
        expect(insideContours([tie.outline], middle)).toBe(false);
        // Free of the tie's ends by more than its own half width, and no farther than it says.
        const out = Math.min(...[tie.from, tie.to].map((p) => Math.hypot(p.x - middle.x, p.y - middle.y)));
        expect(out - half).toBeGreaterThan(0.3);
        expect(out + half).toBeLessThanOrEqual(barReach(tie, 1) + 1e-9);
      }
    }
  });

  it('keep their width on the page at any scale', () => {
    const tie = flared('printed', 0);
    const at = (scale: number) => Math.min(...tieBars(tie, scale).map((bar) => ends(bar)[0].x));
    expect((50 - at(2)) * 2).toBeCloseTo(50 - at(1), 6);
  });

  it('are none for a tie of no length', () => {
    const tie = flared('printed', 0);
    expect(tieBars({ ...tie, to: tie.from }, 1)).toEqual([]);
    expect(tieStarts({ ...tie, to: tie.from }, 1)).toHaveLength(1);
  });

  it('touch no cut line of a sheet', () => {
    const sheet = paperSheet(sampleSheet({ count: 60 }), { tieEvery: 2 });
    const space = new ClearSpace();
    for (const o of sheet.openings) space.addContours([...o.firstCut, ...o.secondCut], o.number);
    const { ties } = paperNames(sheet);
    expect(ties.length).toBeGreaterThan(20);
    const crossed = ties.flatMap(({ tie }) =>
      tieBars(tie, 1)
        .map(ends)
        .filter(([p, q]) => space.crossesOthers(p, q, -2)),
    );
    expect(crossed).toEqual([]);
  });
});

describe('tieItems', () => {
  it('tells the kinds by number and width of their bars, not by colour', () => {
    const named = (['printed', 'release'] as const).map((kind, k) => {
      const tie = flared(kind, 40 * k);
      const box = contoursBox([tie.outline]);
      if (box === null) throw new Error('an outline without a box');
      return { name: 'T1', tie, zone: 'Z1', at: tie.from, box };
    });
    const items = tieItems(named, 1).flatMap((i) => (i.kind === 'path' && i.line ? [i] : []));
    expect(items.map((i) => [i.contours.length, i.line?.widthMm])).toEqual([
      [2, 0.9],
      [4, 0.55],
    ]);
    expect(tieItems([], 1)).toEqual([]);
  });
});
