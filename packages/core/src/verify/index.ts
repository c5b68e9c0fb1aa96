export { drawnCuts } from './drawn-cuts.js';
export type {
  Artwork,
  CutInk,
  ExemptReason,
  JudgedLengths,
  Miss,
  MissKind,
  TieStrip,
  Verification,
  VerifyOptions,
} from './types.js';
export { verifyCuts } from './verify-cuts.js';
export { type JudgedJob, type VerifySheetOptions, verifySheet } from './verify-sheet.js';
