import type { Join, Lattice, Point } from '@okuri/core';
import { comesTogether, latticePoint } from '@okuri/core/inside';
import { placeOf } from '../words/joins';

/** The two ends of a join as they lie on the cloth, mm; each with the way in which its outline comes to the seam. */
export interface JoinEnds {
  /** The middle of what is to be seen. */
  readonly at: Point;
  readonly own: JoinEnd | null;
  readonly partner: JoinEnd | null;
}

export interface JoinEnd {
  readonly at: Point;
  /** Out of its own unit; null where it has none to speak of. */
  readonly way: Point | null;
}

/** Well within the cloth, so that both sides of either seam are there. */
const WITHIN = { i: 1, j: 1 } as const;

/** Where a join's ends come together on the cloth, away from its edges. An open end has no other; one that was found on the left or the top only is the partner's. */
export function joinEnds(join: Join, lattice: Lattice): JoinEnds {
  const v = latticePoint(lattice, WITHIN);
  const place = placeOf(join, lattice);
  const at = { x: place.x + v.x, y: place.y + v.y };
  const { offsetMm, seam, ways } = join;
  if (offsetMm === null) {
    const end = { at, way: ways?.own ?? ways?.partner ?? null };
    const isPartners = ways !== undefined ? ways.own === null && ways.partner !== null : isFarSide(join);
    return isPartners ? { at, own: null, partner: end } : { at, own: end, partner: null };
  }
  const along = seam === 'right' ? { x: 0, y: offsetMm } : { x: offsetMm, y: 0 };
  return {
    at: { x: at.x + along.x / 2, y: at.y + along.y / 2 },
    own: { at, way: ways?.own ?? null },
    partner: { at: { x: at.x + along.x, y: at.y + along.y }, way: ways?.partner ?? null },
  };
}

function isFarSide({ seam, at }: Join): boolean {
  return seam === 'right' ? at.x === 0 : at.y === 0;
}

/** An offset takes up about so much of the picture, px, as far as the scale allows. */
const OFFSET_PX = 34;
const SCALES = { least: 10, most: 60, plain: 14 } as const;

/** px to a mm at which a join is shown: the larger, the less its ends miss each other. */
export function joinScale({ offsetMm, state }: Pick<Join, 'offsetMm' | 'state'>): number {
  if (offsetMm === null || (comesTogether({ state }) && Math.abs(offsetMm) < 0.02)) return SCALES.plain;
  return Math.min(SCALES.most, Math.max(SCALES.least, OFFSET_PX / Math.max(1e-6, Math.abs(offsetMm))));
}
