import { describe, expect, it } from 'vitest';
import { randomNumbers } from '../register/drift-random.js';

const MASK = 0xffffffffn;
/** The golden ratio in 32 bits: the odd number nearest to 2³² divided by it. */
const GOLDEN = BigInt(Math.round((2 ** 32 * (Math.sqrt(5) - 1)) / 2 / 2 - 0.5) * 2 + 1);

/** Marsaglia's xorshift128 in whole numbers of any length, from four words. */
function* words(x: bigint, y: bigint, z: bigint, w: bigint): Generator<bigint> {
  for (;;) {
    const t = (x ^ (x << 11n)) & MASK;
    [x, y, z] = [y, z, w];
    w = (w ^ (w >> 19n) ^ t ^ (t >> 8n)) & MASK;
    yield w;
  }
}

/** The generator's own numbers by its description: the seed in two of the words, 16 numbers thrown away, a Weyl sequence added. */
function expected(seed: number, count: number): number[] {
  const s = BigInt.asUintN(32, BigInt(seed));
  const source = words(123456789n ^ s, 362436069n ^ ((s * GOLDEN) & MASK), 521288629n, 88675123n);
  const drawn = Array.from({ length: 16 + count }, () => source.next().value as bigint);
  return drawn.map((word, k) => Number((word + BigInt(k + 1) * GOLDEN) & MASK) / 2 ** 32).slice(16);
}

describe('random numbers', () => {
  it('are Marsaglia’s to begin with: the first of xorshift128 as published with its four words', () => {
    // G. Marsaglia, "Xorshift RNGs", Journal of Statistical Software 8 (2003), function xor128.
    const source = words(123456789n, 362436069n, 521288629n, 88675123n);
    expect(Array.from({ length: 5 }, () => source.next().value)).toEqual([
      3701687786n,
      458299110n,
      2500872618n,
      3633119408n,
      516391518n,
    ]);
  });

  it.each([0, 1, 7, -3, 123_456_789, 2 ** 31 + 5])('of seed %d are those of its description', (seed) => {
    const { uniform } = randomNumbers(seed);
    expect(Array.from({ length: 200 }, uniform)).toEqual(expected(seed, 200));
  });

  it('of the normal distribution come in pairs from places in the unit circle, by the polar method', () => {
    const uniform = expected(5, 400);
    const wanted: number[] = [];
    for (let k = 0; k + 1 < uniform.length; k += 2) {
      const [u, v] = [2 * uniform[k] - 1, 2 * uniform[k + 1] - 1];
      const s = u ** 2 + v ** 2;
      if (s >= 1) continue;
      wanted.push(u * Math.sqrt((-2 * Math.log(s)) / s), v * Math.sqrt((-2 * Math.log(s)) / s));
    }
    const { normal } = randomNumbers(5);
    for (const value of wanted) expect(normal()).toBeCloseTo(value, 12);
    expect(wanted.length).toBeGreaterThan(250);
  });
});
