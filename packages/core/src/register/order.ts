import { leastErrors } from './flat.js';
import { ENDS, forSpans, spanBetween } from './spans.js';
import type { Corner, OrderCheck, SixDistances, Span, SquareTargets } from './types.js';

/** Another order must fit this many times better before holes are said to be misnamed, where none fits within the errors. */
const MUCH_BETTER = 5;

/** Width and height are exchanged only if both then fit the job this many times better. */
const TURNED_BETTER = 5;

/** And only if both are then within this share of the job's: paper that is soaked moves by less, and a sheet farther off is another sheet. */
const TURNED_NEAR = 0.05;

const IN_ORDER: OrderCheck = { inOrder: true, exchanged: null, from: forSpans((span) => span), turned: false };

/** Exchanging the names of the two right, or the two lower, holes turns a pair of sides into the diagonals. */
const EXCHANGES: readonly (readonly [Corner, Corner])[] = [
  ['lowerRight', 'lowerLeft'],
  ['upperRight', 'lowerRight'],
];

/**
 * Whether the holes were named in order around the sheet. Of the three ways to pair four holes, the diagonals are the pair that
 * crosses; they are longer together than either pair of opposite sides (by the triangles at their crossing). Where the six distances
 * fit a flat sheet only with a pair of "sides" as diagonals, names were exchanged: sides 24, 30, 24, 30 with "diagonals" 18, 18
 * have equal sides and equal diagonals, and still are a sheet of 24 by 18 whose lower holes changed names. Handedness can't be told from distances.
 */
export function checkOrder(
  distances: SixDistances,
  errorsMm: SixDistances,
  targets: SquareTargets | null = null,
): OrderCheck {
  const given = leastErrors(distances, errorsMm);
  let order = IN_ORDER;
  if (given > 1) {
    let best = given / MUCH_BETTER;
    for (const exchanged of EXCHANGES) {
      const from = exchange(exchanged);
      const errors = leastErrors(take(distances, from), take(errorsMm, from));
      const renamed = take(distances, from);
      if (!diagonalsLongest(renamed) || !(errors < best || errors <= 1)) continue;
      best = errors;
      order = { inOrder: false, exchanged, from, turned: false };
    }
  }
  return { ...order, turned: isTurned(take(distances, order.from), targets) };
}

/** Values of the distances under their true names. */
export function take<T>(values: Readonly<Record<Span, T>>, from: Readonly<Record<Span, Span>>): Record<Span, T> {
  return forSpans((span) => values[from[span]]);
}

function exchange([one, other]: readonly [Corner, Corner]): Readonly<Record<Span, Span>> {
  const name = (corner: Corner): Corner => (corner === one ? other : corner === other ? one : corner);
  return forSpans((span) => spanBetween(name(ENDS[span][0]), name(ENDS[span][1])));
}

function diagonalsLongest({ top, right, bottom, left, falling, rising }: SixDistances): boolean {
  return falling + rising > top + bottom && falling + rising > left + right;
}

function isTurned(distances: SixDistances, targets: SquareTargets | null): boolean {
  if (targets === null) return false;
  const width = (distances.top + distances.bottom) / 2;
  const height = (distances.left + distances.right) / 2;
  const off = Math.hypot(width - targets.widthMm, height - targets.heightMm);
  const [wide, high] = [Math.abs(width - targets.heightMm), Math.abs(height - targets.widthMm)];
  const near = wide <= TURNED_NEAR * targets.heightMm && high <= TURNED_NEAR * targets.widthMm;
  return near && off > TURNED_BETTER * Math.hypot(wide, high);
}
