// Pictures into outlines, and a picture of a print held against its sheet.
export { joinScans } from './join/join-scans.js';
export type { JoinedScans } from './join/join-types.js';
export { compareProof } from './proof/compare-proof.js';
export { layProof } from './proof/lay-proof.js';
export { dotCentres } from './scale/dot-centres.js';
export { findDots } from './scale/find-dots.js';
export { homographyFrom } from './scale/fit-homography.js';
export { applyHomography, composeHomography, invertHomography, localAreaScale } from './scale/homography.js';
export { fourOuterDots } from './scale/outer-dots.js';
export { type FramedPicture, framePicture, type ScaleRequest } from './scale/picture-frame.js';
export { looksUnmeasured, type Resolution, scaleFromResolution } from './scale/picture-scale.js';
export { scaleFromDots, scaleFromPoints } from './scale/scale-from-points.js';
export { motifFromTrace } from './scale/scan-motif.js';
export { type TraceOptions, traceImage } from './trace/trace-image.js';
export type { FoundDot, PictureScale, Trace } from './types.js';
