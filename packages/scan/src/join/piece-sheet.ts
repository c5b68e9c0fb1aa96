import { type EdgePlaces, edgePlaces, fineEdgesOf, NO_EDGES } from '../trace/edge-places.js';
import type { InkRaster, Raster } from '../trace/sample-grey.js';
import type { ScanPiece } from './join-types.js';

/** Scale of the small picture in which pieces are found: a pen line of 0.3 mm still shows, and an A3 sheet is half a million pixels. px a mm. */
const SMALL_PER_MM = 2;

/** Ink and paper that differ less than this share of white are no ink and paper. */
const LEAST_CONTRAST = 0.12;

/** With less than this share of its pixels dark, a piece's own ink is not known, and that of all pieces is taken. */
const LEAST_INK = 0.0005;

/** Three of these box blurs of 3 × 3 pixels come to a bell of 0.7 mm, in which an outline's direction is steady. */
const BLURS = 3;

/** From the outline of the small picture to that of the full one, at most: little more than a pixel of the small one, mm. */
const FINE_REACH_MM = 0.7;

/** A piece made ready for joining. */
export interface PieceSheet {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
  /** The picture itself. */
  readonly fine: InkRaster;
  /** Shares of ink at about 2 px a mm, and the same blurred. */
  readonly small: InkRaster;
  readonly soft: InkRaster;
  /** Outline points of the small picture; none where the piece shows no ink. */
  readonly edges: EdgePlaces;
  /** The same in the picture itself. */
  readonly fineEdges: EdgePlaces;
}

/** Makes pieces ready: levels of ink and paper (Otsu 1979 over all pieces, then each piece's own medians), small pictures, outline points. */
export function pieceSheets(pieces: readonly ScanPiece[], pixelsPerMm: number): PieceSheet[] {
  const histograms = pieces.map(({ image }) => histogramOf(image.values, image.white));
  const total = new Float64Array(256);
  for (const histogram of histograms) for (let k = 0; k < 256; k++) total[k] += histogram[k];
  const level = otsuLevel(total);
  const allInk = medianBin(total, 0, level);
  return pieces.map((piece, index) => {
    const histogram = histograms[index];
    const dark = count(histogram, 0, level);
    const light = count(histogram, level, 256);
    const inkBin = dark < LEAST_INK * (dark + light) ? allInk : medianBin(histogram, 0, level);
    const paperBin = light === 0 ? 255 : medianBin(histogram, level, 256);
    return pieceSheet(piece, pixelsPerMm, paperBin, inkBin);
  });
}

function pieceSheet({ name, image }: ScanPiece, perMm: number, paperBin: number, inkBin: number): PieceSheet {
  const unit = image.white / 255;
  const fine = { raster: image, perMm, paper: paperBin * unit, ink: inkBin * unit };
  const small = smallInk(fine);
  let raster = small.raster;
  for (let k = 0; k < BLURS; k++) raster = boxBlurred(raster);
  const soft = { ...small, raster };
  const blank = paperBin - inkBin < LEAST_CONTRAST * 255;
  const edges = blank ? NO_EDGES : edgePlaces(small, soft);
  return {
    name,
    widthMm: image.width / perMm,
    heightMm: image.height / perMm,
    fine,
    small,
    soft,
    edges,
    fineEdges: fineEdgesOf(edges, fine, FINE_REACH_MM),
  };
}

function histogramOf(values: Uint8Array | Uint16Array, white: number): Float64Array {
  const bins = new Float64Array(256);
  const shift = white === 255 ? 0 : 8;
  for (let k = 0; k < values.length; k++) bins[values[k] >> shift]++;
  return bins;
}

/** The bin at which the light class begins: the split with the greatest variance between the classes (Otsu 1979). */
function otsuLevel(bins: Float64Array): number {
  let all = 0;
  let moment = 0;
  for (let k = 0; k < bins.length; k++) {
    all += bins[k];
    moment += k * bins[k];
  }
  let best = 128;
  let most = -1;
  let below = 0;
  let sum = 0;
  for (let k = 0; k + 1 < bins.length; k++) {
    below += bins[k];
    sum += k * bins[k];
    if (below === 0 || below === all) continue;
    const between = (moment * below - sum * all) ** 2 / (below * (all - below));
    if (between > most) {
      most = between;
      best = k + 1;
    }
  }
  return best;
}

function count(bins: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let k = from; k < to; k++) sum += bins[k];
  return sum;
}

/** The bin in which half of the pixels of bins `from` to `to` lie below. */
function medianBin(bins: Float64Array, from: number, to: number): number {
  const half = count(bins, from, to) / 2;
  let sum = 0;
  for (let k = from; k < to; k++) {
    sum += bins[k];
    if (sum >= half && sum > 0) return k;
  }
  return from;
}

/** Shares of ink, each the mean of k × k pixels. A last row or column that is not full is left out. */
function smallInk({ raster, perMm, paper, ink }: InkRaster): InkRaster {
  const k = Math.max(1, Math.round(perMm / SMALL_PER_MM));
  const width = Math.max(1, Math.floor(raster.width / k));
  const height = Math.max(1, Math.floor(raster.height / k));
  const values = new Float32Array(width * height);
  const scale = 1 / (k * k * (ink - paper || 1));
  for (let j = 0; j < height; j++) {
    for (let row = j * k; row < Math.min((j + 1) * k, raster.height); row++) {
      let from = row * raster.width;
      for (let i = 0; i < width; i++) {
        let sum = 0;
        for (const end = from + k; from < end; from++) sum += raster.values[from];
        values[j * width + i] += (sum - k * paper) * scale;
      }
    }
  }
  return { raster: { width, height, values }, perMm: perMm / k, paper: 0, ink: 1 };
}

function boxBlurred({ width, height, values }: Raster): Raster {
  const across = new Float32Array(width * height);
  const out = new Float32Array(width * height);
  for (let j = 0; j < height; j++) {
    for (let i = 0, k = j * width; i < width; i++, k++) {
      across[k] = (values[i > 0 ? k - 1 : k] + values[k] + values[i + 1 < width ? k + 1 : k]) / 3;
    }
  }
  for (let j = 0; j < height; j++) {
    const up = j > 0 ? width : 0;
    const down = j + 1 < height ? width : 0;
    for (let i = 0, k = j * width; i < width; i++, k++) out[k] = (across[k - up] + across[k] + across[k + down]) / 3;
  }
  return { width, height, values: out };
}
