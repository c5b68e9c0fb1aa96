/** Bounds of what a job may ask for; outside of them a slip of the pen is likelier than a wish. Lengths in mm. */
export const LIMITS = {
  /** A hand-cut unit: smaller is no pattern a knife can cut, larger is no sheet a person can lift. */
  unitMm: { min: 5, max: 3_000 },
  /** Units on one sheet, across times down. */
  units: 64,
  borderMm: { min: 0, max: 500 },
  dotMm: { min: 0.2, max: 10 },
  reachMm: { min: 0.05, max: 50 },
  gapMm: { min: 0, max: 20 },
  broadMm: { min: 0, max: 1_000 },
  holdMm: { min: 1, max: 1_000 },
  lapMm: { min: 0, max: 10 },
  marginMm: { min: 0, max: 100 },
  overlapMm: { min: 0, max: 100 },
  /** A printer that is further off than a tenth has been told to scale. */
  scale: { min: 0.9, max: 1.1 },
  clothWidthMm: { min: 50, max: 10_000 },
  clothLengthMm: { min: 50, max: 1_000_000 },
} as const;
