export { type DecodeOptions, decodeScan, type Glass, type Scan } from './decode.js';
export type { Resolution } from './fields.js';
export { isScan, type ScanFormat } from './format.js';
export { FULL_SCAN_PIXELS, MAX_SCAN_PIXELS } from './size.js';
