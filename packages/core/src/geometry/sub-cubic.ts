/** The part of a cubic between two parameters, by de Casteljau's construction. */
export function subCubic(coords: Float64Array, o: number, t0: number, t1: number): Float64Array {
  if (t0 === 0 && t1 === 1) return coords.slice(o, o + 8);
  const out = new Float64Array(8);
  for (const axis of [0, 1]) {
    const [p0, p1, p2, p3] = [0, 2, 4, 6].map((k) => coords[o + k + axis]);
    // Polar forms of the cubic: its controls on any stretch.
    const blossom = (r: number, s: number, t: number): number => {
      const [a, b, c] = [p0 + r * (p1 - p0), p1 + r * (p2 - p1), p2 + r * (p3 - p2)];
      const [d, e] = [a + s * (b - a), b + s * (c - b)];
      return d + t * (e - d);
    };
    out[axis] = t0 === 0 ? p0 : blossom(t0, t0, t0);
    out[2 + axis] = blossom(t0, t0, t1);
    out[4 + axis] = blossom(t0, t1, t1);
    out[6 + axis] = t1 === 1 ? p3 : blossom(t1, t1, t1);
  }
  return out;
}
