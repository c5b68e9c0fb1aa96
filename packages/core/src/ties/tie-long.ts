import { pointDistance } from '../geometry/segments.js';
import type { Contour } from '../geometry/types.js';
import { longOpenings } from '../strength/long-openings.js';
import type { StandingTies } from './standing-ties.js';
import { type Bank, layBanks } from './tie-banks.js';
import { findCandidates, hindrance, type TieCandidate } from './tie-candidates.js';
import { openingWithTies, type PlacedTie } from './tie-check.js';
import type { OpeningPiece } from './tie-cut.js';
import type { GroupTie, TieSetting } from './tie-group.js';
import { hidingAt, shownCost } from './tie-hiding.js';

/** Most ties in one long opening: a stop for what can't be shortened. */
const MOST_TIES = 400;
/** Between even parts a tie may lie off by this share of a part for a better place. */
const OFF_SHARE = 0.25;
/** Off by all of that costs this many times the tie besides. */
const OFF_COST = 0.5;

export interface LongOptions extends TieSetting {
  readonly banned: (candidate: TieCandidate) => boolean;
  readonly standing: StandingTies;
}

/**
 * Ties across an opening so that no part of it runs on for longer than the span, besides those that stand in it: at narrow and hidden places near
 * an even division. What no tie can shorten is left as it is.
 */
export function cutLong(opening: number, standing: readonly PlacedTie[], options: LongOptions): GroupTie[] {
  const { paper } = options;
  const added: GroupTie[] = [];
  const hopeless = new Set<string>();
  while (added.length < MOST_TIES) {
    const pieces = openingWithTies(opening, [...standing, ...added], { ...options, openings: paper.openings });
    const piece = longestOf(pieces, options.rules.spanMm, hopeless);
    if (!piece) break;
    const parts = Math.ceil(piece.lengthMm / options.rules.spanMm - 1e-9);
    const tie = bestCut(opening, piece.contours, { parts, lengthMm: piece.lengthMm }, [...standing, ...added], options);
    if (tie) added.push(tie);
    else hopeless.add(piece.key);
  }
  return added;
}

function longestOf(pieces: readonly OpeningPiece[], spanMm: number, hopeless: ReadonlySet<string>) {
  const long = longOpenings(
    pieces.flatMap(({ contours }, k) => contours.map((contour) => ({ contour, opening: k }))),
    { spanMm },
  ).map(({ opening, lengthMm, at }) => ({
    contours: pieces[opening].contours,
    lengthMm,
    key: `${at.x.toFixed(2)} ${at.y.toFixed(2)}`,
  }));
  return long.filter((l) => !hopeless.has(l.key)).sort((a, b) => b.lengthMm - a.lengthMm)[0];
}

/** The best tie that divides a piece of an opening into nearly whole numbers of even parts. */
function bestCut(
  opening: number,
  contours: readonly Contour[],
  { parts, lengthMm }: { parts: number; lengthMm: number },
  others: readonly PlacedTie[],
  options: LongOptions,
): GroupTie | null {
  const { tie, rules, banned, standing } = options;
  const banks = layBanks(contours);
  const outer = banks.banks.findIndex((b) => !b.rim);
  if (outer < 0) return null;
  const found = findCandidates(banks, { widthMm: tie.widthMm, wanted: (from, to) => from === outer && to === outer });
  const target = Math.floor(parts / 2) / parts;
  const part = 1 / parts;
  const clear = tie.widthMm + 2 * tie.flareMm + rules.slitMm;
  const shortest = Math.min(Infinity, ...found.map((c) => c.lengthMm));
  const rated = found
    .filter((c) => !banned(c) && others.every((o) => [c.from, c.to].every((p) => pointDistance(o, p) > clear)))
    .map((candidate) => {
      const share = shareOf(candidate, banks.banks[outer]);
      const off = Math.abs(share - target) / (OFF_SHARE * part);
      const hiding = hidingAt(candidate, banks, tie);
      const plain = tie.hide ? shownCost(candidate.lengthMm, hiding, shortest) : candidate.lengthMm;
      const bars = tie.hide ? standing.barsOf(candidate) : 0;
      // Both sides must come out short enough with the ties that are left for them.
      const fits =
        share * lengthMm <= target * parts * rules.spanMm &&
        (1 - share) * lengthMm <= (1 - target) * parts * rules.spanMm;
      const rank = fits && off <= 1 ? 0 : 1;
      return { candidate, hiding, rank, cost: rank === 0 ? plain * (1 + OFF_COST * off) + bars : off };
    })
    .sort((a, b) => a.rank - b.rank || a.cost - b.cost);
  for (const { candidate, hiding } of rated) {
    if (hindrance(candidate, { ...options, banks }) !== null) continue;
    const { from, to, lengthMm: across } = candidate;
    return { opening, from, to, lengthMm: across, island: null, hidden: hiding.hidden, roomy: false };
  }
  return null;
}

/** What share of a bank lies on the smaller side of a way across. */
function shareOf({ fromS, toS }: TieCandidate, bank: Bank): number {
  const share = Math.abs(fromS - toS) / bank.lengthMm;
  return Math.min(share, 1 - share);
}
