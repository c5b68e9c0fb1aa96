import type { GreyRing, LeftOut } from '../types.js';

export interface SpeckLimits {
  /** Dark areas smaller than this are left out, light ones filled. mm². */
  readonly speckMm2: number;
  readonly pinholeMm2: number;
}

/** Which rings stay, and what was left out. */
export interface KeptRings {
  /** 1 for each ring that stays, 0 else. */
  readonly kept: Uint8Array;
  readonly specks: LeftOut;
  readonly pinholes: LeftOut;
}

/**
 * Leaves out small areas (area opening and closing: L. Vincent, Morphological Area Openings and Closings, 1993, on the tree of rings). An area is what lies inside
 * its ring and outside of the rings kept in it. The innermost go first, so that a pinhole with a speck in it is one light area. Holes of a speck vanish with it; what
 * they hold lies on paper then. `areas`: the area inside of each ring, mm², above zero.
 */
export function leaveSpecks(rings: readonly GreyRing[], areas: Float64Array, limits: SpeckLimits): KeptRings {
  const kept = new Uint8Array(rings.length).fill(1);
  const within = new Float64Array(rings.length);
  const found = { specks: { count: 0, areaMm2: 0 }, pinholes: { count: 0, areaMm2: 0 } };
  // Rings around others come before them.
  const children = childLists(rings);
  for (let k = rings.length - 1; k >= 0; k--) {
    const { hole, inside } = rings[k];
    const area = Math.max(0, areas[k] - within[k]);
    if (area >= (hole ? limits.pinholeMm2 : limits.speckMm2)) {
      if (inside >= 0) within[inside] += areas[k];
      continue;
    }
    kept[k] = 0;
    const left = hole ? found.pinholes : found.specks;
    left.count++;
    left.areaMm2 += area;
    // Rings in it part like from like now, and those within them lie in what lies around.
    for (let child = children.first[k]; child >= 0; child = children.next[child]) {
      if (kept[child] === 0) continue;
      kept[child] = 0;
      for (let grandchild = children.first[child]; grandchild >= 0; grandchild = children.next[grandchild]) {
        if (kept[grandchild] === 1 && inside >= 0) within[inside] += areas[grandchild];
      }
    }
  }
  return { kept, ...found };
}

/** Rings next within each: the first of them, and for each ring the next one beside it; -1 for none. */
function childLists(rings: readonly GreyRing[]): { first: Int32Array; next: Int32Array } {
  const first = new Int32Array(rings.length).fill(-1);
  const next = new Int32Array(rings.length).fill(-1);
  rings.forEach(({ inside }, k) => {
    if (inside < 0) return;
    next[k] = first[inside];
    first[inside] = k;
  });
  return { first, next };
}
