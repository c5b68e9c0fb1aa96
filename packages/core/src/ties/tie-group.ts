import type { Point } from '../geometry/types.js';
import type { Island, PaperRules, TieRules } from '../strength/types.js';
import type { StandingTies } from './standing-ties.js';
import { APART_SHARE, supportsOf } from './support.js';
import { type Banks, layBanks, normalOn, ringDistance } from './tie-banks.js';
import {
  findCandidates,
  type Hindrance,
  hasPlainRoom,
  hindrance,
  type KeepOff,
  type TieCandidate,
} from './tie-candidates.js';
import { type ChoiceEdge, chooseTies } from './tie-choice.js';
import { barCost, type Hiding, hidingAt, SPEND, shownCost } from './tie-hiding.js';
import type { PaperBanks } from './tie-nodes.js';
import type { CurveIndex } from './tie-reach.js';

/** What ties are asked of, and what they have to keep clear of. */
export interface TieSetting {
  readonly tie: TieRules;
  readonly rules: PaperRules;
  readonly keepOff: readonly KeepOff[];
  readonly paper: PaperBanks;
  /** All outlines of the sheet. */
  readonly outlines: CurveIndex;
}

/** Why no tie holds an island: what hindered the place that came farthest. */
export type WhyNot = 'far' | Hindrance | 'spoils';

/** A tie chosen in a group. */
export interface GroupTie {
  readonly opening: number;
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
  readonly island: Island | null;
  readonly hidden: boolean;
  /** It is plain that it leaves no slit beside it. */
  readonly roomy: boolean;
}

/** The islands of some openings, to be held by ties across these. */
export interface TieGroup {
  readonly openings: readonly number[];
  readonly members: readonly Island[];
}

export interface GroupChoice {
  readonly ties: readonly GroupTie[];
  /** Supports that each member has: 0 where nothing holds it. */
  readonly supports: readonly number[];
  /** Why a member has fewer than it needs; null where it has them. */
  readonly whyNot: readonly (WhyNot | null)[];
}

export interface GroupOptions extends TieSetting {
  /**
   * The piece of paper that each member is: 0 where it is held already, the same number for copies of one island, -1 where it is not to be
   * held at all.
   */
  readonly pieces: readonly number[];
  /** Supports that every piece needs; none for piece 0. */
  readonly needs: readonly number[];
  /** Places at which a tie was tried and spoilt the sheet. */
  readonly banned: (candidate: TieCandidate) => boolean;
  /** Ties that stand elsewhere. */
  readonly standing: StandingTies;
}

/** A place for a tie in a group: an edge between pieces of paper. */
export interface GroupPlace extends ChoiceEdge {
  readonly opening: number;
  readonly candidate: TieCandidate;
  readonly hiding: Hiding;
}

const STAGES: readonly (WhyNot | null)[] = ['far', 'landing', 'slit', 'line', 'spoils', null];

/** Chooses the ties that hold a group's islands. */
export function chooseInGroup(group: TieGroup, options: GroupOptions): GroupChoice {
  const { needs, pieces, tie } = options;
  const { places, trouble, isRoomy } = layPlaces(group, options);
  const chosen = chooseTies({
    needs,
    edges: places,
    feasible: (k) => trouble(k) === null,
    ...(tie.hide
      ? { clash: (e: number, f: number) => barCost(places[e].candidate, places[f].candidate, tie.widthMm) }
      : {}),
  });
  const edges = chosen.map((k) => places[k]);
  const supportsOfPiece = needs.map((need, piece) => (piece === 0 ? 0 : supportsOf(piece, need, edges, needs.length)));
  const reasons = needs.map((need, piece) => (supportsOfPiece[piece] < need ? farthest(piece, places, trouble) : null));
  const supports = pieces.map((piece) => supportsOfPiece[piece] ?? 0);
  const whyNot = pieces.map((piece) => reasons[piece] ?? null);
  const holds = islandsHeld(edges, group.members, options);
  const ties = edges.map(({ opening, candidate, hiding }, k): GroupTie => {
    const { from, to, lengthMm } = candidate;
    return { opening, from, to, lengthMm, island: holds[k], hidden: hiding.hidden, roomy: isRoomy(chosen[k]) };
  });
  return { ties, supports, whyNot };
}

/** All places for ties in a group with what they cost, and what is wrong with each (asked for one by one, as it takes time). */
export function layPlaces(
  group: TieGroup,
  options: GroupOptions,
): { places: GroupPlace[]; trouble: (place: number) => WhyNot | null; isRoomy: (place: number) => boolean } {
  const { paper, tie, needs, pieces, banned, standing } = options;
  const pieceOf = new Map(group.members.map((island, k) => [island.id, pieces[k]]));
  const bare: (Omit<GroupPlace, 'cost'> & { readonly banks: Banks })[] = [];
  for (const opening of group.openings) {
    const banks = layBanks(paper.openings.get(opening) ?? []);
    const wanted = (from: number, to: number): boolean => from !== to || paper.mixed.has(opening);
    for (const candidate of findCandidates(banks, { widthMm: tie.widthMm, wanted })) {
      const ends = endsOf(candidate, opening, banks, tie, paper);
      const [a, b] = ends.map((end) => (end === 'held' ? 0 : end === null ? -1 : (pieceOf.get(end.id) ?? 0)));
      if (a === b || a < 0 || b < 0) continue;
      const [placeA, placeB] = ends.map((end, k) => rimShare(end, candidate, k === 0, banks, paper.mixed.has(opening)));
      bare.push({ opening, candidate, banks, a, b, placeA, placeB, hiding: hidingAt(candidate, banks, tie) });
    }
  }
  const known = new Map<number, WhyNot | null>();
  const trouble = (k: number): WhyNot | null => {
    let found = known.get(k);
    if (found === undefined) {
      const { candidate, banks } = bare[k];
      found = banned(candidate) ? 'spoils' : hindrance(candidate, { ...options, banks });
      known.set(k, found);
    }
    return found;
  };
  const costs = tie.hide ? shownCosts(bare, needs, trouble) : bare.map(({ candidate }) => candidate.lengthMm);
  const places = bare.map(({ banks: _, ...place }, k): GroupPlace => {
    const bars = tie.hide ? standing.barsOf(place.candidate) : 0;
    return { ...place, cost: costs[k] + bars };
  });
  const isRoomy = (k: number): boolean => hasPlainRoom(bare[k].candidate, { ...options, banks: bare[k].banks });
  return { places, trouble, isRoomy };
}

type End = Island | 'held' | null;

/** What paper stands at both ends of a candidate. */
function endsOf(c: TieCandidate, opening: number, banks: Banks, tie: TieRules, paper: PaperBanks): [End, End] {
  const look = (bank: number, s: number, at: Point): End => {
    const n = normalOn(banks.banks[bank], s, tie.widthMm / 2);
    return paper.behind(opening, bank, at, { x: -n.x, y: -n.y });
  };
  return [look(c.fromBank, c.fromS, c.from), look(c.toBank, c.toS, c.to)];
}

/** Where a candidate lands on an island's rim: a share of its length, or of the full turn around it where it is no single rim. */
function rimShare(end: End, c: TieCandidate, first: boolean, banks: Banks, mixed: boolean): number {
  if (end === null || end === 'held') return 0;
  if (mixed) {
    const { x0, y0, x1, y1 } = end.box;
    const at = first ? c.from : c.to;
    return Math.atan2(at.y - (y0 + y1) / 2, at.x - (x0 + x1) / 2) / (2 * Math.PI) + 0.5;
  }
  const bank = banks.banks[first ? c.fromBank : c.toBank];
  return (first ? c.fromS : c.toS) / bank.lengthMm;
}

/**
 * Costs by how much ties show, each against the shortest feasible one between the same pieces; where a piece needs two, against the shortest
 * that could not stand besides it.
 */
function shownCosts(
  bare: readonly Omit<GroupPlace, 'cost'>[],
  needs: readonly number[],
  trouble: (place: number) => WhyNot | null,
): number[] {
  const costs = new Array<number>(bare.length).fill(0);
  const between = new Map<string, number[]>();
  bare.forEach(({ a, b }, k) => {
    const key = `${Math.min(a, b)} ${Math.max(a, b)}`;
    const list = between.get(key);
    if (list) list.push(k);
    else between.set(key, [k]);
  });
  for (const list of between.values()) {
    list.sort((e, f) => bare[e].candidate.lengthMm - bare[f].candidate.lengthMm || e - f);
    for (const k of list) {
      const { a, b, candidate } = bare[k];
      const { lengthMm } = candidate;
      const twice = needs[Math.max(a, b)] > 1;
      const near = list.find(
        (o) =>
          lengthMm <= SPEND * bare[o].candidate.lengthMm ||
          ((!twice || nearOnRim(bare[k], bare[o])) && trouble(o) === null),
      );
      const shortest = near === undefined ? lengthMm : Math.min(lengthMm, bare[near].candidate.lengthMm);
      costs[k] = shownCost(lengthMm, bare[k].hiding, shortest);
    }
  }
  return costs;
}

function nearOnRim(e: Omit<GroupPlace, 'cost'>, f: Omit<GroupPlace, 'cost'>): boolean {
  const piece = Math.max(e.a, e.b);
  const [p, q] = [e, f].map((x) => (x.a === piece ? x.placeA : x.placeB));
  return ringDistance(p, q, 1) < APART_SHARE;
}

/** Of all places at a piece, how far the best came. */
function farthest(piece: number, places: readonly GroupPlace[], trouble: (place: number) => WhyNot | null): WhyNot {
  let best = 0;
  places.forEach(({ a, b }, k) => {
    if (a === piece || b === piece) best = Math.max(best, STAGES.indexOf(trouble(k)));
  });
  return STAGES[best] ?? 'spoils';
}

/** For every tie the island that it holds: the one farther from what holds already. */
function islandsHeld(
  edges: readonly GroupPlace[],
  members: readonly Island[],
  { pieces, needs }: Pick<GroupOptions, 'pieces' | 'needs'>,
): (Island | null)[] {
  const steps = needs.map((_, piece) => (piece === 0 ? 0 : Infinity));
  for (let moved = true; moved; ) {
    moved = false;
    for (const { a, b } of edges) {
      const least = Math.min(steps[a], steps[b]) + 1;
      for (const piece of [a, b]) {
        if (least >= steps[piece]) continue;
        steps[piece] = least;
        moved = true;
      }
    }
  }
  const islandOf = (piece: number): Island | null => members[pieces.indexOf(piece)] ?? null;
  return edges.map(({ a, b }) => islandOf(steps[a] === steps[b] ? Math.max(a, b) : steps[a] > steps[b] ? a : b));
}
