import { distance } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import { around, CORNERS } from './spans.js';
import type { Corner, FromHole, Holes, Repunch, SquareTargets } from './types.js';

/** Opposite sides that differ by more than this spoil the joins, mm: about what the eye finds at a join. */
export const SIDES_FIX_MM = 0.5;

/** A pattern that leans less than this is not worth a new hole, mm for a metre. */
export const LEAN_PUNCH_MM_PER_M = 2;

/** A new hole nearer to the old one than this would run into it, mm: two holes of 1.5 mm with as much paper between. */
export const PATCH_MM = 3;

/** A rectangle of holes, some of which stay where they are. */
interface Plan {
  readonly kept: readonly Corner[];
  readonly holes: Holes;
  readonly sizeOffMm: number;
  readonly leanMmPerM: number;
  readonly score: number;
}

/**
 * The fewest holes to punch again so that opposite sides are equal and the sheet leans less than `LEAN_PUNCH_MM_PER_M`.
 *
 * With three holes kept the fourth closes the parallelogram; that helps if the corner between the three is square enough. With two kept,
 * the other two go where a rectangle on them has its corners: two holes always do, one does not (in an isosceles trapezoid no
 * corner is square). Of the plans that leave the job's width and height within `sizeToleranceMm` the one with the fewest new holes is
 * taken, else, where none does, of all plans; among equals the one nearest to the job's measures. New holes are measured from two that stay.
 */
export function planRepunch(
  holes: Holes,
  targets: SquareTargets,
  { sizeToleranceMm }: { readonly sizeToleranceMm: number },
): { readonly repunch: readonly Repunch[]; readonly holes: Holes } {
  const plans = [
    ...CORNERS.map((corner) => oneMoved(holes, corner, targets)),
    ...pairs(CORNERS).map((kept) => twoKept(holes, kept, targets)),
  ].filter((plan) => Math.abs(plan.leanMmPerM) < LEAN_PUNCH_MM_PER_M);
  const ofSize = plans.filter((plan) => plan.sizeOffMm <= sizeToleranceMm);
  const [best] = [...(ofSize.length > 0 ? ofSize : plans)].sort(
    (a, b) => b.kept.length - a.kept.length || a.score - b.score,
  );
  return { repunch: holesToPunch(holes, best), holes: best.holes };
}

/** Three holes kept: the fourth closes the parallelogram. */
function oneMoved(holes: Holes, corner: Corner, targets: SquareTargets): Plan {
  const { before, after, opposite } = around(corner);
  const at = {
    x: holes[before].x + holes[after].x - holes[opposite].x,
    y: holes[before].y + holes[after].y - holes[opposite].y,
  };
  return planOf(
    CORNERS.filter((one) => one !== corner),
    { ...holes, [corner]: at },
    targets,
  );
}

/** Two holes kept: a rectangle on a side, or (two holes across) one of the job's proportions on a diagonal. */
function twoKept(holes: Holes, kept: readonly [Corner, Corner], targets: SquareTargets): Plan {
  const first = around(kept[0]).before === kept[1] ? kept[1] : kept[0];
  const second = kept[0] === first ? kept[1] : kept[0];
  const { after, opposite, before } = around(first);
  const [p, q] = [holes[first], holes[second]];
  const [ux, uy] = [(q.x - p.x) / distance(p, q), (q.y - p.y) / distance(p, q)];
  if (second === after) {
    // Clockwise along a side, the sheet lies to the right hand.
    const level = first === 'upperLeft' || first === 'lowerRight';
    const deep = level ? targets.heightMm : targets.widthMm;
    const down = { x: -uy * deep, y: ux * deep };
    return planOf(
      kept,
      { ...holes, [opposite]: { x: q.x + down.x, y: q.y + down.y }, [before]: { x: p.x + down.x, y: p.y + down.y } },
      targets,
    );
  }
  const diagonal = Math.hypot(targets.widthMm, targets.heightMm);
  const share = distance(p, q) / diagonal;
  const firstSide = (first === 'upperLeft' ? targets.widthMm : targets.heightMm) * share;
  // The corner after the first is left of the diagonal as one looks along it: Thales' circle, foot at side²/diagonal.
  const foot = (firstSide * firstSide) / distance(p, q);
  const high = Math.sqrt(Math.max(0, (firstSide - foot) * (firstSide + foot)));
  const at = { x: p.x + foot * ux + high * uy, y: p.y + foot * uy - high * ux };
  return planOf(kept, { ...holes, [after]: at, [before]: { x: p.x + q.x - at.x, y: p.y + q.y - at.y } }, targets);
}

function planOf(kept: readonly Corner[], holes: Holes, targets: SquareTargets): Plan {
  const { upperLeft: a, upperRight: b, lowerLeft: d } = holes;
  const [width, height] = [distance(a, b), distance(a, d)];
  const leanMm = ((b.x - a.x) * (d.x - a.x) + (b.y - a.y) * (d.y - a.y)) / width;
  const [wide, high] = [width - targets.widthMm, height - targets.heightMm];
  const rise = Math.sqrt(Math.max(0, (height - leanMm) * (height + leanMm)));
  return {
    kept,
    holes,
    sizeOffMm: Math.max(Math.abs(wide), Math.abs(high)),
    leanMmPerM: (1000 * leanMm) / rise,
    score: Math.hypot(wide, high, leanMm),
  };
}

function holesToPunch(old: Holes, { kept, holes }: Plan): Repunch[] {
  const fresh = CORNERS.filter((corner) => !kept.includes(corner));
  return fresh.map((hole): Repunch => {
    const at = holes[hole];
    const { before, after } = around(hole);
    const from = (corner: Corner): FromHole => ({ hole: corner, mm: distance(holes[corner], at) });
    // With three holes kept, the arcs from the two neighbours cross at a right angle; the third distance proves it.
    const [one, other] = kept.length === 3 ? [before, after] : kept;
    const third = CORNERS.find((corner) => corner !== hole && corner !== one && corner !== other);
    const movedMm = distance(old[hole], at);
    return {
      hole,
      at,
      fromMm: [from(one), from(other)],
      checkMm: third === undefined ? null : from(third),
      movedMm,
      patchFirst: movedMm < PATCH_MM,
    };
  });
}

function pairs(corners: readonly Corner[]): (readonly [Corner, Corner])[] {
  return corners.flatMap((one, k) => corners.slice(k + 1).map((other) => [one, other] as const));
}

/** The corners of a rectangle, mm, upper left at the origin. */
export function rectangleHoles(widthMm: number, heightMm: number): Holes {
  const at = (x: number, y: number): Point => ({ x, y });
  return {
    upperLeft: at(0, 0),
    upperRight: at(widthMm, 0),
    lowerRight: at(widthMm, heightMm),
    lowerLeft: at(0, heightMm),
  };
}
