import type { GreyImage, Point } from '@okuri/core';

/** A picture as shares of white, before it is written down in 8 bits. */
export interface Scene {
  readonly width: number;
  readonly height: number;
  /** 0 black, 1 white. */
  readonly values: Float64Array;
}

/** Paper of grey 0.93 with ink of 0.1 where `inked` holds, each pixel averaged over `fine`² places. */
export function scene(width: number, height: number, inked: (x: number, y: number) => boolean, fine = 8): Scene {
  const values = new Float64Array(width * height);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      let dark = 0;
      for (let b = 0; b < fine; b++) {
        for (let a = 0; a < fine; a++) dark += inked(i + (a + 0.5) / fine, j + (b + 0.5) / fine) ? 1 : 0;
      }
      values[j * width + i] = 0.93 - (0.83 * dark) / fine ** 2;
    }
  }
  return { width, height, values };
}

export function disc(at: Point, diameter: number): (x: number, y: number) => boolean {
  return (x, y) => (x - at.x) ** 2 + (y - at.y) ** 2 < (diameter / 2) ** 2;
}

/** Light multiplied in. */
export function lit({ width, height, values }: Scene, light: (x: number, y: number) => number): Scene {
  return { width, height, values: values.map((v, k) => v * light((k % width) + 0.5, Math.floor(k / width) + 0.5)) };
}

/** A Gaussian blur. */
export function blurred({ width, height, values }: Scene, sigmaPx: number): Scene {
  const reach = Math.ceil(4 * sigmaPx);
  const weights = Array.from({ length: 2 * reach + 1 }, (_, k) => Math.exp(-((k - reach) ** 2) / (2 * sigmaPx ** 2)));
  const total = weights.reduce((sum, w) => sum + w, 0);
  const pass = (from: Float64Array, dx: number, dy: number): Float64Array =>
    from.map((_, k) => {
      const [x, y] = [k % width, Math.floor(k / width)];
      return weights.reduce((sum, w, n) => {
        const [i, j] = [clamp(x + (n - reach) * dx, width), clamp(y + (n - reach) * dy, height)];
        return sum + (w / total) * from[j * width + i];
      }, 0);
    });
  return { width, height, values: pass(pass(values, 1, 0), 0, 1) };
}

/** Noise of a normal spread, from a seed (mulberry32 and Box–Muller). */
export function noisy({ width, height, values }: Scene, sigma: number, seed: number): Scene {
  const next = randomFrom(seed);
  return {
    width,
    height,
    values: values.map((v) => v + sigma * Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next())),
  };
}

export function randomFrom(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

export function pictureOf({ width, height, values }: Scene, white: 255 | 65535 = 255): GreyImage {
  const round = (v: number): number => Math.min(white, Math.max(0, Math.round(v * white)));
  return {
    width,
    height,
    white,
    values: white === 255 ? Uint8Array.from(values, round) : Uint16Array.from(values, round),
  };
}

function clamp(k: number, count: number): number {
  return Math.min(count - 1, Math.max(0, k));
}
