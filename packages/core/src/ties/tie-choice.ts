import { UnionFind } from '../geometry/union-find.js';
import { lacking, type SupportEdge, supportsOf, wellApart } from './support.js';

/** A place where a tie may stand, and what it costs. */
export interface ChoiceEdge extends SupportEdge {
  /** Length, or length weighed by how much it shows; > 0. */
  readonly cost: number;
}

export interface TieChoice {
  /** Pieces of paper: `needs[k]` supports for piece k (0, 1 or 2); piece 0 holds them. */
  readonly needs: readonly number[];
  readonly edges: readonly ChoiceEdge[];
  /** Whether a tie may stand there. Asked only of places that are about to be chosen. */
  readonly feasible: (edge: number) => boolean;
  /** What two ties cost besides when both stand; none by default. */
  readonly clash?: (e: number, f: number) => number;
}

/** Work on one problem (pieces and ties looked at) after which no more changes are tried: about a second. */
const MOST_WORK = 2_000_000;
/** Pairs are looked for among so many cheapest places on each of so many parts of the rims. */
const RIM_PARTS = 8;
const RIM_PLACES = 2;
/** Up to this many pieces a second start is tried: all places, of which the dearest are given up one by one. */
const SMALL_PIECES = 12;
/** Places of which pairs are tried for pairs. */
const PAIRED = 28;
/** A gain below this is none: rounding. */
const LEAST_GAIN = 1e-9;

/**
 * Chooses ties that give every piece its supports (see `supportsOf`): as few as can be, then as cheap as can be. Exact for one piece, and
 * for any number that need one support each (Kruskal's tree, 1956); else a tree, ties added where support lacks, and exchanges of up to two
 * for two while they gain. Pieces that can't be held, or not twice, get what they can. Returns indices of edges, rising.
 */
export function chooseTies(problem: TieChoice): number[] {
  const order = problem.edges.map((_, k) => k).sort((e, f) => problem.edges[e].cost - problem.edges[f].cost || e - f);
  if (problem.needs.length === 2 && problem.needs[1] === 2)
    return bestPair(problem, order) ?? cheapestOne(problem, order);
  const tree = spanningTree(problem, order);
  if (!problem.needs.some((n) => n > 1) && !clashes(problem, tree)) return tree.sort((e, f) => e - f);
  const grown = new Search(problem, order, tree);
  const one = grown.grow().improve();
  if (problem.needs.length > SMALL_PIECES) return one.chosen;
  const other = new Search(problem, order, grown.pruned()).improve();
  return (isBetter(other.grade, one.grade) ? other : one).chosen;
}

function clashes({ clash }: TieChoice, chosen: readonly number[]): boolean {
  return clash !== undefined && chosen.some((e, i) => chosen.slice(i + 1).some((f) => clash(e, f) > 0));
}

function cheapestOne({ feasible }: TieChoice, order: readonly number[]): number[] {
  const found = order.find(feasible);
  return found === undefined ? [] : [found];
}

/** The cheapest two ties well apart; null where there are none. */
function bestPair({ edges, feasible, clash }: TieChoice, order: readonly number[]): number[] | null {
  let best: number[] | null = null;
  let least = Infinity;
  for (let j = 1; j < order.length; j++) {
    const f = edges[order[j]];
    if (edges[order[0]].cost + f.cost >= least) break;
    for (let i = 0; i < j; i++) {
      const e = edges[order[i]];
      const plain = e.cost + f.cost;
      if (plain >= least) break;
      if (!wellApart(1, e, f) || !feasible(order[i]) || !feasible(order[j])) continue;
      const cost = plain + (clash?.(order[i], order[j]) ?? 0);
      if (cost < least - LEAST_GAIN) {
        least = cost;
        best = [order[i], order[j]];
      }
    }
  }
  return best?.sort((e, f) => e - f) ?? null;
}

function spanningTree({ needs, edges, feasible }: TieChoice, order: readonly number[]): number[] {
  const held = new UnionFind(needs.length);
  const tree: number[] = [];
  for (const k of order) {
    const { a, b } = edges[k];
    if (held.find(a) === held.find(b) || !feasible(k)) continue;
    held.join(a, b);
    tree.push(k);
  }
  // What no way joins with piece 0 is not held by being tied to its like.
  return tree.filter((k) => held.find(edges[k].a) === 0);
}

/** How good a choice is: supports that lack, number of ties, cost. Fewer first, in this order. */
type Grade = readonly [lack: number, count: number, cost: number];

class Search {
  private work = 0;
  private chosen: number[];
  private grade: Grade;
  private readonly spreadSet: ReadonlySet<number>;

  constructor(
    private readonly problem: TieChoice,
    private readonly order: readonly number[],
    start: readonly number[],
  ) {
    this.chosen = [...start];
    this.grade = this.gradeOf(this.chosen);
    this.spreadSet = spreadOut(problem.edges, order, RIM_PLACES);
  }

  /** Changes the choice as long as that makes it better. */
  improve(): { chosen: number[]; grade: Grade } {
    let better = true;
    while (better && this.work < MOST_WORK) {
      better = this.dropOne() || this.exchange(1, this.order) || this.fewer() || this.exchange(2, this.cheapest());
    }
    return { chosen: [...this.chosen].sort((e, f) => e - f), grade: this.grade };
  }

  /** A choice that lacks as little as can be: of all places those are given up, dearest first, that nothing needs. */
  pruned(): number[] {
    const { needs, edges, feasible } = this.problem;
    let kept = this.order.filter((k) => (this.chosen.includes(k) || this.spreadSet.has(k)) && feasible(k));
    const lack = (places: readonly number[]): number => {
      const standing = places.map((k) => edges[k]);
      return lacking(needs, standing);
    };
    const least = lack(kept);
    for (const k of [...kept].reverse()) {
      const rest = kept.filter((o) => o !== k);
      if (lack(rest) === least) kept = rest;
    }
    return kept;
  }

  private gradeOf(chosen: readonly number[]): Grade {
    const { needs, edges, clash } = this.problem;
    let cost = 0;
    chosen.forEach((e, i) => {
      cost += edges[e].cost;
      if (clash) for (let j = i + 1; j < chosen.length; j++) cost += clash(e, chosen[j]);
    });
    return [
      lacking(
        needs,
        chosen.map((k) => edges[k]),
      ),
      chosen.length,
      cost,
    ];
  }

  /** Takes a choice where it is better and may stand. */
  private take(next: readonly number[], added: readonly number[]): boolean {
    this.work += next.length + this.problem.needs.length;
    const grade = this.gradeOf(next);
    if (!isBetter(grade, this.grade) || !added.every(this.problem.feasible)) return false;
    this.chosen = [...next];
    this.grade = grade;
    return true;
  }

  /** Adds single ties, or pairs of them at one piece, for every piece that lacks a support. Outer pieces first. */
  grow(): this {
    const { needs, edges } = this.problem;
    for (let piece = 1; piece < needs.length; piece++) {
      if (needs[piece] < 2 || this.supports(piece) !== 1) continue;
      const own = this.order.filter((k) => edges[k].a === piece || edges[k].b === piece);
      if (this.addCheapest(piece, own) || this.addCheapest(piece, this.order)) continue;
      this.addPair(own.slice(0, PAIRED));
    }
    return this;
  }

  private supports(piece: number): number {
    const { needs, edges } = this.problem;
    return supportsOf(
      piece,
      needs[piece],
      this.chosen.map((k) => edges[k]),
      needs.length,
    );
  }

  private addCheapest(piece: number, places: readonly number[]): boolean {
    const { needs, edges, feasible } = this.problem;
    const standing = this.chosen.map((k) => edges[k]);
    for (const k of places) {
      if (this.chosen.includes(k)) continue;
      this.work += standing.length + needs.length;
      if (supportsOf(piece, 2, [...standing, edges[k]], needs.length) < 2 || !feasible(k)) continue;
      this.chosen.push(k);
      this.grade = this.gradeOf(this.chosen);
      return true;
    }
    return false;
  }

  private addPair(places: readonly number[]): void {
    for (let j = 1; j < places.length; j++) {
      for (let i = 0; i < j; i++) {
        const added = [places[i], places[j]];
        if (!added.some((k) => this.chosen.includes(k)) && this.take([...this.chosen, ...added], added)) return;
      }
    }
  }

  private dropOne(): boolean {
    return this.chosen.some((_, k) => this.take(without(this.chosen, [k]), []));
  }

  /** Two ties that one replaces. */
  private fewer(): boolean {
    if (this.chosen.length < 2) return false;
    return this.replace(2, 1, this.order);
  }

  private exchange(count: number, places: readonly number[]): boolean {
    if (this.chosen.length < count) return false;
    return this.replace(count, count, places);
  }

  private replace(removed: number, added: number, places: readonly number[]): boolean {
    for (const gone of subsets(this.chosen.length, removed)) {
      const kept = without(this.chosen, gone);
      for (const set of subsets(places.length, added)) {
        if (this.work >= MOST_WORK) return false;
        const come = set.map((k) => places[k]);
        if (come.some((k) => this.chosen.includes(k))) continue;
        if (this.take([...kept, ...come], come)) return true;
      }
    }
    return false;
  }

  /** The cheapest places between every two pieces, spread over their rims, for pairs of exchanges. */
  private cheapest(): number[] {
    return this.order.filter((k) => this.spreadSet.has(k)).slice(0, PAIRED);
  }
}

/** Places of which no more than `each` are cheaper between the same pieces and on the same part of their rims. */
function spreadOut(edges: readonly ChoiceEdge[], order: readonly number[], each: number): Set<number> {
  const taken = new Map<string, number>();
  const part = (piece: number, place: number): number => (piece === 0 ? 0 : Math.floor(RIM_PARTS * place));
  return new Set(
    order.filter((k) => {
      const { a, b, placeA, placeB } = edges[k];
      const key = `${a} ${b} ${part(a, placeA)} ${part(b, placeB)}`;
      const n = taken.get(key) ?? 0;
      taken.set(key, n + 1);
      return n < each;
    }),
  );
}

function isBetter(a: Grade, b: Grade): boolean {
  if (a[0] !== b[0]) return a[0] < b[0];
  if (a[1] !== b[1]) return a[1] < b[1];
  return a[2] < b[2] - LEAST_GAIN;
}

function without(list: readonly number[], places: readonly number[]): number[] {
  return list.filter((_, k) => !places.includes(k));
}

/** All sets of `size` (1 or 2) of the numbers below `count`, small numbers first. */
function* subsets(count: number, size: number): Generator<number[]> {
  for (let j = size - 1; j < count; j++) {
    if (size === 1) yield [j];
    else for (let i = 0; i < j; i++) yield [i, j];
  }
}
