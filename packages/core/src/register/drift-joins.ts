import { distance, middle } from '../geometry/points.js';
import type { LatticeStep } from '../repeat/types.js';
import { linePlace, stepAt } from './drift-model.js';
import { moveBy, type RigidMotion } from './drift-motion.js';
import type { DriftJoin, DriftModel, SeamNeighbour } from './drift-types.js';
import { columnRow, type LaidFrom, type Walk, type WalkedPlacement } from './drift-walk.js';

/**
 * How far the join between two neighbours is off, mm. Both ends of the stretch of seam that they share are places of the one sheet and of the other; the
 * error is the farther of the two pairs. Between the ends places of a seam are taken to divide it alike, so that the distance of a pair is a
 * convex function along the seam and nowhere more than at its worse end.
 */
export function joinErrorMm({ contacts }: SeamNeighbour, earlier: RigidMotion, later: RigidMotion): number {
  const [ce, se] = [Math.cos(earlier.angleRad), Math.sin(earlier.angleRad)];
  const [cl, sl] = [Math.cos(later.angleRad), Math.sin(later.angleRad)];
  let worst = 0;
  for (const { onEarlier: p, onLater: q } of contacts) {
    const x = ce * p.x - se * p.y + earlier.x - (cl * q.x - sl * q.y + later.x);
    const y = se * p.x + ce * p.y + earlier.y - (sl * q.x + cl * q.y + later.y);
    worst = Math.max(worst, Math.sqrt(x * x + y * y));
  }
  return worst;
}

/** The joins of a placement with all that come before it in the numbering line by line. */
export function joinsOf(model: DriftModel, walk: Walk, placement: WalkedPlacement): DriftJoin[] {
  const step = stepAt(model.lines, placement.line, placement.pos);
  return model.neighbours.flatMap((neighbour): DriftJoin[] => {
    const other: LatticeStep = { i: step.i - neighbour.by.i, j: step.j - neighbour.by.j };
    const { line, pos } = linePlace(model.lines, other);
    const earlier = walk.get(line)?.get(pos);
    if (earlier === undefined) return [];
    return [
      {
        ...columnRow(model, step),
        step,
        with: { ...columnRow(model, other), step: other },
        ...worstContact(neighbour.contacts, earlier.motion, placement.motion),
        stepped: isStepFrom(placement.from, earlier) || isStepFrom(earlier.from, placement),
      },
    ];
  });
}

/** The error of that join alone, mm; 0 where there is none. */
export function worstJoinMm(
  { lines, neighbours }: DriftModel,
  walk: Walk,
  { line, pos, motion }: WalkedPlacement,
): number {
  let worst = 0;
  for (const neighbour of neighbours) {
    const by = linePlace(lines, neighbour.by);
    const earlier = walk.get(line - by.line)?.get(pos - by.pos);
    if (earlier !== undefined) worst = Math.max(worst, joinErrorMm(neighbour, earlier.motion, motion));
  }
  return worst;
}

/** The worst join of a placement with those before it; null where it has none. */
export function worstJoinOf(model: DriftModel, walk: Walk, placement: WalkedPlacement): DriftJoin | null {
  return joinsOf(model, walk, placement).reduce<DriftJoin | null>(
    (worst, join) => (worst === null || join.mm > worst.mm ? join : worst),
    null,
  );
}

function worstContact(
  contacts: SeamNeighbour['contacts'],
  earlier: RigidMotion,
  later: RigidMotion,
): Pick<DriftJoin, 'mm' | 'at'> {
  const [one, other] = contacts.map(({ onEarlier, onLater }) => {
    const [a, b] = [moveBy(earlier, onEarlier), moveBy(later, onLater)];
    return { mm: distance(a, b), at: middle(a, b) };
  });
  return other.mm > one.mm ? other : one;
}

function isStepFrom(from: LaidFrom | null, placement: WalkedPlacement): boolean {
  if (from === null || from.moves.length !== 1) return false;
  // Steps made several times within a line lead over placements that lie between.
  return Math.abs(from.moves[0].count) === 1 && from.line === placement.line && from.pos === placement.pos;
}
