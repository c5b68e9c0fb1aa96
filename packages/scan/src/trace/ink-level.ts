import { type GreyImage, InputError } from '@okuri/core';
import { classMiddle, greyHistogram, otsuThreshold } from './histogram.js';
import { paperNoise } from './paper-noise.js';

/** Least step from paper to ink, 0 … 1: fainter than a hard pencil's line, and what shows through from the back of a sheet. */
const LEAST_STEP = 0.12;

/** … and in standard deviations of the paper's noise. */
const LEAST_STEP_NOISES = 6;

/** Fewest pixels that count as ink where paper fills the picture: a dot of a tenth of a millimetre at 600 dpi has five. */
const LEAST_INK_PIXELS = 4;

/** Middle of the greys that a picture of one grey may have to be called all dark. */
const ALL_DARK = 0.5;

/** Widest that the threshold may be moved, of the step from ink to paper. */
export const MOST_OFFSET = 0.4;

export interface InkLevelOptions {
  /**
   * Moves the level from halfway between ink and paper, of the step between them: −0.4 (only the darkest is ink) to 0.4 (fainter grey is ink as well).
   */
  readonly offset?: number;
  /** Pixels to look at: 255 for those wholly in, one for each pixel. All, by default. */
  readonly within?: Uint8Array | null;
}

/** Greys of a picture, 0 black … 1 white. */
export interface InkLevel {
  /** Darker is ink. */
  readonly level: number;
  /** Middle greys. */
  readonly paper: number;
  readonly ink: number;
  /** Standard deviation of the greys of even paper. */
  readonly noise: number;
}

/**
 * Where ink begins in a picture that is evenly lit: Otsu's threshold tells ink from paper, and the level lies halfway between the middles of both, so that the edge
 * of a black area on white crosses where a pixel is half covered. Throws an `InputError` for a picture that is blank or all dark, a `RangeError` for an offset out of range.
 */
export function inkLevel(image: GreyImage, options: InkLevelOptions = {}): InkLevel {
  const offset = options.offset ?? 0;
  if (!(Math.abs(offset) <= MOST_OFFSET)) throw new RangeError(`got offset ${offset}, expected -0.4 to 0.4`);
  const counts = greyHistogram(image, options.within ?? null);
  const { white } = image;
  const greys = inkAndPaper(image, counts, otsuThreshold(counts)) ?? faintShare(image, counts);
  if (greys === null) {
    const middle = classMiddle(counts, 0, white) / white;
    throw new InputError(
      middle < ALL_DARK
        ? 'The picture is dark all over, and no drawing can be told from its paper: scan it again with the drawing face down on the glass, or with more light.'
        : 'The picture holds nothing darker than its paper: scan the side with the drawing on it, or draw in darker ink.',
    );
  }
  const { ink, paper, noise } = greys;
  return { level: (ink + paper) / 2 + offset * (paper - ink), paper, ink, noise };
}

/** Both classes and the noise, or null where they are not apart. */
function inkAndPaper(
  image: GreyImage,
  counts: Float64Array,
  threshold: number,
): { ink: number; paper: number; noise: number } | null {
  if (threshold < 0) return null;
  const ink = classMiddle(counts, 0, threshold) / image.white;
  const paper = classMiddle(counts, threshold + 1, image.white) / image.white;
  if (paper - ink < LEAST_STEP) return null;
  const noise = paperNoise(image, { ink, paper });
  return paper - ink < LEAST_STEP_NOISES * noise ? null : { ink, paper, noise };
}

/**
 * The same where ink is so small a part of the picture that Otsu's threshold divides the paper's own noise: what is darker than paper can be is then divided from it.
 */
function faintShare(image: GreyImage, counts: Float64Array): { ink: number; paper: number; noise: number } | null {
  const { white } = image;
  const paper = classMiddle(counts, 0, white) / white;
  const noise = paperNoise(image, { ink: 0, paper });
  const limit = Math.ceil((paper - Math.max(LEAST_STEP, LEAST_STEP_NOISES * noise)) * white);
  if (limit <= 0) return null;
  let dark = 0;
  for (let grey = 0; grey < limit; grey++) dark += counts[grey];
  if (dark < LEAST_INK_PIXELS) return null;
  // Halfway to the darkest first: what lies above is mostly the sides of lines.
  let darkest = 0;
  while (counts[darkest] === 0) darkest++;
  return inkAndPaper(image, counts, Math.min(limit - 1, Math.floor((darkest + paper * white) / 2)));
}
