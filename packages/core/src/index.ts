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
export { roundDrawing } from './draw/round.js';
export { fitText, missingCharacters, type TextStyle, textWidthMm, wrapText } from './draw/text.js';
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
} from './draw/types.js';
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
export { type FollowedJob, followSize, marksOfSheet, numbersAtSize } from './job/follow-size.js';
export { JOIN_VIEWS_MAX, joinViews } from './job/join-views.js';
export { type NamedDrawing, type Output, outputs, type ProofOutput, proofOutput } from './job/outputs.js';
export { jobPlanFindings, type PlannedJob, planOf } from './job/plan-of.js';
export {
  proofDrawing,
  proofFormDrawings,
  proofMapDrawing,
  type SecondCutStripOptions,
  secondCutStripDrawings,
} from './job/proof-drawings.js';
export { offsetsOf } from './job/proof-offsets.js';
export { type ProofSheet, parseOffsets, proofSheet, type TypedOffset, withOffsets } from './job/proof-sheet.js';
export { movementOf, registerFindings } from './job/registration.js';
export { type JobResult, judgedSheets, type Progress } from './job/result.js';
export { runJob } from './job/run.js';
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
export { type SquareSpread, spreadReport, squareSpread } from './job/square-spread.js';
export { StageMemory, type StageRun } from './job/stage-memory.js';
export { STAGES, type StageName } from './job/stages.js';
export { refuseStrandedTies } from './job/stranded-ties.js';
export { suggestTies } from './job/suggest.js';
export { takenAtAfter } from './job/taken-after.js';
export { parseTieIds, tieIdsText } from './job/tie-ids.js';
export type { FieldFacts, FieldKind } from './job-file/field.js';
export { doneText, writtenNumbers, writtenTies } from './job-file/kept-fields.js';
export { JOB_KEYS, type JobFile, type JobKeyName } from './job-file/keys.js';
export { numbersText, parseNumbers } from './job-file/number-list.js';
export { mirroredFor, ONE_STENCIL } from './job-file/practice.js';
export { writtenProof } from './job-file/proof-field.js';
export { type JobOverride, type JobReading, jobForMotif, type ReadJobOptions, readJob } from './job-file/read.js';
export { repeatName } from './job-file/repeat-fields.js';
export { jobSchema } from './job-file/schema.js';
export {
  isSameSize,
  sizeText,
  type TakenAt,
  type TakenGroup,
  type UnitSize,
  writtenTakenAt,
} from './job-file/taken-at.js';
export type { Job, JobPaper, Spill, StrandedTie } from './job-file/types.js';
export { newJobText } from './job-file/write.js';
export { type AssignmentOptions, type PlacePair, pairInOrder } from './joins/assignment.js';
export { checkJoins } from './joins/check-joins.js';
export { gapAcross, gapLimits, kinkBetween, kinkLimit } from './joins/measure.js';
export { JOIN_DEFAULTS, type JoinOptions } from './joins/options.js';
export { ownPlace, partnerPlace, type Seam, seamsOf } from './joins/seam.js';
export { comesTogether, countStates } from './joins/states.js';
export type { Join, JoinState, Way } from './joins/types.js';
export type { JoinView } from './joins/view-types.js';
export type { Finding, Severity, Topic } from './motif/finding.js';
export { bySeverity, countFindings, mustMend, SEVERITIES } from './motif/finding.js';
export { type FoldOptions, foldFindings } from './motif/fold-findings.js';
export { sizeMotif } from './motif/size.js';
export type { Clip, Frame, FrameSource, Ink, Motif, Notice, Shape, Stroke } from './motif/types.js';
export { type CoverCheck, coverCheck } from './pages/cover-check.js';
export { type LayPagesOptions, layPages, MAX_PAGES } from './pages/lay-pages.js';
export { pageName } from './pages/page-name.js';
export type { PagePlan, PageStrip, PlannedPage } from './pages/types.js';
export {
  type PrintSheets,
  type PrintSheetsJob,
  type PrintSheetsOptions,
  printSheets,
} from './papers/cartoon/print-sheets.js';
export { type ClothPlacement, clothPlacements } from './papers/cloth/cloth-placements.js';
export { pencilWords } from './papers/proof/map.js';
export { printOverPlanDrawing } from './papers/proof/overlay.js';
export { type Cartoon, type CartoonOptions, drawCartoon } from './papers/sheet/cartoon.js';
export {
  type LabelCheckOptions,
  type LabelFault,
  labelFaults,
  type TextCheckOptions,
  textFaults,
} from './papers/sheet/label-check.js';
export {
  type GauzePlace,
  type NamedIsland,
  type NamedNeck,
  type NamedTie,
  namedTies,
  type PaperNames,
  paperNames,
} from './papers/sheet/paper-names.js';
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
export { checkSquare } from './register/check-square.js';
export type { Dot } from './register/dots.js';
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
} from './register/dots.js';
export {
  DRIFT_PLACEMENTS_MAX,
  driftOf,
  marksUnderDrift,
  placementsUnderDrift,
} from './register/drift.js';
export { placementsAlongWalk, type SteppedFrom } from './register/drift-along.js';
export { type DriftDocument, driftDocument, type JoinDocument, type LineDocument } from './register/drift-document.js';
export { placeExtraDots } from './register/drift-dots.js';
export { driftFindings } from './register/drift-findings.js';
export { motionMatrix, moveBy, type RigidMotion } from './register/drift-motion.js';
export { type GroundLineRestarts, groundLineRestarts, type RestartOptions } from './register/drift-restarts.js';
export { type SimulateOptions, simulateDrift } from './register/drift-simulate.js';
export {
  type DotErrors,
  type DriftSpread,
  driftSpread,
  type LastSpread,
  type LineSpread,
  type Spread,
  type SpreadOptions,
} from './register/drift-spread.js';
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
} from './register/drift-types.js';
export { squareFindings, squareSentences } from './register/findings.js';
export { flatValue, volumeSquared } from './register/hinge.js';
export { JOIN_TOLERANCE_MM, type SquareLimits, type StepRun, squareLimits } from './register/limits.js';
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
} from './register/movement.js';
export { type ParseMeasurementOptions, parseMeasurement } from './register/parse-measurement.js';
export {
  type ErrorEffect,
  type PunchDistance,
  type PunchOrder,
  type PunchOrderInput,
  type PunchStep,
  punchOrder,
  type RulerParts,
} from './register/punch-order.js';
export { READING_ERROR_MM } from './register/readings.js';
export { shapeOfHoles } from './register/shape.js';
export { distancesOf, rectangleDistances, SPANS } from './register/spans.js';
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
} from './register/types.js';
export { mendWords, provesMisjoins, verdictWords } from './register/verdict-words.js';
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
export { type CheckDocument, checkDocument } from './reports/check-document.js';
export { briefReport, checkReport, readLine } from './reports/check-report.js';
export { type JobPlanDocument, jobPlanDocument, jobPlanReport } from './reports/plan-text.js';
export { type ProofDocument, proofDocument } from './reports/proof-document.js';
export { type ProofListDocument, proofListDocument, proofListReport } from './reports/proof-list.js';
export { laidWords, proofReport } from './reports/proof-report.js';
export { type PunchDocument, punchDocument, type SquareDocument, squareDocument } from './reports/square-document.js';
export { punchReport, type RulerChoice, squareReport } from './reports/square-report.js';
export { type ListedImpossible, type ListedTie, listTies, type TieList } from './reports/tie-list.js';
export { type TiesDocument, tiesDocument } from './reports/ties-document.js';
export { tiesReport } from './reports/ties-report.js';
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
export { sheetChanges } from './stencil/changes.js';
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
export { cutAway } from './strength/cut-away.js';
export { type CuttingWorkOptions, cuttingWork, openingWork, totalWork } from './strength/cutting-work.js';
export { type IslandFindingOptions, islandFindings } from './strength/island-findings.js';
export { islandStates } from './strength/island-states.js';
export { findIslands } from './strength/islands.js';
export { type KnifePlaces, type KnifePlacesOptions, knifePlaces, type TightPlace } from './strength/knife-places.js';
export { longOpenings } from './strength/long-openings.js';
export { findNecks, findSlits, type NarrowOptions } from './strength/narrow.js';
export { isSevere, type NarrowFindingOptions, narrowFindings } from './strength/narrow-findings.js';
export { betterStroke, findTongues, type TongueOptions, tonguesAgainst } from './strength/tongues.js';
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
} from './strength/types.js';
export { WEAK_BAND_SHARE, type WorkFindingOptions, type WorkReport, workFindings } from './strength/work-findings.js';
export type { ImpossibleIsland, SuggestedTie, SuggestedTies } from './ties/suggested.js';
export { tieName, tieNumber } from './ties/tie-names.js';
export { type CurveIndex, indexCurves, type TieReachOptions, tieReach } from './ties/tie-reach.js';
export {
  type StandingTie,
  type TieEnds,
  type TieReach,
  type TieShapeOptions,
  tiePatch,
  tieShape,
} from './ties/tie-shape.js';
export { MM_PER_INCH, mmToPoints, PIXELS_PER_INCH, POINTS_PER_INCH, pointsToMm } from './units/constants.js';
export { bothRulers, exactInches, formatMm, inchFigure, nearestInches, type RulerInches } from './units/format.js';
export { InputError } from './units/input-error.js';
export { type LengthUnit, type ParseLengthOptions, parseLength } from './units/length.js';
export { editDistance, nearNames } from './units/near-names.js';
export { findPaper, PAPERS, type Paper, smallestPaper } from './units/paper-sizes.js';
export { inVoice, type Said, said, VOICES, type Voice } from './units/voice.js';
export { counted, listText } from './units/words.js';
