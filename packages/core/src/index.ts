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
export type { Box, Contour, FillRule, Matrix, Point, Side } from './geometry/types.js';
export {
  type CheckDocument,
  checkDocument,
  countFindings,
  mustMend,
  SEVERITIES,
  worstFirst,
} from './job/check-document.js';
export { briefReport, checkReport, readLine } from './job/check-report.js';
export { clothPicture, cutGuideDrawing, guidePaper, printSheetDrawings, stencilDrawings } from './job/drawings.js';
export { type JobOverride, type JobReading, jobForMotif, type ReadJobOptions, readJob } from './job/read.js';
export type { JobResult, Progress } from './job/result.js';
export { runJob } from './job/run.js';
export { type JobFile, jobSchema } from './job/schema.js';
export type { Job, Spill } from './job/types.js';
export { newJobText } from './job/write.js';
export { type AssignmentOptions, type PlacePair, pairInOrder } from './joins/assignment.js';
export { checkJoins } from './joins/check-joins.js';
export { gapAcross, gapLimits, kinkBetween, kinkLimit } from './joins/measure.js';
export { JOIN_DEFAULTS, type JoinOptions } from './joins/options.js';
export { ownPlace, partnerPlace, type Seam, seamsOf } from './joins/seam.js';
export type { Join } from './joins/types.js';
export type { Finding, Severity } from './motif/finding.js';
export { type FoldOptions, foldFindings } from './motif/fold-findings.js';
export type { Clip, Frame, FrameSource, Ink, Motif, Notice, Shape, Stroke } from './motif/types.js';
export { type Cell, type CellInk, SEAM_SNAP_MM } from './repeat/cell.js';
export {
  latticePoint,
  makeLattice,
  nearestStep,
  pointsWithin,
  reduceBasis,
  stepsOnto,
  straightTile,
} from './repeat/lattice.js';
export { type LaidRepeat, layRepeat } from './repeat/lay-repeat.js';
export { type CellOpening, findOpenings } from './repeat/openings.js';
export { clothTile } from './repeat/pattern.js';
export { seamStretches, type TracedStretch } from './repeat/seam-stretches.js';
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
export type { Dot, Measure, Sheet, SheetOpening, StopMark } from './stencil/types.js';
export { InputError } from './units/input-error.js';
