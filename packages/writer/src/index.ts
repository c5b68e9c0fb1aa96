export { type PdfOptions, toPdf } from './pdf/to-pdf.js';
export { encodePng, toPng } from './png/encode.js';
export { MAX_PIXELS, type PixelOptions, type Pixels, type Resolution } from './png/options.js';
export { renderPixels } from './png/pixels.js';
export { type SvgOptions, toSvg } from './svg/to-svg.js';
export { fontMetrics, REPLACEMENT_CODE_POINT } from './text/faces.js';
