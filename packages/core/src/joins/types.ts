/** Two crossings, one from each side of a seam, that have to meet; or one that has no partner. */
export interface Join {
  readonly seam: 'right' | 'bottom';
  readonly ink: string;
  /** Place along the seam on its right or bottom side, mm from the unit's upper left. */
  readonly atMm: number;
  /** The same place on the unit, mm. */
  readonly at: { readonly x: number; readonly y: number };
  /** Partner's place minus this one's, along the seam, under the step; null without a partner. */
  readonly offsetMm: number | null;
  /** Distance across the outline: offset times the sine of the crossing angle. */
  readonly gapMm: number | null;
  /** Angle between the outlines on the two sides, degrees, >= 0. */
  readonly kinkDeg: number | null;
  /** `bends`: the ends meet, but the outline turns there by more than its limit. `off`: the gap is above its limit. `open`: no partner. */
  readonly state: JoinState;
  /** The outline ends flush at the seam or runs along it. */
  readonly flush: boolean;
  /** Width of the opening at the seam, mm: the smaller of the two sides'. */
  readonly widthMm: number;
  /**
   * The ways in which the outlines leave their units at this join: unit vectors out of the own unit and out of the partner's, so that of a join without a kink
   * they are opposite. null where there is no such end, or it is a corner or a point. Absent where only places are known.
   */
  readonly ways?: { readonly own: UnitVector | null; readonly partner: UnitVector | null };
}

export type JoinState = 'meets' | 'bends' | 'off' | 'open';

/** A unit vector. */
export interface UnitVector {
  readonly x: number;
  readonly y: number;
}
