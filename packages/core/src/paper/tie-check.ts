import { boxIndex } from '../geometry/cluster.js';
import { contoursBox } from '../geometry/contour.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { findNecks, findSlits } from './narrow.js';
import { pointDistance, WIDTH_SLACK_MM } from './tie-candidates.js';
import { cutOpening, type OpeningPiece } from './tie-cut.js';
import { type CurveIndex, tieReach } from './tie-reach.js';
import { tieShape } from './tie-shape.js';
import type { CutPaper, NarrowPlace, Outline, PaperRules, TieRules } from './types.js';

/** Around a tie everything is looked at that lies within this, mm, and the width of a neck. */
const AROUND_MM = 3;
/** A narrow place that was there before may have moved by this much beyond the length of its strip, mm. */
const MOVED_MM = 1;
/** Openings that are wholly cut up by a tie leave pieces of room for a slit's disc; rooms are found to this, mm. */
const ROOM_MM = 0.25;

/** A tie that is to stand in an opening. */
export interface PlacedTie {
  readonly opening: number;
  readonly from: Point;
  readonly to: Point;
}

export interface CheckOptions {
  readonly tie: TieRules;
  readonly rules: PaperRules;
  readonly outlines: CurveIndex;
  /** The outlines of every opening. */
  readonly openings: ReadonlyMap<number, readonly Contour[]>;
}

/** The strip of paper of a tie; null where it finds no paper to land on within two widths. */
export function stripOf(
  tie: PlacedTie,
  { tie: rules, outlines }: Pick<CheckOptions, 'tie' | 'outlines'>,
): Contour | null {
  const { widthMm, flareMm } = rules;
  const reachMm = tieReach(tie, outlines, { widthMm, flareMm });
  return reachMm && tieShape(tie, { widthMm, flareMm, reachMm });
}

/** What ties leave of the opening in which they stand. */
export function openingWithTies(opening: number, ties: readonly PlacedTie[], options: CheckOptions): OpeningPiece[] {
  const strips = ties.flatMap((tie) => stripOf(tie, options) ?? []);
  return cutOpening(options.openings.get(opening) ?? [], strips);
}

/**
 * Which of the ties `asked` spoil the sheet once all `ties` stand: a neck or a slit near a tie that was not there before (narrower than asked
 * for by more than 0.01 mm), or a piece of an opening in which no paste finds room. The ties' own strips are as wide as they were ordered.
 */
export function spoilers(
  paper: CutPaper,
  ties: readonly PlacedTie[],
  asked: readonly PlacedTie[],
  options: CheckOptions,
): Set<PlacedTie> {
  const spoilt = new Set<PlacedTie>();
  if (asked.length === 0) return spoilt;
  const { openings, rules } = options;
  const margin = AROUND_MM + Math.max(rules.neckMm, rules.slitMm);
  const boxes = asked.map((t) => around(t, margin));
  const index = boxIndex(boxes);
  const near = (box: Box): number[] => index.search(box.x0, box.y0, box.x1, box.y1);
  const byOpening = new Map<number, PlacedTie[]>();
  for (const t of ties) byOpening.set(t.opening, [...(byOpening.get(t.opening) ?? []), t]);
  const before: Outline[] = [];
  const after: Outline[] = [];
  const askedSet = new Set(asked);
  let number = 0;
  for (const [opening, contours] of openings) {
    const box = contoursBox(contours);
    if (!box || near(box).length === 0) continue;
    const standing = byOpening.get(opening) ?? [];
    for (const contour of contours) before.push({ contour, opening });
    if (standing.length === 0) {
      for (const contour of contours) after.push({ contour, opening: number });
      number++;
      continue;
    }
    const pieces = openingWithTies(opening, standing, options);
    const roomy = pieces.some((p) => p.roomMm + ROOM_MM >= rules.slitMm);
    for (const { contours: outlines, roomMm } of pieces) {
      for (const contour of outlines) after.push({ contour, opening: number });
      number++;
      if (!roomy || roomMm + ROOM_MM >= rules.slitMm) continue;
      const at = contoursBox(outlines);
      for (const t of standing) if (at && askedSet.has(t) && touches(at, around(t, options.tie.widthMm))) spoilt.add(t);
    }
  }
  for (const [find, limitMm] of [
    [findNecks, rules.neckMm],
    [findSlits, rules.slitMm],
  ] as const) {
    const were = find({ edge: paper.edge, outlines: before }, { limitMm, slackMm: 0 });
    const known = were.length > 0 ? boxIndex(were.map(({ atMm: { x, y } }) => ({ x0: x, y0: y, x1: x, y1: y }))) : null;
    const reach = Math.max(0, ...were.map((w) => w.lengthMm)) / 2 + MOVED_MM;
    for (const place of find({ edge: paper.edge, outlines: after }, { limitMm, slackMm: WIDTH_SLACK_MM })) {
      const culprits = near(around(place, 0))
        .map((k) => asked[k])
        .filter(
          (t) => isNear(t, place, options.tie, margin) && !(find === findNecks && isOwnStrip(t, place, options.tie)),
        );
      if (culprits.length === 0) continue;
      const { x, y } = place.atMm;
      const far = reach + place.lengthMm / 2;
      const old = known?.search(x - far, y - far, x + far, y + far).some((k) => isSame(were[k], place));
      if (old) continue;
      culprits.sort((s, t) => pointDistance(s, place.atMm) - pointDistance(t, place.atMm));
      spoilt.add(culprits[0]);
    }
  }
  return spoilt;
}

function isSame(was: NarrowPlace, is: NarrowPlace): boolean {
  if (was.widthMm > is.widthMm + WIDTH_SLACK_MM) return false;
  const moved = Math.hypot(was.atMm.x - is.atMm.x, was.atMm.y - is.atMm.y);
  return moved <= (was.lengthMm + is.lengthMm) / 2 + MOVED_MM;
}

/** Whether a narrow place may come from a tie. */
function isNear(tie: PlacedTie, place: NarrowPlace, { widthMm, flareMm }: TieRules, margin: number): boolean {
  const reach = widthMm + flareMm + margin - AROUND_MM;
  return [place.from, place.to, place.atMm].some((p) => pointDistance(tie, p) <= reach);
}

/** The neck that a tie is: from one side of its strip to the other. */
function isOwnStrip(tie: PlacedTie, place: NarrowPlace, { widthMm, flareMm }: TieRules): boolean {
  if (place.widthMm < widthMm - WIDTH_SLACK_MM) return false;
  return [place.from, place.to].every((p) => pointDistance(tie, p) <= widthMm / 2 + flareMm + WIDTH_SLACK_MM);
}

function around({ from, to }: { from: Point; to: Point }, margin: number): Box {
  return {
    x0: Math.min(from.x, to.x) - margin,
    y0: Math.min(from.y, to.y) - margin,
    x1: Math.max(from.x, to.x) + margin,
    y1: Math.max(from.y, to.y) + margin,
  };
}

function touches(a: Box, b: Box): boolean {
  return a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1;
}
