import { boxOf } from '../geometry/boxes.js';
import { boxIndex } from '../geometry/cluster.js';
import { contoursBox } from '../geometry/contour.js';
import { FLATTEN_MM, flattenCubic } from '../geometry/flatten.js';
import { pointDistance, segmentDistance } from '../geometry/segments.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import { findNecks, findSlits } from '../strength/narrow.js';
import type { CutPaper, NarrowPlace, PaperRules, SheetOutline, TieRules } from '../strength/types.js';
import { WIDTH_SLACK_MM } from './tie-candidates.js';
import { cutOpening, type OpeningPiece } from './tie-cut.js';
import { type CurveIndex, tieReach } from './tie-reach.js';
import { tieShape } from './tie-shape.js';

/** Around a tie everything is looked at that lies within this, mm, and the width of a neck. */
const AROUND_MM = 3;
/** An end of a narrow place within this of an outline lies on it, mm: flattening, and what a width may be off by. */
const ON_OUTLINE_MM = FLATTEN_MM + 0.005;
/** Openings that are wholly cut up by a tie leave pieces of room for a slit's disc; rooms are found to this, mm. */
const ROOM_MM = 0.25;

/** Up to so many ties in one opening are compared with each other. */
const FEW_TIES = 12;
/** So many ties are tried together, in rows of this height, mm. */
const BATCH = 400;
const ROW_MM = 60;

/** A tie that is to stand in an opening. */
export interface PlacedTie {
  readonly opening: number;
  readonly from: Point;
  readonly to: Point;
  /** It is plain that it leaves no slit beside it (see `hasPlainRoom`). */
  readonly roomy?: boolean;
}

/** A sheet on which ties are to stand. */
export interface TieSheet {
  readonly tie: TieRules;
  /** All its outlines. */
  readonly outlines: CurveIndex;
  /** The outlines of every opening. */
  readonly openings: ReadonlyMap<number, readonly Contour[]>;
}

export interface CheckOptions extends TieSheet {
  readonly rules: PaperRules;
  readonly boxes: OpeningBoxes;
}

/** Finds openings by their boxes. */
export interface OpeningBoxes {
  /** The openings whose boxes meet one of those given, and their boxes. */
  readonly near: (boxes: readonly Box[]) => Map<number, Box>;
}

/** Indexes the boxes of openings. */
export function indexOpenings(openings: ReadonlyMap<number, readonly Contour[]>): OpeningBoxes {
  const numbers: number[] = [];
  const boxes: Box[] = [];
  for (const [opening, contours] of openings) {
    const box = contoursBox(contours);
    if (!box) continue;
    numbers.push(opening);
    boxes.push(box);
  }
  const index = boxes.length > 0 ? boxIndex(boxes) : null;
  return {
    near: (asked) => {
      const hit = new Set(asked.flatMap(({ x0, y0, x1, y1 }) => index?.search(x0, y0, x1, y1) ?? []));
      return new Map([...hit].sort((j, k) => j - k).map((k) => [numbers[k], boxes[k]]));
    },
  };
}

/** The strip of paper of a tie; null where it finds no paper to land on within two widths. */
export function stripOf(tie: PlacedTie, { tie: rules, outlines }: Pick<TieSheet, 'tie' | 'outlines'>): Contour | null {
  const { widthMm, flareMm } = rules;
  const reachMm = tieReach(tie, outlines, { widthMm, flareMm });
  return reachMm && tieShape(tie, { widthMm, flareMm, reachMm });
}

/** What ties leave of the opening in which they stand. */
export function openingWithTies(opening: number, ties: readonly PlacedTie[], options: TieSheet): OpeningPiece[] {
  const strips = ties.flatMap((tie) => stripOf(tie, options) ?? []);
  return cutOpening(options.openings.get(opening) ?? [], strips);
}

/**
 * Which of the ties `asked` spoil the sheet once all `ties` stand: a neck or a slit near a tie that was not there before (narrower than asked
 * for by more than 0.01 mm), or a piece of an opening in which no paste finds room. The ties' own strips are as wide as they were ordered.
 * Only openings near the ties asked for are looked at.
 */
export function spoilers(
  paper: CutPaper,
  ties: readonly PlacedTie[],
  asked: readonly PlacedTie[],
  options: CheckOptions,
): Set<PlacedTie> {
  const byOpening = groupTies(ties);
  const inRows = [...asked].sort(
    (s, t) => Math.floor(s.from.y / ROW_MM) - Math.floor(t.from.y / ROW_MM) || s.from.x - t.from.x,
  );
  const spoilt = new Set<PlacedTie>();
  // In batches of neighbours, so that samples of a part of the sheet only are held at a time.
  for (let k = 0; k < inRows.length; k += BATCH) {
    for (const t of spoilersAmong(paper, byOpening, inRows.slice(k, k + BATCH), options)) spoilt.add(t);
  }
  return spoilt;
}

function spoilersAmong(
  paper: CutPaper,
  byOpening: ReadonlyMap<number, readonly PlacedTie[]>,
  asked: readonly PlacedTie[],
  options: CheckOptions,
): Set<PlacedTie> {
  const spoilt = new Set<PlacedTie>();
  const { openings, rules, tie: order } = options;
  const margin = AROUND_MM + Math.max(rules.neckMm, rules.slitMm);
  const index = boxIndex(asked.map((t) => boxOf([t.from, t.to], margin)));
  const askedNear = (box: Box): PlacedTie[] => index.search(box.x0, box.y0, box.x1, box.y1).map((k) => asked[k]);
  const boxes = options.boxes.near(asked.map((t) => boxOf([t.from, t.to], margin)));
  const askedSet = new Set(asked);
  const unchanged: SheetOutline[] = [];
  const changed: SheetOutline[] = [];
  const slitsAsked = new Set<number>();
  let number = 0;
  for (const opening of boxes.keys()) {
    const standing = byOpening.get(opening);
    if (!standing) {
      for (const contour of openings.get(opening) ?? []) unchanged.push({ contour, opening: number });
      number++;
      continue;
    }
    const into = standing.some((t) => askedSet.has(t)) ? changed : unchanged;
    const pieces = openingWithTies(opening, standing, options);
    const roomy = pieces.some((p) => p.roomMm + ROOM_MM >= rules.slitMm);
    const close = mayLeaveSlit(standing, options);
    for (const { contours, roomMm } of pieces) {
      if (close) slitsAsked.add(number);
      for (const contour of contours) into.push({ contour, opening: number });
      number++;
      if (!roomy || roomMm + ROOM_MM >= rules.slitMm) continue;
      const at = contoursBox(contours);
      for (const t of standing)
        if (at && askedSet.has(t) && touches(at, boxOf([t.from, t.to], order.widthMm))) spoilt.add(t);
    }
  }
  const onDrawing = outlineTest(options.outlines, paper.edge);
  for (const [find, limitMm, outlines] of [
    [findNecks, rules.neckMm, [...changed, ...unchanged]],
    [findSlits, rules.slitMm, changed.filter((o) => slitsAsked.has(o.opening))],
  ] as const) {
    for (const place of find({ edge: paper.edge, outlines }, { limitMm, slackMm: WIDTH_SLACK_MM })) {
      const near = askedNear(boxOf([place.from, place.to])).filter(
        (t) => isNear(t, place, order, margin) && !(find === findNecks && isOwnStrip(t, place, order)),
      );
      // Between two banks of the drawing it was as narrow before.
      if (near.length === 0 || (onDrawing(place.from) && onDrawing(place.to))) continue;
      spoilt.add(nearestTie(near, place.atMm));
    }
  }
  return spoilt;
}

/** Whether ties in one opening leave slits for all that is plain: beside one, or between two. */
function mayLeaveSlit(ties: readonly PlacedTie[], { tie, rules }: CheckOptions): boolean {
  if (!ties.every((t) => t.roomy)) return true;
  const clear = tie.widthMm + 2 * tie.flareMm + 2 * rules.slitMm;
  // Many ties in one opening are not held against each other one by one.
  return ties.length > FEW_TIES || ties.some((t, k) => ties.slice(k + 1).some((o) => segmentDistance(t, o) < clear));
}

function groupTies(ties: readonly PlacedTie[]): Map<number, PlacedTie[]> {
  const byOpening = new Map<number, PlacedTie[]>();
  for (const t of ties) {
    const list = byOpening.get(t.opening);
    if (list) list.push(t);
    else byOpening.set(t.opening, [t]);
  }
  return byOpening;
}

function nearestTie(ties: readonly PlacedTie[], at: Point): PlacedTie {
  return ties.reduce((best, t) => (pointDistance(t, at) < pointDistance(best, at) ? t : best));
}

/** Tells of a point whether it lies on an outline of the drawing, or on the edge of the sheet. */
function outlineTest({ contours, curves, boxes }: CurveIndex, { x0, y0, x1, y1 }: Box): (at: Point) => boolean {
  return ({ x, y }) => {
    if (Math.min(x - x0, x1 - x, y - y0, y1 - y) <= ON_OUTLINE_MM) return true;
    const near = boxes?.search(x - ON_OUTLINE_MM, y - ON_OUTLINE_MM, x + ON_OUTLINE_MM, y + ON_OUTLINE_MM) ?? [];
    return near.some((k) => {
      const [contour, o] = curves[k];
      const { coords } = contours[contour];
      let [px, py] = [coords[o], coords[o + 1]];
      let least = Infinity;
      flattenCubic(coords, o, FLATTEN_MM, (qx, qy) => {
        least = Math.min(least, pointDistance({ from: { x: px, y: py }, to: { x: qx, y: qy } }, { x, y }));
        [px, py] = [qx, qy];
      });
      return least <= ON_OUTLINE_MM;
    });
  };
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

function touches(a: Box, b: Box): boolean {
  return a.x0 <= b.x1 && b.x0 <= a.x1 && a.y0 <= b.y1 && b.y0 <= a.y1;
}
