// What a program uses: read a job, run it, ask for its outputs, documents and findings. Written as it is to stay: api.md tells when it changes.
export { planCsv } from './cloth/plan-csv.js';
export type { Plan } from './cloth/plan-types.js';
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
export { boxContour, circleContour, contoursBox, polyline, transformContour } from './geometry/contour.js';
export type { Box, Contour, FillRule, Matrix, Point, Stroke } from './geometry/types.js';
export { acceptTies, type ChosenTies, dropTies, type TieChoice } from './job/choose-ties.js';
export { type MarkedDone, markDone } from './job/done.js';
export { changesSince } from './job/drawings.js';
export {
  type NamedDrawing,
  type Output,
  type OutputOptions,
  outputs,
  type ProofOutput,
  proofOutput,
} from './job/outputs.js';
export { withOffsets } from './job/proof-sheet.js';
export type { JobResult, Progress } from './job/result.js';
export { type RunOptions, runJob } from './job/run.js';
export { type JudgedSquare, judgeSquare, type SquareSheet, squareSheet } from './job/square.js';
export { StageMemory, type StageRun } from './job/stage-memory.js';
export { suggestTies } from './job/suggest.js';
export type { FieldFacts, FieldKind } from './job-file/field.js';
export { JOB_KEYS, type JobFile, type JobKeyName } from './job-file/keys.js';
export { type JobOverride, type JobReading, jobForMotif, type ReadJobOptions, readJob } from './job-file/read.js';
export { jobSchema } from './job-file/schema.js';
export type { Job } from './job-file/types.js';
export { newJobText } from './job-file/write.js';
export type { Join, JoinState } from './joins/types.js';
export { bySeverity, countFindings, type Finding, mustMend, type Severity, type Topic } from './motif/finding.js';
export type { Clip, Frame, FrameSource, GreyImage, Ink, Motif, Notice, Shape } from './motif/types.js';
export type { ProofOffset, ProofReport } from './proof/types.js';
export { parseMeasurement } from './register/parse-measurement.js';
export type { Measured } from './register/types.js';
export type { Lattice, Opening } from './repeat/types.js';
export { type CheckDocument, checkDocument } from './reports/check-document.js';
export { checkReport } from './reports/check-report.js';
export { type JobPlanDocument, jobPlanDocument, jobPlanReport } from './reports/plan-text.js';
export { type ProofDocument, proofDocument } from './reports/proof-document.js';
export { proofReport } from './reports/proof-report.js';
export { type SquareDocument, squareDocument } from './reports/square-document.js';
export { squareReport } from './reports/square-report.js';
export { type TiesDocument, tiesDocument } from './reports/ties-document.js';
export { tiesReport } from './reports/ties-report.js';
export type { JudgedSheet, Sheet, SheetChanges, SheetOpening } from './stencil/types.js';
export type { PaperReport, Tie, TieKind } from './strength/types.js';
export type { SuggestedTies } from './ties/suggested.js';
export { formatMm } from './units/format.js';
export { InputError } from './units/input-error.js';
export { parseLength } from './units/length.js';
export { inVoice, type Said, VOICES, type Voice } from './units/voice.js';
