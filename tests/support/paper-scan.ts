import type { Box, GreyImage, Point } from '@okuri/core';
import type { Homography } from '@okuri/core/inside';
import { Resvg } from '@resvg/resvg-js';
import sharp from 'sharp';
import { blurred, field } from './paper-texture.js';
import { darkenBy, type Wear } from './paper-wear.js';
import { gaussian } from './scan-pictures.js';

/** A drawing on a sheet of paper: SVG elements in mm from the sheet's upper left, black on white. */
export interface PaperDrawing {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Ink by brush and pen; half-tones by `stroke-opacity`. */
  readonly ink: string;
  /** Construction lines. */
  readonly pencil?: string;
  /** What is drawn on the back, mirrored as the back is seen. */
  readonly back?: string;
}

/** How a sheet is laid on the glass and seen. */
export interface PaperScanning {
  readonly dpi: number;
  readonly seed: number;
  readonly wear: Wear;
  /** The part of the sheet that is seen, mm; the whole. It may reach beyond the sheet: the lid is seen there. */
  readonly part?: Box;
  /** How far the sheet is turned on the glass, clockwise, about the middle of the part. */
  readonly turnDeg?: number;
  /** The scanner's own blur, standard deviation, px. */
  readonly blurPx?: number;
  /** Noise of the chip at half light, standard deviation of grey values of 255. */
  readonly noise?: number;
}

export interface PaperScan {
  readonly image: GreyImage;
  readonly dpi: number;
  /** Sheet mm → px. */
  readonly toPicture: Homography;
}

/** Ink and pencil are rendered so many times finer than the scan, then averaged as light. */
const FINER = 2;
/** Rows rendered at once. */
const STRIP_PX = 512;
/** Shares of the light that paper, the deepest ink, full graphite and the scanner's lid throw back. */
const PAPER = 0.8;
const INK = 0.03;
const GRAPHITE = 0.18;
const LID = 0.88;
/** Ink creeps along fibres: its edge is soft by this (standard deviation) and wanders by about as much, mm. */
const FEATHER_MM = 0.03;
const WANDER_MM = 0.02;
/** In the middle of a broad fill the brush left less: so much more light comes back there. */
const POOLED = 0.07;
/** What is this far from an edge is the middle of a fill, mm. */
const BROAD_MM = 2;
/** Scanners code light by this power (IEC 61966-2-1, roughly). */
const CODING = 1 / 2.2;
/** Of broad things (what the ink is like far from edges, the back of the sheet) this many pixels a mm will do. */
const COARSE_PER_MM = 5;

/**
 * The drawing as a flatbed scanner gives it: fibres and tone of the paper, ink that feathers and is lighter in broad fills, pencil that catches on the
 * grain, the back shining through, wear, light, the scanner's blur and noise; computed in light and coded at the end. The same for the same seed.
 */
export function scanPaper(drawing: PaperDrawing, scanning: PaperScanning): PaperScan {
  const { dpi, seed, wear, turnDeg = 0, blurPx = 0.55, noise = 2.5 } = scanning;
  const part = scanning.part ?? { x0: 0, y0: 0, x1: drawing.widthMm, y1: drawing.heightMm };
  const perMm = dpi / 25.4;
  const width = Math.round((part.x1 - part.x0) * perMm);
  const height = Math.round((part.y1 - part.y0) * perMm);
  const turn = (turnDeg * Math.PI) / 180;
  const [cos, sin] = [Math.cos(turn), Math.sin(turn)];
  const middle = { x: (part.x0 + part.x1) / 2, y: (part.y0 + part.y1) / 2 };
  /** Sheet mm → mm of the part. */
  const [tx, ty] = [
    middle.x - part.x0 - cos * middle.x + sin * middle.y,
    middle.y - part.y0 - sin * middle.x - cos * middle.y,
  ];
  const toSheet = (x: number, y: number): Point => ({
    x: cos * (x - tx) + sin * (y - ty),
    y: -sin * (x - tx) + cos * (y - ty),
  });
  const placed = (inner: string): string =>
    `<g transform="matrix(${cos} ${sin} ${-sin} ${cos} ${tx} ${ty})">${inner}</g>`;
  const coarse = (inner: string, sigmaMm: number): ((x: number, y: number) => number) => {
    const [w, h] = [
      Math.ceil((part.x1 - part.x0) * COARSE_PER_MM) + 1,
      Math.ceil((part.y1 - part.y0) * COARSE_PER_MM) + 1,
    ];
    const values = coverage(placed(inner), { x0: 0, y0: 0, x1: w / COARSE_PER_MM, y1: h / COARSE_PER_MM }, w, h);
    blurred(values, w, h, sigmaMm * COARSE_PER_MM);
    return (x, y) => bilinear(values, w, h, x * COARSE_PER_MM - 0.5, y * COARSE_PER_MM - 0.5);
  };
  const broad = coarse(drawing.ink, BROAD_MM / 2);
  const back = drawing.back === undefined ? () => 0 : coarse(mirrored(drawing.back, drawing.widthMm), 0.35);
  const tone = field(seed, 45);
  const cloudy = field(seed + 1, 1.6);
  const fibres = [field(seed + 2, 0.09, 1.3), field(seed + 3, 0.07, 0.9)];
  const tooth = field(seed + 4, 0.16);
  const edge = [field(seed + 5, 0.3), field(seed + 6, 0.09)];
  const streaks = field(seed + 7, 0.35, 9);
  const worn = darkenBy(wear, { seed: seed + 20, widthMm: drawing.widthMm, heightMm: drawing.heightMm, part });

  const light = new Float32Array(width * height);
  const fine = FINER * perMm;
  const margin = Math.ceil(4 * FEATHER_MM * fine);
  const w = FINER * width;
  for (let from = 0; from < height; from += STRIP_PX) {
    const rows = Math.min(STRIP_PX, height - from);
    const h = FINER * rows + 2 * margin;
    const strip = {
      x0: 0,
      x1: width / perMm,
      y0: from / perMm - margin / fine,
      y1: (from + rows) / perMm + margin / fine,
    };
    const ink = coverage(placed(drawing.ink), strip, w, h);
    blurred(ink, w, h, FEATHER_MM * fine);
    const pencil = drawing.pencil === undefined ? null : coverage(placed(drawing.pencil), strip, w, h);
    for (let y = 0; y < rows; y++) {
      const my = (from + y + 0.5) / perMm;
      for (let x = 0; x < width; x++) {
        const mx = (x + 0.5) / perMm;
        const s = toSheet(mx, my);
        const onSheet = s.x >= 0 && s.y >= 0 && s.x < drawing.widthMm && s.y < drawing.heightMm;
        let paper = LID;
        if (onSheet) {
          const fibre = Math.abs(fibres[0](s.x, s.y)) + Math.abs(fibres[1](s.x, s.y)) - 0.8;
          paper = PAPER * (1 + 0.02 * tone(s.x, s.y) + 0.012 * cloudy(s.x, s.y) + 0.025 * fibre) - 0.11 * back(mx, my);
        }
        const fill = Math.max(0, 2 * broad(mx, my) - 1);
        let sum = 0;
        for (let sub = 0; sub < FINER * FINER; sub++) {
          const k = (margin + FINER * y + (sub >> 1)) * w + FINER * x + (sub & 1);
          let back = paper;
          const graphite = pencil?.[k] ?? 0;
          if (graphite > 0.01) {
            // Graphite stays on the hills of the paper.
            const hills = Math.min(1, Math.max(0, 0.5 + 1.6 * tooth(s.x, s.y)));
            back += (GRAPHITE - paper) * graphite * (0.35 + 0.65 * hills) * 0.72;
          }
          let share = ink[k];
          if (share > 0.005 && share < 0.995) {
            const wander = (0.7 * edge[0](s.x, s.y) + 0.5 * edge[1](s.x, s.y)) * (WANDER_MM / FEATHER_MM) * 0.4;
            share = Math.min(1, Math.max(0, share + wander * 4 * share * (1 - share)));
          }
          if (share > 0) {
            const deep = INK + POOLED * fill * (0.6 + 0.4 * streaks(s.x, s.y)) + worn.inkLighter(s) * (paper - INK);
            back += (deep - back) * share;
          }
          sum += back;
        }
        light[(from + y) * width + x] = (sum / FINER ** 2) * (onSheet ? worn.sheet(s) : 1) * worn.lamp(mx, my);
      }
    }
  }
  worn.dust(light, width, height, perMm);
  blurred(light, width, height, blurPx);
  const gauss = gaussian(seed + 40);
  const values = new Uint8Array(width * height);
  for (let k = 0; k < values.length; k++) {
    const code = 255 * Math.max(0, light[k]) ** CODING;
    values[k] = Math.max(0, Math.min(255, Math.round(code + (noise === 0 ? 0 : noise * gauss()))));
  }
  return {
    image: { width, height, values, white: 255 },
    dpi,
    toPicture: [cos * perMm, -sin * perMm, tx * perMm, sin * perMm, cos * perMm, ty * perMm, 0, 0, 1],
  };
}

/** The scan as a JPEG file that states its resolution. */
export function jpegOf({ image, dpi }: Pick<PaperScan, 'image'> & { dpi?: number }, quality: number): Promise<Buffer> {
  const { width, height, values } = image;
  const picture = sharp(values, { raw: { width, height, channels: 1 } }).toColourspace('b-w');
  return (dpi === undefined ? picture : picture.withMetadata({ density: dpi })).jpeg({ quality }).toBuffer();
}

/** Shares of pixels that black elements cover on white. */
function coverage(inner: string, { x0, y0, x1, y1 }: Box, width: number, height: number): Float32Array {
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" width="${width}" height="${height}" viewBox="${x0} ${y0} ${x1 - x0} ${y1 - y0}" preserveAspectRatio="none"><rect x="${x0}" y="${y0}" width="100%" height="100%" fill="#fff"/>${inner}</svg>`;
  const { pixels } = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  const values = new Float32Array(width * height);
  for (let k = 0; k < values.length; k++) values[k] = 1 - pixels[4 * k] / 255;
  return values;
}

function mirrored(inner: string, widthMm: number): string {
  return `<g transform="matrix(-1 0 0 1 ${widthMm} 0)">${inner}</g>`;
}

function bilinear(values: Float32Array, width: number, height: number, x: number, y: number): number {
  const i = Math.min(width - 2, Math.max(0, Math.floor(x)));
  const j = Math.min(height - 2, Math.max(0, Math.floor(y)));
  const [u, v] = [Math.min(1, Math.max(0, x - i)), Math.min(1, Math.max(0, y - j))];
  const k = j * width + i;
  const above = values[k] + u * (values[k + 1] - values[k]);
  const below = values[k + width] + u * (values[k + width + 1] - values[k + width]);
  return above + v * (below - above);
}
