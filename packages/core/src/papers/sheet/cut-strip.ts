import { uprightNumber } from '../../draw/upright-numbers.js';
import { boxesOverlap, boxHolds } from '../../geometry/boxes.js';
import { contoursBox, polyline, translateContour } from '../../geometry/contour.js';
import { flattenCubic } from '../../geometry/flatten.js';
import { distance } from '../../geometry/points.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { ProofOffset, SheetEnds, SheetJoin } from '../../proof/types.js';
import type { Dot } from '../../register/dots.js';
import { sheetRepeat } from '../../register/dots.js';
import { latticePoint, makeLattice } from '../../repeat/lattice.js';
import type { Lattice } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';

/** How much of the next placement is seen beyond the seam, mm. */
const BEYOND_MM = 15;
/** How much of the first cut is seen before the hold line, mm: by it the strip is seen to lie right. */
const BEFORE_MM = 8;
/** Past the ends of the seam, mm: room for the dots there with their rings and letters. */
const PAST_MM = 9;
/** Around a dot that was moved away from the corners, mm. */
const AROUND_DOT_MM = 6;
/** Breadth of the bare margins, mm: room for `J106`. */
const NAMES_MM = 13;
/** Stops farther from the held margin than this belong to another side, mm. */
const STOPS_WITHIN_MM = 30;
/** Moved outlines are known to this, mm: a tenth of what a knife can do. */
const FLATTEN_MM = 0.02;
/** A crossing nearer to a join's lead place than this is that join's, mm. */
const AT_JOIN_MM = 0.3;

/** A place with a name. Sheet mm. */
export interface NamedPlace {
  readonly name: string;
  readonly at: Point;
}

/** Outlines of one opening. Sheet mm. */
export interface StripOpening {
  readonly number: number;
  /** As its sheet writes it. */
  readonly name: string;
  readonly contours: readonly Contour[];
}

/** All that is seen along one held side of a sheet, on both sides of its seam. Sheet mm. */
export interface CutStrip {
  readonly seam: 'right' | 'bottom';
  /** What is seen, and bare margins on both of its long sides, in which names stand. */
  readonly box: Box;
  readonly core: Box;
  readonly field: Box;
  readonly hold: readonly [Point, Point];
  /** Of the openings that are cut already. */
  readonly first: readonly StripOpening[];
  readonly second: readonly StripOpening[];
  /** Where the next placements lie, and what of them is printed there: their lead edges as they really are. */
  readonly beyond: readonly Box[];
  readonly lead: readonly Contour[];
  /** Where the outlines come to the seam, and where first cuts end, as far as it is known where they really do. */
  readonly joins: readonly NamedPlace[];
  readonly ends: readonly NamedPlace[];
  readonly dots: readonly Dot[];
  /** A proof was measured: the second cut is to be made now. */
  readonly proved: boolean;
}

export interface CutStripOptions {
  readonly ends: SheetEnds;
  /** Of the unit. */
  readonly lattice: Pick<Lattice, 'repeat'>;
  /** Where the proof shows the ends to be; none for the plan. */
  readonly offsets: readonly ProofOffset[];
  /** The print of the sheet itself, sheet mm: its lead edges are shown instead of those of the plan. */
  readonly printed?: readonly Contour[];
}

/** The strips of a sheet's held sides, the right one first. Empty for a sheet on which nothing is held. */
export function cutStrips(sheet: Sheet, options: CutStripOptions): CutStrip[] {
  const sides = [
    ...(sheet.heldRight === null ? [] : (['right'] as const)),
    ...(sheet.heldBottom === null ? [] : (['bottom'] as const)),
  ];
  return sides.map((seam) => cutStrip(sheet, seam, options));
}

function cutStrip(sheet: Sheet, seam: 'right' | 'bottom', options: CutStripOptions): CutStrip {
  const { field, heldRight, heldBottom, openings, dots } = sheet;
  const { ends, offsets } = options;
  const right = seam === 'right';
  const box = stripBox(sheet, seam);
  const margin = (by: number): Box =>
    right ? { ...box, x0: box.x0 - by, x1: box.x1 + by } : { ...box, y0: box.y0 - by, y1: box.y1 + by };
  const inBox = <T extends { readonly at: Point }>({ at }: T): boolean => boxHolds(box, at);
  const part = (key: 'firstCut' | 'secondCut') =>
    openings.flatMap(({ number, [key]: contours }): StripOpening[] => {
      const own = contoursBox(contours);
      return own !== null && boxesOverlap(own, box)
        ? [{ number, name: uprightNumber(number, openings), contours }]
        : [];
    });
  const beside = { x0: field.x1, y0: Math.max(box.y0, field.y0), x1: Math.max(field.x1, box.x1), y1: box.y1 };
  const below = {
    x0: Math.max(box.x0, field.x0),
    y0: field.y1,
    x1: Math.min(field.x1, box.x1),
    y1: Math.max(field.y1, box.y1),
  };
  // Where nothing is held nothing is ever printed beyond.
  const beyond = [...(heldRight ? [beside] : []), ...(heldBottom ? [below] : [])].filter(
    (b) => b.x1 > b.x0 && b.y1 > b.y0,
  );
  const by = new Map(offsets.map((o) => [o.name, o.offsetMm]));
  const hold = right
    ? ([
        { x: (heldRight as Box).x0, y: box.y0 },
        { x: (heldRight as Box).x0, y: Math.min(box.y1, heldBottom?.y0 ?? field.y1) },
      ] as const)
    : ([
        { x: box.x0, y: (heldBottom as Box).y0 },
        { x: Math.min(box.x1, heldRight?.x0 ?? field.x1), y: (heldBottom as Box).y0 },
      ] as const);
  return {
    seam,
    box: margin(NAMES_MM),
    core: box,
    field,
    hold,
    first: part('firstCut'),
    second: part('secondCut'),
    beyond,
    lead: beyond.length === 0 ? [] : leadContours(sheet, beyond, options),
    joins: ends.joins
      .filter((join) => join.seam === seam)
      .map((join) => ({ name: join.name, at: along(join, by.get(join.name) ?? 0) }))
      .filter(inBox),
    ends: ends.firstCutEnds
      .filter(({ at }) => sideOf(sheet, at) === seam)
      .map(({ name, at, along: u }) => {
        const d = by.get(name) ?? 0;
        return { name, at: { x: at.x + d * u.x, y: at.y + d * u.y } };
      })
      .filter(inBox),
    dots: dots.filter(inBox),
    proved: offsets.length > 0,
  };
}

/** To which held side an end of a first cut belongs: the one whose hold line is nearer. */
function sideOf({ field, heldRight, heldBottom }: Sheet, { x, y }: Point): 'right' | 'bottom' {
  if (heldRight === null) return 'bottom';
  return heldRight.x0 - x <= (heldBottom?.y0 ?? field.y1) - y ? 'right' : 'bottom';
}

/** A place on a join's seam, `mm` down or to the right of the planned one. */
export function along({ seam, at }: Pick<SheetJoin, 'seam' | 'at'>, mm: number): Point {
  return seam === 'right' ? { x: at.x, y: at.y + mm } : { x: at.x + mm, y: at.y };
}

/** From a little before the hold line to a little beyond the seam, with all stops of that side and all dots on it. */
function stripBox({ field, heldRight, heldBottom, stops, dots }: Sheet, seam: 'right' | 'bottom'): Box {
  const right = seam === 'right';
  const from = right ? (heldRight as Box).x0 : (heldBottom as Box).y0;
  const across = (p: Point): number => (right ? p.x : p.y);
  const sideways = (p: Point): number => (right ? p.y : p.x);
  const end = right ? (heldBottom?.y0 ?? field.y1) : (heldRight?.x0 ?? field.x1);
  const near = stops
    .flatMap((s) => [s.from, s.to])
    .filter((p) => across(p) > from - STOPS_WITHIN_MM && sideways(p) < end)
    .map(across);
  const low = Math.min(from, ...near) - BEFORE_MM;
  const seamAt = right ? field.x1 : field.y1;
  const own = dots.filter(
    ({ at }) => Math.abs(across(at) - seamAt) < Math.abs(across(at) - (right ? field.x0 : field.y0)),
  );
  const high = Math.max(seamAt + BEYOND_MM, ...own.map(({ at }) => across(at) + AROUND_DOT_MM));
  const least = Math.min(low, ...own.map(({ at }) => across(at) - AROUND_DOT_MM));
  const sides = own.map(({ at }) => sideways(at));
  const [first, last] = right ? [field.y0, field.y1] : [field.x0, field.x1];
  const top = Math.min(first, ...sides) - PAST_MM;
  const bottom = Math.max(last, ...sides) + PAST_MM;
  return right ? { x0: least, y0: top, x1: high, y1: bottom } : { x0: top, y0: least, x1: bottom, y1: high };
}

/** What of the next placements is printed beyond the seams, where it really lies. */
function leadContours(sheet: Sheet, beyond: readonly Box[], options: CutStripOptions): Contour[] {
  const { field, openings, across, down } = sheet;
  const { ends, lattice, offsets, printed } = options;
  const [w, h] = [field.x1 - field.x0, field.y1 - field.y0];
  const stepping = makeLattice(sheetRepeat(lattice.repeat, across, down), w, h);
  const result: Contour[] = [];
  for (const i of [-2, -1, 0, 1, 2]) {
    for (const j of [-2, -1, 0, 1, 2]) {
      if (i === 0 && j === 0) continue;
      const v = latticePoint(stepping, { i, j });
      const back = beyond.map((b) => ({ x0: b.x0 - v.x, y0: b.y0 - v.y, x1: b.x1 - v.x, y1: b.y1 - v.y }));
      if (!back.some((b) => boxesOverlap(b, field))) continue;
      const own = printed ?? openings.flatMap(({ firstCut }) => firstCut);
      const seen = own.filter((c) => {
        const box = contoursBox([c]);
        return box !== null && back.some((b) => boxesOverlap(b, box));
      });
      const joins = printed ? [] : ends.joins.filter(({ step }) => distance(step, v) < AT_JOIN_MM);
      const moved = seen.map((contour) => asProved(contour, { field, joins, offsets }));
      result.push(...moved.map((contour) => translateContour(contour, v)));
    }
  }
  return result;
}

interface Known {
  readonly field: Box;
  readonly joins: readonly SheetJoin[];
  readonly offsets: readonly ProofOffset[];
}

/** An outline with its crossings of the lead seams moved to where the proof shows them. */
function asProved(contour: Contour, { field, joins, offsets }: Known): Contour {
  const by = new Map(offsets.map((o) => [o.name, o]));
  const known = joins.flatMap((join) => {
    const offset = by.get(join.name);
    return offset === undefined ? [] : [{ ...join, offset }];
  });
  if (known.length === 0) return contour;
  const left = moveCrossings(
    flattened(contour),
    known.filter((j) => j.seam === 'right'),
    { axis: 'x', at: field.x0 },
  );
  const both = moveCrossings(
    left.points,
    known.filter((j) => j.seam === 'bottom'),
    { axis: 'y', at: field.y0 },
  );
  if (!left.moved && !both.moved) return contour;
  return polyline(both.points, { closed: true });
}

type Proved = SheetJoin & { readonly offset: ProofOffset };

/**
 * Moves a closed outline along a lead seam: at each crossing by what was measured there, turned as was measured, and between two crossings by what lies between, by the
 * share of the way along the outline.
 */
function moveCrossings(
  points: readonly Point[],
  joins: readonly Proved[],
  { axis, at }: { axis: 'x' | 'y'; at: number },
): { points: readonly Point[]; moved: boolean } {
  const key = axis === 'x' ? 'y' : 'x';
  const walk: { p: Point; join: Proved | null; crossing: boolean }[] = [];
  points.forEach((a, k) => {
    const b = points[(k + 1) % points.length];
    walk.push({ p: a, join: null, crossing: false });
    if (a[axis] < at === b[axis] < at) return;
    const t = (at - a[axis]) / (b[axis] - a[axis]);
    const p = { x: a.x + t * (b.x - a.x), y: a.y + t * (b.y - a.y) };
    const join = joins.find(({ lead }) => Math.abs(lead[key] - p[key]) < AT_JOIN_MM) ?? null;
    walk.push({ p, join, crossing: true });
  });
  const start = walk.findIndex(({ join }) => join !== null);
  if (start < 0) return { points, moved: false };
  const ring = [...walk.slice(start), ...walk.slice(0, start + 1)];
  const result: Point[] = [];
  for (let from = 0; from + 1 < ring.length; ) {
    let to = from + 1;
    while (to < ring.length - 1 && !ring[to].crossing) to++;
    const lengths = [0];
    for (let k = from + 1; k <= to; k++) {
      const [a, b] = [ring[k - 1].p, ring[k].p];
      lengths.push(lengths[lengths.length - 1] + distance(b, a));
    }
    const whole = lengths[lengths.length - 1] || 1;
    for (let k = from; k < to; k++) {
      const share = lengths[k - from] / whole;
      const { p } = ring[k];
      const deep = p[axis] - at;
      const shift = (1 - share) * shiftOf(ring[from].join, axis, deep) + share * shiftOf(ring[to].join, axis, deep);
      result.push(axis === 'x' ? { x: p.x, y: p.y + shift } : { x: p.x + shift, y: p.y });
    }
    from = to;
  }
  return { points: result, moved: true };
}

/** How far an edge is moved along its seam, `deep` mm inside of it. Turned clockwise as seen it goes down to the right, and to the left below. */
function shiftOf(join: Proved | null, axis: 'x' | 'y', deep: number): number {
  if (join === null) return 0;
  const { offsetMm, turnDeg } = join.offset;
  const slope = Math.tan((turnDeg * Math.PI) / 180);
  return offsetMm + (axis === 'x' ? slope : -slope) * deep;
}

function flattened({ coords }: Contour): Point[] {
  const points: Point[] = [];
  for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_MM, (x, y) => points.push({ x, y }));
  return points;
}
