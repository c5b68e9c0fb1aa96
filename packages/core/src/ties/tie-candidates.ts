import { segmentDistance, segmentMiddle } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import type { PaperRules, TieRules } from '../strength/types.js';
import { type Banks, castRay, cornerDistance, type Hit, normalOn, placeOn, turnOver } from './tie-banks.js';
import { type CurveIndex, tieReach } from './tie-reach.js';

/** Longest tie, mm: beyond it a strip of 2 mm is a thread that the spatula drags along. */
export const LONGEST_TIE_MM = 25;
/** Shortest tie, mm: below it the opening is no wider than a cut. */
export const SHORTEST_TIE_MM = 0.05;
/** A tie meets either bank within this of a right angle, radians: 20°. */
const SQUARE_RAD = Math.PI / 9;
/** Ties stay this much clear of a seam and of the line of the held margin, beyond their own half width and flare, mm. */
export const CLEAR_OF_LINES_MM = 1;
/** Places along a bank at which ties are tried: at most this far apart, mm, at least so many on one bank, but no nearer than the least, mm. */
const PLACES = { stepMm: 2.5, least: 24, leastStepMm: 0.4 };
/** An opening is a narrow place where it is this much wider within three widths of a tie on either side. */
const WIDENS = 1.25;
/** Slack when a width is compared with what is asked for, mm. */
export const WIDTH_SLACK_MM = 0.01;
/** A bank bends back towards a tie where it turns by more than this around it, radians: 45°. */
const BENDS_BACK = Math.PI / 4;
/** A landing slants or bends by less than this many widths. */
const LANDING_WIDTHS = 1;

/** A straight line from which ties stay clear: a seam, or the line at which the first cut stops. Sheet mm. */
export interface KeepOff {
  readonly from: Point;
  readonly to: Point;
}

/** A straight way across an opening, nearly square to both banks. */
export interface TieCandidate {
  readonly from: Point;
  readonly to: Point;
  readonly lengthMm: number;
  /** The banks at its ends and the places on them, mm along the bank. */
  readonly fromBank: number;
  readonly fromS: number;
  readonly toBank: number;
  readonly toS: number;
  /** The opening gets wider on both sides of it. */
  readonly narrow: boolean;
}

/** Why no tie can stand at a place, from the first thing asked to the last. */
export type Hindrance = 'landing' | 'slit' | 'line';

/**
 * Ways across an opening at which a tie might stand, between banks that `wanted` names: from places along every bank (at most 2.5 mm apart,
 * corners, and where the opening is narrowest), straight across to the next bank, at most 25 mm long, equally square to both banks and within
 * 20° of it. `widthMm` is that of a tie: banks are seen as straight over it.
 */
export function findCandidates(
  banks: Banks,
  { widthMm, wanted }: { widthMm: number; wanted: (from: number, to: number) => boolean },
): TieCandidate[] {
  const found: TieCandidate[] = [];
  banks.banks.forEach((bank, k) => {
    if (bank.lengthMm < widthMm) return;
    const step = Math.max(PLACES.leastStepMm, Math.min(PLACES.stepMm, bank.lengthMm / PLACES.least));
    const count = Math.max(3, Math.ceil(bank.lengthMm / step));
    const even = Array.from({ length: count }, (_, i) => (i * bank.lengthMm) / count);
    const places = [...even, ...bank.corners].sort((a, b) => a - b);
    const ways = places.map((s) => wayAcross(banks, k, s, widthMm));
    const all: (WayAcross | null)[] = [...ways];
    const at: number[] = [...places];
    ways.forEach((way, i) => {
      const before = ways[(i + ways.length - 1) % ways.length];
      const after = ways[(i + 1) % ways.length];
      if (!way || !before || !after || way.lengthMm > before.lengthMm || way.lengthMm > after.lengthMm) return;
      // Evenly wide banks have no narrowest place to look for.
      if (Math.max(before.lengthMm, after.lengthMm) - way.lengthMm < WIDTH_SLACK_MM) return;
      const s = narrowest(banks, k, places[i], step, widthMm);
      all.push(wayAcross(banks, k, s, widthMm));
      at.push(s);
    });
    all.forEach((way, i) => {
      if (!way || !wanted(k, way.toBank)) return;
      found.push({
        from: placeOn(bank, at[i]),
        to: placeOn(banks.banks[way.toBank], way.toS),
        lengthMm: way.lengthMm,
        fromBank: k,
        fromS: at[i],
        toBank: way.toBank,
        toS: way.toS,
        narrow: isNarrow(banks, k, at[i], way, widthMm),
      });
    });
  });
  return found;
}

/** What hinders a tie from standing at a place, but for what only the finished sheet can tell; null where nothing does. */
export function hindrance(
  candidate: TieCandidate,
  {
    banks,
    outlines,
    tie,
    rules,
    keepOff,
  }: {
    banks: Banks;
    /** All outlines of the sheet. */
    outlines: CurveIndex;
    tie: TieRules;
    rules: PaperRules;
    keepOff: readonly KeepOff[];
  },
): Hindrance | null {
  const { widthMm, flareMm } = tie;
  const reach = tieReach(candidate, outlines, { widthMm, flareMm, capMm: LANDING_WIDTHS * widthMm + flareMm });
  if (!reach) return 'landing';
  if (!leavesRoom(candidate, banks, tie, rules)) return 'slit';
  const clear = widthMm / 2 + flareMm + CLEAR_OF_LINES_MM;
  if (keepOff.some((line) => segmentDistance(candidate, line) < clear)) return 'line';
  return null;
}

interface WayAcross {
  readonly toBank: number;
  readonly toS: number;
  readonly lengthMm: number;
}

/** The way across from a place on a bank that is equally square to both banks; null where there is none. */
function wayAcross(banks: Banks, k: number, s: number, widthMm: number): WayAcross | null {
  const half = widthMm / 2;
  const from = placeOn(banks.banks[k], s);
  const n = normalOn(banks.banks[k], s, half);
  let way = n;
  let hit: Hit | null = castRay(banks, from, way, LONGEST_TIE_MM);
  for (let round = 0; hit; round++) {
    const m = normalOn(banks.banks[hit.bank], hit.s, half);
    const here = Math.acos(clampUnit(way.x * n.x + way.y * n.y));
    const there = Math.acos(clampUnit(-way.x * m.x - way.y * m.y));
    const square = here <= SQUARE_RAD && there <= SQUARE_RAD;
    if ((square && Math.abs(here - there) < SQUARE_RAD / 4) || round === 2) {
      return square && hit.distanceMm >= SHORTEST_TIE_MM
        ? { toBank: hit.bank, toS: hit.s, lengthMm: hit.distanceMm }
        : null;
    }
    const middle = { x: n.x - m.x, y: n.y - m.y };
    const size = Math.hypot(middle.x, middle.y);
    // Banks that do not face each other.
    if (size < 1) return null;
    way = { x: middle.x / size, y: middle.y / size };
    hit = castRay(banks, from, way, LONGEST_TIE_MM);
  }
  return null;
}

/** The place within `step` of one at which the way across is shortest, by thirds. */
function narrowest(banks: Banks, k: number, s: number, step: number, widthMm: number): number {
  const lengthAt = (at: number): number => wayAcross(banks, k, at, widthMm)?.lengthMm ?? Infinity;
  let low = s - step;
  let high = s + step;
  for (let round = 0; round < 12; round++) {
    const a = low + (high - low) / 3;
    const b = high - (high - low) / 3;
    if (lengthAt(a) <= lengthAt(b)) high = b;
    else low = a;
  }
  return (low + high) / 2;
}

function isNarrow(banks: Banks, k: number, s: number, way: WayAcross, widthMm: number): boolean {
  return [-1, 1].every((side) => {
    for (let far = 1; far <= 3; far++) {
      const beside = wayAcross(banks, k, s + side * far * widthMm, widthMm);
      if (beside && beside.lengthMm >= WIDENS * way.lengthMm) return true;
    }
    return false;
  });
}

/**
 * Whether the opening goes on by more than a slit's width on both sides of the strip, along its middle: nearer to its banks it may bend away, as a
 * small ring does. Whether that leaves a slit is then looked at closely (see `hasPlainRoom`).
 */
function leavesRoom({ from, to, lengthMm }: TieCandidate, banks: Banks, tie: TieRules, rules: PaperRules): boolean {
  const across = { x: -(to.y - from.y) / lengthMm, y: (to.x - from.x) / lengthMm };
  const need = tie.widthMm / 2 + tie.flareMm + rules.slitMm + WIDTH_SLACK_MM;
  const middle = segmentMiddle({ from, to });
  return [-1, 1].every((side) => !castRay(banks, middle, { x: side * across.x, y: side * across.y }, need));
}

/**
 * Whether it is plain that a tie leaves no slit beside it: the opening goes on by one and a half slits' widths on both sides of the
 * tie's middle half, and its banks have no corner that near and do not bend back towards the strip. Where this says no, one has to look closer.
 */
export function hasPlainRoom(
  { from, to, lengthMm, fromBank, fromS, toBank, toS }: TieCandidate,
  { banks, tie, rules }: { banks: Banks; tie: TieRules; rules: PaperRules },
): boolean {
  if (lengthMm < 2 * rules.slitMm) return false;
  const room = tie.widthMm / 2 + tie.flareMm + 1.5 * rules.slitMm;
  const ends = [
    { bank: banks.banks[fromBank], s: fromS },
    { bank: banks.banks[toBank], s: toS },
  ];
  if (ends.some(({ bank, s }) => cornerDistance(bank, s) < room || turnOver(bank, s, room) > BENDS_BACK)) return false;
  const ux = (to.x - from.x) / lengthMm;
  const uy = (to.y - from.y) / lengthMm;
  return [0.25, 0.5, 0.75].every((share) => {
    const at = { x: from.x + share * (to.x - from.x), y: from.y + share * (to.y - from.y) };
    return [-1, 1].every((side) => !castRay(banks, at, { x: -side * uy, y: side * ux }, room));
  });
}

function clampUnit(v: number): number {
  return Math.min(1, Math.max(-1, v));
}
