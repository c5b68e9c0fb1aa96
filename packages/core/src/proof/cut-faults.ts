import { boxIndex } from '../geometry/cluster.js';
import { flattenCubic } from '../geometry/flatten.js';
import { distance } from '../geometry/points.js';
import { segmentLength } from '../geometry/segments.js';
import type { Box, Point } from '../geometry/types.js';
import { SEAM_SNAP_MM } from '../repeat/cell.js';
import type { CutSheet } from '../stencil/types.js';
import { cutLines, cutRuns } from './cut-runs.js';
import type { CutContour } from './moved-cut.js';

/** Outlines are compared as polygons this near to their curves, mm: a tenth of a knife's accuracy. */
const LOOK_MM = 0.02;
/** Two ends on a seam or a stop nearer than this leave no paper or no opening between them, mm: under it no knife goes. */
const LEAST_MM = 0.1;
/** Outlines that end on one another meet within this of their ends, mm. */
const END_MM = 0.05;

/** What is wrong with a moved run: it crosses the outline of an opening (its own too), closes its opening, or leaves the held margin. */
export interface CutFault {
  readonly kind: 'crosses' | 'closes' | 'leaves';
  /** Place of the run's contour in the list, and of the run in it. */
  readonly contour: number;
  readonly run: number;
  /** Sheet mm. */
  readonly at: Point;
  /** The opening whose outline it comes upon. */
  readonly opening: number;
}

type Path = readonly Point[];
interface Line {
  readonly opening: number;
  readonly path: Path;
  /** Place in the list of runs; null for outlines that never move. */
  readonly run: string | null;
}

/** Finds what moving the runs does wrong. `moved` holds the coordinates of every run of every contour; those that are the plan's own did not move. */
export function cutFaults(
  sheet: CutSheet,
  contours: readonly CutContour[],
  moved: readonly (readonly Float64Array[])[],
): CutFault[] {
  const isMoved = (c: number, r: number): boolean => moved[c][r] !== contours[c].runs[r].run.coords;
  return [
    ...endFaults(sheet, contours, moved, isMoved),
    ...marginFaults(sheet, contours, moved, isMoved),
    ...crossingFaults(sheet, contours, moved, isMoved),
  ];
}

/** Ends along a seam that are out of their order, or past the seam's own end; stops whose two ends changed places. */
function endFaults(
  { field, lapMm }: CutSheet,
  contours: readonly CutContour[],
  moved: readonly (readonly Float64Array[])[],
  isMoved: (c: number, r: number) => boolean,
): CutFault[] {
  const faults: CutFault[] = [];
  const seams = { right: [] as SeamEnd[], bottom: [] as SeamEnd[] };
  contours.forEach(({ runs, opening, chains }, c) => {
    runs.forEach(({ run }, r) => {
      const coords = moved[c][r];
      for (const [end, at] of [
        [run.from, { x: coords[0], y: coords[1] }],
        [run.to, { x: coords[coords.length - 2], y: coords[coords.length - 1] }],
      ] as const) {
        if (end.line !== 'right' && end.line !== 'bottom') continue;
        const key = end.line === 'right' ? 'y' : 'x';
        seams[end.line].push({ contour: c, run: r, opening, chain: end.chain, was: end.at[key], is: at[key], at });
        const [low, high] = key === 'y' ? [field.y0 - lapMm, field.y1] : [field.x0 - lapMm, field.x1];
        if (isMoved(c, r) && (at[key] < low || at[key] > high)) {
          faults.push({ kind: 'leaves', contour: c, run: r, at, opening });
        }
      }
    });
    chains.forEach(({ nodes }, r) => {
      const next = (r + 1) % runs.length;
      if (runs[r].run.to.line !== 'stop' || runs[next].run.from.line !== 'stop') return;
      const [was, is] = [
        { from: nodes[0], to: nodes[nodes.length - 1] },
        { from: endOf(moved[c][r]), to: { x: moved[c][next][0], y: moved[c][next][1] } },
      ];
      const length = segmentLength(was) || 1;
      const left =
        ((is.to.x - is.from.x) * (was.to.x - was.from.x) + (is.to.y - is.from.y) * (was.to.y - was.from.y)) / length;
      if (left >= Math.min(LEAST_MM, length)) return;
      for (const run of [r, next]) {
        if (isMoved(c, run)) faults.push({ kind: 'closes', contour: c, run, at: is.from, opening });
      }
    });
  });
  for (const ends of Object.values(seams)) {
    ends.sort((a, b) => a.was - b.was);
    for (let k = 0; k + 1 < ends.length; k++) {
      const [a, b] = [ends[k], ends[k + 1]];
      if (b.is - a.is >= Math.min(LEAST_MM, b.was - a.was)) continue;
      const kind = a.contour === b.contour && a.chain === b.chain ? 'closes' : 'crosses';
      for (const [own, other] of [
        [a, b],
        [b, a],
      ]) {
        if (!isMoved(own.contour, own.run)) continue;
        faults.push({ kind, contour: own.contour, run: own.run, at: own.at, opening: other.opening });
      }
    }
  }
  return faults;
}

interface SeamEnd {
  readonly contour: number;
  readonly run: number;
  readonly opening: number;
  readonly chain: number;
  /** Along the seam, planned and moved. */
  readonly was: number;
  readonly is: number;
  readonly at: Point;
}

/** Runs that bulge out over a seam. */
function marginFaults(
  { field, lapMm }: CutSheet,
  contours: readonly CutContour[],
  moved: readonly (readonly Float64Array[])[],
  isMoved: (c: number, r: number) => boolean,
): CutFault[] {
  const [x0, y0] = [field.x0 - lapMm, field.y0 - lapMm];
  const past = (p: Point): number => Math.max(p.x - field.x1, p.y - field.y1, x0 - p.x, y0 - p.y);
  return contours.flatMap(({ runs, opening }, contour) =>
    runs.flatMap((_, run): CutFault[] => {
      if (!isMoved(contour, run)) return [];
      const at = pathOf(moved[contour][run]).find((p) => past(p) > SEAM_SNAP_MM);
      return at === undefined ? [] : [{ kind: 'leaves', contour, run, at, opening }];
    }),
  );
}

/** Moved runs that cross an outline which the planned run does not cross. */
function crossingFaults(
  sheet: CutSheet,
  contours: readonly CutContour[],
  moved: readonly (readonly Float64Array[])[],
  isMoved: (c: number, r: number) => boolean,
): CutFault[] {
  const own = contours.flatMap(({ runs }, c) =>
    runs.flatMap((named, r) => (isMoved(c, r) ? [{ c, r, named, path: pathOf(moved[c][r]) }] : [])),
  );
  if (own.length === 0) return [];
  const boxes = own.map(({ path }) => boxOf(path));
  const lines = nearLines(sheet, contours, moved, boxes);
  const segments = lines.flatMap((line, n) => line.path.slice(1).map((_, k) => ({ line: n, k })));
  if (segments.length === 0) return [];
  const index = boxIndex(segments.map(({ line, k }) => boxOf(lines[line].path.slice(k, k + 2))));
  return own.flatMap(({ c, r, named, path }): CutFault[] => {
    const key = `${c}.${r}`;
    const found = firstCrossings(path, key, { lines, segments, index });
    if (found.size === 0) return [];
    // What crosses in the plan too is not the proof's doing.
    const before = firstCrossings(pathOf(named.run.coords), key, { lines, segments, index });
    return [...found].flatMap(([line, at]): CutFault[] =>
      before.has(line) ? [] : [{ kind: 'crosses', contour: c, run: r, at, opening: lines[line].opening }],
    );
  });
}

interface Segments {
  readonly lines: readonly Line[];
  readonly segments: readonly { readonly line: number; readonly k: number }[];
  readonly index: ReturnType<typeof boxIndex>;
}

/** The lines that a path crosses, each with the first place; its own line is crossed where it crosses itself. */
function firstCrossings(path: Path, key: string, { lines, segments, index }: Segments): Map<number, Point> {
  const found = new Map<number, Point>();
  const [start, end] = [path[0], path[path.length - 1]];
  const atEnd = (p: Point): boolean => [start, end].some((e) => distance(p, e) < END_MM);
  const itself = lines.findIndex((line) => line.run === key);
  for (let i = 0; i + 1 < path.length; i++) {
    const [a, b] = [path[i], path[i + 1]];
    const box = boxOf([a, b]);
    for (const n of index.search(box.x0, box.y0, box.x1, box.y1)) {
      const { line, k } = segments[n];
      if (line === itself || found.has(line)) continue;
      const at = crossing(a, b, lines[line].path[k], lines[line].path[k + 1]);
      if (at !== null && !atEnd(at)) found.set(line, at);
    }
  }
  const twice = selfCrossing(path);
  if (twice !== null) found.set(itself, twice);
  return found;
}

/** Where a path crosses itself; null where it does not. */
function selfCrossing(path: Path): Point | null {
  const sides = path.slice(1).map((_, k) => boxOf(path.slice(k, k + 2)));
  if (sides.length < 3) return null;
  const index = boxIndex(sides);
  for (const [i, box] of sides.entries()) {
    for (const k of index.search(box.x0, box.y0, box.x1, box.y1)) {
      const at = k > i + 1 ? crossing(path[i], path[i + 1], path[k], path[k + 1]) : null;
      if (at !== null) return at;
    }
  }
  return null;
}

/** Every outline and line of the sheet near the moved runs: runs as they are moved, the lines between them, first cuts and all that stays. */
function nearLines(
  sheet: CutSheet,
  contours: readonly CutContour[],
  moved: readonly (readonly Float64Array[])[],
  near: readonly Box[],
): Line[] {
  const index = boxIndex(near);
  const isNear = ({ x0, y0, x1, y1 }: Box): boolean => index.search(x0, y0, x1, y1).length > 0;
  const lines: Line[] = [];
  const add = (line: Line): void => {
    if (line.path.length > 1 && isNear(boxOf(line.path))) lines.push(line);
  };
  contours.forEach(({ opening, contour, runs, chains }, c) => {
    if (runs.length === 0) add({ opening, path: pathOf(contour.coords), run: null });
    runs.forEach((_, r) => {
      add({ opening, path: pathOf(moved[c][r]), run: `${c}.${r}` });
      const next = moved[c][(r + 1) % runs.length];
      const ends = [endOf(moved[c][r]), { x: next[0], y: next[1] }];
      add({ opening, path: [ends[0], ...chains[r].nodes.slice(1, -1), ends[1]], run: null });
    });
  });
  const cuts = cutLines(sheet);
  for (const { number, firstCut, box } of sheet.openings) {
    if (!isNear(box)) continue;
    for (const contour of firstCut) {
      const { runs } = cutRuns(contour, number, cuts);
      const paths = runs.length > 0 ? runs.map(({ coords }) => coords) : [contour.coords];
      for (const coords of paths) add({ opening: number, path: pathOf(coords), run: null });
    }
  }
  return lines;
}

/** Where two sides cross each other, ends left out; null where they do not. */
function crossing(a: Point, b: Point, c: Point, d: Point): Point | null {
  const [abx, aby, cdx, cdy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y];
  const cross = abx * cdy - aby * cdx;
  if (cross === 0) return null;
  const t = ((c.x - a.x) * cdy - (c.y - a.y) * cdx) / cross;
  const u = ((c.x - a.x) * aby - (c.y - a.y) * abx) / cross;
  return t > 0 && t < 1 && u > 0 && u < 1 ? { x: a.x + t * abx, y: a.y + t * aby } : null;
}

function pathOf(coords: Float64Array): Point[] {
  const points: Point[] = [{ x: coords[0], y: coords[1] }];
  for (let o = 0; o + 7 < coords.length; o += 6) {
    flattenCubic(coords, o, LOOK_MM, (x, y) => points.push({ x, y }));
  }
  return points;
}

function endOf(coords: Float64Array): Point {
  return { x: coords[coords.length - 2], y: coords[coords.length - 1] };
}

function boxOf(path: Path): Box {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const { x, y } of path) {
    x0 = Math.min(x0, x);
    y0 = Math.min(y0, y);
    x1 = Math.max(x1, x);
    y1 = Math.max(y1, y);
  }
  return { x0, y0, x1, y1 };
}
