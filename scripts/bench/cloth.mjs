// Pixels of a cloth, 6000 × 2400, against a general SVG renderer drawing every placement; and the whole command against bare encoding.
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';
import { readSvg } from '../../packages/reader/dist/index.js';
import { encodePng, renderPixels, toPng } from '../../packages/writer/dist/index.js';
import { core } from '../core.mjs';
import { ellipses, halfDropJob, median } from './artwork.mjs';

const UNIT = 200;

export async function clothBench({ quick }) {
  const [width, length, pixelsPerMm] = quick ? [1000, 400, 3] : [2000, 800, 3];
  const motif = ellipses(500, { overlap: false });
  const svg = motifSvg(motif, UNIT);
  const job = halfDropJob(core, {
    width: `${UNIT}mm`,
    cloth: { width: `${width}mm`, length: `${length}mm`, seams: false, colour: '#ffffff', dye: '#1f3a5f' },
  });
  const result = core.runJob(readSvg(svg, {}), job);
  const picture = core.clothPicture(result);
  const placements = core.clothPlacements(result.lattice, width, length);
  const uses = clothOfUses(motif, placements, width, length);
  const pattern = clothOfPattern(motif, width, length);
  const pixelsWide = width * pixelsPerMm;
  const resvg = (text) => () => new Resvg(text, { fitTo: { mode: 'width', value: pixelsWide } }).render().pixels;
  const ours = await median(() => renderPixels(picture, 0, { pixelsPerMm }));
  const general = await median(resvg(uses));
  const patterned = await median(resvg(pattern));
  const pixels = await renderPixels(picture, 0, { pixelsPerMm });
  const bare = await median(() => encodePng(pixels, {}));
  const plain = await plainEncoding(pixels);
  const inside = await median(async () => {
    const run = core.runJob(readSvg(svg, {}), job);
    await toPng(core.clothPicture(run), 0, { pixelsPerMm });
  });
  const outside = await commandTime(svg, width, length, pixelsPerMm, quick ? 3 : 5);
  const size = `${pixels.width} × ${pixels.height}`;
  const ms = (t) => `${Math.round(t)} ms`;
  return [
    [
      `cloth ${size}, pixels against ${placements.length} <use> in a general renderer`,
      `${(general / ours).toFixed(1)} × faster (${ms(ours)}, ${ms(general)})`,
      '5 ×',
    ],
    ['the same as an SVG pattern, for the record', `${(patterned / ours).toFixed(1)} × (${ms(patterned)})`, ''],
    [
      'artwork to PNG, in one process, against bare encoding',
      `${(inside / bare).toFixed(2)} × (${ms(inside)}, ${ms(bare)})`,
      'under 1.5 ×',
    ],
    [
      "the same against encoding the picture as plain RGB with sharp's defaults",
      `${(inside / plain).toFixed(2)} × (${ms(plain)})`,
      '',
    ],
    [
      'the command `okuri cloth` with its start, against bare encoding',
      `${(outside / bare).toFixed(2)} × (${ms(outside)})`,
      '',
    ],
  ];
}

/** Encoding three channels a pixel, as a program would that knows nothing of the picture. */
async function plainEncoding({ data, width, height, channels }) {
  const rgb = Buffer.alloc(width * height * 3);
  for (let k = 0; k < width * height; k++) {
    for (let c = 0; c < 3; c++) rgb[3 * k + c] = data[channels === 1 ? k : 3 * k + c];
  }
  return median(() =>
    sharp(rgb, { raw: { width, height, channels: 3 } })
      .png()
      .toBuffer(),
  );
}

async function commandTime(svg, width, length, pixelsPerMm, runs) {
  const folder = mkdtempSync(join(tmpdir(), 'okuri-bench-'));
  const main = fileURLToPath(new URL('../../packages/cli/dist/main.js', import.meta.url));
  try {
    const file = join(folder, 'motif.svg');
    writeFileSync(file, svg);
    const args = [
      'cloth',
      file,
      '--repeat',
      'half-drop',
      '--cloth-width',
      `${width}mm`,
      '--cloth-length',
      `${length}mm`,
    ];
    const output = ['--pixels-per-mm', String(pixelsPerMm), '--no-seams', '-o', join(folder, 'cloth.png'), '--force'];
    return await median(() => {
      const run = spawnSync(process.execPath, [main, ...args, ...output], { encoding: 'utf8' });
      if (run.status > 1) throw new Error(run.stderr);
    }, runs);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function motifSvg(motif, unit) {
  const { widthMm } = motif.frame;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${unit}mm" height="${unit}mm" viewBox="0 0 ${widthMm} ${widthMm}">${paths(motif)}</svg>`;
}

function paths(motif) {
  return motif.shapes.map((s) => `<path d="${pathData(s.contours[0])}"/>`).join('');
}

function pathData({ coords }) {
  let d = `M${coords[0]} ${coords[1]}`;
  for (let k = 2; k < coords.length; k += 6) d += `C${coords.slice(k, k + 6).join(' ')}`;
  return `${d}Z`;
}

function clothOfUses(motif, placements, width, length) {
  const scale = UNIT / motif.frame.widthMm;
  const uses = placements
    .map(({ at }) => `<use href="#unit" transform="translate(${at.x} ${at.y}) scale(${scale})"/>`)
    .join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${length}"><rect width="100%" height="100%" fill="#1f3a5f"/><defs><g id="unit" fill="#fff">${paths(motif)}</g></defs>${uses}</svg>`;
}

function clothOfPattern(motif, width, length) {
  const scale = UNIT / motif.frame.widthMm;
  const half = UNIT / 2;
  const column = [-half, half]
    .map((y) => `<use href="#unit" transform="translate(${UNIT} ${y}) scale(${scale})"/>`)
    .join('');
  const first = `<use href="#unit" transform="scale(${scale})"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${length}"><defs><g id="unit" fill="#fff">${paths(motif)}</g><pattern id="p" patternUnits="userSpaceOnUse" width="${2 * UNIT}" height="${UNIT}"><rect width="100%" height="100%" fill="#1f3a5f"/>${first}${column}</pattern></defs><rect width="100%" height="100%" fill="url(#p)"/></svg>`;
}
