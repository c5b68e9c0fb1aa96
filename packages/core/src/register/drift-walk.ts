import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { LatticeStep } from '../repeat/types.js';
import { linePlace, slidBy, stepAt } from './drift-model.js';
import { composeMotions, type RigidMotion, repeatMotion, STAYS } from './drift-motion.js';
import type { DriftedPlacement, DriftModel, DriftStep } from './drift-types.js';

/** The same step made `count` times (below zero: backwards). */
export interface Moves {
  readonly kind: 'within' | 'between';
  readonly count: number;
}

/** The placement that another one was stepped from, and by which steps. */
export interface LaidFrom {
  readonly line: number;
  readonly pos: number;
  readonly moves: readonly Moves[];
}

/** A placement as the walk lays it. */
export interface WalkedPlacement {
  readonly line: number;
  readonly pos: number;
  readonly motion: RigidMotion;
  /** Null for the first of all. */
  readonly from: LaidFrom | null;
}

/** Placements by line and place in the line. */
export type Walk = ReadonlyMap<number, ReadonlyMap<number, WalkedPlacement>>;

/** The placements of a cloth of `down` × `across`: every line starts with its first placement that is not above the first line's start. */
export function gridSteps(model: DriftModel, down: number, across: number): LatticeStep[] {
  const [count, length] = model.lines === 'columns' ? [across, down] : [down, across];
  return Array.from({ length: count }, (_, line) =>
    Array.from({ length }, (_, k) => stepAt(model.lines, line, k - slidBy(model.sheet, line))),
  ).flat();
}

/** Column and row of a lattice step, as `DriftedPlacement` counts them. */
export function columnRow({ lines, sheet }: DriftModel, { i, j }: LatticeStep): { column: number; row: number } {
  return lines === 'columns' ? { column: i, row: j + slidBy(sheet, i) } : { column: i + slidBy(sheet, j), row: j };
}

/**
 * Lays placements dot on dot. The first of the first line lies at its job's place, its top side as the holes' frame has it; the others of that line are
 * stepped from one to the next. Of each later line, every placement whose neighbour in the line before (one step away) is there is stepped from it; the rest
 * (at the ends of a drop's columns) are stepped within their line from the nearest that was. A place that is left out is stepped over. A line none of whose neighbours
 * is there starts from the nearest place of the line before. Steps that a cloth needs and the model lacks throw a `RangeError`.
 */
export function walkPlacements(model: DriftModel, steps: readonly LatticeStep[]): Walk {
  const lines = new Map<number, number[]>();
  for (const step of steps) {
    const { line, pos } = linePlace(model.lines, step);
    const found = lines.get(line);
    if (found === undefined) lines.set(line, [pos]);
    else found.push(pos);
  }
  const walk = new Map<number, ReadonlyMap<number, WalkedPlacement>>();
  let before: { line: number; laid: ReadonlyMap<number, WalkedPlacement> } | null = null;
  for (const line of [...lines.keys()].sort((a, b) => a - b)) {
    const places = [...new Set(lines.get(line))].sort((a, b) => a - b);
    const laid = new Map<number, WalkedPlacement>();
    if (before === null) layFirst(model, { line, places, laid });
    else layFrom(model, { line, places, laid, before });
    layRest(model, { line, places, laid });
    walk.set(line, laid);
    before = { line, laid };
  }
  return walk;
}

/** The same as a list, line by line. */
export function walkedList(model: DriftModel, walk: Walk): DriftedPlacement[] {
  return [...walk.values()].flatMap((line) =>
    [...line.values()]
      .sort((a, b) => a.pos - b.pos)
      .map(({ line: l, pos, motion }) => {
        const step = stepAt(model.lines, l, pos);
        return { step, ...columnRow(model, step), motion };
      }),
  );
}

interface Line {
  readonly line: number;
  readonly places: readonly number[];
  readonly laid: Map<number, WalkedPlacement>;
}

function layFirst(model: DriftModel, { line, places, laid }: Line): void {
  const { repeat, widthMm, heightMm } = model.sheet;
  const [pos] = places;
  const at = latticePoint(makeLattice(repeat, widthMm, heightMm), stepAt(model.lines, line, pos));
  laid.set(pos, { line, pos, motion: { ...STAYS, ...at }, from: null });
}

function layFrom(
  model: DriftModel,
  {
    line,
    places,
    laid,
    before,
  }: Line & { readonly before: { line: number; laid: ReadonlyMap<number, WalkedPlacement> } },
): void {
  const step = needed(model.between, 'from line to line');
  const count = line - before.line;
  const slide = count * linePlace(model.lines, step.by).pos;
  const motion = repeatMotion(step.motion, count);
  for (const pos of places) {
    const from = before.laid.get(pos - slide);
    if (from === undefined) continue;
    laid.set(pos, {
      line,
      pos,
      motion: composeMotions(from.motion, motion),
      from: { line: from.line, pos: from.pos, moves: [{ kind: 'between', count }] },
    });
  }
  if (laid.size > 0) return;
  // No neighbour is there: go on along the line before to where one would be.
  const known = [...before.laid.keys()].sort((a, b) => a - b);
  const pos = places.reduce((best, p) => (gap(known, p - slide) < gap(known, best - slide) ? p : best));
  const near = known.reduce((best, p) => (Math.abs(p - pos + slide) < Math.abs(best - pos + slide) ? p : best));
  const ahead = pos - slide - near;
  const along = repeatMotion(needed(model.within, 'within a line').motion, ahead);
  const from = before.laid.get(near) as WalkedPlacement;
  laid.set(pos, {
    line,
    pos,
    motion: composeMotions(composeMotions(from.motion, along), motion),
    from: {
      line: from.line,
      pos: from.pos,
      moves: [
        { kind: 'within', count: ahead },
        { kind: 'between', count },
      ],
    },
  });
}

/** Steps within the line from the nearest placement that lies already (of equals the one before). */
function layRest(model: DriftModel, { line, places, laid }: Line): void {
  const roots = [...laid.keys()].sort((a, b) => a - b);
  let k = 0;
  for (const pos of places) {
    if (laid.has(pos)) continue;
    while (k + 1 < roots.length && Math.abs(roots[k + 1] - pos) < Math.abs(roots[k] - pos)) k++;
    const from = laid.get(roots[k]) as WalkedPlacement;
    const count = pos - from.pos;
    const motion = composeMotions(from.motion, repeatMotion(needed(model.within, 'within a line').motion, count));
    laid.set(pos, { line, pos, motion, from: { line, pos: from.pos, moves: [{ kind: 'within', count }] } });
  }
}

/** `known` ends where the line ends: how far outside it a place lies. */
function gap(known: readonly number[], pos: number): number {
  return Math.min(...[known[0], known[known.length - 1]].map((end) => Math.abs(end - pos)));
}

function needed(step: DriftStep | null, what: string): DriftStep {
  if (step === null) throw new RangeError(`got placements that need a step ${what}, expected a model with that step`);
  return step;
}
