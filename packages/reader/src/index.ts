export { parseColour } from './colour.js';
export type { FontFile } from './fonts.js';
export { KNIFE_LINE_MM } from './knife-lines.js';
export { type ReadOptions, readSvg, readTree } from './read-svg.js';
export { readSvgTree, SVG_NAMESPACE } from './xml.js';
