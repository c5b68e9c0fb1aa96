import type { Homography } from '@okuri/core/inside';
import { applyHomography } from '../scale/homography.js';
import type { CheckPoints } from './check-points.js';
import { type CoarseLook, isDark } from './coarse-look.js';

/** How well a picture agrees with a plan that is laid under it. */
export interface Agreement {
  /**
   * Share of the plan's openings that the picture shows dark, and of dark places that the plan has as openings, in one number: twice what both have,
   * divided by what each has (Dice 1945), 0 to 1.
   */
  readonly share: number;
  /** The same above chance: 1 where all agrees, 0 where a print of something else would do as well (Cohen 1960). */
  readonly aboveChance: number;
}

/** Places of either kind in the quick test, and how many of them must agree. */
const QUICK = { places: 12, least: 8 } as const;

/** Whether the dark of the picture could agree with the plan at all: a few places, for the thousands of ways in which marks may be dots. */
export function mayAgree(toPicture: Homography, { dark, light }: CheckPoints, look: CoarseLook): boolean {
  const agree = (points: CheckPoints['dark'], wanted: boolean): boolean => {
    const places = Math.min(QUICK.places, points.length);
    let wrong = 0;
    for (let k = 0; k < places; k++) {
      if (isDark(look, applyHomography(toPicture, points[k])) === wanted) continue;
      if (++wrong > places * (1 - QUICK.least / QUICK.places)) return false;
    }
    return true;
  };
  return agree(dark, true) && agree(light, false);
}

/** How well the picture agrees with the plan: `toPicture` maps sheet mm to px. `most` places of either kind are looked at. */
export function agreementOf(
  toPicture: Homography,
  { dark, light }: CheckPoints,
  { look, most = Infinity }: { readonly look: CoarseLook; readonly most?: number },
): Agreement {
  const shown = (points: CheckPoints['dark']): number => {
    const few = points.slice(0, Math.min(most, points.length));
    if (few.length === 0) return 0;
    return few.filter((p) => isDark(look, applyHomography(toPicture, p))).length / few.length;
  };
  // As if the sheet had as much paper as openings, so that neither kind outweighs the other.
  const [hit, wrong] = [shown(dark), shown(light)];
  return { share: (2 * hit) / (1 + hit + wrong), aboveChance: hit - wrong };
}
