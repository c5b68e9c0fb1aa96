import { segmentDistance, segmentLength } from '../geometry/segments.js';
import type { Point } from '../geometry/types.js';
import { type Banks, cornerDistance, turnOver } from './tie-banks.js';
import type { TieCandidate } from './tie-candidates.js';

/**
 * What a millimetre of tie costs by how much it shows. `hidden`: the drawing breaks there anyway. `plain`: half as much again, so that up to
 * 1.5 × the shortest length is spent on hiding. `smooth`: on a smooth outer curve, half as much again once more, so that any other place
 * within 1.5 × serves rather. `far`: longer than that; then it is the shortest that counts.
 */
const SHOWS = { hidden: 1, plain: 1.5, smooth: 2.25, far: 2.25 };
/** The most that is spent on hiding, of the shortest length. */
export const SPEND = 1.5;
/** Hidden in full within this many widths of a corner, not at all beyond the second. */
const CORNER_WIDTHS = { near: 0.75, far: 2.5 };
/** How well an opening's narrow place hides a tie, 0 to 1. */
const NARROW_HIDES = 0.6;
/** A tie counts as hidden from here, 0 to 1. */
const HIDDEN_FROM = 0.5;
/** An outer curve bulges where it turns by more than this over five widths, radians: 8°. */
const BULGE_RAD = (8 * Math.PI) / 180;
/** Two ties make a bar where their axes lie within this angle, radians: 10° … */
const IN_LINE_RAD = Math.PI / 18;
/** … and their nearest ends are no farther apart than this, mm. */
export const IN_LINE_MM = 30;
/** A bar costs this many times the two ties besides: never where another place serves. */
const IN_LINE_COST = 3;

/** How well a place hides a tie, 0 to 1, and whether it lies on a smooth outer curve. */
export interface Hiding {
  readonly grade: number;
  readonly hidden: boolean;
  readonly smooth: boolean;
}

/**
 * Where the drawing breaks anyway: a corner of either bank near the tie's end (a stem under a leaf, petals that meet, the tip of a vein), or
 * the opening's own narrow place.
 */
export function hidingAt(candidate: TieCandidate, banks: Banks, { widthMm }: { widthMm: number }): Hiding {
  const ends = [
    { bank: banks.banks[candidate.fromBank], s: candidate.fromS },
    { bank: banks.banks[candidate.toBank], s: candidate.toS },
  ];
  const corner = Math.min(...ends.map(({ bank, s }) => cornerDistance(bank, s))) / widthMm;
  const { near, far } = CORNER_WIDTHS;
  const byCorner = Math.min(1, Math.max(0, (far - corner) / (far - near)));
  const grade = Math.max(byCorner, candidate.narrow ? NARROW_HIDES : 0);
  const smooth = ends.some(
    ({ bank, s }) =>
      !bank.rim && cornerDistance(bank, s) > far * widthMm && turnOver(bank, s, far * widthMm) > BULGE_RAD,
  );
  return { grade, hidden: grade >= HIDDEN_FROM, smooth: smooth && grade < HIDDEN_FROM };
}

/** What a tie costs, mm of hidden tie; `shortestMm` is the shortest that serves in its stead. */
export function shownCost(lengthMm: number, { grade, smooth }: Hiding, shortestMm: number): number {
  if (lengthMm > SPEND * shortestMm + 1e-9) return lengthMm * SHOWS.far;
  return lengthMm * (smooth ? SHOWS.smooth : SHOWS.plain - grade * (SHOWS.plain - SHOWS.hidden));
}

/** What two ties cost besides when they make a bar on the cloth. */
export function barCost(a: { from: Point; to: Point }, b: { from: Point; to: Point }, widthMm: number): number {
  if (!inLine(a, b, widthMm)) return 0;
  return IN_LINE_COST * (segmentLength(a) + segmentLength(b));
}

/** Whether two ties lie nearly on one line and near each other. */
export function inLine(a: { from: Point; to: Point }, b: { from: Point; to: Point }, widthMm: number): boolean {
  const [ax, ay] = [a.to.x - a.from.x, a.to.y - a.from.y];
  const [bx, by] = [b.to.x - b.from.x, b.to.y - b.from.y];
  const [la, lb] = [Math.hypot(ax, ay), Math.hypot(bx, by)];
  if (Math.abs(ax * by - ay * bx) > Math.sin(IN_LINE_RAD) * la * lb) return false;
  if (segmentDistance(a, b) > IN_LINE_MM) return false;
  const [mx, my] = [(b.from.x + b.to.x - a.from.x - a.to.x) / 2, (b.from.y + b.to.y - a.from.y - a.to.y) / 2];
  // Off each other's line by less than a width.
  return Math.abs(ax * my - ay * mx) / la < widthMm && Math.abs(bx * my - by * mx) / lb < widthMm;
}
