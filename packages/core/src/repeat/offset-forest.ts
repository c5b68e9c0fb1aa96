import type { LatticeStep, WindingRank } from './types.js';

/**
 * A union-find whose members carry lattice offsets (Galler & Fischer 1964; with weights as in Tarjan & van Leeuwen 1984). Joining two
 * members that are already joined, by another offset than before, closes a cycle that winds around the cloth; the offsets of such cycles
 * are kept (Machta et al., Phys. Rev. E 54, 1332 (1996), for the idea).
 */
export class OffsetForest {
  private readonly parent: Int32Array;
  private readonly toParentI: Int32Array;
  private readonly toParentJ: Int32Array;
  private readonly windings = new Map<number, LatticeStep[]>();

  constructor(size: number) {
    this.parent = Int32Array.from({ length: size }, (_, k) => k);
    this.toParentI = new Int32Array(size);
    this.toParentJ = new Int32Array(size);
  }

  /** The member's root, and the member's lattice position when its root stands at the origin. */
  find(k: number): { root: number; i: number; j: number } {
    const path: number[] = [];
    let root = k;
    while (this.parent[root] !== root) {
      path.push(root);
      root = this.parent[root];
    }
    // Path compression from the root down, offsets added on the way.
    let i = 0;
    let j = 0;
    for (let n = path.length - 1; n >= 0; n--) {
      const at = path[n];
      i += this.toParentI[at];
      j += this.toParentJ[at];
      this.toParentI[at] = i;
      this.toParentJ[at] = j;
      this.parent[at] = root;
    }
    return { root, i: k === root ? 0 : this.toParentI[k], j: k === root ? 0 : this.toParentJ[k] };
  }

  /** States that `b`, moved by `step`, is connected to `a` where it stands. */
  join(a: number, b: number, step: LatticeStep): void {
    const p = this.find(a);
    const q = this.find(b);
    // Position of q's root when p's root stands at the origin.
    const i = p.i + step.i - q.i;
    const j = p.j + step.j - q.j;
    if (p.root === q.root) {
      if (i !== 0 || j !== 0) this.windingsOf(p.root).push({ i, j });
      return;
    }
    this.parent[q.root] = p.root;
    this.toParentI[q.root] = i;
    this.toParentJ[q.root] = j;
    const moved = this.windings.get(q.root);
    if (moved) {
      this.windingsOf(p.root).push(...moved);
      this.windings.delete(q.root);
    }
  }

  /** Rank of the lattice that the cycles of the member's tree span. */
  rank(k: number): WindingRank {
    const cycles = this.windings.get(this.find(k).root) ?? [];
    if (cycles.length === 0) return 0;
    const first = cycles[0];
    return cycles.some((c) => c.i * first.j - c.j * first.i !== 0) ? 2 : 1;
  }

  private windingsOf(root: number): LatticeStep[] {
    const list = this.windings.get(root);
    if (list) return list;
    const fresh: LatticeStep[] = [];
    this.windings.set(root, fresh);
    return fresh;
  }
}
