import { boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { distance } from '../geometry/points.js';
import { segmentMiddle } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import type { Island, LongOpening } from '../strength/types.js';
import type { StandingTies } from './standing-ties.js';
import type { ImpossibleIsland } from './suggested.js';
import { LONGEST_TIE_MM, type TieCandidate } from './tie-candidates.js';
import type { PlacedTie } from './tie-check.js';
import { chooseInGroup, type GroupTie, type TieGroup, type TieSetting, type WhyNot } from './tie-group.js';
import { cutLong } from './tie-long.js';
import { groupOpenings, needsOf } from './tie-needs.js';

/** Places within this of one that spoilt the sheet are not tried again, mm; half as much again each time on one island. */
const BAN_MM = 0.4;
const BAN_GROWS = 1.5;

/** Ties within this of one that is taken back are tried once more, mm: two strips' widths and what is looked at around each. */
const ASK_AGAIN_MM = 10;

/** What is asked of a plan. */
export interface PlanOptions extends TieSetting {
  /** The islands of the sheet; outer ones before those within them. */
  readonly islands: readonly Island[];
  /** The same for places that are copies of each other: a tie chosen for one island holds all its copies. */
  readonly same: (at: Point) => string;
  readonly long: readonly LongOpening[];
  /** Ties that stand already. Those of the plan are added and removed. */
  readonly standing: StandingTies;
  /** Where else on the sheet a tie stands. */
  readonly copies: (tie: GroupTie) => readonly PlacedTie[];
}

interface Ban {
  readonly at: Point;
  readonly withinMm: number;
}

/** The ties of a sheet while they are chosen, tried and chosen anew. */
export class TiePlan {
  /** Ties for islands, by group, and ties across long openings, by opening. */
  private readonly held = new Map<TieGroup, readonly GroupTie[]>();
  private readonly cut = new Map<number, readonly GroupTie[]>();
  private readonly groups: readonly TieGroup[];
  private readonly keys: ReadonlyMap<Island, string>;
  private readonly needs: ReadonlyMap<Island, number>;
  private readonly heldKeys = new Set<string>();
  private readonly why = new Map<Island, WhyNot | 'around'>();
  private readonly weak = new Map<Island, WhyNot>();
  private readonly bans = new Map<number, Ban[]>();
  /** How many times ties of an island, or across an opening, spoilt the sheet. */
  private readonly times = new Map<Island | number, number>();
  private readonly givenUp = new Set<Island | number>();
  private readonly seen = new Set<GroupTie>();
  private readonly byId: ReadonlyMap<string, Island>;

  constructor(private readonly options: PlanOptions) {
    const { islands, same, tie, paper } = options;
    this.keys = new Map(islands.map((i) => [i, same(i.at)]));
    this.byId = new Map(islands.map((i) => [i.id, i]));
    this.groups = groupOpenings(islands, paper);
    this.needs = needsOf(islands, this.byId, tie.largeMm2);
  }

  get ties(): Iterable<GroupTie> {
    return [...this.held.values(), ...this.cut.values()].flat();
  }

  /** Chooses for every group that has islands which nothing holds yet. Outer ones come first. */
  choose(): void {
    for (const group of this.groups) {
      if (this.held.has(group)) continue;
      const around = group.members[0].within;
      const outer = around === null ? undefined : this.byId.get(around);
      if (outer && !this.isHeld(outer)) {
        for (const island of group.members) this.why.set(island, 'around');
        continue;
      }
      const { pieces, needs } = this.piecesOf(group);
      if (needs.length === 1) continue;
      const { ties, supports, whyNot } = chooseInGroup(group, {
        ...this.options,
        pieces,
        needs,
        banned: (c) => group.openings.some((o) => this.isBanned(o, c)),
      });
      this.held.set(group, ties);
      for (const t of ties) this.options.standing.add(t);
      group.members.forEach((island, k) => {
        if (pieces[k] <= 0) return;
        this.weak.delete(island);
        const reason = whyNot[k] ?? 'spoils';
        if (supports[k] === 0) this.why.set(island, reason);
        else this.heldKeys.add(this.keyOf(island));
        if (supports[k] === 1 && needs[pieces[k]] > 1) this.weak.set(island, reason);
      });
    }
    this.dropLoose();
  }

  cutLongOpenings(): void {
    const standing = new Map<number, PlacedTie[]>();
    const stand = (ties: Iterable<GroupTie>): void => {
      for (const tie of ties) {
        for (const t of [tie, ...this.options.copies(tie)]) {
          const list = standing.get(t.opening);
          if (list) list.push(t);
          else standing.set(t.opening, [t]);
        }
      }
    };
    stand(this.ties);
    const done = new Set<string>();
    for (const { opening, at } of this.options.long) {
      const key = this.options.same(at);
      if (done.has(key)) continue;
      done.add(key);
      if (this.cut.has(opening) || this.givenUp.has(opening)) continue;
      const ties = cutLong(opening, standing.get(opening) ?? [], {
        ...this.options,
        banned: (c) => this.isBanned(opening, c),
      });
      this.cut.set(opening, ties);
      for (const t of ties) this.options.standing.add(t);
      stand(ties);
    }
  }

  untried(): GroupTie[] {
    return [...this.ties].filter((t) => !this.seen.has(t));
  }

  tried(ties: readonly GroupTie[]): void {
    for (const t of ties) this.seen.add(t);
  }

  /** Takes back what ties were chosen together with those that spoil the sheet, and bans their places. */
  ban(spoilt: readonly GroupTie[], { tries }: { tries: number }): void {
    const bad = new Set(spoilt);
    for (const t of spoilt) {
      const whose = t.island ?? t.opening;
      const times = this.times.get(whose) ?? 0;
      this.times.set(whose, times + 1);
      const list = this.bans.get(t.opening) ?? [];
      list.push({ at: segmentMiddle(t), withinMm: BAN_MM * BAN_GROWS ** times });
      this.bans.set(t.opening, list);
      if (times >= tries) this.givenUp.add(whose);
    }
    const gone: GroupTie[] = [];
    for (const [group, ties] of this.held) {
      if (!ties.some((t) => bad.has(t))) continue;
      this.held.delete(group);
      gone.push(...ties);
      for (const island of group.members) this.heldKeys.delete(this.keyOf(island));
    }
    for (const [opening, ties] of this.cut) {
      if (!ties.some((t) => bad.has(t))) continue;
      this.cut.delete(opening);
      gone.push(...ties);
    }
    for (const t of gone) this.options.standing.remove(t);
    this.askAgainNear(gone);
  }

  /** What stood well beside ties that are gone has to be tried once more: they may have covered what is narrow now. */
  private askAgainNear(gone: readonly GroupTie[]): void {
    const places = gone.flatMap((tie) => [tie, ...this.options.copies(tie)]);
    if (places.length === 0) return;
    const index = boxIndex(places.map((tie) => boxOf([tie.from, tie.to], ASK_AGAIN_MM)));
    for (const tie of this.ties) {
      const { x0, y0, x1, y1 } = boxOf([tie.from, tie.to]);
      if (index.search(x0, y0, x1, y1).length > 0) this.seen.delete(tie);
    }
  }

  /** Members of a group as pieces: copies of one island are one piece, what is held already is piece 0, what is given up none. */
  private piecesOf({ members }: TieGroup): { pieces: number[]; needs: number[] } {
    const needs = [0];
    const byKey = new Map<string, number>();
    const pieces = members.map((island) => {
      if (this.isHeld(island)) return 0;
      if (this.givenUp.has(island)) {
        this.why.set(island, 'spoils');
        return -1;
      }
      const key = this.keyOf(island);
      const piece = byKey.get(key) ?? needs.push(0) - 1;
      byKey.set(key, piece);
      needs[piece] = Math.max(needs[piece], this.needs.get(island) ?? 1);
      return piece;
    });
    return { pieces, needs };
  }

  unheld(): { impossible: ImpossibleIsland[]; once: ImpossibleIsland[] } {
    const told = new Set<string>();
    const impossible: ImpossibleIsland[] = [];
    const once: ImpossibleIsland[] = [];
    for (const island of this.options.islands) {
      const key = this.keyOf(island);
      if (told.has(key)) continue;
      const { id, areaMm2, at } = island;
      const say = (why: WhyNot | 'around') => ({
        island: id,
        areaMm2,
        atMm: at,
        reason: this.sentence(why, island),
      });
      if (!this.heldKeys.has(key)) impossible.push(say(this.why.get(island) ?? 'spoils'));
      else if (this.weak.has(island)) once.push(say(this.weak.get(island) ?? 'spoils'));
      else continue;
      told.add(key);
    }
    return { impossible, once };
  }

  /** Ties on islands whose surroundings are not held hold nothing. */
  private dropLoose(): void {
    for (const [group, ties] of this.held) {
      const around = group.members[0].within;
      const outer = around === null ? undefined : this.byId.get(around);
      if (!outer || this.isHeld(outer)) continue;
      for (const t of ties) this.options.standing.remove(t);
      this.held.delete(group);
      for (const island of group.members) {
        this.heldKeys.delete(this.keyOf(island));
        this.why.set(island, 'around');
      }
    }
  }

  private keyOf(island: Island): string {
    return this.keys.get(island) ?? island.id;
  }

  private isHeld(island: Island): boolean {
    return this.heldKeys.has(this.keyOf(island));
  }

  private isBanned(opening: number, candidate: TieCandidate): boolean {
    const m = segmentMiddle(candidate);
    return (this.bans.get(opening) ?? []).some(({ at, withinMm }) => distance(m, at) <= withinMm);
  }

  private sentence(why: WhyNot | 'around', island: Island): string {
    const { tie, rules } = this.options;
    const need = tie.widthMm + 2 * tie.flareMm;
    const { x0, y0, x1, y1 } = island.box;
    if (why === 'around') return 'it lies on paper that no tie can hold';
    if (why === 'far') return `no straight way across its opening is at most ${LONGEST_TIE_MM} mm long`;
    if (why === 'landing') {
      return Math.max(x1 - x0, y1 - y0) < need
        ? `it is narrower than a tie of ${tie.widthMm} mm with its flared ends`
        : `no place has banks wide and straight enough for a tie of ${tie.widthMm} mm`;
    }
    if (why === 'slit') return `every tie would leave a slit narrower than ${rules.slitMm} mm`;
    if (why === 'line') return 'every place to hold it lies on a seam or at the line of the held margin';
    return `every tie would make a neck narrower than ${rules.neckMm} mm or a slit narrower than ${rules.slitMm} mm`;
  }
}
