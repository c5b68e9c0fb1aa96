import type { Point } from '../geometry/types.js';

/** Places on a square lattice that lie inside closed rings which do not cross (outsides and rims of paper alike), `spacing` mm apart. */
export function innerPlaces(
  rings: readonly (readonly Point[])[],
  { spacing }: { readonly spacing: number },
): { readonly places: Point[]; readonly spacing: number } {
  // Where each level line of the lattice meets the rings; half a spacing off zero, so that it runs along few straight sides.
  const cuts = new Map<number, number[]>();
  for (const ring of rings) {
    ring.forEach((a, k) => {
      const b = ring[(k + 1) % ring.length];
      const [low, high] = a.y < b.y ? [a, b] : [b, a];
      for (let row = Math.ceil(low.y / spacing - 0.5); (row + 0.5) * spacing < high.y; row++) {
        const y = (row + 0.5) * spacing;
        const x = low.x + ((high.x - low.x) * (y - low.y)) / (high.y - low.y);
        const line = cuts.get(row);
        if (line) line.push(x);
        else cuts.set(row, [x]);
      }
    });
  }
  const places: Point[] = [];
  for (const [row, line] of cuts) {
    line.sort((a, b) => a - b);
    for (let k = 0; k + 1 < line.length; k += 2) {
      for (let column = Math.floor(line[k] / spacing) + 1; column * spacing < line[k + 1]; column++) {
        places.push({ x: column * spacing, y: (row + 0.5) * spacing });
      }
    }
  }
  return { places, spacing };
}
