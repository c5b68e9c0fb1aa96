import { boxIndex } from '../geometry/cluster.js';
import { subCubic } from '../geometry/sub-cubic.js';
import type { Contour, Point } from '../geometry/types.js';
import { type FlatRing, flatRing, pointBetween, ringHolds } from './flat-ring.js';
import { nestRings } from './nest.js';

/** Two places on one outline, each the number of the cubic and the parameter on it, in one number. */
export interface Chord {
  readonly outline: number;
  readonly fromU: number;
  readonly toU: number;
}

/** Outlines laid out for questions about the paper between them. */
export interface Rings {
  /** The paper that hangs on a neck whose two points lie on one outline, mm². */
  readonly hanging: (chord: Chord) => number;
  /** Whether a place is cut out (on an outline either answer may come). */
  readonly isCut: (at: Point) => boolean;
}

/**
 * Outlines of openings and, last, the edge of the sheet, turned so that paper is to its left hand (where `edged`). Laid out at the first question only.
 *
 * What hangs on a neck whose two points lie on one outline: two points of a closed line divide it, and a line across the paper between them divides
 * the paper. Of an opening's outside, what hangs is what lies between the neck and the outline; of a rim or of the edge of the sheet, the smaller
 * part. Openings in it are taken off, islands within them do not hang on it. Exact on the curves.
 */
export function layRings(contours: readonly Contour[], { edged }: { edged: boolean }): Rings {
  let laid: ReturnType<typeof layPaper> | null = null;
  const lay = (): ReturnType<typeof layPaper> => {
    laid ??= layPaper(contours, edged);
    return laid;
  };
  return {
    hanging: (chord) => hangingOn(lay(), chord),
    isCut: (at) => lay().isCut(at),
  };
}

function hangingOn(lay: ReturnType<typeof layPaper>, { outline, fromU, toU }: Chord): number {
  const { rings, numberOf, regionOf, cutWithin, paperOf } = lay;
  const own = numberOf[outline];
  if (own < 0) return 0;
  const { contour, areaMm2 } = rings[own];
  const one = flatRing(stretchOf(contour, fromU, toU), 0);
  const other = flatRing(stretchOf(contour, toU, fromU), 0);
  if (!one || !other) return 0;
  // Paper is to the left hand of outlines: what is cut off has a negative area.
  const part = areaMm2 > 0 === one.areaMm2 < other.areaMm2 ? one : other;
  const region = areaMm2 > 0 ? regionOf(own) : own;
  const beyond = Math.max(0, -part.areaMm2 - cutWithin(part, own, region));
  if (areaMm2 > 0) return beyond;
  return Math.max(0, Math.min(beyond, paperOf(own) - beyond));
}

function layPaper(contours: readonly Contour[], edged: boolean) {
  const rings: FlatRing[] = [];
  const numberOf = contours.map((contour, k) => {
    const ring = flatRing(contour, k);
    return ring ? rings.push(ring) - 1 : -1;
  });
  let parents: readonly number[] | null = null;
  /** The rim (or the edge of the sheet) whose paper an opening lies in. */
  const regionOf = (k: number): number => {
    parents ??= nestRings(rings).parents;
    return parents[k];
  };
  const index = boxIndex(rings.map((r) => r.box));
  const inner = new Map<number, Point>();
  const pointIn = (k: number): Point => {
    const at = inner.get(k) ?? pointBetween(rings[k], []);
    inner.set(k, at);
    return at;
  };
  let cut: Map<number, number> | null = null;
  const cutIn = (rim: number): number => {
    if (cut === null) {
      cut = new Map();
      for (const [k, ring] of rings.entries()) {
        if (ring.areaMm2 > 0) cut.set(regionOf(k), (cut.get(regionOf(k)) ?? 0) + ring.areaMm2);
      }
    }
    return cut.get(rim) ?? 0;
  };
  return {
    rings,
    numberOf,
    regionOf,
    /** What openings of the same paper cut away within a part of it. */
    cutWithin(part: FlatRing, own: number, region: number): number {
      let cut = 0;
      const { x0, y0, x1, y1 } = part.box;
      index.search(x0, y0, x1, y1, (k) => {
        const ring = rings[k];
        if (k !== own && ring.areaMm2 > 0 && regionOf(k) === region && ringHolds(part, pointIn(k))) cut += ring.areaMm2;
        return false;
      });
      return cut;
    },
    /** The paper that a rim bounds. */
    paperOf: (rim: number): number => -rings[rim].areaMm2 - cutIn(rim),
    isCut(at: Point): boolean {
      // The edge of the sheet is a rim around everything.
      let depth = edged ? 1 : 0;
      index.search(at.x, at.y, at.x, at.y, (k) => {
        if (ringHolds(rings[k], at)) depth += rings[k].areaMm2 > 0 ? 1 : -1;
        return false;
      });
      return depth > 0;
    },
  };
}

/** The stretch of a closed contour from one place on to another, closed by a straight side. */
export function stretchOf({ coords }: Contour, fromU: number, toU: number): Contour {
  const pieces = (coords.length - 2) / 6;
  const end = toU > fromU ? toU : toU + pieces;
  const out: number[] = [];
  for (let piece = Math.floor(fromU); piece < end; piece++) {
    const t0 = Math.max(0, fromU - piece);
    const t1 = Math.min(1, end - piece);
    if (t1 <= t0) continue;
    const part = subCubic(coords, 6 * (piece % pieces), t0, t1);
    if (out.length === 0) out.push(...part);
    else out.push(...part.subarray(2));
  }
  return { closed: true, coords: Float64Array.from(out) };
}
