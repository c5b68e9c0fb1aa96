export { type DecodeOptions, decodeScan, FULL_SCAN_PIXELS, type Glass, MAX_SCAN_PIXELS, type Scan } from './decode.js';
export type { Resolution } from './fields.js';
export { isScan, type ScanFormat } from './format.js';
