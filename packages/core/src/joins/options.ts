/** How joins are judged. Lengths in mm, angles in degrees. */
export interface JoinOptions {
  /** Ends of like kind further apart than this along the seam are no pair. */
  readonly reachMm: number;
  /** Share of the opening's width at the seam from which a gap is a `look` (a `fix` from twice that) … */
  readonly gapShare: number;
  /** … but never below this. */
  readonly gapMinMm: number;
  /** A gap from this on is a `fix`, however wide the opening is: anyone sees it. */
  readonly gapMaxMm: number;
  /** From this kink on, a join of an opening narrower than `broadMm` bends: a `look`. */
  readonly kinkFineDeg: number;
  /** The same for broader openings. */
  readonly kinkBroadDeg: number;
  readonly broadMm: number;
  /** The cloth is one unit wide: findings about the right seam are notes. */
  readonly sideJoinMeetsNothing?: boolean;
}

/** The values a job takes unless it says otherwise. A knife is good to about 0.2 mm: no gap below that is worth a word. */
export const JOIN_DEFAULTS = {
  reachMm: 3,
  gapShare: 0.2,
  gapMinMm: 0.2,
  gapMaxMm: 0.8,
  kinkFineDeg: 6,
  kinkBroadDeg: 12,
  broadMm: 4,
} as const satisfies JoinOptions;

/** A `fix` begins at this many times the gap that is a `look`. */
export const FIX_FACTOR = 2;

/** Stretches narrower than this (mm) are points where something touches the seam: no knife follows them, no paste passes. */
export const POINT_MM = 0.05;

/** More findings alike than this are folded into one. */
export const FOLD_LIMIT = 8;
