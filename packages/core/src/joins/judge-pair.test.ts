import { describe, expect, it } from 'vitest';
import type { Point, Side } from '../geometry/types.js';
import { judgePair } from './judge-pair.js';
import { JOIN_DEFAULTS } from './options.js';
import type { Pair } from './pair.js';
import type { RunEnd } from './runs.js';

/** Two sides that meet, and the way out of the unit over the first of them. */
const SEAMS: readonly (readonly [Side, Side, Point])[] = [
  ['right', 'left', { x: 1, y: 0 }],
  ['bottom', 'top', { x: 0, y: 1 }],
];

interface Drawn {
  readonly seam: (typeof SEAMS)[number];
  /** How far the line is from square to the seam, degrees. */
  readonly leanDeg: number;
  readonly gapMm: number;
  readonly kinkDeg?: number;
  readonly widthMm?: number;
  readonly runsOn?: boolean;
  readonly carried?: boolean;
}

/** A pair of a line that goes straight on over a seam, with a gap. */
function pairOf({ seam: [own, partner, out], leanDeg, gapMm, kinkDeg = 0, widthMm = 1, ...more }: Drawn): Pair {
  const { runsOn = false, carried = false } = more;
  const lean = (leanDeg * Math.PI) / 180;
  const along = { x: Math.abs(out.y), y: Math.abs(out.x) };
  const way = {
    x: Math.cos(lean) * out.x + Math.sin(lean) * along.x,
    y: Math.cos(lean) * out.y + Math.sin(lean) * along.y,
  };
  const end = (side: Side, tangent: Point): RunEnd =>
    ({
      side,
      ink: '#000000',
      atMm: 10,
      kind: 'begin',
      tangent,
      runsOn,
      corner: false,
      moved: false,
      carried,
      run: { widthMm },
    }) as RunEnd;
  const ends = { own: end(own, way), partner: end(partner, { x: -way.x, y: -way.y }) };
  return { ...ends, offsetMm: gapMm, gapMm, kinkDeg } as Pair;
}

const judged = (drawn: Drawn) => {
  const { state, severity } = judgePair(pairOf(drawn), JOIN_DEFAULTS);
  return [state, severity];
};

// A line 1 mm wide: a gap from 0.2 mm on is worth a look, from 0.4 mm on it has to be mended, and from 0.8 mm on whatever may be meant.
describe.each(SEAMS)('a line 1 mm wide over the %s and the %s side', (...seam) => {
  it.each([-9, -5, 0, 5, 9])('that ends flush and leans by %d° may be a bar that abuts with a step', (leanDeg) => {
    expect(judged({ seam, leanDeg, gapMm: 0.5 })).toEqual(['off', 'look']);
    expect(judged({ seam, leanDeg, gapMm: 0.79 })).toEqual(['off', 'look']);
    expect(judged({ seam, leanDeg, gapMm: 0.8 })).toEqual(['off', 'fix']);
  });

  it.each([-60, -30, -11, 11, 30, 60])('that ends flush and leans by %d° is one line cut in two', (leanDeg) => {
    expect(judged({ seam, leanDeg, gapMm: 0.5 })).toEqual(['off', 'fix']);
    expect(judged({ seam, leanDeg, gapMm: 0.3 })).toEqual(['off', 'look']);
    // Where it bends as well it is no one line.
    expect(judged({ seam, leanDeg, gapMm: 0.5, kinkDeg: 25 })).toEqual(['off', 'look']);
  });

  it('that runs on past the edge is one line however it leans', () => {
    for (const leanDeg of [0, 30]) expect(judged({ seam, leanDeg, gapMm: 0.5, runsOn: true })).toEqual(['off', 'fix']);
  });

  it('meets under a gap that nobody sees, and bends from its limit on unless it is carried', () => {
    expect(judged({ seam, leanDeg: 0, gapMm: 0.19 })).toEqual(['meets', null]);
    expect(judged({ seam, leanDeg: 0, gapMm: 0.19, kinkDeg: 5.9 })).toEqual(['meets', null]);
    expect(judged({ seam, leanDeg: 0, gapMm: 0.19, kinkDeg: 6 })).toEqual(['bends', 'look']);
    expect(judged({ seam, leanDeg: 0, gapMm: 0.19, kinkDeg: 6, carried: true })).toEqual(['bends', null]);
    expect(judged({ seam, leanDeg: 0, gapMm: 0.19, kinkDeg: 11.9, widthMm: 5 })).toEqual(['meets', null]);
    expect(judged({ seam, leanDeg: 0, gapMm: 0.19, kinkDeg: 12, widthMm: 5 })).toEqual(['bends', 'look']);
  });
});
