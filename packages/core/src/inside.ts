// What the project's own packages use of the engine besides its public face; may change with any version.

export { makePlan } from './cloth/plan.js';
export { planDocument } from './cloth/plan-document.js';
export { textWidthMm } from './draw/text.js';
export { workFindings } from './findings/cutting-work.js';
export { islandFindings } from './findings/islands.js';
export { joinFindings } from './findings/joins.js';
export { narrowFindings } from './findings/narrow.js';
export { reportFindings } from './findings/proof-report.js';
export { spillFindings } from './findings/spill.js';
export { squareFindings, squareSentences } from './findings/squaring.js';
export {
  boxArea,
  boxCorners,
  boxesOverlap,
  boxHolds,
  boxMiddle,
  boxOf,
  boxWithin,
  growBox,
  joinBoxes,
  sharedBox,
  transformBox,
} from './geometry/boxes.js';
export { boxIndex } from './geometry/cluster.js';
export { contourArea, isStraight, reverseContour, segmentCount, translateContour } from './geometry/contour.js';
export { fillArea } from './geometry/fill.js';
export { flattenCubic } from './geometry/flatten.js';
export { boxToGrid, makeGrid } from './geometry/grid.js';
export { apply, IDENTITY, invert, multiply, translation } from './geometry/matrix.js';
export { insideContours } from './geometry/point-tests.js';
export { distance, middle, turn } from './geometry/points.js';
export { retraceRing } from './geometry/retrace.js';
export { pointDistance, segmentLength, segmentMiddle } from './geometry/segments.js';
export { closedCoords, settledContour } from './geometry/settle.js';
export { addEquation, normalEquations, solveLinear } from './geometry/solve-linear.js';
export { SquareIndex } from './geometry/square-index.js';
export type { Homography } from './geometry/types.js';
export { clipToBox } from './geometry/union.js';
export { UnionFind } from './geometry/union-find.js';
export {
  clothPicture,
  cutGuideDrawing,
  driftedClothPicture,
  placementMapDrawing,
  printSheetDrawings,
  printSheetPlans,
  stencilDrawings,
} from './job/drawings.js';
export { followSize, marksOfSheet, numbersAtSize } from './job/follow-size.js';
export { joinViews } from './job/join-views.js';
export { jobPlanFindings, planOf } from './job/plan-of.js';
export { proofFormDrawings, proofMapDrawing, secondCutStripDrawings } from './job/proof-drawings.js';
export { type ProofSheet, parseOffsets, proofSheet, type TypedOffset } from './job/proof-sheet.js';
export { judgedSheets } from './job/result.js';
export { drySize, type ExtraReadings, type PaperState, squarePunchOrder } from './job/square.js';
export { type SquareSpread, spreadReport, squareSpread } from './job/square-spread.js';
export { refuseStrandedTies } from './job/stranded-ties.js';
export { takenAtAfter } from './job/taken-after.js';
export { tieIdsText } from './job/tie-ids.js';
export { writtenNumbers, writtenTies } from './job-file/kept-fields.js';
export { numbersText } from './job-file/number-list.js';
export { writtenProof } from './job-file/proof-field.js';
export { repeatName } from './job-file/repeat-fields.js';
export { isSameSize, sizeText, type TakenGroup, type UnitSize, writtenTakenAt } from './job-file/taken-at.js';
export type { StrandedTie } from './job-file/types.js';
export { checkJoins } from './joins/check-joins.js';
export { JOIN_DEFAULTS } from './joins/options.js';
export { comesTogether, countStates } from './joins/states.js';
export type { JoinView } from './joins/view-types.js';
export { sizeMotif } from './motif/size.js';
export { coverCheck } from './pages/cover-check.js';
export { layPages } from './pages/lay-pages.js';
export type { PagePlan } from './pages/types.js';
export { printSheets } from './papers/cartoon/print-sheets.js';
export { clothPlacements } from './papers/cloth/cloth-placements.js';
export { pencilWords } from './papers/proof/map.js';
export { printOverPlanDrawing } from './papers/proof/overlay.js';
export { type Cartoon, drawCartoon } from './papers/sheet/cartoon.js';
export { labelFaults, textFaults } from './papers/sheet/label-check.js';
export { namedTies, paperNames } from './papers/sheet/paper-names.js';
export { endNamed, underOwnNames } from './proof/end-names.js';
export { applyProof } from './proof/second-cut.js';
export type { FirstCutEnd, LaidProof, LeadEdge, PrintDifference, SheetEnds, SheetJoin } from './proof/types.js';
export { checkSquare } from './register/check-square.js';
export { cornerDots, type Dot, dotFrame, sheetDots, sheetRepeat, sheetSteps } from './register/dots.js';
export { driftOf, placementsUnderDrift } from './register/drift.js';
export { placeExtraDots } from './register/drift-dots.js';
export { moveBy } from './register/drift-motion.js';
export type { Drift, DriftSheet } from './register/drift-types.js';
export { flatValue, volumeSquared } from './register/hinge.js';
export { squareLimits } from './register/limits.js';
export type { RulerParts } from './register/punch-order.js';
export { distancesOf, ENDS, forCorners, forSpans, rectangleDistances, SPANS } from './register/spans.js';
export type { Corner, Holes, SixDistances, Span, SquareCheck } from './register/types.js';
export { type Cell, SEAM_SNAP_MM } from './repeat/cell.js';
export { fractionText, parseFraction } from './repeat/fraction.js';
export {
  latticePoint,
  makeLattice,
  nearestStep,
  pointsWithin,
  reduceBasis,
  stepsOnto,
  unitOf,
} from './repeat/lattice.js';
export { layRepeat } from './repeat/lay-repeat.js';
export { openingNames, wholeOpeningId } from './repeat/opening-names.js';
export { findOpenings } from './repeat/openings.js';
export { clothTile } from './repeat/pattern.js';
export { seamStretches } from './repeat/seam-stretches.js';
export { BLADE_MM, LEAST_AREA_MM2 } from './repeat/slight.js';
export { subtractStrips } from './repeat/strips.js';
export type { ClothTile, Fraction, LatticeStep, Repeat, SeamStretch } from './repeat/types.js';
export { briefReport, readLine } from './reports/check-report.js';
export { proofListDocument, proofListReport } from './reports/proof-list.js';
export { laidWords } from './reports/proof-report.js';
export { punchDocument } from './reports/square-document.js';
export { punchReport, type RulerChoice } from './reports/square-report.js';
export { listTies, type TieList } from './reports/tie-list.js';
export { doubleDifference } from './stencil/double-difference.js';
export { doubleCells } from './stencil/double-sheets.js';
export { drySheet } from './stencil/dry-sheet.js';
export { fitTies } from './stencil/fit-ties.js';
export { heldWidth } from './stencil/held-margin.js';
export { sheetMeasures } from './stencil/measures.js';
export { fittingPaper } from './stencil/named-paper.js';
export { PUNCH_WITHIN_MM } from './stencil/tools.js';
export type { StopMark } from './stencil/types.js';
export { type FlatRing, flatRing, ringHolds, sideBox } from './strength/flat-ring.js';
export { findIslands } from './strength/islands.js';
export { findNecks, findSlits } from './strength/narrow.js';
export { tonguesAgainst } from './strength/tongues.js';
export type { Island, LooseIsland, NarrowPlace, SheetOutline } from './strength/types.js';
export { tieName, tieNumber } from './ties/tie-names.js';
export { tieShape } from './ties/tie-shape.js';
export { MM_PER_INCH, PIXELS_PER_INCH, POINTS_PER_INCH } from './units/constants.js';
export { inchFigure } from './units/format.js';
export { nearNames } from './units/near-names.js';
export { findPaper } from './units/paper-sizes.js';
export { quote } from './units/quote.js';
export { said } from './units/voice.js';
export { counted, listText, shareText } from './units/words.js';
