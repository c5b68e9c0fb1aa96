import { joinBoxes } from './boxes.js';
import { clusterBoxes } from './cluster.js';
import { boxPath, type GridPath, pathsBox } from './grid.js';
import type { CurveMarks } from './marks.js';
import { combine, type GridArea, unionAreas } from './polygons.js';
import type { Box } from './types.js';

/** An area taken as one in a union: its rings do not cross, and `box` holds them. */
export interface UnionPart {
  readonly paths: readonly GridPath[];
  readonly box: Box;
}

/**
 * Corners above which one sweep gets slower than two halves: the engine's cost grows like n^1.45, so a cluster above this is halved
 * across its longer side.
 */
const SWEEP_CORNERS = 12_000;

/** A straight line, in grid units, along which a union was cut in two. */
export interface CutLine {
  readonly axis: 'x' | 'y';
  readonly at: number;
}

/**
 * Union of many parts as connected pieces, each cluster of touching boxes on its own. Large clusters are cut along straight lines
 * (`cuts`), so pieces of one connected area may abut along such a line; with `whole` they never are.
 */
export function unionPieces(
  parts: readonly UnionPart[],
  { book, whole = false }: { book: CurveMarks; whole?: boolean },
): { areas: GridArea[]; cuts: CutLine[] } {
  const out: { areas: GridArea[]; cuts: CutLine[] } = { areas: [], cuts: [] };
  unionGroups(parts, book, whole, out);
  return out;
}

type Collected = { areas: GridArea[]; cuts: CutLine[] };

function unionGroups(parts: readonly UnionPart[], book: CurveMarks, whole: boolean, out: Collected): void {
  for (const group of clusterBoxes(parts.map((p) => p.box))) {
    unionCluster(
      group.map((k) => parts[k]),
      book,
      whole,
      out,
    );
  }
}

function unionCluster(parts: readonly UnionPart[], book: CurveMarks, whole: boolean, out: Collected): void {
  const corners = parts.reduce((sum, p) => sum + p.paths.reduce((n, path) => n + path.length, 0), 0);
  if (whole || corners <= SWEEP_CORNERS || parts.length < 8) {
    out.areas.push(
      ...unionAreas(
        parts.flatMap((p) => p.paths),
        { book },
      ),
    );
    return;
  }
  const box = parts.map((p) => p.box).reduce(joinBoxes);
  const wide = box.x1 - box.x0 >= box.y1 - box.y0;
  const at = medianOf(parts.map((p) => (wide ? p.box.x0 + p.box.x1 : p.box.y0 + p.box.y1) / 2));
  const low: UnionPart[] = [];
  const high: UnionPart[] = [];
  for (const part of parts) {
    const [from, to] = wide ? [part.box.x0, part.box.x1] : [part.box.y0, part.box.y1];
    if (to <= at) low.push(part);
    else if (from >= at) high.push(part);
    else {
      pushClipped(part, wide ? { ...part.box, x1: at } : { ...part.box, y1: at }, book, low);
      pushClipped(part, wide ? { ...part.box, x0: at } : { ...part.box, y0: at }, book, high);
    }
  }
  if (low.length >= parts.length || high.length >= parts.length) {
    // Everything lies across the line: halving gains nothing.
    out.areas.push(
      ...unionAreas(
        parts.flatMap((p) => p.paths),
        { book },
      ),
    );
    return;
  }
  out.cuts.push({ axis: wide ? 'x' : 'y', at });
  unionGroups(low, book, whole, out);
  unionGroups(high, book, whole, out);
}

function pushClipped(part: UnionPart, box: Box, book: CurveMarks, into: UnionPart[]): void {
  const paths = clipToBox(part.paths, box, book);
  const inner = pathsBox(paths);
  if (inner) into.push({ paths, box: inner });
}

/** What of an area lies in a box; new corners are marked. */
export function clipToBox(paths: readonly GridPath[], box: Box, book: CurveMarks): GridPath[] {
  const own = pathsBox(paths);
  if (!own || own.x1 <= box.x0 || own.x0 >= box.x1 || own.y1 <= box.y0 || own.y0 >= box.y1) return [];
  if (own.x0 >= box.x0 && own.x1 <= box.x1 && own.y0 >= box.y0 && own.y1 <= box.y1) return [...paths];
  return combine('intersection', paths, [boxPath(box)], { book });
}

function medianOf(values: number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  return Math.round(sorted[sorted.length >> 1]);
}
