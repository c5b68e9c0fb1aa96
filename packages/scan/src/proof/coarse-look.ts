import type { GreyImage, Point } from '@okuri/core';
import { evenPaper } from '../join/even-paper.js';

/** Longer side of the coarse picture, px: about half a millimetre on a sheet. */
const LOOK_PX = 900;

/** The light is evened over tiles of this share of the picture: larger than openings, smaller than shadows. */
const TILE_SHARE = 1 / 5;

/** Grey, as a share of the paper's, between which ink must begin whatever the histogram says. */
const LEVEL = { min: 0.3, max: 0.85 } as const;

const STEPS = 128;

/** A coarse picture of what is dark. */
export interface CoarseLook {
  readonly width: number;
  readonly height: number;
  readonly factor: number;
  readonly dark: Uint8Array;
}

/** What of a picture is dark: made smaller, the light evened, and divided by Otsu's threshold (IEEE Trans. SMC 9 (1979) 62). */
export function coarseLook(image: GreyImage): CoarseLook {
  const long = Math.max(image.width, image.height);
  const factor = Math.max(1, Math.round(long / LOOK_PX));
  const { width, height, values } = evenPaper(image, { factor, tilePx: long * TILE_SHARE });
  const level = Math.min(LEVEL.max, Math.max(LEVEL.min, otsu(values)));
  return { width, height, factor, dark: Uint8Array.from(values, (v) => (v < level ? 1 : 0)) };
}

/** Whether a place of the picture (px) is dark; what lies beside the picture is light. */
export function isDark({ width, height, factor, dark }: CoarseLook, { x, y }: Point): boolean {
  const [i, j] = [Math.floor(x / factor), Math.floor(y / factor)];
  return i >= 0 && j >= 0 && i < width && j < height && dark[j * width + i] === 1;
}

/** The same picture seen from behind. */
export function mirroredLook({ width, height, factor, dark }: CoarseLook): CoarseLook {
  const turned = new Uint8Array(dark.length);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) turned[j * width + i] = dark[j * width + width - 1 - i];
  }
  return { width, height, factor, dark: turned };
}

/** The picture with dark and light exchanged. */
export function negative({ values, white, ...size }: GreyImage): GreyImage {
  return { ...size, white, values: values.map((v) => white - v) };
}

function otsu(values: Float32Array): number {
  const counts = new Float64Array(STEPS);
  for (const v of values) counts[Math.max(0, Math.min(STEPS - 1, Math.floor(v * (STEPS - 1))))]++;
  let [all, sum] = [0, 0];
  counts.forEach((n, k) => {
    all += n;
    sum += n * k;
  });
  let [below, belowSum, best, level] = [0, 0, -1, 0.5];
  for (let k = 0; k + 1 < STEPS; k++) {
    below += counts[k];
    belowSum += counts[k] * k;
    if (below === 0 || below === all) continue;
    const apart = belowSum / below - (sum - belowSum) / (all - below);
    const between = below * (all - below) * apart * apart;
    if (between > best) [best, level] = [between, (k + 1) / (STEPS - 1)];
  }
  return level;
}
