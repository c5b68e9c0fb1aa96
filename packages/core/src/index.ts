export {
  DRIFT_PLACEMENTS_MAX,
  driftOf,
  marksUnderDrift,
  placementsUnderDrift,
} from './cloth/drift.js';
export { placementsAlongWalk, type SteppedFrom } from './cloth/drift-along.js';
export { type DriftDocument, driftDocument, type JoinDocument, type LineDocument } from './cloth/drift-document.js';
export { placeExtraDots } from './cloth/drift-dots.js';
export { driftFindings } from './cloth/drift-findings.js';
export { motionMatrix, moveBy, type RigidMotion } from './cloth/drift-motion.js';
export { type GroundLineRestarts, groundLineRestarts, type RestartOptions } from './cloth/drift-restarts.js';
export { type SimulateOptions, simulateDrift } from './cloth/drift-simulate.js';
export {
  type DotErrors,
  type DriftSpread,
  driftSpread,
  type LastSpread,
  type LineSpread,
  type Spread,
  type SpreadOptions,
} from './cloth/drift-spread.js';
export type {
  Drift,
  DriftDot,
  DriftedPlacement,
  DriftJoin,
  DriftLines,
  DriftModel,
  DriftOptions,
  DriftSheet,
  DriftStep,
  LineDrift,
  LineTotal,
  PlacedDot,
} from './cloth/drift-types.js';
export {
  type LaidDot,
  type LaidOpening,
  type LaidSheet,
  laidLattice,
  laidSheet,
  sheetLattice,
} from './cloth/laid-sheet.js';
export { numberRuns, passRanges } from './cloth/pass-ranges.js';
export { MAX_PLACEMENTS } from './cloth/placements.js';
export { makePlan } from './cloth/plan.js';
export { planCsv } from './cloth/plan-csv.js';
export { type DocumentBox, type PlanDocument, planDocument } from './cloth/plan-document.js';
export { planFindings } from './cloth/plan-findings.js';
export { type FullPlanOptions, PLAN_DEFAULTS, type PlanClothOptions, type PlanOptions } from './cloth/plan-options.js';
export { planReport } from './cloth/plan-report.js';
export type {
  BackFace,
  CheckMark,
  ClothSize,
  Direction as ClothDirection,
  FittingSize,
  GroundLine,
  InkPaste,
  Leftover,
  LengthOrder,
  MarkingStep,
  Mask,
  Panel,
  PanelPlan,
  PassChoice,
  PasteEstimate,
  Plan,
  PlanCloth,
  PlanPass,
  PlanPlacement,
  Schedule,
  Stepping,
  TimedPass,
  WearEstimate,
} from './cloth/plan-types.js';
export { fittingSizes } from './cloth/unit-sizes.js';
export { coversWet, WET_TOUCH_MM, wetConflicts } from './cloth/wet.js';
export {
  dimensionalChange,
  finishedLength,
  lengthAtWidth,
  lengthToOrder,
  tableLength,
  wholeRepeats,
} from './cloth/yardage.js';
export { type Cartoon, type CartoonOptions, drawCartoon } from './drawing/cartoon.js';
export { type ClothPlacement, clothPlacements } from './drawing/cloth-placements.js';
export {
  type LabelCheckOptions,
  type LabelFault,
  labelFaults,
  type TextCheckOptions,
  textFaults,
} from './drawing/label-check.js';
export {
  type GauzePlace,
  type NamedIsland,
  type NamedNeck,
  type NamedTie,
  namedTies,
  type PaperNames,
  paperNames,
} from './drawing/paper-names.js';
export { type PrintSheets, type PrintSheetsJob, type PrintSheetsOptions, printSheets } from './drawing/print-sheets.js';
export { pencilWords } from './drawing/proof-map.js';
export { printOverPlanDrawing } from './drawing/proof-overlay.js';
export { roundDrawing } from './drawing/round.js';
export { fitText, missingCharacters, type TextStyle, textWidthMm, wrapText } from './drawing/text.js';
export type {
  ClipItem,
  Colour,
  Drawing,
  FaceMetrics,
  FontMetrics,
  Item,
  LayerItem,
  LineStyle,
  Page,
  PathItem,
  PlaceItem,
  TextItem,
} from './drawing/types.js';
export {
  boxArea,
  boxDistance,
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
export {
  boxContour,
  circleContour,
  contourArea,
  contoursBox,
  isStraight,
  polyline,
  reverseContour,
  segmentCount,
  transformContour,
  translateContour,
} from './geometry/contour.js';
export { apply, IDENTITY, invert, multiply, translation } from './geometry/matrix.js';
export { distance, middle, plus } from './geometry/points.js';
export { pointDistance, segmentLength, segmentMiddle } from './geometry/segments.js';
export { closedCoords, settledContour } from './geometry/settle.js';
export { SquareIndex } from './geometry/square-index.js';
export type { Box, Contour, FillRule, Matrix, Point, Side } from './geometry/types.js';
export { type CheckDocument, checkDocument } from './job/check-document.js';
export { briefReport, checkReport, readLine } from './job/check-report.js';
export { acceptTies, type ChosenTies, dropTies, type TieChoice } from './job/choose-ties.js';
export { type MarkedDone, markDone } from './job/done.js';
export {
  type CutGuideOptions,
  changesSince,
  clothPicture,
  cutGuideDrawing,
  driftedClothPicture,
  guidePaper,
  placementMapDrawing,
  printSheetDrawings,
  printSheetPlans,
  stencilDrawings,
} from './job/drawings.js';
export type { FieldFacts, FieldKind } from './job/field.js';
export { type FollowedJob, followSize, marksOfSheet, numbersAtSize } from './job/follow-size.js';
export { JOIN_VIEWS_MAX, joinViews } from './job/join-views.js';
export { doneText, writtenNumbers, writtenTies } from './job/kept-fields.js';
export { JOB_KEYS, type JobFile, type JobKeyName } from './job/keys.js';
export { numbersText, parseNumbers } from './job/number-list.js';
export { type NamedDrawing, type Output, outputs, type ProofOutput, proofOutput } from './job/outputs.js';
export { jobPlanFindings, type PlannedJob, planOf } from './job/plan-of.js';
export { type JobPlanDocument, jobPlanDocument, jobPlanReport } from './job/plan-text.js';
export { mirroredFor, ONE_STENCIL } from './job/practice.js';
export { type ProofDocument, proofDocument } from './job/proof-document.js';
export {
  proofDrawing,
  proofFormDrawings,
  proofMapDrawing,
  type SecondCutStripOptions,
  secondCutStripDrawings,
} from './job/proof-drawings.js';
export { writtenProof } from './job/proof-field.js';
export { type ProofListDocument, proofListDocument, proofListReport } from './job/proof-list.js';
export { offsetsOf } from './job/proof-offsets.js';
export { laidWords, proofReport } from './job/proof-report.js';
export { type ProofSheet, parseOffsets, proofSheet, type TypedOffset, withOffsets } from './job/proof-sheet.js';
export { type JobOverride, type JobReading, jobForMotif, type ReadJobOptions, readJob } from './job/read.js';
export { movementOf, registerFindings } from './job/register.js';
export { repeatName } from './job/repeat-fields.js';
export { type JobResult, judgedSheets, type Progress } from './job/result.js';
export { runJob } from './job/run.js';
export { jobSchema } from './job/schema.js';
export {
  drySize,
  type ExtraReadings,
  type JudgedSquare,
  type JudgeSquareOptions,
  judgeSquare,
  type PaperState,
  type SquareDot,
  type SquareSheet,
  squarePunchOrder,
  squareSheet,
} from './job/square.js';
export { type PunchDocument, punchDocument, type SquareDocument, squareDocument } from './job/square-document.js';
export { punchReport, type RulerChoice, squareReport } from './job/square-report.js';
export { type SquareSpread, spreadReport, squareSpread } from './job/square-spread.js';
export { StageMemory, type StageRun } from './job/stage-memory.js';
export { STAGES, type StageName } from './job/stages.js';
export { refuseStrandedTies } from './job/stranded-ties.js';
export { suggestTies } from './job/suggest.js';
export { takenAtAfter } from './job/taken-after.js';
export { isSameSize, sizeText, type TakenAt, type TakenGroup, type UnitSize, writtenTakenAt } from './job/taken-at.js';
export { parseTieIds, tieIdsText } from './job/tie-ids.js';
export { type ListedImpossible, type ListedTie, listTies, type TieList } from './job/tie-list.js';
export { type TiesDocument, tiesDocument } from './job/ties-document.js';
export { tiesReport } from './job/ties-report.js';
export type { Job, JobPaper, Spill, StrandedTie } from './job/types.js';
export { newJobText } from './job/write.js';
export { type AssignmentOptions, type PlacePair, pairInOrder } from './joins/assignment.js';
export { checkJoins } from './joins/check-joins.js';
export { gapAcross, gapLimits, kinkBetween, kinkLimit } from './joins/measure.js';
export { JOIN_DEFAULTS, type JoinOptions } from './joins/options.js';
export { ownPlace, partnerPlace, type Seam, seamsOf } from './joins/seam.js';
export { comesTogether, countStates } from './joins/states.js';
export type { Join, JoinState, Way } from './joins/types.js';
export type { JoinView } from './joins/view-types.js';
export type { Finding, Severity } from './motif/finding.js';
export { bySeverity, countFindings, mustMend, SEVERITIES } from './motif/finding.js';
export { type FoldOptions, foldFindings } from './motif/fold-findings.js';
export { sizeMotif } from './motif/size.js';
export type { Clip, Frame, FrameSource, Ink, Motif, Notice, Shape, Stroke } from './motif/types.js';
export { type CoverCheck, coverCheck } from './pages/cover-check.js';
export { type LayPagesOptions, layPages, MAX_PAGES } from './pages/lay-pages.js';
export { pageName } from './pages/page-name.js';
export type { PagePlan, PageStrip, PlannedPage } from './pages/types.js';
export { cutAway } from './paper/cut-away.js';
export { type CuttingWorkOptions, cuttingWork, openingWork, totalWork } from './paper/cutting-work.js';
export { type IslandFindingOptions, islandFindings } from './paper/island-findings.js';
export { islandStates } from './paper/island-states.js';
export { findIslands } from './paper/islands.js';
export { type KnifePlaces, type KnifePlacesOptions, knifePlaces, type TightPlace } from './paper/knife-places.js';
export { longOpenings } from './paper/long-openings.js';
export { findNecks, findSlits, type NarrowOptions } from './paper/narrow.js';
export { isSevere, type NarrowFindingOptions, narrowFindings } from './paper/narrow-findings.js';
export type { ImpossibleIsland, SuggestedTie, SuggestedTies } from './paper/suggested.js';
export { tieName, tieNumber } from './paper/tie-names.js';
export { type CurveIndex, indexCurves, type TieReachOptions, tieReach } from './paper/tie-reach.js';
export {
  type StandingTie,
  type TieEnds,
  type TieReach,
  type TieShapeOptions,
  tiePatch,
  tieShape,
} from './paper/tie-shape.js';
export { betterStroke, findTongues, type TongueOptions, tonguesAgainst } from './paper/tongues.js';
export type {
  CutPaper,
  DropsAt,
  Island,
  LongOpening,
  LooseIsland,
  NarrowPlace,
  Outline,
  Pace,
  PaperReport,
  PaperRules,
  SheetTie,
  Tie,
  TieKind,
  TieRules,
  Tongue,
} from './paper/types.js';
export { WEAK_BAND_SHARE, type WorkFindingOptions, type WorkReport, workFindings } from './paper/work-findings.js';
export { type CompareProofOptions, compareProof } from './proof/compare-proof.js';
export { endNamed, underOwnNames } from './proof/end-names.js';
export { type LayProofOptions, layProof } from './proof/lay-proof.js';
export { type ProofMapOptions, proofMap } from './proof/proof-map.js';
export { reportFindings } from './proof/report-findings.js';
export { applyProof } from './proof/second-cut.js';
export { sheetEnds } from './proof/sheet-ends.js';
export type {
  FirstCutEnd,
  LaidProof,
  LeadEdge,
  PrintDifference,
  PrintedDot,
  ProofMap,
  ProofMapJoin,
  ProofMeeting,
  ProofOffset,
  ProofPencil,
  ProofPlacement,
  ProofReport,
  SheetEnds,
  SheetJoin,
} from './proof/types.js';
export { type Cell, type CellInk, SEAM_SNAP_MM } from './repeat/cell.js';
export { type CuttableCell, type SlightOpening, withoutSlight } from './repeat/cuttable-cell.js';
export {
  type FractionReading,
  fractionalPart,
  fractionText,
  MAX_DENOMINATOR,
  parseFraction,
  reduceFraction,
} from './repeat/fraction.js';
export {
  latticePoint,
  makeLattice,
  nearestStep,
  pointsWithin,
  reduceBasis,
  stepsOnto,
  straightTile,
  unitOf,
} from './repeat/lattice.js';
export { type LaidRepeat, layRepeat } from './repeat/lay-repeat.js';
export { leavePaper, onlyWithin, type StripCell, type StripOptions } from './repeat/leave-paper.js';
export { openingNames, wholeOpeningId } from './repeat/opening-names.js';
export { type CellOpening, findOpenings } from './repeat/openings.js';
export { clothTile } from './repeat/pattern.js';
export { seamStretches, type TracedStretch } from './repeat/seam-stretches.js';
export { BLADE_MM, LEAST_AREA_MM2, type SlightWhy } from './repeat/slight.js';
export type {
  Area,
  ClothTile,
  Fraction,
  Lattice,
  LatticeStep,
  Opening,
  Repeat,
  SeamEnd,
  SeamStretch,
  WindingRank,
} from './repeat/types.js';
export { dotCentres } from './scan/dot-centres.js';
export { type EvenLightOptions, evenLight } from './scan/even-light.js';
export { DOT_PX_MIN, type FindDotsOptions, findDots, likelyDots } from './scan/find-dots.js';
export { homographyFrom } from './scan/fit-homography.js';
export { type GreyRingsOptions, greyRings, ringArea } from './scan/grey-rings.js';
export {
  applyHomography,
  composeHomography,
  departureOver,
  horizonCrosses,
  invertHomography,
  localAreaScale,
} from './scan/homography.js';
export { type InkLevel, type InkLevelOptions, inkLevel } from './scan/ink-level.js';
export { joinScans } from './scan/join-scans.js';
export type {
  JoinedScans,
  JoinScansOptions,
  PieceMotion,
  PieceOverlap,
  PlacedPiece,
  ScanPiece,
} from './scan/join-types.js';
export { JOIN_PIECES_MAX } from './scan/join-words.js';
export { JOIN_PIXELS_MAX } from './scan/joined-frame.js';
export { type FourDots, fourOuterDots, type OuterDotsOptions } from './scan/outer-dots.js';
export { type FramedPicture, framePicture, PAPER_EDGE_MM, type ScaleRequest } from './scan/picture-frame.js';
export { looksUnmeasured, type Resolution, scaleFromResolution, scaleFromRuler } from './scan/picture-scale.js';
export { type RectifiedOptions, rectifiedPicture } from './scan/rectified-picture.js';
export { type PaperPoints, scaleFromDots, scaleFromPoints } from './scan/scale-from-points.js';
export { motifFromTrace, type ScanMotifOptions, TRACED_INK } from './scan/scan-motif.js';
export { type PointPair, rigidFrom, type Similarity, similarityFrom } from './scan/similarity.js';
export { SPECK_MM2, type TraceOptions, traceImage } from './scan/trace-image.js';
export type {
  FoundDot,
  GreyImage,
  GreyRing,
  Homography,
  LeftOut,
  PictureScale,
  ScaleSource,
  Trace,
} from './scan/types.js';
export { checkSquare } from './squaring/check-square.js';
export { squareFindings, squareSentences } from './squaring/findings.js';
export { flatValue, volumeSquared } from './squaring/hinge.js';
export { JOIN_TOLERANCE_MM, type SquareLimits, type StepRun, squareLimits } from './squaring/limits.js';
export {
  type MeasuredMovement,
  type MovementEffect,
  measuredMovement,
  movedDistance,
  movementEffect,
  movementFindings,
  paperMovement,
  type SoakedDistance,
  sheetMovement,
} from './squaring/movement.js';
export { type ParseMeasurementOptions, parseMeasurement } from './squaring/parse-measurement.js';
export {
  type ErrorEffect,
  type PunchDistance,
  type PunchOrder,
  type PunchOrderInput,
  type PunchStep,
  punchOrder,
  type RulerParts,
} from './squaring/punch-order.js';
export { READING_ERROR_MM } from './squaring/readings.js';
export { shapeOfHoles } from './squaring/shape.js';
export { distancesOf, rectangleDistances, SPANS } from './squaring/spans.js';
export type {
  CheckSquareOptions,
  Corner,
  ExtraCheck,
  ExtraDot,
  FlatCheck,
  Flatness,
  Foretold,
  FromHole,
  Holes,
  KnownSquareCheck,
  Measured,
  OrderCheck,
  PaperMovement,
  PrintEffect,
  Reading,
  Readings,
  Repunch,
  Shape as SquareShape,
  ShapeKind,
  SheetMovement,
  SixDistances,
  Slip,
  Span,
  SquareCheck,
  SquareMend,
  SquareTargets,
  SquareVerdict,
  Suspect,
  WouldBe,
} from './squaring/types.js';
export { mendWords, provesMisjoins, verdictWords } from './squaring/verdict-words.js';
export { sheetChanges } from './stencil/changes.js';
export type { Dot } from './stencil/dots.js';
export {
  cornerDots,
  type DotPair,
  dotFrame,
  type NextSheets,
  type SheetDotsOptions,
  type SheetStep,
  sheetDots,
  sheetRepeat,
  sheetSteps,
} from './stencil/dots.js';
export { type DoubleDifference, doubleDifference } from './stencil/double-difference.js';
export { type DoubleCells, type DoubleOptions, doubleCells, OVERLAP_MM } from './stencil/double-sheets.js';
export { drySheet, punchMeasures } from './stencil/dry-sheet.js';
export { heldWidth } from './stencil/held-margin.js';
export { sheetMeasures } from './stencil/measures.js';
export { fittingPaper } from './stencil/named-paper.js';
export { SELVEDGE_MM, type SeatedDots, type SeatOptions, seatDots } from './stencil/seat-dots.js';
export { type Shares, shareOut } from './stencil/share-out.js';
export { type StandTiesOptions, standTies } from './stencil/stand-ties.js';
export {
  PUNCH_WITHIN_MM,
  type ToolChoice,
  type ToolOptions,
  toolOf,
  type UncutStretch,
  USUAL_PUNCHES_MM,
} from './stencil/tools.js';
export type {
  CutSheet,
  CuttingTool,
  DroppedPlace,
  DroppedWhy,
  JudgedSheet,
  KeptNumber,
  Measure,
  Practice,
  Sheet,
  SheetChanges,
  SheetOpening,
  StopMark,
  Zone,
} from './stencil/types.js';
export { MM_PER_INCH, mmToPoints, PIXELS_PER_INCH, POINTS_PER_INCH, pointsToMm } from './units/constants.js';
export { bothRulers, exactInches, formatMm, inchFigure, nearestInches, type RulerInches } from './units/format.js';
export { InputError } from './units/input-error.js';
export { type LengthUnit, type ParseLengthOptions, parseLength } from './units/length.js';
export { editDistance, nearNames } from './units/near-names.js';
export { findPaper, PAPERS, type Paper, smallestPaper } from './units/paper-sizes.js';
export { counted, listText } from './units/words.js';
