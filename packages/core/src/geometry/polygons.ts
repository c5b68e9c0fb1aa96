import { Clipper64, ClipType, FillRule as EngineRule, PathType, type PolyPath64, PolyTree64 } from 'clipper2-ts';
import type { GridPath } from './grid.js';
import type { CurveMarks } from './marks.js';
import type { FillRule } from './types.js';

/** One connected area on the grid: an outer ring (positive area) and its holes (negative areas). */
export interface GridArea {
  readonly outer: GridPath;
  readonly holes: readonly GridPath[];
}

/** `xor` keeps what lies in one of two areas and not in both. */
export type Operation = 'union' | 'intersection' | 'difference' | 'xor';

const ENGINE_OPERATION = {
  union: ClipType.Union,
  intersection: ClipType.Intersection,
  difference: ClipType.Difference,
  xor: ClipType.Xor,
} as const;

/** The engine swallows its own errors and only says that it failed: never take half a result for a whole one. */
const ENGINE_FAILED = 'the polygon engine gave up on an operation';

/**
 * Combines areas given as rings under one fill rule. The result's rings do not cross: outer ones have a positive area, holes a
 * negative one (nonzero and even-odd read them alike). New corners are marked in `book`. Rings of fewer than three corners are left out.
 */
export function combine(
  operation: Operation,
  subject: readonly GridPath[],
  clip: readonly GridPath[],
  { book, rule = 'nonzero' }: { book: CurveMarks; rule?: FillRule },
): GridPath[] {
  const solution: GridPath[] = [];
  const done = engineWith(subject, clip, book).execute(ENGINE_OPERATION[operation], engineRule(rule), solution);
  if (!done) throw new Error(ENGINE_FAILED);
  return solution;
}

/** Union of rings, nested: every outer ring with its own holes. Areas that touch in a point only stay apart. */
export function unionAreas(paths: readonly GridPath[], options: { book: CurveMarks; rule?: FillRule }): GridArea[] {
  return combineAreas('union', paths, [], options);
}

/** As `combine`, nested: every outer ring with its own holes. Areas that touch in a point only stay apart. */
export function combineAreas(
  operation: Operation,
  subject: readonly GridPath[],
  clip: readonly GridPath[],
  { book, rule = 'nonzero' }: { book: CurveMarks; rule?: FillRule },
): GridArea[] {
  const tree = new PolyTree64();
  const done = engineWith(subject, clip, book).execute(ENGINE_OPERATION[operation], engineRule(rule), tree);
  if (!done) throw new Error(ENGINE_FAILED);
  const areas: GridArea[] = [];
  collectAreas(tree, areas);
  return areas;
}

/** The rings of areas in one list. */
export function areaPaths(areas: readonly GridArea[]): GridPath[] {
  return areas.flatMap((a) => [a.outer, ...a.holes]);
}

/** The rings of areas without their marks, for work in which only areas count. */
export function unmarkedPaths(areas: readonly GridArea[]): GridPath[] {
  return areaPaths(areas).map((ring) => ring.map(({ x, y }) => ({ x, y })));
}

function engineWith(subject: readonly GridPath[], clip: readonly GridPath[], book: CurveMarks): Clipper64 {
  const engine = new Clipper64();
  engine.zCallback = book.markCut;
  // The engine throws on empty rings, so only rings with an inside are handed over.
  const subjects = subject.filter(hasInside);
  if (subjects.length > 0) engine.addPaths(subjects, PathType.Subject);
  const clips = clip.filter(hasInside);
  if (clips.length > 0) engine.addPaths(clips, PathType.Clip);
  return engine;
}

function hasInside(path: GridPath): boolean {
  return path.length >= 3;
}

function engineRule(rule: FillRule): EngineRule {
  return rule === 'evenodd' ? EngineRule.EvenOdd : EngineRule.NonZero;
}

function collectAreas(node: PolyPath64, into: GridArea[]): void {
  for (let k = 0; k < node.count; k++) {
    const outer = node.child(k);
    const holes: GridPath[] = [];
    for (let h = 0; h < outer.count; h++) {
      const hole = outer.child(h);
      if (hole.poly) holes.push(hole.poly);
      collectAreas(hole, into);
    }
    if (outer.poly) into.push({ outer: outer.poly, holes });
  }
}
