import { ringDistance } from './tie-banks.js';

/** Two ties hold a large island well apart where at least this share of its rim lies between them, either way around. */
export const APART_SHARE = 0.25;

/** A place where a tie may stand, as an edge between two pieces of paper; piece 0 is what already holds. */
export interface SupportEdge {
  readonly a: number;
  readonly b: number;
  /** Where it lands on the rim of either piece, as a share of the rim (0 to 1); of no account on piece 0. */
  readonly placeA: number;
  readonly placeB: number;
}

/**
 * The rule of support. A piece of paper that needs **one** support is held when some way over the chosen ties leads from it to piece 0. One
 * that needs **two** is held when two ways lead from it to piece 0 that share no tie and do not come back to the piece itself, and their
 * first ties land on its rim at least `APART_SHARE` of the rim apart. Returns how many of the supports it needs a piece has: 0, 1 or 2.
 */
export function supportsOf(piece: number, need: number, chosen: readonly SupportEdge[], pieces: number): number {
  const links = linksOf(chosen, pieces);
  if (!reaches(piece, links, chosen)) return 0;
  return need < 2 ? 1 : heldTwice(piece, chosen, links) ? 2 : 1;
}

/** How many supports all pieces lack together; `needs[0]` is of no account. */
export function lacking(needs: readonly number[], chosen: readonly SupportEdge[]): number {
  const links = linksOf(chosen, needs.length);
  const connected = reachedFrom(0, links, chosen);
  let lack = 0;
  for (let piece = 1; piece < needs.length; piece++) {
    if (needs[piece] === 0) continue;
    if (!connected[piece]) lack += needs[piece];
    else if (needs[piece] > 1 && !heldTwice(piece, chosen, links)) lack++;
  }
  return lack;
}

/** Whether two ties land well apart on the rim of a piece. */
export function wellApart(piece: number, e: SupportEdge, f: SupportEdge): boolean {
  return ringDistance(placeOf(piece, e), placeOf(piece, f), 1) >= APART_SHARE - 1e-9;
}

function placeOf(piece: number, edge: SupportEdge): number {
  return edge.a === piece ? edge.placeA : edge.placeB;
}

function linksOf(chosen: readonly SupportEdge[], pieces: number): number[][] {
  const links: number[][] = Array.from({ length: pieces }, () => []);
  chosen.forEach(({ a, b }, k) => {
    links[a].push(k);
    links[b].push(k);
  });
  return links;
}

function reaches(piece: number, links: readonly number[][], chosen: readonly SupportEdge[]): boolean {
  return reachedFrom(0, links, chosen)[piece];
}

function reachedFrom(start: number, links: readonly number[][], chosen: readonly SupportEdge[]): boolean[] {
  const seen = links.map(() => false);
  seen[start] = true;
  const todo = [start];
  for (let at = todo.pop(); at !== undefined; at = todo.pop()) {
    for (const k of links[at]) {
      const next = chosen[k].a === at ? chosen[k].b : chosen[k].a;
      if (seen[next]) continue;
      seen[next] = true;
      todo.push(next);
    }
  }
  return seen;
}

function heldTwice(piece: number, chosen: readonly SupportEdge[], links: readonly number[][]): boolean {
  const own = links[piece];
  for (let i = 0; i < own.length; i++) {
    for (let j = i + 1; j < own.length; j++) {
      if (wellApart(piece, chosen[own[i]], chosen[own[j]]) && twoWays(piece, own[i], own[j], chosen, links))
        return true;
    }
  }
  return false;
}

/** Whether ways that start with the two ties lead to piece 0 and share no tie: a flow of two units (Ford and Fulkerson, 1956). */
function twoWays(
  piece: number,
  first: number,
  second: number,
  chosen: readonly SupportEdge[],
  links: readonly number[][],
): boolean {
  // Flow on every tie: 1 from `a` to `b`, -1 the other way.
  const flow = new Int8Array(chosen.length);
  for (const start of [first, second]) {
    const from = chosen[start].a === piece ? chosen[start].b : chosen[start].a;
    if (from !== 0 && !augment(from, piece, flow, chosen, links)) return false;
  }
  return true;
}

function augment(
  from: number,
  piece: number,
  flow: Int8Array,
  chosen: readonly SupportEdge[],
  links: readonly number[][],
): boolean {
  const via = new Int32Array(links.length).fill(-1);
  const seen = links.map((_, k) => k === piece || k === from);
  const todo = [from];
  for (let at = todo.pop(); at !== undefined; at = todo.pop()) {
    for (const k of links[at]) {
      const forward = chosen[k].a === at;
      const next = forward ? chosen[k].b : chosen[k].a;
      if (seen[next] || flow[k] === (forward ? 1 : -1)) continue;
      seen[next] = true;
      via[next] = k;
      if (next !== 0) {
        todo.push(next);
        continue;
      }
      for (let back = 0; back !== from; ) {
        const used = chosen[via[back]];
        const there = used.b === back;
        flow[via[back]] += there ? 1 : -1;
        back = there ? used.a : used.b;
      }
      return true;
    }
  }
  return false;
}
