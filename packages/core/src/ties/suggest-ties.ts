import { insideContours } from '../geometry/point-tests.js';
import { segmentMiddle } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import { inReadingOrder } from '../strength/islands.js';
import type { CutPaper, Island, LongOpening, PaperRules, TieRules } from '../strength/types.js';
import { StandingTies } from './standing-ties.js';
import type { ImpossibleIsland, SuggestedTie } from './suggested.js';
import type { KeepOff } from './tie-candidates.js';
import { type CheckOptions, indexOpenings, type PlacedTie, spoilers } from './tie-check.js';
import type { GroupTie } from './tie-group.js';
import { tieName } from './tie-names.js';
import { paperBanks } from './tie-nodes.js';
import { TiePlan } from './tie-plan.js';
import { indexCurves } from './tie-reach.js';
import type { TieEnds } from './tie-shape.js';

/** An island (or long opening) whose ties spoilt the sheet so many times is given up. */
const TRIES = 12;
/** Rounds after which every island whose ties still spoil the sheet is given up at once. */
const ROUNDS = 40;

export interface SuggestOptions {
  /** The islands of the sheet with everything cut, from `findIslands`. */
  readonly islands: readonly Island[];
  readonly tie: TieRules;
  readonly rules: PaperRules;
  /** Straight lines that ties stay clear of. */
  readonly keepOff: readonly KeepOff[];
  /** The same for places that are copies of each other: a tie chosen for one island holds all its copies. */
  readonly same: (at: Point) => string;
  /** The other places on the sheet where a tie stands as well; none by default. */
  readonly copies?: (tie: TieEnds) => readonly TieEnds[];
  /** Openings that need ties across, from `longOpenings`. */
  readonly long: readonly LongOpening[];
  /** Ties that the job has already. */
  readonly existing: readonly { readonly from: Point; readonly to: Point }[];
  /** Number of the first tie: `T1`, … */
  readonly firstId?: number;
}

export interface TieSuggestions {
  /** In reading order. */
  readonly ties: readonly SuggestedTie[];
  /** Islands that nothing holds, one of every copy. */
  readonly impossible: readonly ImpossibleIsland[];
  /** Islands that should be held twice and are held once: there is no second place. */
  readonly once: readonly ImpossibleIsland[];
}

/**
 * Ties that hold every island, twice where it or one within it is larger than `largeMm2` (see `supportsOf`), and cut long openings: the fewest, then
 * the shortest or, with `hide`, the least seen. Every choice is tried on the sheet: what makes a neck or a slit that was not there is chosen anew.
 * Islands within one that can't be held are not held either. Near linear in the number of openings.
 */
export function suggestPaperTies(paper: CutPaper, options: SuggestOptions): TieSuggestions {
  const { islands, tie, rules, keepOff, same, long, existing, firstId = 1 } = options;
  const banks = paperBanks(paper, islands);
  const outlines = indexCurves(paper.outlines.map((o) => o.contour));
  const standing = new StandingTies(tie.widthMm);
  for (const t of existing) standing.add(t);
  const boxes = indexOpenings(banks.openings);
  const check: CheckOptions = { tie, rules, outlines, openings: banks.openings, boxes };
  const copies = placedCopies(options.copies, check);
  const plan = new TiePlan({ islands, same, long, tie, rules, keepOff, paper: banks, outlines, standing, copies });
  const tried = { paper, plan, check, copies };
  plan.choose();
  settle(tried, () => plan.choose());
  plan.cutLongOpenings();
  settle(tried, () => plan.cutLongOpenings());
  const found = [...plan.ties].sort((s, t) => inReadingOrder(segmentMiddle(s), segmentMiddle(t)));
  return {
    ties: found.map(
      ({ from, to, lengthMm, island, hidden }, k): SuggestedTie => ({
        id: tieName(firstId + k, 'printed'),
        kind: 'printed',
        from,
        to,
        lengthMm,
        hidden,
        island: island?.id ?? null,
      }),
    ),
    ...plan.unheld(),
  };
}

interface Tried {
  readonly paper: CutPaper;
  readonly plan: TiePlan;
  readonly check: CheckOptions;
  readonly copies: (tie: GroupTie) => readonly PlacedTie[];
}

/** Tries the ties on the sheet, in all places where they stand, and chooses those anew that spoil it, until none does. */
function settle({ paper, plan, check, copies }: Tried, again: () => void): void {
  for (let round = 1; ; round++) {
    const asked = plan.untried();
    const whose = new Map<PlacedTie, GroupTie>();
    const placed = (ties: readonly GroupTie[]): PlacedTie[] =>
      ties.flatMap((tie) => {
        const all = [tie, ...copies(tie)];
        for (const t of all) whose.set(t, tie);
        return all;
      });
    const spoilt = spoilers(paper, placed([...plan.ties]), placed(asked), check);
    plan.tried(asked);
    if (spoilt.size === 0) return;
    const culprits = new Set([...spoilt].map((t) => whose.get(t) as GroupTie));
    plan.ban([...culprits], { tries: round < ROUNDS ? TRIES : 0 });
    again();
  }
}

/** The copies of a tie in the openings in which they stand, looked up once. */
function placedCopies(
  copies: SuggestOptions['copies'],
  { openings, boxes }: CheckOptions,
): (tie: GroupTie) => readonly PlacedTie[] {
  if (!copies) return () => [];
  const known = new Map<GroupTie, readonly PlacedTie[]>();
  return (tie) => {
    const found =
      known.get(tie) ??
      copies(tie).flatMap((ends): PlacedTie[] => {
        const { x, y } = segmentMiddle(ends);
        for (const opening of boxes.near([{ x0: x, y0: y, x1: x, y1: y }]).keys()) {
          // A place by itself may have less room than the one that was looked at: the sheet ends beside it.
          if (insideContours(openings.get(opening) ?? [], { x, y })) return [{ ...ends, opening, roomy: false }];
        }
        return [];
      });
    known.set(tie, found);
    return found;
  };
}
