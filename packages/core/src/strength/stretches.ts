import type { Across } from './across.js';
import { type Samples, sampleAfter, sampleBefore } from './samples.js';

/** Discs that touch the other place at more than 60° to the normal lie in a bend or corner of one bank, beside the strip's middle line. */
export const FACING = 0.5;

/** How long strips are narrower than the limit. */
export interface Stretches {
  /** Length along the middle line of the narrow stretch at a sample, mm: the mean of what its two banks see. */
  readonly lengthAt: (i: number) => number;
}

/**
 * Measures narrow stretches along the centres of the largest discs, from where the strip gets as wide as `limitMm` (interpolated) to where it does again, to
 * its tip, once around a ring, or to where the opposite bank is another outline. Every sample is passed once only, however many places ask.
 */
export function measureStretches(samples: Samples, across: Across, { limitMm }: { limitMm: number }): Stretches {
  const { count, outline } = samples;
  const { width, mate, facing, cx, cy } = across;
  const stretchOf = new Int32Array(count).fill(-1);
  const lengths: number[] = [];
  const narrow = (i: number): boolean => width[i] < limitMm && facing[i] >= FACING;

  /** Length from sample `i` on in one direction; true where it came back to `i`. */
  function walk(i: number, next: (s: Samples, j: number) => number, id: number): [length: number, round: boolean] {
    let length = 0;
    let [x, y, w] = [cx[i], cy[i], width[i]];
    stretchOf[i] = id;
    for (let j = next(samples, i); ; j = next(samples, j)) {
      const corner = mate[j] < 0 && samples.nx[j] === 0 && samples.ny[j] === 0;
      if (!corner && !(width[j] < limitMm)) {
        if (mate[j] >= 0 && facing[j] >= FACING && outline[mate[j]] === outline[mate[i]]) {
          length += Math.hypot(cx[j] - x, cy[j] - y) * Math.max(0, (limitMm - w) / (width[j] - w));
        }
        return [length, false];
      }
      if (narrow(j) || j === i) {
        if (outline[mate[j]] !== outline[mate[i]]) return [length, false];
        length += Math.hypot(cx[j] - x, cy[j] - y);
        [x, y, w] = [cx[j], cy[j], width[j]];
        stretchOf[j] = id;
      }
      if (j === i) return [length, true];
    }
  }

  function stretchAt(i: number): number {
    if (stretchOf[i] >= 0) return stretchOf[i];
    const id = lengths.length;
    lengths.push(0);
    const [ahead, round] = walk(i, sampleAfter, id);
    lengths[id] = round ? ahead : ahead + walk(i, sampleBefore, id)[0];
    return id;
  }

  return {
    lengthAt(i) {
      if (mate[i] < 0) return 0;
      const own = stretchAt(i);
      if (stretchOf[mate[i]] === own) return lengths[own] / 2;
      if (!narrow(mate[i])) return lengths[own];
      const other = stretchAt(mate[i]);
      return (lengths[own] + lengths[other]) / 2;
    },
  };
}
