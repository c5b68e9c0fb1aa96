/** Things that are put together into sets (B. Galler and M. Fischer, Comm. ACM 7 (1964) 301). Each set is known by one of its members, its root. */
export class UnionFind {
  readonly #parent: number[] = [];

  /** Things 0 … count − 1, each a set of its own. */
  constructor(count = 0) {
    for (let k = 0; k < count; k++) this.#parent.push(k);
  }

  get count(): number {
    return this.#parent.length;
  }

  /** One more thing; gives its number. */
  add(): number {
    return this.#parent.push(this.#parent.length) - 1;
  }

  find(k: number): number {
    const parent = this.#parent;
    let root = k;
    while (parent[root] !== root) {
      parent[root] = parent[parent[root]];
      root = parent[root];
    }
    return root;
  }

  /** Makes the sets of two things one, whose root is the lower of the two roots; gives that root. */
  join(a: number, b: number): number {
    const [p, q] = [this.find(a), this.find(b)];
    return p < q ? this.hang(q, p) : this.hang(p, q);
  }

  /** Makes the set of one root part of another's; gives that other root. */
  hang(root: number, under: number): number {
    this.#parent[root] = under;
    return under;
  }

  /** The sets as lists of numbers, in the order of their first members. */
  groups(): number[][] {
    const groups = new Map<number, number[]>();
    for (let k = 0; k < this.count; k++) {
      const root = this.find(k);
      const group = groups.get(root);
      if (group) group.push(k);
      else groups.set(root, [k]);
    }
    return [...groups.values()];
  }
}
