import { type ClearSpace, NO_OWNER } from '../../draw/clear-space.js';
import { edgeTowards, emOfCap, wordBox } from '../../draw/label-box.js';
import { COLOURS, GREY, PAPER } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { boxHolds, boxWithin, growBox, sharedBox } from '../../geometry/boxes.js';
import { circleContour, polyline } from '../../geometry/contour.js';
import { distance } from '../../geometry/points.js';
import type { Box, Point } from '../../geometry/types.js';
import { insideSides, type Outlines, type StraightSide } from './outlines.js';
import { FRAME_SLACK_MM } from './view.js';

/** Heights of capitals and digits to try, mm: the last is what is read at arm's length. */
export const NUMBER_CAPS_MM = [4, 3.5, 3] as const;
/** Free paper between a number and any line, mm. */
const CLEARANCE_MM = 0.5;
/** The longest leader, mm. */
const REACH_MM = 45;
/** Shortest free stretch of a leader, mm. */
const LEAST_LEADER_MM = 1.5;
/** More free paper between two numbers, mm: they must not be read as one. */
const APART_MM = 0.7;
const DIRECTIONS = 40;
const GROWTH = 1.11;
/** How far a leader goes on into the waste, mm. */
const INTO_WASTE_MM = 1.4;
const SPOT_MM = 0.45;
/** Places tried inside an opening along each side of its box. */
const LATTICE = 12;

/** A number that wants a place. All on the page, mm. */
export interface LabelRequest {
  readonly number: number;
  /** What to write; a longer text may be tried before it inside the waste. */
  readonly text: string;
  readonly longText?: string;
  /** The waste that the number belongs to. */
  readonly waste: Outlines;
  /** The roomiest place in it; null where that is not known. */
  readonly at: Point | null;
  /** White under the digits: the waste is hatched. */
  readonly onHatch: boolean;
}

export interface PlacedNumbers {
  readonly items: readonly Item[];
  readonly missing: readonly number[];
}

/** Where numbers may stand, and what they must keep clear of. */
export interface NumberGround {
  readonly space: ClearSpace;
  /** Numbers stay in here. */
  readonly frame: Box;
  /** All waste in sight: a number never stands on another opening's. */
  readonly waste: readonly Outlines[];
  readonly font: FontMetrics;
}

/**
 * Numbers with capitals at least 3 mm high: each in its own waste where it fits, else on free paper with a leader that ends in its own waste, crosses that opening's outline
 * once and no other line. What is placed is added to the ground's `space`. Numbers without such a place are reported as missing.
 */
export function placeGuideNumbers(
  wishes: readonly LabelRequest[],
  ground: NumberGround,
  { allOrNothing = false } = {},
): PlacedNumbers {
  const items: Item[] = [];
  const missing: number[] = [];
  const waiting = wishes.filter((wish) => {
    const placed = placeInside(wish, ground);
    if (placed) items.push(...placed);
    return placed === null;
  });
  // The smallest have the fewest places to choose from; those that are alike to a µm go by their numbers.
  const size = (wish: LabelRequest) => Math.round(1_000 * boxSize(wish.waste.box));
  waiting.sort((a, b) => size(a) - size(b));
  for (const wish of waiting) {
    const placed = placeOutside(wish, ground);
    if (placed) items.push(...placed);
    else missing.push(wish.number);
    if (allOrNothing && missing.length > 0) break;
  }
  return { items, missing: [...new Set(missing)] };
}

function boxSize(box: Box): number {
  return Math.max(box.x1 - box.x0, box.y1 - box.y0);
}

/** The box of a number centred on a place, with the feet of its brackets. */
export function numberBox(at: Point, text: string, capMm: number, font: FontMetrics): Box {
  return wordBox(at, { text, em: emOfCap(capMm, font), bold: true }, font);
}

function placeInside(wish: LabelRequest, ground: NumberGround): Item[] | null {
  const { space, frame, font } = ground;
  const { box } = wish.waste;
  const seen = sharedBox(box, frame);
  if (!seen) return null;
  let places: Point[] | null = null;
  for (const text of [...(wish.longText ? [wish.longText] : []), wish.text]) {
    for (const cap of NUMBER_CAPS_MM) {
      const unit = growBox(numberBox({ x: 0, y: 0 }, text, cap, font), CLEARANCE_MM);
      // What is as broad as its box is broad can't hold more.
      if (seen.x1 - seen.x0 < 2 * unit.x1 || seen.y1 - seen.y0 < 2 * unit.y1) continue;
      places ??= [...(wish.at ? [wish.at] : []), ...latticePlaces(seen)];
      for (const at of places) {
        const roomy = { x0: at.x + unit.x0, y0: at.y + unit.y0, x1: at.x + unit.x1, y1: at.y + unit.y1 };
        if (!boxWithin(roomy, frame, FRAME_SLACK_MM) || !space.isClear(roomy) || !insideSides(wish.waste.sides(), at))
          continue;
        space.addBox(growBox(numberBox(at, text, cap, font), APART_MM), NO_OWNER);
        return numberItems({ ...wish, text }, at, cap, font);
      }
    }
  }
  return null;
}

/** Shares of a box's sides, those nearest its middle first. */
const LATTICE_SHARES: readonly Point[] = Array.from({ length: LATTICE * LATTICE }, (_, k) => ({
  x: ((k % LATTICE) + 0.5) / LATTICE,
  y: (Math.floor(k / LATTICE) + 0.5) / LATTICE,
})).sort((a, b) => Math.hypot(a.x - 0.5, a.y - 0.5) - Math.hypot(b.x - 0.5, b.y - 0.5));

/** Places over a box, those nearest its middle first. */
function latticePlaces({ x0, y0, x1, y1 }: Box): Point[] {
  return LATTICE_SHARES.map((share) => ({ x: x0 + share.x * (x1 - x0), y: y0 + share.y * (y1 - y0) }));
}

function placeOutside(wish: LabelRequest, ground: NumberGround): Item[] | null {
  const { space, frame, font, waste } = ground;
  const cap = NUMBER_CAPS_MM[NUMBER_CAPS_MM.length - 1];
  const sides = wish.waste.sides();
  const anchors = anchorsOf(wish, sides, frame);
  const unit = growBox(numberBox({ x: 0, y: 0 }, wish.text, cap, font), CLEARANCE_MM);
  for (let r = 2; r <= REACH_MM; r *= GROWTH) {
    for (const anchor of anchors) {
      for (let k = 0; k < DIRECTIONS; k++) {
        // Up and to the right first.
        const angle = -Math.PI / 4 + (2 * Math.PI * k) / DIRECTIONS;
        const at = { x: anchor.x + r * Math.cos(angle), y: anchor.y + r * Math.sin(angle) };
        const roomy = { x0: at.x + unit.x0, y0: at.y + unit.y0, x1: at.x + unit.x1, y1: at.y + unit.y1 };
        if (!boxWithin(roomy, frame, FRAME_SLACK_MM) || !space.isClear(roomy)) continue;
        if (waste.some((w) => boxHolds(w.box, at) && insideSides(w.sides(), at))) continue;
        const from = edgeTowards(roomy, anchor);
        const tip = tipInWaste(sides, from, anchor);
        if (tip === null || !boxHolds(frame, tip.at) || tip.freeMm < LEAST_LEADER_MM) continue;
        if (space.crossesOthers(tip.at, at, wish.number)) continue;
        space.addBox(growBox(numberBox(at, wish.text, cap, font), APART_MM), NO_OWNER);
        space.addLine(from.x, from.y, tip.at.x, tip.at.y, NO_OWNER);
        const spot = Math.min(SPOT_MM, Math.max(0.15, tip.inMm * 0.9));
        return [
          {
            kind: 'path',
            contours: [polyline([tip.at, from], { closed: false })],
            line: { colour: GREY, widthMm: 0.2 },
          },
          { kind: 'path', contours: [circleContour(tip.at, spot)], fill: COLOURS.black },
          ...numberItems(wish, at, cap, font),
        ];
      }
    }
  }
  return null;
}

/** Places in the waste that a leader may aim at: the roomiest first, then near its tips. */
function anchorsOf(wish: LabelRequest, sides: readonly StraightSide[], frame: Box): Point[] {
  const inner: Point[] = wish.at && boxHolds(frame, wish.at) ? [wish.at] : [];
  if (inner.length === 0) {
    const seen = sharedBox(wish.waste.box, frame);
    const found = seen && latticePlaces(seen).find((p) => insideSides(sides, p));
    if (found) inner.push(found);
  }
  const ends = [
    (s: StraightSide) => s.x0,
    (s: StraightSide) => -s.x0,
    (s: StraightSide) => s.y0,
    (s: StraightSide) => -s.y0,
  ].flatMap((key) => {
    let best: StraightSide | null = null;
    for (const s of sides) if (boxHolds(frame, { x: s.x0, y: s.y0 }) && (best === null || key(s) < key(best))) best = s;
    return best ? [{ x: best.x0, y: best.y0 }] : [];
  });
  const middle = inner[0] ?? wish.at;
  if (!middle) return ends;
  const towards = ends.map((e) => {
    const far = Math.max(1e-9, distance(middle, e));
    const share = Math.min(0.5, 0.4 / far);
    return { x: e.x + share * (middle.x - e.x), y: e.y + share * (middle.y - e.y) };
  });
  return [...inner, ...towards.filter((p) => insideSides(sides, p))];
}

/**
 * Where a leader from free paper towards a place in the waste ends: a little past the first line of its own opening that it comes to, so that it crosses no more than that
 * one. Null where it comes to none.
 */
function tipInWaste(
  sides: readonly StraightSide[],
  from: Point,
  to: Point,
): { readonly at: Point; readonly freeMm: number; readonly inMm: number } | null {
  const dx = to.x - from.x;
  const dy = to.y - from.y;
  const length = Math.hypot(dx, dy);
  if (length === 0) return null;
  let first = Infinity;
  let second = Infinity;
  for (const { x0, y0, x1, y1 } of sides) {
    const ex = x1 - x0;
    const ey = y1 - y0;
    const det = dx * ey - dy * ex;
    if (det === 0) continue;
    const t = ((x0 - from.x) * ey - (y0 - from.y) * ex) / det;
    const u = ((x0 - from.x) * dy - (y0 - from.y) * dx) / det;
    // The line is followed on past the place that it aims at: a narrow waste has its other side there.
    if (t < 0 || u < 0 || u >= 1) continue;
    if (t < first) {
      second = first;
      first = t;
    } else if (t < second) second = t;
  }
  if (first > 1) return null;
  const inMm = Math.min(INTO_WASTE_MM, ((second - first) * length) / 2);
  const t = first + inMm / length;
  return { at: { x: from.x + t * dx, y: from.y + t * dy }, freeMm: first * length, inMm };
}

function numberItems(wish: LabelRequest, at: Point, cap: number, font: FontMetrics): Item[] {
  const white = growBox(numberBox(at, wish.text, cap, font), CLEARANCE_MM);
  const corners = [
    { x: white.x0, y: white.y0 },
    { x: white.x1, y: white.y0 },
    { x: white.x1, y: white.y1 },
    { x: white.x0, y: white.y1 },
  ];
  return [
    ...(wish.onHatch
      ? [{ kind: 'path', contours: [polyline(corners, { closed: true })], fill: PAPER } satisfies Item]
      : []),
    {
      kind: 'text',
      text: wish.text,
      x: at.x,
      y: at.y + cap / 2,
      sizeMm: emOfCap(cap, font),
      anchor: 'middle',
      bold: true,
      colour: COLOURS.black,
    },
  ];
}
