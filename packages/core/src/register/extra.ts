import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import { average } from './readings.js';
import { PATCH_MM, SIDES_FIX_MM } from './repunch.js';
import { CORNERS } from './spans.js';
import type { Corner, ExtraCheck, ExtraDot, Holes, Repunch, SquareTargets } from './types.js';

/** Arcs that cross at less than this don't fix a place: sine of 15°. */
export const CROSSING_SINE_MIN = Math.sin(Math.PI / 12);

/** Rounds to the place where arcs cross; dots are near their place, so three do. */
const ROUNDS = 20;

interface Sight {
  readonly from: Corner;
  readonly mm: number;
  readonly errorMm: number;
}

/**
 * Where each extra dot lies against where it belongs on the sheet, and the dots to punch again. `holes` are the corners that the
 * distances were measured from; `trueHoles` those that the sheet will print with, on which the dot's place is the same share of the sides as on
 * the job's sheet. Distances whose arcs don't cross (a dot measured from both ends of its own side) tell only how far along it lies.
 * Throws an `InputError` for a dot that wasn't measured or has a corner's name.
 */
export function checkExtra(
  extra: readonly ExtraDot[],
  { holes, trueHoles, targets }: { readonly holes: Holes; readonly trueHoles: Holes; readonly targets: SquareTargets },
  readingErrorMm: number,
): { readonly checks: readonly ExtraCheck[]; readonly repunch: readonly Repunch[] } {
  const checks: ExtraCheck[] = [];
  const repunch: Repunch[] = [];
  for (const dot of extra) {
    const sights = sightsOf(dot, readingErrorMm);
    const place = onSheet(dot.at, trueHoles, targets);
    const { at, alongOnly } = placeFrom(sights, holes, onSheet(dot.at, holes, targets));
    const offMm = distance(at, place);
    const ok = offMm <= SIDES_FIX_MM;
    checks.push({ name: dot.name, offMm, ok, alongOnly });
    if (ok) continue;
    const [one, other] = bestPair(place, trueHoles);
    repunch.push({
      hole: dot.name,
      at: place,
      fromMm: [
        { hole: one, mm: distance(trueHoles[one], place) },
        { hole: other, mm: distance(trueHoles[other], place) },
      ],
      checkMm: null,
      movedMm: offMm,
      patchFirst: offMm < PATCH_MM,
    });
  }
  return { checks, repunch };
}

/** The two corners whose arcs cross nearest to a right angle at a place; of equals the first from the upper left clockwise. */
export function bestPair(at: Point, holes: Holes): readonly [Corner, Corner] {
  let best: readonly [Corner, Corner] = ['upperLeft', 'upperRight'];
  let sine = -1;
  for (const [k, one] of CORNERS.entries()) {
    for (const other of CORNERS.slice(k + 1)) {
      const found = crossingSine(at, holes[one], holes[other]);
      // Rounding must not choose between equals.
      if (found <= sine + 1e-9) continue;
      sine = found;
      best = [one, other];
    }
  }
  return best;
}

function sightsOf({ name, measured }: ExtraDot, readingErrorMm: number): Sight[] {
  const sights = measured.flatMap(({ from, readingsMm }) => {
    if (readingsMm.length === 0) return [];
    const { meanMm, errorMm } = average(readingsMm, readingErrorMm, `dot ${quote(name)}`);
    return [{ from, mm: meanMm, errorMm }];
  });
  if ((CORNERS as readonly string[]).includes(name)) {
    throw new InputError(
      `A dot between the corners is named ${quote(name)}, which is a corner's name: give it another.`,
    );
  }
  if (sights.length === 0) {
    throw new InputError(`The dot ${quote(name)} has no reading: measure it from two corner holes, or leave it out.`);
  }
  return sights;
}

/** The same share of the sides on the holes of a sheet. */
function onSheet(
  at: Point,
  { upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d }: Holes,
  targets: SquareTargets,
): Point {
  const [u, v] = [at.x / targets.widthMm, at.y / targets.heightMm];
  const [wa, wb, wc, wd] = [(1 - u) * (1 - v), u * (1 - v), u * v, (1 - u) * v];
  return { x: wa * a.x + wb * b.x + wc * c.x + wd * d.x, y: wa * a.y + wb * b.y + wc * c.y + wd * d.y };
}

/** Where arcs cross, by least squares from a place near by; where they don't, as far along them as the readings say. */
function placeFrom(sights: readonly Sight[], holes: Holes, near: Point): { at: Point; alongOnly: boolean } {
  const alongOnly = !sights.some((one, k) =>
    sights.slice(k + 1).some((other) => crossingSine(near, holes[one.from], holes[other.from]) >= CROSSING_SINE_MIN),
  );
  let at = near;
  for (let round = 0; round < (alongOnly ? 1 : ROUNDS); round++) {
    let [xx, xy, yy, rx, ry] = [0, 0, 0, 0, 0];
    for (const { from, mm, errorMm } of sights) {
      const reach = distance(holes[from], at);
      if (reach === 0) continue;
      const [ux, uy] = [(at.x - holes[from].x) / reach, (at.y - holes[from].y) / reach];
      const weight = 1 / errorMm ** 2;
      xx += weight * ux * ux;
      xy += weight * ux * uy;
      yy += weight * uy * uy;
      rx += weight * ux * (mm - reach);
      ry += weight * uy * (mm - reach);
    }
    const scale = xx + yy;
    if (alongOnly) {
      // One line only: the step along it that fits best.
      if (scale > 0) at = { x: at.x + rx / scale, y: at.y + ry / scale };
    } else {
      const det = xx * yy - xy * xy;
      at = { x: at.x + (yy * rx - xy * ry) / det, y: at.y + (xx * ry - xy * rx) / det };
    }
  }
  return { at, alongOnly };
}

function crossingSine(at: Point, one: Point, other: Point): number {
  const [ax, ay, bx, by] = [one.x - at.x, one.y - at.y, other.x - at.x, other.y - at.y];
  const lengths = Math.hypot(ax, ay) * Math.hypot(bx, by);
  return lengths === 0 ? 0 : Math.abs(ax * by - ay * bx) / lengths;
}
