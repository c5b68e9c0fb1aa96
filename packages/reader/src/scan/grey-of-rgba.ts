/** Weights of red, green and blue light (IEC 61966-2-1: the luminance of sRGB). */
const WEIGHTS = [0.2126, 0.7152, 0.0722] as const;
const WHITE = 255;
/** Steps in which light is looked up on its way back: where sRGB is steepest (12.92) one of them is a fifth of a grey value. */
const LIGHT_STEPS = 16_384;

/** Light by value, and the value by light. */
const LIGHT = Float64Array.from({ length: 256 }, (_, v) => toLight(v / WHITE));
const VALUE = Float64Array.from({ length: LIGHT_STEPS + 1 }, (_, k) => WHITE * toValue(k / LIGHT_STEPS));

/**
 * Grey values of pixels in sRGB, four bytes each (red, green, blue, cover): weighed by light, then brought back to the scale of the picture, so that greys stay
 * as they are; laid on white where they are see-through. Written into `grey` from place `at` on.
 */
export function greyOfRgba(rgba: Uint8Array | Uint8ClampedArray, grey: Uint8Array, at = 0): void {
  const count = rgba.length / 4;
  if (!Number.isInteger(count) || at + count > grey.length) {
    throw new RangeError(
      `got ${rgba.length} bytes of pixels for ${grey.length - at} grey values, expected four a value`,
    );
  }
  for (let k = 0, o = 0; k < count; k++, o += 4) {
    const [r, g, b, cover] = [rgba[o], rgba[o + 1], rgba[o + 2], rgba[o + 3]];
    const value = r === g && g === b ? r : greyOf(r, g, b);
    grey[at + k] = cover === WHITE ? value : (value * cover + WHITE * (WHITE - cover)) / WHITE + 0.5;
  }
}

function greyOf(r: number, g: number, b: number): number {
  const light = WEIGHTS[0] * LIGHT[r] + WEIGHTS[1] * LIGHT[g] + WEIGHTS[2] * LIGHT[b];
  return Math.round(VALUE[Math.round(light * LIGHT_STEPS)]);
}

/** IEC 61966-2-1, section 5.2. */
function toLight(value: number): number {
  return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
}

function toValue(light: number): number {
  return light <= 0.0031308 ? 12.92 * light : 1.055 * light ** (1 / 2.4) - 0.055;
}
