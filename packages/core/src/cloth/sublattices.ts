import type { LatticeStep } from '../repeat/types.js';

/**
 * A sublattice of the whole-number plane: all `m·(d, b) + n·(0, a)`, `0 <= b < a`. Its index is `a·d`; there are as many of index n as the sum of
 * n's divisors (OEIS A000203), and each stands here once.
 */
export interface Sublattice {
  readonly a: number;
  readonly b: number;
  readonly d: number;
}

/** All sublattices of an index (a whole number, at least 1): the shortest step down a column first. */
export function sublattices(index: number): Sublattice[] {
  const all: Sublattice[] = [];
  for (let a = 1; a <= index; a++) {
    if (index % a !== 0) continue;
    for (let b = 0; b < a; b++) all.push({ a, b, d: index / a });
  }
  return all;
}

/** Which coset a step lies in: 0 to index − 1, 0 for the sublattice itself. */
export function cosetOf({ a, b, d }: Sublattice, { i, j }: LatticeStep): number {
  const m = Math.floor(i / d);
  const rest = (((j - m * b) % a) + a) % a;
  return (i - m * d) * a + rest;
}

/** A colouring by cosets that gives two steps that differ by one of `apart` different colours, with the fewest colours up to `most`; null for none. */
export function latticeColouring(
  apart: readonly LatticeStep[],
  { least, most }: { least: number; most: number },
): Sublattice | null {
  for (let index = Math.max(1, least); index <= most; index++) {
    const found = sublattices(index).find((s) => apart.every((step) => cosetOf(s, step) !== 0));
    if (found) return found;
  }
  return null;
}
