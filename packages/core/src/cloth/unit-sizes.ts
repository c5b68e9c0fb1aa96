import type { Lattice } from '../repeat/types.js';
import type { FittingSize } from './plan-types.js';

/** A unit that fills the width to this share of itself fills it exactly. */
const EXACT = 1e-9;

/**
 * The nearest sizes of a unit with which a whole number of repeats fills a width (mm) exactly: the smaller and the larger, the nearest first; one
 * where the unit fits as it is. A drop of p/q needs a multiple of q (a half-drop an even number), so that both selvedges are alike and panels meet.
 * `lattice` is that of the unit as it lies on the cloth; `turned` when it lies across, so that width and height are given back as the unit's own.
 */
export function fittingSizes(
  lattice: Lattice,
  usableWidthMm: number,
  { turned = false }: { readonly turned?: boolean } = {},
): FittingSize[] {
  const every = lattice.repeat.kind === 'drop' ? lattice.repeat.step.q : 1;
  const groups = usableWidthMm / (lattice.widthMm * every);
  const exact = Math.abs(groups - Math.round(groups)) <= EXACT * groups && groups > 0.5;
  const counts = exact ? [Math.round(groups)] : [Math.floor(groups), Math.floor(groups) + 1];
  return counts
    .filter((count) => count >= 1)
    .map((count): FittingSize => {
      const repeats = count * every;
      const across = usableWidthMm / repeats;
      const scale = exact ? 1 : across / lattice.widthMm;
      const along = lattice.heightMm * scale;
      return turned
        ? { repeats, scale, widthMm: along, heightMm: across }
        : { repeats, scale, widthMm: across, heightMm: along };
    })
    .sort((a, b) => Math.abs(Math.log(a.scale)) - Math.abs(Math.log(b.scale)));
}
