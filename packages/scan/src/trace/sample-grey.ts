/** Values of a picture, row by row: grey values or shares of ink. Places as in `GreyImage`. */
export interface Raster {
  readonly width: number;
  readonly height: number;
  readonly values: Uint8Array | Uint16Array | Float32Array;
}

/** Values in which outlines are looked for: the share of ink at a place is `(value − paper) / (ink − paper)`. */
export interface InkRaster {
  readonly raster: Raster;
  readonly perMm: number;
  readonly paper: number;
  readonly ink: number;
}

/**
 * The value at a place (px from the upper left corner), by cubic convolution over 4 × 4 pixels (Keys 1981, a = −½): exact for what runs evenly, and no bias
 * at an edge. Beyond the border its pixels go on. May overshoot the range of its pixels by some 1/4.
 */
export function bicubicAt({ width, height, values }: Raster, x: number, y: number): number {
  const i = Math.floor(x - 0.5);
  const j = Math.floor(y - 0.5);
  const u = x - 0.5 - i;
  const v = y - 0.5 - j;
  const a0 = ((-0.5 * u + 1) * u - 0.5) * u;
  const a1 = (1.5 * u - 2.5) * u * u + 1;
  const a2 = ((-1.5 * u + 2) * u + 0.5) * u;
  const a3 = (0.5 * u - 0.5) * u * u;
  let i0 = i - 1;
  let i1 = i;
  let i2 = i + 1;
  let i3 = i + 2;
  if (i0 < 0 || i3 >= width) {
    i0 = held(i0, width);
    i1 = held(i1, width);
    i2 = held(i2, width);
    i3 = held(i3, width);
  }
  const b0 = ((-0.5 * v + 1) * v - 0.5) * v;
  const b1 = (1.5 * v - 2.5) * v * v + 1;
  const b2 = ((-1.5 * v + 2) * v + 0.5) * v;
  const b3 = (0.5 * v - 0.5) * v * v;
  let j0 = j - 1;
  let j1 = j;
  let j2 = j + 1;
  let j3 = j + 2;
  if (j0 < 0 || j3 >= height) {
    j0 = held(j0, height);
    j1 = held(j1, height);
    j2 = held(j2, height);
    j3 = held(j3, height);
  }
  j0 *= width;
  j1 *= width;
  j2 *= width;
  j3 *= width;
  return (
    b0 * (a0 * values[j0 + i0] + a1 * values[j0 + i1] + a2 * values[j0 + i2] + a3 * values[j0 + i3]) +
    b1 * (a0 * values[j1 + i0] + a1 * values[j1 + i1] + a2 * values[j1 + i2] + a3 * values[j1 + i3]) +
    b2 * (a0 * values[j2 + i0] + a1 * values[j2 + i1] + a2 * values[j2 + i2] + a3 * values[j2 + i3]) +
    b3 * (a0 * values[j3 + i0] + a1 * values[j3 + i1] + a2 * values[j3 + i2] + a3 * values[j3 + i3])
  );
}

/** The value at a place (px), from 2 × 2 pixels. */
export function bilinearAt({ width, height, values }: Raster, x: number, y: number): number {
  const i = Math.floor(x - 0.5);
  const j = Math.floor(y - 0.5);
  const u = x - 0.5 - i;
  const v = y - 0.5 - j;
  const left = held(i, width);
  const right = held(i + 1, width);
  const above = held(j, height) * width;
  const below = held(j + 1, height) * width;
  return (
    (1 - v) * ((1 - u) * values[above + left] + u * values[above + right]) +
    v * ((1 - u) * values[below + left] + u * values[below + right])
  );
}

function held(k: number, count: number): number {
  return k < 0 ? 0 : k >= count ? count - 1 : k;
}
