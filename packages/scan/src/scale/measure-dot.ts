import type { GreyImage, Point } from '@okuri/core';
import { addEquation, distance, normalEquations, solveLinear } from '@okuri/core/inside';
import { bilinearAt } from '../trace/sample-grey.js';
import type { FoundDot } from '../types.js';

/** Rounds in which the place settles: each takes its window round the last one's middle. */
const ROUNDS = 4;
const SETTLED_PX = 0.05;

/** The paper round a dot of radius r is read from `GAP · r + GAP_PX` to `WIDE · r + WIDE_PX` farther: blur reaches a pixel or two. */
const GAP = 1.25;
const GAP_PX = 1.5;
const WIDE = 0.35;
const WIDE_PX = 2;

/** Share of that ring that has to lie in the picture, and share of it that may be dark. */
const RING_SEEN_MIN = 0.9;
const RING_DARK_MAX = 0.04;

/** Ink takes away at least this share of the paper's light, and this many times its noise. */
const CONTRAST_MIN = 0.2;
const CONTRAST_NOISE_MIN = 4;

/** Ring values farther below the light's level than this share of the contrast are marks on the paper. */
const MARK_SHARE = 0.3;

/** Of a large dot every second pixel tells enough, and so on: its outline is what is measured in the end. */
const STRIDE_RADII_PX = 8;

/** Coverage of a pixel beyond these is not noise but another mark or a shine; cut there. Even about paper and ink, so that noise doesn't draw the middle. */
const COVER_MIN = -0.4;
const COVER_MAX = 1.4;

/** Directions in which the outline is looked for; the step along them, and that between places of the paper beyond, px; from which share of the radius on. */
const RAYS_MIN = 48;
const RAYS_MAX = 180;
const RAY_STEP_PX = 0.25;
const PAPER_STEP_PX = 1;
const EDGE_FROM = 0.4;

/** The outline's and the grey values' areas of a filled dot are alike to this share and this many pixels of outline. */
const FILL_SHARE = 0.15;
const FILL_EDGE_PX = 0.2;

/** From here on the light over a dot is taken with three waves round it, below with two: a small ring has few pixels. */
const FINE_LIGHT_PX = 4;

/**
 * Measures a round dark mark near a place, `radius` px across its half. The light over it is a harmonic polynomial through the paper round it; coverage of
 * each pixel by ink is 1 − grey / light, as a share of the ink's. Where the mark is and how large follows from the sums of coverage; then its middle and
 * size from its outline at half coverage, which noise and the edge of a shadow disturb less: within 0.05 px clean, 0.15 px with noise of 5 % of white,
 * 0.2 px under the sharp edge of a shadow of 40 %. Null where there is no such mark: paper not all round, too pale, open in the middle, cut by the picture's edge.
 */
export function measureDot(image: GreyImage, near: Point, radius: number): FoundDot | null {
  let [at, r] = [near, radius];
  let found: Cover | null = null;
  for (let round = 0; round < ROUNDS; round++) {
    found = coverRound(image, at, r);
    if (found === null) return null;
    const moved = distance(found.at, at);
    const grown = Math.abs(found.radius - r);
    // A mark that runs away or shrinks to nothing was none.
    if (!(moved <= r) || found.radius < 0.5 * r || found.radius > 2 * r) return null;
    [at, r] = [found.at, found.radius];
    if (moved < SETTLED_PX && grown < SETTLED_PX) break;
  }
  if (found === null) return null;
  const outline = outlineOf(image, found);
  if (outline === null) return null;
  const area = Math.PI * r * r;
  if (Math.abs(outline.area - area) > FILL_SHARE * area + FILL_EDGE_PX * 2 * Math.PI * r) return null;
  return {
    at: outline.at,
    diameter: 2 * Math.sqrt(outline.area / Math.PI),
    roundness: Math.min(1, (4 * Math.PI * outline.area) / outline.perimeter ** 2),
  };
}

interface Cover {
  readonly at: Point;
  readonly radius: number;
  readonly light: Light;
  /** Grey of the ink as a share of the light. */
  readonly ink: number;
  /** Radius up to which the coverage is read, and that up to which the paper is, px. */
  readonly reach: number;
  readonly outer: number;
}

/** Light on the paper about a place, share of white. */
interface Light {
  readonly middle: Point;
  readonly unit: number;
  readonly terms: readonly number[];
}

function coverRound(image: GreyImage, at: Point, r: number): Cover | null {
  const reach = GAP * r + GAP_PX;
  const outer = reach + WIDE * r + WIDE_PX;
  const coreReach = Math.max(0.5 * r, 0.75);
  const ring: Pixel[] = [];
  const core: Pixel[] = [];
  const within: Pixel[] = [];
  let seen = 0;
  const stride = Math.max(1, Math.floor(r / STRIDE_RADII_PX));
  eachPixel(image, { at, reach: outer, stride }, (pixel, inPicture) => {
    if (pixel.away >= reach) {
      seen += inPicture ? 1 : 0;
      ring.push(pixel);
    } else if (inPicture) {
      within.push(pixel);
      if (pixel.away <= coreReach) core.push(pixel);
    }
  });
  if (ring.length === 0 || core.length === 0 || seen < RING_SEEN_MIN * ring.length) return null;
  const paper = ring.filter((pixel) => pixel.value >= 0);
  const [middleOfRing, middleOfCore] = [paper, core].map((pixels) => median(pixels.map(({ value }) => value)));
  if (!(middleOfRing - middleOfCore >= CONTRAST_MIN * middleOfRing)) return null;
  const light = lightOver(paper, { at, outer, r, mark: MARK_SHARE * (middleOfRing - middleOfCore) });
  if (light === null) return null;
  const shares = paper.map((pixel) => pixel.value / lightAt(light, pixel));
  const ink = median(core.map((pixel) => pixel.value / lightAt(light, pixel)));
  const contrast = 1 - ink;
  const noise = 1.4826 * median(shares.map((share) => Math.abs(share - 1)));
  if (!(contrast >= CONTRAST_MIN && contrast >= CONTRAST_NOISE_MIN * noise)) return null;
  if (shares.filter((share) => share < 1 - contrast / 2).length > RING_DARK_MAX * shares.length) return null;
  let [sum, sumX, sumY] = [0, 0, 0];
  for (const pixel of within) {
    const cover = Math.min(COVER_MAX, Math.max(COVER_MIN, (1 - pixel.value / lightAt(light, pixel)) / contrast));
    sum += cover;
    sumX += cover * pixel.x;
    sumY += cover * pixel.y;
  }
  if (!(sum > 0)) return null;
  return { at: { x: sumX / sum, y: sumY / sum }, radius: stride * Math.sqrt(sum / Math.PI), light, ink, reach, outer };
}

interface Pixel extends Point {
  readonly away: number;
  /** Share of white; −1 outside the picture. */
  readonly value: number;
}

function eachPixel(
  { width, height, values, white }: GreyImage,
  { at, reach, stride }: { readonly at: Point; readonly reach: number; readonly stride: number },
  visit: (pixel: Pixel, inPicture: boolean) => void,
): void {
  for (let j = Math.floor(at.y - reach); j <= Math.ceil(at.y + reach); j += stride) {
    for (let i = Math.floor(at.x - reach); i <= Math.ceil(at.x + reach); i += stride) {
      const [x, y] = [i + 0.5, j + 0.5];
      const away = Math.hypot(x - at.x, y - at.y);
      if (away > reach) continue;
      const inPicture = i >= 0 && j >= 0 && i < width && j < height;
      visit({ x, y, away, value: inPicture ? values[j * width + i] / white : -1 }, inPicture);
    }
  }
}

/** Fits the light to the ring, twice: the second time without the marks on the paper. */
function lightOver(
  ring: readonly Pixel[],
  { at, outer, r, mark }: { readonly at: Point; readonly outer: number; readonly r: number; readonly mark: number },
): Light | null {
  const waves = r >= FINE_LIGHT_PX ? 3 : 2;
  const level = median(ring.map(({ value }) => value));
  let light: Light = { middle: at, unit: outer, terms: [level] };
  for (const bound of [2 * mark, mark]) {
    const sums = normalEquations(1 + 2 * waves);
    for (const pixel of ring) {
      if (pixel.value < lightAt(light, pixel) - bound) continue;
      addEquation(sums, harmonics(pixel, light, 1 + 2 * waves), pixel.value);
    }
    const terms = solveLinear(sums.normal, sums.right);
    if (terms === null) return null;
    light = { ...light, terms };
  }
  return light;
}

/** 1, x, y, x² − y², 2xy, x³ − 3xy², 3x²y − y³: real and imaginary parts of (x + iy)ⁿ. */
function harmonics({ x, y }: Point, { middle, unit }: Light, count: number): number[] {
  const [u, v] = [(x - middle.x) / unit, (y - middle.y) / unit];
  const values = [1];
  let [re, im] = [1, 0];
  while (values.length < count) {
    [re, im] = [re * u - im * v, re * v + im * u];
    values.push(re, im);
  }
  return values;
}

function lightAt({ middle, unit, terms }: Light, { x, y }: Point): number {
  const [u, v] = [(x - middle.x) / unit, (y - middle.y) / unit];
  let [re, im, sum] = [1, 0, terms[0]];
  for (let k = 1; k < terms.length; k += 2) {
    const next = re * u - im * v;
    im = re * v + im * u;
    re = next;
    sum += re * terms[k] + im * terms[k + 1];
  }
  return sum;
}

interface DotOutline {
  readonly at: Point;
  readonly area: number;
  readonly perimeter: number;
}

/**
 * The outline at half coverage along rays from the middle, each by the paper at its own end, so that a shadow's edge across the dot moves only the
 * few places where it lies; null where a ray meets no edge within reach.
 */
function outlineOf(image: GreyImage, cover: Cover): DotOutline | null {
  const count = Math.max(RAYS_MIN, Math.min(RAYS_MAX, Math.round(2 * Math.PI * cover.radius)));
  const turn = (2 * Math.PI) / count;
  const rays = Array.from({ length: count }, (_, k) => greysAlong(image, cover, k * turn));
  const reached: number[] = [];
  for (let k = 0; k < count; k++) {
    const paper = median([-2, -1, 0, 1, 2].flatMap((n) => rays[(k + n + count) % count].paper));
    const away = edgeAlong(rays[k], (paper * (1 + cover.ink)) / 2);
    if (away === null) return null;
    reached.push(away);
  }
  // Noise makes an outline longer than it is: neighbours are averaged, which takes a few per cent off a square's corners.
  const smooth = reached.map((r, k) => (reached[(k + count - 1) % count] + 2 * r + reached[(k + 1) % count]) / 4);
  let [area, perimeter, x, y] = [0, 0, 0, 0];
  for (const [k, a] of smooth.entries()) {
    const b = smooth[(k + 1) % count];
    const piece = (a * b * Math.sin(turn)) / 2;
    area += piece;
    perimeter += Math.sqrt(a * a + b * b - 2 * a * b * Math.cos(turn));
    x += (piece * (a * Math.cos(k * turn) + b * Math.cos((k + 1) * turn))) / 3;
    y += (piece * (a * Math.sin(k * turn) + b * Math.sin((k + 1) * turn))) / 3;
  }
  return {
    at: { x: cover.at.x + x / area, y: cover.at.y + y / area },
    // An even polygon in a circle is smaller than it by these.
    area: (area * turn) / Math.sin(turn),
    perimeter: (perimeter * turn) / 2 / Math.sin(turn / 2),
  };
}

interface Ray {
  /** Grey as a share of the light, a step apart, from within the dot up to where the paper is read. */
  readonly greys: readonly number[];
  readonly from: number;
  /** The same of the paper beyond. */
  readonly paper: readonly number[];
}

function greysAlong(image: GreyImage, { at, radius, light, reach, outer }: Cover, angle: number): Ray {
  const [dx, dy] = [Math.cos(angle), Math.sin(angle)];
  const greyAt = (away: number): number => {
    const p = { x: at.x + away * dx, y: at.y + away * dy };
    return bilinearAt(image, p.x, p.y) / image.white / lightAt(light, p);
  };
  const from = EDGE_FROM * radius;
  const greys: number[] = [];
  for (let away = from; away <= reach; away += RAY_STEP_PX) greys.push(greyAt(away));
  const paper: number[] = [];
  for (let away = reach; away <= outer; away += PAPER_STEP_PX) paper.push(greyAt(away));
  return { greys, from, paper };
}

/** How far out the first step from below a level to above it lies; null where there is none, or the ray begins on paper. */
function edgeAlong({ greys, from }: Ray, level: number): number | null {
  if (greys[0] >= level) return null;
  for (let k = 1; k < greys.length; k++) {
    if (greys[k] < level) continue;
    return from + RAY_STEP_PX * (k - (greys[k] - level) / (greys[k] - greys[k - 1]));
  }
  return null;
}

function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[half] : (sorted[half - 1] + sorted[half]) / 2;
}
