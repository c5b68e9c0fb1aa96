/** Something that lies between two distances along a closed outline, mm. */
export interface Along {
  readonly from: number;
  readonly to: number;
}

export interface CyclicRunsOptions<T> {
  /** The whole length of the outline, mm. */
  readonly around: number;
  /** Whether two that follow each other belong together; `gap` is what lies between them, mm. */
  readonly joined: (a: T, b: T, gap: number) => boolean;
}

/**
 * The runs of items that follow each other along a closed outline and belong together. `items` in order along it; a run may go on past the
 * outline's start: its later items then have a smaller `from` than its first. Where all belong together around it, one run starts with the first.
 */
export function cyclicRuns<T extends Along>(items: readonly T[], { around, joined }: CyclicRunsOptions<T>): T[][] {
  const n = items.length;
  if (n === 0) return [];
  const joins = (k: number): boolean => {
    const [a, b] = [items[k], items[(k + 1) % n]];
    return joined(a, b, b.from - a.to + (k + 1 === n ? around : 0));
  };
  let start = 0;
  while (start < n && joins((start + n - 1) % n)) start++;
  if (start === n || n === 1) return [[...items]];
  const runs: T[][] = [];
  for (let i = 0; i < n; i++) {
    const k = (start + i) % n;
    if (i > 0 && joins((k + n - 1) % n)) runs[runs.length - 1].push(items[k]);
    else runs.push([items[k]]);
  }
  return runs;
}
