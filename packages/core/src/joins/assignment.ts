import { wrapSigned } from './seam.js';

/** Two places that belong together: their indices in the lists given, and partner minus own, mm. */
export interface PlacePair {
  readonly own: number;
  readonly partner: number;
  readonly offsetMm: number;
}

export interface AssignmentOptions {
  /** Never pair places further apart than this, mm. */
  readonly reachMm: number;
  /** Length of the circle that the places lie on, mm; null on a line. */
  readonly periodMm: number | null;
}

/** Sums of offsets that differ by less than this (mm) are the same: far below any drawing, far above rounding. */
const SAME_SUM_MM = 1e-9;

interface Solution {
  /** Index pairs into the sorted lists. */
  readonly pairs: readonly (readonly [number, number])[];
  readonly sum: number;
}

const SKIP_OWN = 0;
const SKIP_PARTNER = 1;
const PAIR = 2;

/**
 * Pairs places of two lists in keeping with their order along a line or round a circle: as many pairs as possible, and
 * among those choices the one with the least sum of distances. Exact. Places need not be sorted; on a circle they may lie outside
 * `[0, period)`, and no pair spans more than half of it. Pairs come in the order of the own list's places.
 *
 * Costs O(n k), where k is the number of places within reach of one. On a circle without any empty stretch longer than the
 * reach it costs that once for every place within reach of the quietest spot.
 */
export function pairInOrder(
  own: readonly number[],
  partner: readonly number[],
  options: AssignmentOptions,
): readonly PlacePair[] {
  const { periodMm } = options;
  const reach = periodMm === null ? options.reachMm : Math.min(options.reachMm, periodMm / 2);
  const cut = periodMm === null ? 0 : quietPlace(own, partner, reach, periodMm);
  const a = sorted(own, cut, periodMm);
  const b = sorted(partner, cut, periodMm);
  let best = onLine(a.places, b.places, reach);
  if (periodMm !== null && !isIdeal(best, a.places, b.places, periodMm)) {
    best = acrossCut(a.places, b.places, reach, periodMm, best);
  }
  return [...best.pairs]
    .sort((p, q) => p[0] - q[0])
    .map(([i, j]) => {
      const offset = b.places[j] - a.places[i];
      return {
        own: a.index[i],
        partner: b.index[j],
        offsetMm: periodMm === null ? offset : wrapSigned(offset, periodMm),
      };
    });
}

function sorted(places: readonly number[], cut: number, period: number | null): { places: number[]; index: number[] } {
  const moved = places.map((p) => (period === null ? p : p - cut - period * Math.floor((p - cut) / period)));
  const index = moved.map((_, k) => k).sort((p, q) => moved[p] - moved[q] || p - q);
  return { places: index.map((k) => moved[k]), index };
}

/** The place on the circle that the fewest pairs within reach lie across: where to cut it into a line. */
function quietPlace(own: readonly number[], partner: readonly number[], reach: number, period: number): number {
  const marks = [...own, ...partner].map((p) => p - period * Math.floor(p / period)).sort((p, q) => p - q);
  if (marks.length === 0) return 0;
  let best = 0;
  let least = Infinity;
  // Counting pairs as (ends within reach before the gap) × (ends within reach after it) bounds them well enough to choose by.
  let before = 0;
  let after = 0;
  const n = marks.length;
  const at = (k: number) => marks[k % n] + period * Math.floor(k / n);
  for (let k = 0; k < n; k++) {
    const middle = (at(k) + at(k + 1)) / 2 + period;
    while (before < k + n && at(before) < middle - reach) before++;
    after = Math.max(after, k + n + 1);
    while (after < k + 2 * n && at(after) <= middle + reach) after++;
    const across = (k + n + 1 - before) * (after - (k + n + 1));
    const empty = at(k + 1) - at(k) > reach;
    if (empty) return middle - period;
    if (across < least) {
      least = across;
      best = middle - period;
    }
  }
  return best;
}

/** The exact order-keeping assignment of two ascending lists: dynamic programming over the places within reach only. */
function onLine(a: readonly number[], b: readonly number[], reach: number): Solution {
  const low: number[] = [];
  const counts: Int32Array[] = [];
  const sums: Float64Array[] = [];
  const choices: Uint8Array[] = [];
  let from = 0;
  let to = 0;
  // Row i holds, for every p from low[i] on, the best of the first i + 1 own places and the first p partner places.
  let rowLow = 0;
  let rowCount = new Int32Array(1);
  let rowSum = new Float64Array(1);
  for (let i = 0; i < a.length; i++) {
    while (from < b.length && b[from] < a[i] - reach) from++;
    to = Math.max(to, from);
    while (to < b.length && b[to] <= a[i] + reach) to++;
    const size = to - from + 1;
    const count = new Int32Array(size);
    const sum = new Float64Array(size);
    const choice = new Uint8Array(size);
    for (let k = 0; k < size; k++) {
      const p = from + k;
      const above = Math.min(p - rowLow, rowCount.length - 1);
      let c = rowCount[above];
      let s = rowSum[above];
      let pick = SKIP_OWN;
      if (k > 0) {
        if (better(count[k - 1], sum[k - 1], c, s)) {
          c = count[k - 1];
          s = sum[k - 1];
          pick = SKIP_PARTNER;
        }
        const corner = Math.min(p - 1 - rowLow, rowCount.length - 1);
        const paired = rowSum[corner] + Math.abs(a[i] - b[p - 1]);
        if (better(rowCount[corner] + 1, paired, c, s)) {
          c = rowCount[corner] + 1;
          s = paired;
          pick = PAIR;
        }
      }
      count[k] = c;
      sum[k] = s;
      choice[k] = pick;
    }
    low.push(from);
    counts.push(count);
    sums.push(sum);
    choices.push(choice);
    rowLow = from;
    rowCount = count;
    rowSum = sum;
  }
  const pairs: [number, number][] = [];
  let p = b.length;
  for (let i = a.length - 1; i >= 0; ) {
    const k = Math.min(p - low[i], choices[i].length - 1);
    p = low[i] + k;
    const pick = choices[i][k];
    if (pick === PAIR) pairs.push([i, p - 1]);
    if (pick !== SKIP_OWN) p--;
    if (pick !== SKIP_PARTNER) i--;
  }
  return { pairs, sum: rowSum[rowSum.length - 1] };
}

function better(count: number, sum: number, thanCount: number, thanSum: number): boolean {
  return count > thanCount || (count === thanCount && sum < thanSum - SAME_SUM_MM);
}

/** Whether no assignment can do better: every place of the shorter list has the nearest partner there is. */
function isIdeal(solution: Solution, a: readonly number[], b: readonly number[], period: number): boolean {
  const [few, many] = a.length <= b.length ? [a, b] : [b, a];
  if (solution.pairs.length < few.length) return false;
  if (few.length === 0) return true;
  let bound = 0;
  let k = 0;
  for (const place of few) {
    while (k + 1 < many.length && many[k + 1] <= place) k++;
    let nearest = Infinity;
    for (const other of [many[k], many[(k + 1) % many.length], many[0], many[many.length - 1]]) {
      nearest = Math.min(nearest, Math.abs(wrapSigned(other - place, period)));
    }
    bound += nearest;
  }
  return solution.sum <= bound + SAME_SUM_MM;
}

/**
 * Round a circle the partners of the own places, in order, are the partner list begun somewhere: each beginning is an assignment on
 * a line. Only beginnings among the places within reach of the cut differ from the one at the cut.
 */
function acrossCut(
  a: readonly number[],
  b: readonly number[],
  reach: number,
  period: number,
  uncut: Solution,
): Solution {
  if (a.length === 0 || b.length === 0) return uncut;
  let best = uncut;
  function begin(first: number, turned: readonly number[]): void {
    const found = onLine(a, turned, reach);
    if (!better(found.pairs.length, found.sum, best.pairs.length, best.sum)) return;
    best = { pairs: found.pairs.map(([i, j]) => [i, (first + j) % b.length] as const), sum: found.sum };
  }
  for (let first = 1; first <= b.length && b[first - 1] + period - a[a.length - 1] <= reach; first++) {
    begin(first, [...b.slice(first), ...b.slice(0, first).map((place) => place + period)]);
  }
  for (let first = b.length - 1; first >= 0 && b[first] - period - a[0] >= -reach; first--) {
    begin(first, [...b.slice(first).map((place) => place - period), ...b.slice(0, first)]);
  }
  return best;
}
