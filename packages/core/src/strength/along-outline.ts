/**
 * The shorter way along a closed outline of cubics between two places on it (number of a cubic and the parameter on it), mm, up to `mostMm`: by
 * control polygons, so somewhat too long on bent curves. Infinite where it is longer than that.
 */
export function alongOutline(coords: Float64Array, from: number, to: number, mostMm: number): number {
  return Math.min(forwards(coords, from, to, mostMm), forwards(coords, to, from, mostMm));
}

function forwards(coords: Float64Array, from: number, to: number, mostMm: number): number {
  const pieces = Math.floor((coords.length - 2) / 6);
  let piece = Math.min(pieces - 1, Math.floor(from));
  let start = from - piece;
  let sum = 0;
  for (let steps = 0; steps <= pieces; steps++) {
    const ends = Math.floor(to) === piece && to - piece >= start;
    sum += ((ends ? to - piece : 1) - start) * polygonLength(coords, 6 * piece);
    if (sum > mostMm) return Infinity;
    if (ends) return sum;
    piece = (piece + 1) % pieces;
    start = 0;
  }
  return Infinity;
}

function polygonLength(q: Float64Array, o: number): number {
  let sum = 0;
  for (let k = o; k < o + 6; k += 2) sum += Math.hypot(q[k + 2] - q[k], q[k + 3] - q[k + 1]);
  return sum;
}
