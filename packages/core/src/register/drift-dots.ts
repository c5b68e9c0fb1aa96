import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { InputError } from '../units/input-error.js';
import { quote } from '../units/quote.js';
import { onHoles } from './drift-model.js';
import type { DriftSheet, PlacedDot } from './drift-types.js';
import { CORNERS } from './spans.js';
import type { ExtraDot, Holes } from './types.js';

/** Steps to the place where arcs cross: dots are near where they belong, so few do. */
const ROUNDS = 20;

/**
 * Directions less sure than this share of the surest one are left alone (the square of the sine of 15°): arcs that hardly cross tell only how far along
 * their line a dot lies, and beside it the dot stays where the sheet has it.
 */
const UNSURE_SHARE = Math.sin(Math.PI / 12) ** 2;

/**
 * Where extra dots are by their distances from corner holes (means of the readings, by least squares), for `DriftSheet.extra`. What the
 * distances don't tell is taken from where the dot belongs. Dots without a reading are left out: their place is interpolated then. Throws
 * an `InputError` for a reading that is no distance.
 */
export function placeExtraDots(extra: readonly ExtraDot[], holes: Holes, sheet: DriftSheet): PlacedDot[] {
  return extra.flatMap(({ name, at: jobAt, measured }): PlacedDot[] => {
    const sights = measured
      .filter(({ readingsMm }) => readingsMm.length > 0)
      .map(({ from, readingsMm }) => {
        const mm = readingsMm.reduce((sum, reading) => sum + reading, 0) / readingsMm.length;
        if (!(mm > 0) || !Number.isFinite(mm) || !CORNERS.includes(from)) {
          throw new InputError(
            `The dot ${quote(name)} has a reading that is no distance from a corner: measure it again.`,
          );
        }
        return { hole: holes[from], mm };
      });
    if (sights.length === 0) return [];
    let at = onHoles(holes, sheet, jobAt);
    for (let round = 0; round < ROUNDS; round++) at = nearer(at, sights);
    return [{ name, at }];
  });
}

/** One step of least squares along those directions that the distances fix. */
function nearer(at: Point, sights: readonly { readonly hole: Point; readonly mm: number }[]): Point {
  let [xx, xy, yy, rx, ry] = [0, 0, 0, 0, 0];
  for (const { hole, mm } of sights) {
    const reach = distance(hole, at);
    if (reach === 0) continue;
    const [ux, uy] = [(at.x - hole.x) / reach, (at.y - hole.y) / reach];
    xx += ux * ux;
    xy += ux * uy;
    yy += uy * uy;
    rx += ux * (mm - reach);
    ry += uy * (mm - reach);
  }
  const middle = (xx + yy) / 2;
  const half = Math.hypot((xx - yy) / 2, xy);
  const sure = middle + half;
  if (sure === 0) return at;
  // The direction of the surest reading, and the one square to it.
  const angle = Math.atan2(2 * xy, xx - yy) / 2;
  const [c, s] = [Math.cos(angle), Math.sin(angle)];
  const along = (c * rx + s * ry) / sure;
  const unsure = middle - half;
  const beside = unsure > UNSURE_SHARE * sure ? (c * ry - s * rx) / unsure : 0;
  return { x: at.x + c * along - s * beside, y: at.y + s * along + c * beside };
}
