/** A source of random numbers: the same seed gives the same numbers on every machine. */
export interface RandomNumbers {
  /** From 0 up to, but not, 1. */
  readonly uniform: () => number;
  /** Of the normal distribution with mean 0 and standard deviation 1. */
  readonly normal: () => number;
}

/** Step of the Weyl sequence: the golden ratio in 32 bits, an odd number. */
const WEYL = 0x9e3779b9;

/** Numbers thrown away at first, until every bit of the seed has reached every word. */
const WARM_UP = 16;

const TWO_32 = 2 ** 32;

/**
 * The generator xorshift128 of G. Marsaglia ("Xorshift RNGs", Journal of Statistical Software 8, 2003) with a Weyl sequence added to its output;
 * normal numbers by his polar method. Of the seed the lower 32 bits of its whole part count.
 */
export function randomNumbers(seed: number): RandomNumbers {
  let [x, y, z, w, weyl] = [123456789 ^ seed, 362436069 ^ Math.imul(seed, WEYL), 521288629, 88675123, 0];
  const next = (): number => {
    const t = x ^ (x << 11);
    x = y;
    y = z;
    z = w;
    w = w ^ (w >>> 19) ^ t ^ (t >>> 8);
    weyl = (weyl + WEYL) | 0;
    return (w + weyl) >>> 0;
  };
  for (let k = 0; k < WARM_UP; k++) next();
  const uniform = (): number => next() / TWO_32;
  let spare: number | null = null;
  const normal = (): number => {
    if (spare !== null) {
      const value = spare;
      spare = null;
      return value;
    }
    for (;;) {
      const [u, v] = [2 * uniform() - 1, 2 * uniform() - 1];
      const s = u * u + v * v;
      if (s === 0 || s >= 1) continue;
      const scale = Math.sqrt((-2 * Math.log(s)) / s);
      spare = v * scale;
      return u * scale;
    }
  };
  return { uniform, normal };
}
