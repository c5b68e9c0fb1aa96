import type { GreyImage } from '@okuri/core';

/**
 * Which pixels are dark, one bit each, and where dark and light meet along the rows. A crossing (c, y) lies between pixels c − 1 and c of row y,
 * 0 <= c <= width; what lies outside of the picture is light. Crossings are numbered row by row, from left to right.
 */
export interface DarkBits {
  readonly width: number;
  readonly height: number;
  /** 32-bit words of a row, which hold `width + 1` bits. */
  readonly rowWords: number;
  readonly dark: Uint32Array;
  readonly crossings: Uint32Array;
  /** Crossings before each word. */
  readonly before: Uint32Array;
  readonly count: number;
}

/** The pixels darker than `level` (0 black … 1 white) as bits: a hundredth of the memory that a mark for each pixel and its ring would take. */
export function darkBits(image: GreyImage, level: number): DarkBits {
  const { width, height, values } = image;
  const limit = Math.ceil(level * image.white);
  const rowWords = (width >> 5) + 1;
  const dark = new Uint32Array(rowWords * height);
  for (let y = 0, k = 0; y < height; y++) {
    for (let word = y * rowWords, x = 0; x < width; word++) {
      const end = Math.min(width, x + 32);
      let bits = 0;
      for (let bit = 0; x < end; x++, bit++, k++) if (values[k] < limit) bits |= 1 << bit;
      dark[word] = bits;
    }
  }
  const crossings = new Uint32Array(dark.length);
  const before = new Uint32Array(dark.length);
  let count = 0;
  for (let y = 0, word = 0; y < height; y++) {
    let carry = 0;
    for (let k = 0; k < rowWords; k++, word++) {
      const bits = dark[word];
      crossings[word] = bits ^ ((bits << 1) | carry);
      carry = bits >>> 31;
      before[word] = count;
      count += ones(crossings[word]);
    }
  }
  return { width, height, rowWords, dark, crossings, before, count };
}

/** Whether a pixel is dark; pixels outside of the picture are not. */
export function isDark(bits: DarkBits, x: number, y: number): boolean {
  if (x < 0 || y < 0 || x >= bits.width || y >= bits.height) return false;
  return ((bits.dark[y * bits.rowWords + (x >> 5)] >>> (x & 31)) & 1) === 1;
}

/** The number of the crossing before pixel `c` of row `y`, where there is one. */
export function crossingNumber(bits: DarkBits, c: number, y: number): number {
  const word = y * bits.rowWords + (c >> 5);
  return bits.before[word] + ones(bits.crossings[word] & ((1 << (c & 31)) - 1));
}

/** How many bits of a word are set (H. S. Warren, Hacker's Delight, 2nd ed. 2012, §5-1). */
function ones(word: number): number {
  const pairs = word - ((word >>> 1) & 0x55555555);
  const fours = (pairs & 0x33333333) + ((pairs >>> 2) & 0x33333333);
  return Math.imul((fours + (fours >>> 4)) & 0x0f0f0f0f, 0x01010101) >>> 24;
}
