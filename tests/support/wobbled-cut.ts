import type { Contour, Point, ProofOffset, Sheet, SheetOpening } from '@okuri/core';
import type { SheetEnds } from '@okuri/core/inside';
import { ringOf } from './flatten.js';

/** Parts into which every cubic of an outline is cut: chords of some 0.05 mm. */
const PARTS = 24;
/** On a line of the sheet, mm. */
const ON_MM = 2e-3;
/** A real edge is looked for this far from its planned place, mm: more than any wobble. */
const REACH_MM = 2;
/** Over this length to both sides the direction of an edge is taken, mm. */
const DIRECTION_MM = 0.15;
/** A knife that stops early in the simulation is drawn on straight up to its stop, at most this far, mm. */
const DRAWN_ON_MM = 3;

type Path = readonly Point[];

/** Where a knife really went beside each place of one opening's plan, mm. */
export type Wobble = (p: Point) => Point;

/** A first cut as it was really cut: closed rings by opening, and the open stretches of true edge. */
export interface RealCut {
  readonly rings: ReadonlyMap<number, readonly Path[]>;
  readonly edges: ReadonlyMap<number, readonly { readonly real: Path; readonly planned: Path }[]>;
}

/**
 * A smooth wobble from a sequence of random numbers: three waves of 15 mm to 60 mm in random directions, never more than `mostMm` together.
 */
export function smoothWobble(random: () => number, mostMm: number): Wobble {
  const waves = Array.from({ length: 3 }, () => {
    const [way, to, phase] = [random(), random(), random()].map((r) => 2 * Math.PI * r);
    const k = (2 * Math.PI) / (15 + 45 * random());
    const a = (mostMm / 3) * (0.5 + random() / 2);
    return { kx: k * Math.cos(way), ky: k * Math.sin(way), ax: a * Math.cos(to), ay: a * Math.sin(to), phase };
  });
  return (p) => {
    let [x, y] = [p.x, p.y];
    for (const { kx, ky, ax, ay, phase } of waves) {
      const wave = Math.sin(kx * p.x + ky * p.y + phase);
      x += ax * wave;
      y += ay * wave;
    }
    return { x, y };
  };
}

/** The first cut of a sheet as it comes out when the knife wobbles along its edges and still stops at the planned stops. */
export function cutReally(sheet: Sheet, wobbleOf: (opening: number) => Wobble): RealCut {
  const rings = new Map<number, Path[]>();
  const edges = new Map<number, { real: Path; planned: Path }[]>();
  for (const opening of sheet.openings) {
    const wobble = wobbleOf(opening.number);
    const own: { real: Path; planned: Path }[] = [];
    rings.set(
      opening.number,
      opening.firstCut.map((contour) => {
        const stretches = stretchesOf(contour, opening, sheet);
        const ring: Point[] = [];
        for (const { points, onLine, before, after } of stretches) {
          if (onLine) {
            // Corners between two lines stay; ends of edges come with the edges.
            ring.push(...points.slice(1, -1));
            continue;
          }
          let real: Path = points.map(wobble);
          if (before) real = drawnTo(real.toReversed(), before).toReversed();
          if (after) real = drawnTo(real, after);
          own.push({ real, planned: points });
          ring.push(...real);
        }
        return ring;
      }),
    );
    edges.set(opening.number, own);
  }
  return { rings, edges };
}

interface Stretch {
  readonly points: Path;
  readonly onLine: boolean;
  /** The stops at which an edge begins and ends. */
  readonly before: readonly [Point, Point] | null;
  readonly after: readonly [Point, Point] | null;
}

/** A planned first cut as its edges and the lines between them: stops, and the ends of the laps. */
function stretchesOf(contour: Contour, { number }: SheetOpening, sheet: Sheet): Stretch[] {
  const points = ringOf(contour, PARTS)
    .map(([x, y]) => ({ x, y }))
    .filter((p, k, all) => k === 0 || Math.hypot(p.x - all[k - 1].x, p.y - all[k - 1].y) > 1e-9);
  points.pop();
  const n = points.length;
  const stops = sheet.stops.filter((stop) => stop.number === number);
  const { x0, y0 } = { x0: sheet.field.x0 - sheet.lapMm, y0: sheet.field.y0 - sheet.lapMm };
  const lineAt = (k: number): 'lap' | readonly [Point, Point] | null => {
    const [a, b] = [points[k % n], points[(k + 1) % n]];
    if ((a.x < x0 + ON_MM && b.x < x0 + ON_MM) || (a.y < y0 + ON_MM && b.y < y0 + ON_MM)) return 'lap';
    const stop = stops.find(({ from, to }) => [a, b].every((p) => toSegment(p, from, to) < ON_MM));
    return stop ? [stop.from, stop.to] : null;
  };
  const lines = points.map((_, k) => lineAt(k));
  const start = lines.findIndex((line, k) => line === null && lines[(k + n - 1) % n] !== null);
  if (start < 0) return [{ points, onLine: false, before: null, after: null }];
  const stretches: Stretch[] = [];
  for (let k = start; k < start + n; ) {
    const from = k;
    const onLine = lines[k % n] !== null;
    while (k < start + n && (lines[k % n] !== null) === onLine) k++;
    const [before, after] = [lines[(from + n - 1) % n], lines[k % n]];
    stretches.push({
      points: Array.from({ length: k - from + 1 }, (_, i) => points[(from + i) % n]),
      onLine,
      before: onLine || before === 'lap' ? null : before,
      after: onLine || after === 'lap' ? null : after,
    });
  }
  return stretches;
}

/** The path with its end cut off at, or drawn on straight to, the line through a stop. */
function drawnTo(path: Path, [a, b]: readonly [Point, Point]): Path {
  const side = (p: Point): number => (b.x - a.x) * (p.y - a.y) - (b.y - a.y) * (p.x - a.x);
  const last = path[path.length - 1];
  const from = backAlong(path, DIRECTION_MM);
  const length = Math.hypot(last.x - from.x, last.y - from.y);
  const on = {
    x: last.x + ((last.x - from.x) * DRAWN_ON_MM) / length,
    y: last.y + ((last.y - from.y) * DRAWN_ON_MM) / length,
  };
  const longer = [...path, on];
  // The crossing that is nearest to the planned end along the path.
  let best: { k: number; at: Point; away: number } | null = null;
  let along = 0;
  for (let k = longer.length - 2; k >= 0; k--) {
    const [p, q] = [longer[k], longer[k + 1]];
    if (k < longer.length - 2) along += Math.hypot(q.x - p.x, q.y - p.y);
    if (along > REACH_MM) break;
    const [s, t] = [side(p), side(q)];
    if (s > 0 === t > 0) continue;
    const at = { x: p.x + (s / (s - t)) * (q.x - p.x), y: p.y + (s / (s - t)) * (q.y - p.y) };
    const away = Math.hypot(at.x - last.x, at.y - last.y);
    if (best === null || away < best.away) best = { k, at, away };
  }
  return best === null ? path : [...longer.slice(0, best.k + 1), best.at];
}

function backAlong(path: Path, mm: number): Point {
  let left = mm;
  for (let k = path.length - 1; k > 0; k--) {
    left -= Math.hypot(path[k].x - path[k - 1].x, path[k].y - path[k - 1].y);
    if (left <= 0) return path[k - 1];
  }
  return path[0];
}

/** A place where an edge passes a line, and its direction there, degrees clockwise from the right. */
export interface Passing {
  readonly at: Point;
  readonly degrees: number;
}

/** The places where a path passes the line on which coordinate `axis` is `value`, `forward` to larger values or not. */
export function passings(path: Path, axis: 'x' | 'y', value: number, forward: boolean): Passing[] {
  const found: Passing[] = [];
  for (let k = 0; k + 1 < path.length; k++) {
    const [p, q] = [path[k], path[k + 1]];
    if (p[axis] > value === q[axis] > value || q[axis] > value !== forward) continue;
    const t = (value - p[axis]) / (q[axis] - p[axis]);
    const at = { x: p.x + t * (q.x - p.x), y: p.y + t * (q.y - p.y) };
    const before = backAlong([...path.slice(0, k + 1), at], DIRECTION_MM);
    const after = backAlong([...path.slice(k + 1).toReversed(), at], DIRECTION_MM);
    found.push({ at, degrees: (Math.atan2(after.y - before.y, after.x - before.x) * 180) / Math.PI });
  }
  return found;
}

/** What a proof through the real first cut shows at the sheet's named ends: exact, as no scan could be. Real places by name, too. */
export function measuredOffsets(
  sheet: Sheet,
  ends: SheetEnds,
  real: RealCut,
): { offsets: ProofOffset[]; places: Map<string, Passing> } {
  const offsets: ProofOffset[] = [];
  const places = new Map<string, Passing>();
  const field = (p: Point): Point => ({ x: p.x - sheet.field.x0, y: p.y - sheet.field.y0 });
  for (const { name, seam, lead, at, partner, edge } of ends.joins) {
    const [axis, along, value] =
      seam === 'right' ? (['x', 'y', sheet.field.x0] as const) : (['y', 'x', sheet.field.y0] as const);
    // The opening lies to the right hand of its outline.
    const forward = (edge === 'begins') === (seam === 'right');
    const nearest = (paths: Path[]): Passing | undefined =>
      paths
        .flatMap((path) => passings(path, axis, value, forward))
        .filter((one) => Math.abs(one.at[along] - lead[along]) < REACH_MM)
        .toSorted((a, b) => Math.abs(a.at[along] - lead[along]) - Math.abs(b.at[along] - lead[along]))[0];
    const edges = real.edges.get(partner ?? 0) ?? [];
    const edgeHere = edges.find(({ planned }) =>
      passings(planned, axis, value, forward).some((one) => Math.abs(one.at[along] - lead[along]) < 0.02),
    );
    if (edgeHere === undefined) continue;
    const [is, was] = [nearest([edgeHere.real]), nearest([edgeHere.planned])];
    if (is === undefined || was === undefined) continue;
    places.set(name, is);
    offsets.push({
      name,
      offsetMm: is.at[along] - lead[along],
      turnDeg: turnBetween(was.degrees, is.degrees),
      place: field(at),
    });
  }
  for (const { name, at, along, opening } of ends.firstCutEnds) {
    const nearest = (real.edges.get(opening) ?? [])
      .flatMap(({ real: path, planned }) => [
        { is: path[0], was: planned[0] },
        { is: path[path.length - 1], was: planned[planned.length - 1] },
      ])
      .find(({ was }) => Math.hypot(was.x - at.x, was.y - at.y) < ON_MM);
    if (nearest === undefined) continue;
    const { is } = nearest;
    places.set(name, { at: is, degrees: 0 });
    offsets.push({
      name,
      offsetMm: (is.x - at.x) * along.x + (is.y - at.y) * along.y,
      turnDeg: 0,
      place: field(at),
    });
  }
  return { offsets, places };
}

/** From one direction to another the shorter way, degrees clockwise. */
export function turnBetween(from: number, to: number): number {
  return ((((to - from + 180) % 360) + 360) % 360) - 180;
}

function toSegment(p: Point, a: Point, b: Point): number {
  const length = (b.x - a.x) ** 2 + (b.y - a.y) ** 2;
  const t = length === 0 ? 0 : ((p.x - a.x) * (b.x - a.x) + (p.y - a.y) * (b.y - a.y)) / length;
  const u = Math.min(1, Math.max(0, t));
  return Math.hypot(p.x - a.x - u * (b.x - a.x), p.y - a.y - u * (b.y - a.y));
}
