import { describe, expect, it } from 'vitest';
import { noise } from '../strength/outlines.test-help.js';
import { lacking, type SupportEdge } from './support.js';
import { type ChoiceEdge, chooseTies } from './tie-choice.js';

const choose = (needs: readonly number[], edges: readonly ChoiceEdge[]): ChoiceEdge[] =>
  chooseTies({ needs, edges, feasible: () => true }).map((k) => edges[k]);

const sum = (edges: readonly ChoiceEdge[]): number => edges.reduce((total, e) => total + e.cost, 0);

/** The rule of support read off its words: all simple ways to piece 0 are listed, and two looked for that share no tie. */
function supportsByWords(piece: number, need: number, chosen: readonly SupportEdge[]): number {
  const ways: number[][] = [];
  const walk = (at: number, used: number[], seen: number[]): void => {
    if (at === 0) {
      ways.push(used);
      return;
    }
    chosen.forEach(({ a, b }, k) => {
      const next = a === at ? b : b === at ? a : -1;
      if (next >= 0 && !seen.includes(next)) walk(next, [...used, k], [...seen, next]);
    });
  };
  walk(piece, [], [piece]);
  if (ways.length === 0) return 0;
  const place = (k: number): number => (chosen[k].a === piece ? chosen[k].placeA : chosen[k].placeB);
  const apart = (p: number, q: number): boolean => Math.min(Math.abs(p - q), 1 - Math.abs(p - q)) >= 0.25 - 1e-9;
  const twice = ways.some((v) => ways.some((w) => v.every((k) => !w.includes(k)) && apart(place(v[0]), place(w[0]))));
  return need > 1 && twice ? 2 : 1;
}

function lackingByWords(needs: readonly number[], chosen: readonly SupportEdge[]): number {
  return needs.reduce(
    (total, need, piece) => total + (piece === 0 ? 0 : need - Math.min(need, supportsByWords(piece, need, chosen))),
    0,
  );
}

/** The best of all sets of edges: fewest supports lacking, then fewest ties, then least cost. */
function bruteForce(
  needs: readonly number[],
  edges: readonly ChoiceEdge[],
): { lack: number; count: number; cost: number } {
  let best = { lack: Infinity, count: Infinity, cost: Infinity };
  for (let set = 0; set < 1 << edges.length; set++) {
    const chosen = edges.filter((_, k) => set & (1 << k));
    if (chosen.length > 2 * (needs.length - 1)) continue;
    const lack = lackingByWords(needs, chosen);
    const cost = sum(chosen);
    const better = lack - best.lack || chosen.length - best.count || cost - best.cost;
    if (better < 0) best = { lack, count: chosen.length, cost };
  }
  return best;
}

function randomProblem(seed: number): { needs: number[]; edges: ChoiceEdge[] } {
  const random = noise(seed);
  for (let k = 0; k < 5; k++) random();
  const pieces = 2 + Math.floor(3 * random());
  const needs = Array.from({ length: pieces }, (_, k) => (k === 0 ? 0 : random() < 0.5 ? 1 : 2));
  const edges: ChoiceEdge[] = [];
  const count = 4 + Math.floor(7 * random());
  while (edges.length < count) {
    const a = Math.floor(pieces * random());
    const b = Math.floor(pieces * random());
    if (a !== b) edges.push({ a, b, placeA: random(), placeB: random(), cost: 0.5 + 10 * random() });
  }
  return { needs, edges };
}

describe('choosing ties', () => {
  it('counts supports as the rule says, on random choices', () => {
    for (let seed = 1; seed <= 400; seed++) {
      const { needs, edges } = randomProblem(seed);
      expect(lacking(needs, edges), `case ${seed}`).toBe(lackingByWords(needs, edges));
    }
  });

  it('is as few as brute force finds, and within 1.1 of its cost', () => {
    let worst = 1;
    for (let seed = 1; seed <= 250; seed++) {
      const { needs, edges } = randomProblem(seed);
      const chosen = choose(needs, edges);
      const best = bruteForce(needs, edges);
      expect(lackingByWords(needs, chosen), `case ${seed}`).toBe(best.lack);
      expect(chosen.length, `case ${seed}`).toBe(best.count);
      if (best.cost > 0) worst = Math.max(worst, sum(chosen) / best.cost);
    }
    expect(worst).toBeLessThanOrEqual(1.1);
  });

  it('takes a tree where one support each is asked for', () => {
    const edge = (a: number, b: number, cost: number): ChoiceEdge => ({ a, b, cost, placeA: 0, placeB: 0 });
    const chosen = choose([0, 1, 1, 1], [edge(0, 1, 3), edge(1, 2, 1), edge(0, 2, 4), edge(2, 3, 2), edge(1, 3, 2.5)]);
    expect(chosen.map((e) => e.cost)).toEqual([3, 1, 2]);
  });

  it('holds what it can where some piece is out of reach', () => {
    const edge = (a: number, b: number, cost: number): ChoiceEdge => ({ a, b, cost, placeA: 0, placeB: 0 });
    expect(choose([0, 1, 1, 1], [edge(0, 1, 3), edge(2, 3, 1)]).map((e) => e.cost)).toEqual([3]);
  });

  it('asks for two places well apart', () => {
    const at = (placeB: number, cost: number): ChoiceEdge => ({ a: 0, b: 1, placeA: 0, placeB, cost });
    expect(choose([0, 2], [at(0, 1), at(0.1, 1), at(0.9, 1), at(0.3, 2), at(0.6, 3)]).map((e) => e.cost)).toEqual([
      1, 2,
    ]);
    // One place only: held once.
    expect(choose([0, 2], [at(0, 1), at(0.1, 2)]).map((e) => e.cost)).toEqual([1]);
  });

  it('passes over places where no tie may stand', () => {
    const edges = [1, 2, 3].map((cost): ChoiceEdge => ({ a: 0, b: 1, placeA: 0, placeB: cost / 4, cost }));
    expect(chooseTies({ needs: [0, 1], edges, feasible: (k) => k > 0 })).toEqual([1]);
  });
});
