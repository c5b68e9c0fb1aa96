import { cross } from '../geometry/points.js';
import type { Point } from '../geometry/types.js';
import type { Lattice, LatticeStep } from '../repeat/types.js';
import { meanDirection } from './measure.js';
import { hasNoDirection, kinkOf, type Pair, unlessCorner } from './pair.js';
import type { RunEnd } from './runs.js';
import { pointOnSide, type Seam, seamsOf } from './seam.js';

/** A point where seams meet, and the placements that touch it: three of them, or four in a straight repeat. */
export interface Junction {
  /** Seen from the placement (0, 0), mm. */
  readonly at: Point;
  readonly units: readonly LatticeStep[];
}

/** Outlines that turn by more than this (degrees) don't go on in each other. */
const CONTINUES_DEG = 90;

/**
 * Ends are looked at within this many reaches of the point. One that is off by no more than the reach along its own seam may have
 * slid round the corner, and then lies up to (reach × slope) along the other seam: this covers slopes up to 4, about 76°.
 */
const NEAR_REACHES = 4;

/** Below this sine a line is taken to run along the seam, and an offset along the seam says nothing. */
const ALONG_SINE = 1e-6;

/** The points where seams meet, one for each class under the lattice: one for a straight repeat, two for a drop or a brick. */
export function junctionsOf(lattice: Lattice): readonly Junction[] {
  const { widthMm, heightMm } = lattice;
  if (lattice.repeat.step.p === 0 || lattice.repeat.kind === 'straight') {
    return [{ at: { x: widthMm, y: heightMm }, units: steps([0, 0], [1, 0], [0, 1], [1, 1]) }];
  }
  if (lattice.repeat.kind === 'drop') {
    return [
      { at: { x: 0, y: 0 }, units: steps([0, 0], [0, -1], [-1, 0]) },
      { at: { x: widthMm, y: 0 }, units: steps([0, 0], [0, -1], [1, -1]) },
    ];
  }
  return [
    { at: { x: 0, y: 0 }, units: steps([0, 0], [-1, 0], [0, -1]) },
    { at: { x: 0, y: heightMm }, units: steps([0, 0], [-1, 0], [-1, 1]) },
  ];
}

function steps(...list: readonly (readonly [number, number])[]): readonly LatticeStep[] {
  return list.map(([i, j]) => ({ i, j }));
}

/** An end laid into the plane with one of the placements. */
interface Laid {
  readonly end: RunEnd;
  /** Place in the list given: what makes ties come out the same on every run. */
  readonly index: number;
  readonly silent: boolean;
  readonly unit: LatticeStep;
  readonly at: Point;
}

interface Candidate {
  readonly pair: Pair;
  readonly indices: readonly [number, number];
  readonly silent: boolean;
  readonly distance: number;
}

/**
 * Pairs what no seam could pair by itself: near a point where seams meet, an outline may leave a unit by one seam while the next unit
 * takes it up on another. The ends of all placements around the point are laid into one picture; ends of different placements
 * whose outlines go on in each other, the opening on the same hand, are paired, the nearest first, each end once.
 *
 * `ends` are of one ink. `corners` may serve as partners but don't ask for one.
 */
export function pairAtJunctions(
  ends: readonly RunEnd[],
  corners: readonly RunEnd[],
  lattice: Lattice,
  options: { readonly reachMm: number },
): readonly Pair[] {
  if (ends.length === 0) return [];
  const seams = seamsOf(lattice);
  const candidates = junctionsOf(lattice).flatMap((junction) => {
    const laid = [
      ...layOut(ends, 0, false, junction, lattice, NEAR_REACHES * options.reachMm),
      ...layOut(corners, ends.length, true, junction, lattice, options.reachMm),
    ];
    const found: Candidate[] = [];
    for (let p = 0; p < laid.length; p++) {
      for (let q = p + 1; q < laid.length; q++) {
        const candidate = match(laid[p], laid[q], lattice, seams, options.reachMm);
        if (candidate !== null) found.push(candidate);
      }
    }
    return found;
  });
  candidates.sort(
    (p, q) =>
      Number(p.silent) - Number(q.silent) ||
      p.distance - q.distance ||
      p.indices[0] - q.indices[0] ||
      p.indices[1] - q.indices[1],
  );
  const taken = new Set<number>();
  const pairs: Pair[] = [];
  for (const { pair, indices } of candidates) {
    if (indices.some((k) => taken.has(k))) continue;
    for (const k of indices) taken.add(k);
    pairs.push(pair);
  }
  return pairs;
}

function layOut(
  ends: readonly RunEnd[],
  firstIndex: number,
  silent: boolean,
  junction: Junction,
  lattice: Lattice,
  withinMm: number,
): readonly Laid[] {
  const laid: Laid[] = [];
  ends.forEach((end, k) => {
    const local = pointOnSide(lattice, end.side, end.atMm);
    for (const unit of junction.units) {
      const at = {
        x: local.x + unit.i * lattice.a.x + unit.j * lattice.b.x,
        y: local.y + unit.i * lattice.a.y + unit.j * lattice.b.y,
      };
      if (Math.hypot(at.x - junction.at.x, at.y - junction.at.y) > withinMm) continue;
      laid.push({ end, index: firstIndex + k, silent, unit, at });
    }
  });
  return laid;
}

function match(
  p: Laid,
  q: Laid,
  lattice: Lattice,
  seams: readonly [right: Seam, bottom: Seam],
  reach: number,
): Candidate | null {
  if (p.index === q.index || (p.unit.i === q.unit.i && p.unit.j === q.unit.j)) return null;
  const silent = p.silent || q.silent;
  if (p.silent && q.silent) return null;
  // Ends that face each other across one seam were paired there, or are out of reach; corners were not in that.
  if (!silent && isColumnSide(p.end) === isColumnSide(q.end)) return null;
  if (hand(p.end) === hand(q.end)) return null;
  if ((kinkOf(p.end, q.end) ?? 0) >= CONTINUES_DEG) return null;

  const shared = sharedSeam(p.unit, q.unit, lattice, seams);
  // Units that share no seam have a third one between them: there the line is missing altogether, and either seam may say where.
  const views = (shared === null ? seams : [shared]).map((seam) => facing(p, q, seam));
  const [{ seam, own, partner, offsetMm, acrossMm, distance }] = views.sort(
    (u, v) => Math.abs(u.offsetMm) - Math.abs(v.offsetMm),
  );
  if (Math.abs(offsetMm) > reach || (distance > reach && (shared === null || silent))) return null;
  return {
    pair: {
      seam,
      own: own.end,
      partner: partner.end,
      offsetMm,
      gapMm: shared === null ? distance : acrossMm,
      kinkDeg: kinkOf(own.end, partner.end),
    },
    indices: p.index < q.index ? [p.index, q.index] : [q.index, p.index],
    silent,
    distance,
  };
}

/** Two ends seen at one seam: which is its own, how far their lines lie apart along it and across, and how far the ends themselves. mm. */
function facing(p: Laid, q: Laid, seam: Seam) {
  const pIsOwn = seam.name === 'right' ? p.unit.i < q.unit.i : p.unit.j < q.unit.j;
  const [own, partner] = pIsOwn ? [p, q] : [q, p];
  const apart = { x: partner.at.x - own.at.x, y: partner.at.y - own.at.y };
  const direction = directionOf(own, partner);
  const across = cross(direction, apart);
  const sine = cross(direction, seam.along);
  const alongMm = Math.abs(sine) < ALONG_SINE ? apart.x * seam.along.x + apart.y * seam.along.y : across / sine;
  const offsetMm = unlessCorner(alongMm, seam, own.end, partner.end);
  return {
    seam,
    own,
    partner,
    offsetMm,
    acrossMm: offsetMm === 0 ? 0 : Math.abs(across),
    distance: Math.hypot(apart.x, apart.y),
  };
}

/** Where the line between the two goes, out of the own unit. */
function directionOf(own: Laid, partner: Laid): Point {
  if (hasNoDirection(partner.end)) return own.end.tangent;
  if (hasNoDirection(own.end)) return { x: -partner.end.tangent.x, y: -partner.end.tangent.y };
  return meanDirection(own.end.tangent, partner.end.tangent) ?? own.end.tangent;
}

/** The seam between two placements that touch at a junction; null where they touch in a point only. */
function sharedSeam(
  u: LatticeStep,
  v: LatticeStep,
  lattice: Lattice,
  seams: readonly [right: Seam, bottom: Seam],
): Seam | null {
  const [right, bottom] = seams;
  if (right.circular && bottom.circular) {
    if (u.i !== v.i && u.j !== v.j) return null;
    return u.i !== v.i ? right : bottom;
  }
  if (lattice.repeat.kind === 'drop') return u.i !== v.i ? right : bottom;
  return u.j !== v.j ? bottom : right;
}

function isColumnSide(end: RunEnd): boolean {
  return end.side === 'left' || end.side === 'right';
}

/**
 * On which hand of the outline, followed out of the unit, the opening lies: the sign of (outward normal) × (direction along the side
 * towards the opening). An outline followed into the next unit keeps it, so two ends that both look outwards have opposite signs.
 */
function hand(end: RunEnd): 1 | -1 {
  const towards = end.kind === 'begin' ? 1 : -1;
  return end.side === 'right' || end.side === 'top' ? towards : towards === 1 ? -1 : 1;
}
