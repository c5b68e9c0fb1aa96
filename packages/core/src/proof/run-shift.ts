import type { Point } from '../geometry/types.js';

/** A second cut follows the first cut's real end and comes over to its own place within this length of outline, mm. */
const TRANSITION_MM = 10;
/** An outline that is turned at the seam is as planned again after this length, mm. */
const TURN_FADE_MM = 8;

/** What an end of a run is moved by, and what it is: at a seam (or in the lap past a lead seam) or at the first cut's end. */
export interface EndShift {
  readonly kind: 'seam' | 'stop';
  /** Place along the run, mm: its end, or where it crosses the lead seam before that. */
  readonly atMm: number;
  readonly by: Point;
  /** Clockwise as seen. */
  readonly turnDeg: number;
  /** Unit tangent there, in the run's own sense. */
  readonly tangent: Point;
}

/** How far each place of a run is moved, by its length along the run, mm. Continuous, and smooth in its first derivative. */
export interface RunShift {
  /** Lengths between which the shift is one polynomial of third degree, rising. */
  readonly breaks: readonly number[];
  at(s: number): Shift;
}

/** A shift and its change with the length along the run. */
export interface Shift extends Point {
  readonly dx: number;
  readonly dy: number;
}

/**
 * The shift of a run `lengthMm` long. A run from the hold line to a seam is moved as a whole with its seam end, but for a transition of 10 mm from the
 * first cut's real end; one between two seams comes over from one shift to the other along its whole length; one between two stops is
 * as planned in its middle. Turns fade out within 8 mm of their end.
 */
export function runShift(from: EndShift, to: EndShift, lengthMm: number): RunShift {
  const parts: Part[] = [];
  if (from.kind === 'seam' && to.kind === 'seam') {
    const reach = to.atMm - from.atMm;
    parts.push(...fading(from.by, from.atMm, reach), ...fading(to.by, to.atMm, -reach));
  } else if (from.kind === 'stop' && to.kind === 'stop') {
    const reach = Math.min(TRANSITION_MM, lengthMm);
    parts.push(...fading(from.by, 0, reach), ...fading(to.by, lengthMm, -reach));
  } else {
    const [stop, seam] = from.kind === 'stop' ? [from, to] : [to, from];
    const reach = Math.min(TRANSITION_MM, Math.abs(seam.atMm - stop.atMm));
    const own = { x: stop.by.x - seam.by.x, y: stop.by.y - seam.by.y };
    parts.push(steady(seam.by), ...fading(own, stop.atMm, from.kind === 'stop' ? reach : -reach));
  }
  const room = from.kind === 'seam' && to.kind === 'seam' ? lengthMm / 2 : lengthMm;
  parts.push(...turning(from, room, 1), ...turning(to, room, -1));
  const breaks = parts.flatMap((part) => part.breaks).filter((s) => s > 0 && s < lengthMm);
  return {
    breaks: [...new Set(breaks)].sort((a, b) => a - b),
    at: (s) => {
      let [x, y, dx, dy] = [0, 0, 0, 0];
      for (const { vector, share } of parts) {
        const { value, slope } = share(s);
        x += vector.x * value;
        y += vector.y * value;
        dx += vector.x * slope;
        dy += vector.y * slope;
      }
      return { x, y, dx, dy };
    },
  };
}

/** A part of a shift: always the same vector, by a share that changes along the run. */
interface Part {
  readonly vector: Point;
  readonly breaks: readonly number[];
  share(s: number): { value: number; slope: number };
}

function isNone({ x, y }: Point): boolean {
  return x === 0 && y === 0;
}

function steady(vector: Point): Part {
  return { vector, breaks: [], share: () => ({ value: 1, slope: 0 }) };
}

/** The whole vector at `at`, nothing from `at + reach` on, level at both. */
function fading(vector: Point, at: number, reach: number): Part[] {
  if (isNone(vector)) return [];
  // A run without a length has no transition.
  if (reach === 0) return [steady(vector)];
  const share = (s: number) => {
    const u = Math.min(1, Math.max(0, (s - at) / reach));
    return { value: 1 - u * u * (3 - 2 * u), slope: (-6 * u * (1 - u)) / reach };
  };
  return [{ vector, breaks: [at, at + reach], share }];
}

/** Turns the outline at one of its ends; `way` is 1 where the run leads away from that end. */
function turning({ turnDeg, atMm, tangent }: EndShift, room: number, way: 1 | -1): Part[] {
  const reach = Math.min(TURN_FADE_MM, room);
  if (turnDeg === 0 || reach <= 0) return [];
  const slope = way * Math.tan((turnDeg * Math.PI) / 180);
  const share = (s: number) => {
    const u = Math.min(reach, Math.max(0, way * (s - atMm)));
    const left = 1 - u / reach;
    return { value: u * left * left, slope: way * left * (left - (2 * u) / reach) };
  };
  return [{ vector: { x: -tangent.y * slope, y: tangent.x * slope }, breaks: [atMm, atMm + way * reach], share }];
}
