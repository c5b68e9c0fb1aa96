import type { Lattice } from '../repeat/types.js';
import type { LaidPlacement } from './placements.js';
import type { MarkingStep } from './plan-types.js';

/**
 * The walk that marks dots before anything is printed: along the line of the repeat at the origin (a column; a row of a brick), then each line from
 * its neighbour, those to the right first. Every placement is stepped dot on dot from one that is marked already, by the steps of `sheetSteps`: a
 * drop above one half the other way. One that has no neighbour to be stepped from has `from: null`: it is laid by its check mark.
 */
export function markingWalk(placements: readonly LaidPlacement[], lattice: Lattice): MarkingStep[] {
  const lines = linesOf(placements, lattice);
  const { p, q } = lattice.repeat.step;
  // Which way the step to the next line goes: along, or back by a whole field.
  const back = 2 * p > q ? 1 : 0;
  const ahead = [...lines.keys()].filter((line) => line >= 0).sort((a, b) => a - b);
  const behind = [...lines.keys()].filter((line) => line < 0).sort((a, b) => b - a);
  const steps: MarkingStep[] = [];
  for (const line of [...ahead, ...behind]) {
    const own = lines.get(line) as LinePlacements;
    const towards = line > 0 ? 1 : -1;
    const neighbour = line === 0 ? null : (lines.get(line - towards) ?? null);
    const from = (n: number, shift: number): string | null => neighbour?.ids.get(n + shift) ?? null;
    const beside = (n: number): string | null => from(n, towards * back);
    const otherWay = (n: number): string | null => (p === 0 ? null : from(n, towards * (1 - back)));
    steps.push(...lineSteps(own, beside, otherWay));
  }
  return steps;
}

/** The placements of one line of the repeat, by their place along it. */
interface LinePlacements {
  readonly ids: ReadonlyMap<number, string>;
  readonly from: number;
  readonly to: number;
}

function linesOf(placements: readonly LaidPlacement[], lattice: Lattice): Map<number, LinePlacements> {
  const brick = lattice.repeat.kind === 'brick';
  const ids = new Map<number, Map<number, string>>();
  for (const { id, step } of placements) {
    const [line, n] = brick ? [step.j, step.i] : [step.i, step.j];
    const own = ids.get(line);
    if (own) own.set(n, id);
    else ids.set(line, new Map([[n, id]]));
  }
  const lines = new Map<number, LinePlacements>();
  for (const [line, own] of ids) {
    let [from, to] = [Infinity, -Infinity];
    for (const n of own.keys()) {
      from = Math.min(from, n);
      to = Math.max(to, n);
    }
    lines.set(line, { ids: own, from, to });
  }
  return lines;
}

/**
 * From the first placement that can be stepped from the neighbour on to the end, then from it back to the start. Where none can, the first that can be
 * stepped `otherWay` begins.
 */
function lineSteps(
  { ids, from, to }: LinePlacements,
  beside: (n: number) => string | null,
  otherWay: (n: number) => string | null,
): MarkingStep[] {
  const numbers = [...ids.keys()];
  const first = (can: (n: number) => boolean): number =>
    numbers.reduce((least, n) => (n < least && can(n) ? n : least), Infinity);
  const starts = [first((n) => beside(n) !== null), first((n) => otherWay(n) !== null), ids.has(0) ? 0 : from];
  const seed = starts.find((n) => n < Infinity) as number;
  const steps: MarkingStep[] = [];
  const mark = (n: number, before: number): void => {
    const id = ids.get(n);
    if (id === undefined) return;
    steps.push({ id, from: beside(n) ?? (n === seed ? otherWay(n) : (ids.get(before) ?? null)) });
  };
  for (let n = seed; n <= to; n++) mark(n, n - 1);
  for (let n = seed - 1; n >= from; n--) mark(n, n + 1);
  return steps;
}
