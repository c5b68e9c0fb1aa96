import type { GreyImage } from '@okuri/core';

/** How many pixels have each grey, 0 … `white`; with `within` only those wholly inside of it. */
export function greyHistogram({ values, white }: GreyImage, within: Uint8Array | null = null): Float64Array {
  const counts = new Float64Array(white + 1);
  if (within === null) for (let k = 0; k < values.length; k++) counts[values[k]]++;
  else for (let k = 0; k < values.length; k++) if (within[k] === 255) counts[values[k]]++;
  return counts;
}

/**
 * The grey that divides a histogram into two classes so that most of its variance lies between them, or -1 where it holds one grey only: the darker class is
 * `<=` it (N. Otsu, A Threshold Selection Method from Gray-Level Histograms, IEEE Trans. SMC 9 (1979) 62). Of equally good ones, which an empty valley has, the middle.
 */
export function otsuThreshold(counts: Float64Array): number {
  let total = 0;
  let sum = 0;
  for (let grey = 0; grey < counts.length; grey++) {
    total += counts[grey];
    sum += grey * counts[grey];
  }
  let best = 0;
  let first = -1;
  let last = -1;
  let dark = 0;
  let darkSum = 0;
  for (let grey = 0; grey < counts.length - 1; grey++) {
    dark += counts[grey];
    darkSum += grey * counts[grey];
    const light = total - dark;
    if (dark === 0 || light === 0) continue;
    const apart = darkSum / dark - (sum - darkSum) / light;
    const between = dark * light * apart * apart;
    if (between > best) {
      best = between;
      first = grey;
      last = grey;
    } else if (between === best && first !== -1) {
      last = grey;
    }
  }
  return first === -1 ? -1 : (first + last) >> 1;
}

/**
 * The middle of a class of greys `from` … `to`: the median of its shortest half, the narrowest range that holds half of its pixels (D. F. Andrews et al., Robust
 * Estimates of Location, 1972, "shorth"). Blurred edges, which fill the one side of a class, hardly move it. -1 for a class without pixels.
 */
export function classMiddle(counts: Float64Array, from: number, to: number): number {
  let total = 0;
  for (let grey = from; grey <= to; grey++) total += counts[grey];
  if (total === 0) return -1;
  let [low, high, shortest, most] = [from, to, Number.POSITIVE_INFINITY, 0];
  for (let end = from, start = from, held = 0; end <= to; end++) {
    held += counts[end];
    while (held - counts[start] >= total / 2) held -= counts[start++];
    if (held < total / 2) continue;
    const length = end - start;
    if (length > shortest || (length === shortest && held <= most)) continue;
    [low, high, shortest, most] = [start, end, length, held];
  }
  let left = most / 2;
  for (let grey = low; grey <= high; grey++) {
    left -= counts[grey];
    if (left <= 0) return grey;
  }
  return high;
}
