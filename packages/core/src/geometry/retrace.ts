import { type Curve, evaluateCurve, parameterAt } from './curve.js';
import type { Grid, GridPath, GridPoint } from './grid.js';
import type { CurveMarks } from './marks.js';
import { minus } from './points.js';
import { pointDistance } from './segments.js';
import { settledContour } from './settle.js';
import type { Contour, Point } from './types.js';

/** A polygon's side seen as a stretch of its source curve: from place `from` to place `to` (they count flattened corners). */
export interface TracedSide {
  readonly curve: Curve;
  readonly dx: number;
  readonly dy: number;
  readonly from: number;
  readonly to: number;
}

/** How far, in grid units, a corner may lie beside a chord and still be on it: rounding of a cut. */
const ON_CHORD = 1.5;
/**
 * How far from its chord a handle of one flattened side may lie, mm: flattening strays 5 µm, which a bend to both sides makes 3.5 times as much of
 * its handles, and seating a cut may move its end 20 µm. What lies farther off was traced to a stretch of curve that is not this side.
 */
const HANDLE_MM = 0.04;
/** Widest arc that one drawn cubic takes, radians: its radial error is then 4e-6 of the radius. */
const MERGED_ARC = Math.PI / 4;

/**
 * The source curve of the side `p→q`, or null where there is none (a straight cut). Corners that several outlines share carry the
 * mark of one of them only, so the neighbours of a marked corner on its curve are looked at as well.
 */
export function traceSide(p: GridPoint, q: GridPoint, book: CurveMarks, grid: Grid): TracedSide | null {
  const known = book.curveAlong(p, q);
  if (known) return known;
  for (const r of book.refs(p.z)) {
    const to = placeBeside(r, q, grid);
    if (to !== null) return { curve: r.curve, dx: r.dx, dy: r.dy, from: r.k, to };
  }
  for (const r of book.refs(q.z)) {
    const from = placeBeside(r, p, grid);
    if (from !== null) return { curve: r.curve, dx: r.dx, dy: r.dy, from, to: r.k };
  }
  return null;
}

/** Where on one of the two flattened sides that meet at place `ref.k` the corner `q` lies; null where on neither. */
function placeBeside(
  ref: { readonly curve: Curve; readonly dx: number; readonly dy: number; readonly k: number },
  q: GridPoint,
  grid: Grid,
): number | null {
  const { curve, k } = ref;
  const n = curve.s.length;
  for (const next of [Math.floor(k) + 1, Math.ceil(k) - 1]) {
    if (!curve.closed && (next < 0 || next >= n)) continue;
    const a = gridPlace(ref, k, grid);
    const b = gridPlace(ref, next, grid);
    const length = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
    if (length === 0) continue;
    const t = ((q.x - a.x) * (b.x - a.x) + (q.y - a.y) * (b.y - a.y)) / length;
    const size = Math.sqrt(length);
    if (t * size < ON_CHORD || t > 1 + ON_CHORD / size) continue;
    const off = Math.abs((q.x - a.x) * (b.y - a.y) - (q.y - a.y) * (b.x - a.x)) / size;
    if (off <= ON_CHORD) return k + Math.min(1, t) * (next - k);
  }
  return null;
}

function gridPlace(
  ref: { readonly curve: Curve; readonly dx: number; readonly dy: number },
  k: number,
  grid: Grid,
): { x: number; y: number } {
  // Between corners the polygon is the chord, not the curve.
  const low = Math.floor(k);
  const part = k - low;
  const a = evaluateCurve(ref.curve, parameterAt(ref.curve, low));
  if (part === 0) return { x: (a.x + ref.dx) * grid.sx, y: (a.y + ref.dy) * grid.sy };
  const b = evaluateCurve(ref.curve, parameterAt(ref.curve, low + 1));
  return {
    x: (a.x + part * (b.x - a.x) + ref.dx) * grid.sx,
    y: (a.y + part * (b.y - a.y) + ref.dy) * grid.sy,
  };
}

/** Parameters between which a traced side runs, `to` unwrapped past the end of a closed curve where need be. */
function span(side: TracedSide): [number, number] {
  const n = side.curve.s.length;
  const length = side.curve.sEnd - side.curve.s[0];
  const at = (k: number): number => {
    const turns = Math.floor(k / n);
    return parameterAt(side.curve, k) + (side.curve.closed ? turns * length : 0);
  };
  return [at(side.from), at(side.to)];
}

/**
 * The ring as a contour in mm with its source curves put back: every stretch that came from a curve is that curve again (a part of a
 * cubic exactly; offset lines and arcs within about 0.1 µm), every other side is straight. `boundMm2` bounds what the stretches without
 * a curve and the rounding to the grid may cost in area. A cut right beside a corner leaves no piece of its own: it would have a direction, and
 * hardly a length.
 */
export function retraceRing(path: GridPath, book: CurveMarks, grid: Grid): { contour: Contour; boundMm2: number } {
  const n = path.length;
  const coords: number[] = [];
  let perimeter = 0;
  const places = path.map((p) => exactPlace(p, book, grid));
  const pushCubic = (from: number, to: number, handles: [number, number, number, number] | null): void => {
    const { x: x0, y: y0 } = places[from];
    const { x: x3, y: y3 } = places[to];
    if (coords.length === 0) coords.push(x0, y0);
    perimeter += Math.hypot(x3 - x0, y3 - y0);
    if (handles) {
      coords.push(x0 + handles[0], y0 + handles[1], x3 - handles[2], y3 - handles[3], x3, y3);
    } else {
      coords.push((2 * x0 + x3) / 3, (2 * y0 + y3) / 3, (x0 + 2 * x3) / 3, (y0 + 2 * y3) / 3, x3, y3);
    }
  };
  const sides: (TracedSide | null)[] = [];
  for (let i = 0; i < n; i++) {
    const next = (i + 1) % n;
    const side = traceSide(path[i], path[next], book, grid);
    sides.push(side && followsChord(places[i], places[next], handlesBetween(side.curve, ...span(side))) ? side : null);
  }
  // Starting at a break keeps the stretch across the ring's first corner in one piece.
  const start = firstBreak(sides);
  for (let i = 0; i < n; ) {
    const index = (start + i) % n;
    const side = sides[index];
    if (!side) {
      pushCubic(index, (index + 1) % n, null);
      i++;
      continue;
    }
    let steps = 1;
    const [s0] = span(side);
    let s1 = span(side)[1];
    let last = side;
    // A cut or moved corner lies a little off its curve: its flattened step stays a cubic of its own, so that no more than that is bent.
    const exactAt = (k: number): boolean => places[(index + k) % n].exact;
    while (i + steps < n && exactAt(0) && exactAt(steps) && exactAt(steps + 1)) {
      const next = sides[(index + steps) % n];
      // An offset line is no cubic: its flattened steps are short enough for one cubic each, not for more.
      if (!next || !continues(last, next) || side.curve.kind === 'offset') break;
      const [a, b] = span(next);
      const moved = a - s1;
      const end = b - moved;
      if (side.curve.kind === 'cubic' ? !sameCubic(s0, end) : Math.abs(end - s0) > MERGED_ARC) break;
      s1 = end;
      last = next;
      steps++;
    }
    pushCubic(index, (index + steps) % n, handlesBetween(side.curve, s0, s1));
    i += steps;
  }
  return {
    contour: settledContour({ closed: true, coords: Float64Array.from(coords) }),
    // Half a grid unit along the whole outline, and the rounding of cuts.
    boundMm2: perimeter / Math.min(grid.sx, grid.sy),
  };
}

/** A corner's place in mm: that of the curve it was flattened from, unless it is a cut or was moved. */
function exactPlace(p: GridPoint, book: CurveMarks, grid: Grid): Point & { readonly exact: boolean } {
  const ref = book.refs(p.z)[0];
  if (ref && Number.isInteger(ref.k)) {
    const at = evaluateCurve(ref.curve, parameterAt(ref.curve, ref.k));
    const x = at.x + ref.dx;
    const y = at.y + ref.dy;
    if (Math.abs(x * grid.sx - p.x) < ON_CHORD && Math.abs(y * grid.sy - p.y) < ON_CHORD) {
      return { x, y, exact: true };
    }
  }
  return { x: p.x / grid.sx, y: p.y / grid.sy, exact: false };
}

function firstBreak(sides: readonly (TracedSide | null)[]): number {
  for (let i = 0; i < sides.length; i++) {
    const before = sides[(i + sides.length - 1) % sides.length];
    const here = sides[i];
    if (!before || !here || !continues(before, here)) return i;
    const [s] = span(here);
    if (here.curve.kind === 'cubic' && Number.isInteger(s)) return i;
  }
  return 0;
}

function continues(a: TracedSide, b: TracedSide): boolean {
  if (a.curve !== b.curve || Math.abs(a.dx - b.dx) > 1e-9 || Math.abs(a.dy - b.dy) > 1e-9) return false;
  const n = a.curve.s.length;
  const gap = Math.abs(a.to - b.from);
  const meets = gap < 1e-6 || (a.curve.closed && Math.abs(gap - n) < 1e-6);
  return meets && Math.sign(a.to - a.from) === Math.sign(b.to - b.from);
}

/** Both parameters lie on one cubic of a contour (whole numbers are its nodes). */
function sameCubic(s0: number, s1: number): boolean {
  const low = Math.min(s0, s1);
  const high = Math.max(s0, s1);
  return high <= Math.floor(low) + 1 + 1e-12;
}

/**
 * Whether both handles of a side keep beside its chord. A side is a chord of its curve within the tolerance of flattening, so nothing else is that
 * curve: better a straight side than a line that nobody drew.
 */
function followsChord(p: Point, q: Point, [ax, ay, bx, by]: readonly [number, number, number, number]): boolean {
  const chord = { from: { x: 0, y: 0 }, to: minus(q, p) };
  return [{ x: ax, y: ay }, minus(chord.to, { x: bx, y: by })].every(
    (handle) => pointDistance(chord, handle) <= HANDLE_MM,
  );
}

/** Handles of the part of a curve between two parameters: of a cubic this is the very part of it. */
function handlesBetween(curve: Curve, s0: number, s1: number): [number, number, number, number] {
  const length = curve.sEnd - curve.s[0];
  const wrap = curve.closed ? Math.floor(Math.min(s0, s1) / length) * length : 0;
  const a = evaluateCurve(curve, s0 - wrap, s1 - wrap);
  const b = evaluateCurve(curve, s1 - wrap, s0 - wrap);
  // Hermite's handles; an arc's are those that also put its middle on the circle.
  const h = curve.kind === 'arc' ? (4 / 3) * Math.tan((s1 - s0) / 4) : (s1 - s0) / 3;
  return [a.dx * h, a.dy * h, b.dx * h, b.dy * h];
}
