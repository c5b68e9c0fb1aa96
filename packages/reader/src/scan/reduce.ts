/**
 * Grey values at one `factor`-th of the size: the mean of every square of `factor` by `factor` pixels. What is left over on the right and at the bottom
 * (less than `factor` pixels) is cut off, so that places in the reduced picture are exactly those of the large one, divided by `factor`.
 */
export function reduceGrey<T extends Uint8Array | Uint16Array>(
  values: T,
  { width, height, factor }: { readonly width: number; readonly height: number; readonly factor: number },
): { readonly values: T; readonly width: number; readonly height: number } {
  if (!Number.isInteger(factor) || factor < 1) throw new RangeError(`got factor ${factor}, expected a whole number`);
  const [w, h] = [Math.floor(width / factor), Math.floor(height / factor)];
  const reduced = values.slice(0, w * h) as T;
  const sums = new Float64Array(w);
  const count = factor * factor;
  for (let j = 0; j < h; j++) {
    sums.fill(0);
    for (let row = j * factor; row < (j + 1) * factor; row++) {
      let at = row * width;
      for (let i = 0; i < w; i++) for (let k = 0; k < factor; k++) sums[i] += values[at++];
    }
    for (let i = 0; i < w; i++) reduced[j * w + i] = Math.round(sums[i] / count);
  }
  return { values: reduced, width: w, height: h };
}
