import type { Point } from '../geometry/types.js';
import type { Lattice } from '../repeat/types.js';
import { indexSteps } from './step-index.js';
import type { LaidPlacement } from './placements.js';
import type { CheckMark, GroundLine, MarkingStep } from './plan-types.js';

/**
 * The line along the left side of the column at the origin (its zero is the origin), and where the corner dot of every `every`-th placement of each
 * line of the repeat belongs, measured from that one zero. null where there is no placement.
 */
export function groundLine(
  placements: readonly LaidPlacement[],
  lattice: Lattice,
  { origin, every, dot }: { origin: Point; every: number; dot: string },
): GroundLine | null {
  if (placements.length === 0) return null;
  const brick = lattice.repeat.kind === 'brick';
  let [from, to] = [Infinity, -Infinity];
  const marks: CheckMark[] = [];
  for (const { id, column, row, step, field } of placements) {
    if (brick || step.i === 0) {
      from = Math.min(from, field.y0);
      to = Math.max(to, field.y1);
    }
    // A brick is marked in every fifth row; other repeats at every fifth placement of a column.
    if ((row - 1) % every !== 0 || (brick && column !== 1)) continue;
    const at = { x: field.x0, y: field.y0 };
    marks.push({ id, at, acrossMm: at.x - origin.x, alongMm: at.y - origin.y });
  }
  return { xMm: origin.x, fromMm: from, toMm: to, zero: origin, dot, every, marks };
}

/**
 * The walk that marks dots before anything is printed: down the column at the origin, then each column from its neighbour; in a brick down the
 * first of each row, then along the rows. Every placement is stepped dot on dot from one that is marked already.
 */
export function markingWalk(placements: readonly LaidPlacement[], lattice: Lattice): MarkingStep[] {
  if (placements.length === 0) return [];
  const index = indexSteps(placements.map((p) => p.step));
  const id = (i: number, j: number): string | null => {
    const k = index.at(i, j);
    return k < 0 ? null : placements[k].id;
  };
  if (lattice.repeat.kind === 'brick') return markingRows(placements, id);
  const right = placements.filter(({ step }) => step.i >= 0);
  const left = placements.filter(({ step }) => step.i < 0);
  // To the left of the origin the nearest column comes first.
  const nearestFirst = left.map((p, k) => [p, k] as const).sort(([a, k], [b, l]) => b.step.i - a.step.i || k - l);
  const steps: MarkingStep[] = [];
  for (const p of [...right, ...nearestFirst.map(([q]) => q)]) {
    const { i, j } = p.step;
    const towards = i > 0 ? -1 : 1;
    const beside = i === 0 ? null : id(i + towards, j);
    steps.push({ id: p.id, from: beside ?? id(i, j - 1) ?? (i === 0 ? null : besideOf(placements, index, p)) });
  }
  return steps;
}

/** For a first placement that has none straight beside it: any neighbour in the column nearer to the origin. */
function besideOf(
  placements: readonly LaidPlacement[],
  index: { readonly at: (i: number, j: number) => number },
  { step: { i, j } }: LaidPlacement,
): string | null {
  const towards = i > 0 ? -1 : 1;
  for (const shift of [1, -1]) {
    const k = index.at(i + towards, j + shift);
    if (k >= 0) return placements[k].id;
  }
  return null;
}

function markingRows(
  placements: readonly LaidPlacement[],
  id: (i: number, j: number) => string | null,
): MarkingStep[] {
  const firsts = placements.filter((p) => p.column === 1);
  const others = placements.filter((p) => p.column !== 1);
  const down = firsts.map(({ id: own, step: { i, j } }): MarkingStep => {
    const from = [0, 1, -1].map((shift) => id(i + shift, j - 1)).find((above) => above !== null);
    return { id: own, from: from ?? null };
  });
  return [...down, ...others.map(({ id: own, step: { i, j } }) => ({ id: own, from: id(i - 1, j) }))];
}
