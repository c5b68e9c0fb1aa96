import type { Box, Contour, GreyImage, Point } from '@okuri/core';
import { boxCorners, segmentCount } from '@okuri/core/inside';
import { applyHomography, invertHomography, localAreaScale } from '../scale/homography.js';
import type { PictureScale, Trace } from '../types.js';
import { cutToBox } from './cut-to-box.js';
import { evenLight } from './even-light.js';
import { fillCracks } from './fill-cracks.js';
import { FIT_TOLERANCE_PX, fitRing } from './fit-ring.js';
import { greyRings, ringArea } from './grey-rings.js';
import { type InkLevel, inkLevel } from './ink-level.js';
import { outsideAsPaper, polygonCoverage } from './keep-region.js';
import { leaveSpecks } from './leave-specks.js';
import { ringJitter } from './ring-jitter.js';
import { smoothImage } from './smooth-image.js';

/** Dark marks and light holes smaller than this are dust and grain unless the person says otherwise: a knife can't cut them. mm². */
export const SPECK_MM2 = 0.5;

/** Paper is looked for in tiles of this side: wider than most lines, narrower than the shadow of a finger. mm. */
const TILE_MM = 2;
const LEAST_TILE_PX = 8;

/**
 * Noise, as a share of the step from ink to paper, from which on the picture is smoothed first, or grains would part from edges and join them. Less noise is left to the fit, which
 * takes out as much and needs neighbours that err each for itself.
 */
const NOISY = 0.08;

/** The Gaussian's width then, px: it grows with the noise, and stays narrower than the finest line that can be cut. */
const LEAST_SMOOTHING_PX = 0.4;
const SMOOTHING_PX_PER_NOISE = 3;
const MOST_SMOOTHING_PX = 1.2;

/**
 * Around a box that is to be kept so much more is traced, mm and px, and cut off after: else corners that the cut makes would be rounded and the curves beside them bent.
 */
const AROUND_MM = 1;
const AROUND_PX = 20;

export interface TraceOptions {
  /** Moves the threshold from halfway between ink and paper, of the step between them: −0.4 (darker only) to 0.4 (lighter as well). 0. */
  readonly offset?: number;
  /** Dark areas smaller than this are left out, light ones filled. mm²; 0.5 each. */
  readonly speckMm2?: number;
  readonly pinholeMm2?: number;
  /** Whether uneven light is evened. True. */
  readonly evenLight?: boolean;
  /** How far outlines may be smoothed, as a multiple of what the picture's sharpness and noise ask for. 1. */
  readonly smooth?: number;
  /** The light parts are the drawing: its outlines, specks and pinholes are those of light areas. False. */
  readonly light?: boolean;
  /** What lies outside is taken for paper: a box or a polygon, mm. */
  readonly region?: Box | readonly Point[];
  /** Called with the share of the work done, 0 to 1. */
  readonly progress?: (done: number) => void;
}

/**
 * The outlines of what is drawn in a picture, in mm: light evened, threshold, lines of equal grey, specks and pinholes left out, each line's points mapped to the
 * paper one by one (the picture itself is never resampled) and fitted with cubics. Throws an `InputError` for a picture with no drawing to be seen.
 */
export function traceImage(image: GreyImage, scale: PictureScale, options: TraceOptions = {}): Trace {
  const { speckMm2 = SPECK_MM2, pinholeMm2 = SPECK_MM2, smooth = 1, light = false, progress = () => {} } = options;
  const { width, height, values } = image;
  if (values.length !== width * height) {
    throw new RangeError(`got ${values.length} grey values, expected ${width} × ${height}`);
  }
  const within = options.region === undefined ? null : coverageOf(options.region, scale, image);
  const tilePx = Math.max(LEAST_TILE_PX, Math.round(TILE_MM * scale.pixelsPerMm));
  let picture = options.evenLight === false ? image : evenLight(image, { tilePx, within });
  progress(0.15);
  if (light) picture = inverted(picture);
  let greys = inkLevel(picture, { offset: options.offset ?? 0, within });
  const { noise } = greys;
  const kept = options.region !== undefined && 'x0' in options.region ? options.region : null;
  if (kept !== null) {
    const around = Math.max(AROUND_MM, AROUND_PX / scale.pixelsPerMm);
    const wider = { x0: kept.x0 - around, y0: kept.y0 - around, x1: kept.x1 + around, y1: kept.y1 + around };
    picture = outsideAsPaper(picture, coverageOf(wider, scale, image), greys.paper);
  } else if (within !== null) picture = outsideAsPaper(picture, within, greys.paper);
  const smoothingPx = smoothingFor(greys);
  if (smoothingPx > 0) {
    picture = smoothImage(picture, smoothingPx);
    greys = inkLevel(picture, { offset: options.offset ?? 0, within });
  }
  if (!light) picture = fillCracks(picture, greys, scale.pixelsPerMm);
  progress(0.35);
  const rings = greyRings(picture, greys.level, { greys });
  progress(0.5);
  // Outlines of a grainy picture are many: none is kept in mm but those that stay.
  const areas = Float64Array.from(rings, ({ points }) => Math.abs(ringArea(mappedRing(points, scale))));
  const { kept: stay, specks, pinholes } = leaveSpecks(rings, areas, { speckMm2, pinholeMm2 });
  const pixelMm = 1 / scale.pixelsPerMm;
  // A mean over smoothed points is no better than over the raw ones: 2√π σ of them count as one.
  const alike = Math.max(1, 2 * Math.sqrt(Math.PI) * smoothingPx);
  const noiseMm = ringJitter(rings.filter((_, k) => stay[k] === 1)) * Math.sqrt(alike) * pixelMm;
  let contours: Contour[] = [];
  for (let k = 0; k < rings.length; k++) {
    if (stay[k] === 0) continue;
    const contour = fitRing(mappedRing(rings[k].points, scale), {
      pixelMm,
      noiseMm,
      toleranceMm: smooth * FIT_TOLERANCE_PX * pixelMm,
    });
    contours.push(contour);
    progress(0.55 + (0.45 * k) / rings.length);
  }
  if (kept !== null) contours = cutToBox(contours, kept, speckMm2);
  progress(1);
  const seen = (grey: number): number => (light ? 1 - grey : grey);
  return {
    contours,
    nodes: contours.reduce((sum, contour) => sum + segmentCount(contour), 0),
    specks,
    pinholes,
    level: seen(greys.level),
    noise,
    paper: seen(greys.paper),
    ink: seen(greys.ink),
  };
}

/** How wide a Gaussian the noise asks for, px; 0 for none. */
function smoothingFor({ ink, paper, noise }: InkLevel): number {
  const share = noise / (paper - ink);
  return share < NOISY ? 0 : Math.min(MOST_SMOOTHING_PX, LEAST_SMOOTHING_PX + SMOOTHING_PX_PER_NOISE * share);
}

/** A ring on the paper, mm, dark to its right hand there too. */
function mappedRing(points: Float64Array, { toMm }: PictureScale): Float64Array {
  const n = points.length;
  const out = new Float64Array(n);
  const mirrored = n > 0 && localAreaScale(toMm, { x: points[0], y: points[1] }) < 0;
  for (let k = 0; k < n; k += 2) {
    const { x, y } = applyHomography(toMm, { x: points[k], y: points[k + 1] });
    const to = mirrored ? n - 2 - k : k;
    out[to] = x;
    out[to + 1] = y;
  }
  return out;
}

function coverageOf(region: Box | readonly Point[], scale: PictureScale, { width, height }: GreyImage): Uint8Array {
  const toPx = invertHomography(scale.toMm);
  if (toPx === null)
    throw new RangeError('got a scale that maps the picture to a line, expected one that can be undone');
  const corners: readonly Point[] = 'x0' in region ? boxCorners(region) : region;
  return polygonCoverage(
    corners.map((p) => applyHomography(toPx, p)),
    width,
    height,
  );
}

function inverted({ width, height, values, white }: GreyImage): GreyImage {
  const out = values.slice();
  for (let k = 0; k < out.length; k++) out[k] = white - out[k];
  return { width, height, values: out, white };
}
