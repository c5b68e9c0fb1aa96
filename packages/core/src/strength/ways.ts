/** Links between numbered places, each with a length of 0 or more; every link goes both ways. */
export class Ways {
  private readonly links: number[][];
  private readonly lengths: number[][];

  constructor(readonly places: number) {
    this.links = Array.from({ length: places }, () => []);
    this.lengths = Array.from({ length: places }, () => []);
  }

  add(a: number, b: number, length: number): void {
    if (!(length >= 0)) throw new RangeError(`got a link ${length} mm long, expected 0 or more`);
    this.links[a].push(b);
    this.lengths[a].push(length);
    this.links[b].push(a);
    this.lengths[b].push(length);
  }

  /** Length of the shortest way from one place to every other (Dijkstra's method), and the place before each on it; infinite where none leads. */
  from(start: number): { lengths: Float64Array; before: Int32Array } {
    const lengths = new Float64Array(this.places).fill(Infinity);
    const before = new Int32Array(this.places).fill(-1);
    const heap = new Heap();
    lengths[start] = 0;
    heap.push(start, 0);
    for (let top = heap.pop(); top !== null; top = heap.pop()) {
      const { item, key } = top;
      if (key > lengths[item]) continue;
      const [links, along] = [this.links[item], this.lengths[item]];
      for (let k = 0; k < links.length; k++) {
        const length = key + along[k];
        if (length >= lengths[links[k]]) continue;
        lengths[links[k]] = length;
        before[links[k]] = item;
        heap.push(links[k], length);
      }
    }
    return { lengths, before };
  }
}

/** A binary heap with the smallest key on top. */
class Heap {
  private readonly items: number[] = [];
  private readonly keys: number[] = [];

  push(item: number, key: number): void {
    const { items, keys } = this;
    let k = items.length;
    items.push(item);
    keys.push(key);
    while (k > 0) {
      const up = (k - 1) >> 1;
      if (keys[up] <= key) break;
      items[k] = items[up];
      keys[k] = keys[up];
      k = up;
    }
    items[k] = item;
    keys[k] = key;
  }

  pop(): { item: number; key: number } | null {
    const { items, keys } = this;
    if (items.length === 0) return null;
    const top = { item: items[0], key: keys[0] };
    const item = items.pop() as number;
    const key = keys.pop() as number;
    const n = items.length;
    for (let k = 0; n > 0; ) {
      let down = 2 * k + 1;
      if (down + 1 < n && keys[down + 1] < keys[down]) down++;
      if (down >= n || keys[down] >= key) {
        items[k] = item;
        keys[k] = key;
        break;
      }
      items[k] = items[down];
      keys[k] = keys[down];
      k = down;
    }
    return top;
  }
}
