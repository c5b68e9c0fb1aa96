// Makes the README's picture of a traced scan: the scan on the left, what `okuri trace` makes of it laid over it on the right.
import { mkdirSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';
import { createViteServer } from 'vitest/node';
import { decodeScan } from '../packages/reader/dist/scan/index.js';
import { framePicture, traceImage } from '../packages/scan/dist/index.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));
const OUT = 'docs/pictures/trace.png';
const DPI = 300;
/** The part that is shown, mm, and how large. */
const SHOWN = { x: 58, y: 6, width: 58, height: 44 };
const PX_PER_MM = 10;
const GAP_PX = 16;

// The maker of worn paper is a support of the tests, in TypeScript.
const server = await createViteServer({
  root: ROOT,
  server: { middlewareMode: true, ws: false, hmr: false, watch: null },
  appType: 'custom',
  logLevel: 'error',
  optimizeDeps: { noDiscovery: true },
});
const { foldedInFour, penAndBrush } = await server.ssrLoadModule('/tests/support/paper-drawings.ts');
const { jpegOf, scanPaper } = await server.ssrLoadModule('/tests/support/paper-scan.ts');
const scan = scanPaper(penAndBrush(), { dpi: DPI, seed: 1, wear: foldedInFour(120, 90), turnDeg: 0.4 });
const file = await jpegOf(scan, 80);
await server.close();

const { image } = await decodeScan(file, { name: 'scan.jpg' });
const picture = framePicture(image, { from: 'resolution', resolution: { across: DPI, down: DPI, unit: 'inch' } });
const { contours } = traceImage(image, picture.scale);

const toPx = DPI / 25.4;
const [left, top, wide, high] = [SHOWN.x, SHOWN.y, SHOWN.width, SHOWN.height].map((mm) => Math.round(mm * toPx));
const [width, height] = [SHOWN.width * PX_PER_MM, SHOWN.height * PX_PER_MM];
const part = await sharp(file)
  .extract({ left, top, width: wide, height: high })
  .resize(width, height, { fit: 'fill', kernel: 'cubic' })
  .toColourspace('srgb')
  .png()
  .toBuffer();
const fixed = (number) => number.toFixed(3);
const path = contours
  .map(({ coords }) => {
    let d = `M${fixed(coords[0])} ${fixed(coords[1])}`;
    for (let k = 2; k < coords.length; k += 6) d += `C${Array.from(coords.subarray(k, k + 6), fixed).join(' ')}`;
    return `${d}Z`;
  })
  .join('');
const nodes = contours.flatMap(({ coords }) =>
  Array.from({ length: (coords.length - 2) / 6 }, (_, k) => {
    const [x, y] = [coords[6 * k], coords[6 * k + 1]];
    return `<circle cx="${fixed(x)}" cy="${fixed(y)}" r="0.22"/>`;
  }),
);
const view = `viewBox="${left / toPx} ${top / toPx} ${wide / toPx} ${high / toPx}" preserveAspectRatio="none"`;
const over = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" ${view}><rect x="0" y="0" width="120" height="90" fill="#fff" fill-opacity="0.6"/><path d="${path}" fill="none" stroke="#b3261e" stroke-width="0.16"/><g fill="#1f3a5f">${nodes.join('')}</g></svg>`;
const png = await sharp({
  create: { width: 2 * width + GAP_PX, height, channels: 3, background: '#fff' },
})
  .composite([
    { input: part, left: 0, top: 0 },
    { input: part, left: width + GAP_PX, top: 0 },
    { input: new Resvg(over).render().asPng(), left: width + GAP_PX, top: 0 },
  ])
  .png({ palette: true, colours: 40, dither: 0, effort: 10 })
  .toBuffer();
mkdirSync(`${ROOT}docs/pictures`, { recursive: true });
writeFileSync(`${ROOT}${OUT}`, png);
console.log(OUT);
