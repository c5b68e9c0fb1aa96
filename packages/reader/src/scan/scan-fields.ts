/** What can be told of a scan by its bytes alone, and done to its pixels, without a decoder: for places that have one of their own, such as a browser. */
export { type Resolution, readStatedFields } from './fields.js';
export { isScan, notAScan, type ScanFormat, scanFormat } from './format.js';
export { greyOfRgba } from './grey-of-rgba.js';
export { pictureSides } from './picture-sides.js';
export { reduceGrey } from './reduce.js';
export { checkSides, FULL_SCAN_PIXELS, MAX_SCAN_PIXELS, reducedRemarks, reducingFactor, type Sides } from './size.js';
export { changesSides, statedResolution } from './stated-resolution.js';
