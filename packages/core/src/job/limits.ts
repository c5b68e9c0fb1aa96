/** Bounds of what a job may ask for; outside of them a slip of the pen is likelier than a wish. Lengths in mm. */
export const LIMITS = {
  /** A hand-cut unit: smaller is no pattern a knife can cut, larger is no sheet a person can lift. */
  unitMm: { min: 5, max: 3_000 },
  /** Units on one sheet, across times down. */
  units: 64,
  /** Under this a border holds nothing: it is the least neck of plain card. */
  borderMm: { min: 3, max: 500 },
  /** A unit at which something was taken may be as drawn: a guard only. */
  takenSideMm: { min: 0.01, max: 1_000_000 },
  dotMm: { min: 0.2, max: 10 },
  /** A hand punch: larger holes are cut. */
  punchMm: { min: 0.2, max: 50 },
  /** A strip that tells how paper moves: shorter ones tell nothing. */
  stripMm: { min: 20, max: 20_000 },
  reachMm: { min: 0.05, max: 50 },
  gapMm: { min: 0, max: 20 },
  broadMm: { min: 0, max: 1_000 },
  holdMm: { min: 1, max: 1_000 },
  lapMm: { min: 0, max: 10 },
  marginMm: { min: 0, max: 100 },
  overlapMm: { min: 0, max: 100 },
  /** A printer that is further off than a tenth has been told to scale. */
  scale: { min: 0.9, max: 1.1 },
  neckMm: { min: 0.2, max: 20 },
  slitMm: { min: 0.1, max: 20 },
  spanMm: { min: 5, max: 3_000 },
  tongueRatio: { min: 0.5, max: 100 },
  turnMm: { min: 0.1, max: 50 },
  tieWidthMm: { min: 0.2, max: 30 },
  tieFlareMm: { min: 0, max: 2 },
  largeIslandMm2: { min: 1, max: 1_000_000 },
  /** Shorter is a slip of the pen, longer bridges no opening that a knife cuts. */
  tieLengthMm: { min: 0.05, max: 500 },
  /** A tie over a seam may begin a whole unit away on either side. */
  tiePlaceMm: { min: -6_000, max: 6_000 },
  /** Farther off, an edge is another one than that of the plan. */
  proofOffsetMm: { min: -10, max: 10 },
  proofTurnDeg: { min: -45, max: 45 },
  /** On the field of a sheet of many units. */
  proofPlaceMm: { min: -100, max: 200_000 },
  doubleOverlapMm: { min: 0, max: 10 },
  mmPerMinute: { min: 1, max: 10_000 },
  secondsPerCorner: { min: 0, max: 300 },
  bladeMm: { min: 10, max: 1_000_000 },
  clothWidthMm: { min: 50, max: 10_000 },
  clothLengthMm: { min: 50, max: 1_000_000 },
  /** Below zero the cloth grows. Beyond this it is no cloth, or the lengths were swapped. */
  shrinkPercent: { min: -50, max: 90 },
  selvedgeMm: { min: 0, max: 5_000 },
  endMm: { min: 0, max: 100_000 },
  placements: { min: 1, max: 1_000_000 },
  secondsAPlacement: { min: 1, max: 86_400 },
  dryingMinutes: { min: 0, max: 43_200 },
  hoursADay: { min: 0.25, max: 24 },
  filmMm: { min: 0.01, max: 20 },
  extraPercent: { min: 0, max: 1_000 },
  densityGPerMl: { min: 0.1, max: 10 },
  sheetDays: { min: 1, max: 10_000 },
  panels: { min: 1, max: 10_000 },
  finishedMm: { min: 50, max: 1_000_000 },
} as const;
