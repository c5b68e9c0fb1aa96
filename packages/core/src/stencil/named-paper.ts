import { isAmericanPaper, PAPERS, type Paper, smallestPaper } from '../units/paper-sizes.js';

/** Papers that a sheet is named after: JIS sizes and the drawing sheets' second names would only confuse. */
const OFFERED: readonly Paper[] = PAPERS.filter(({ name }) => !name.startsWith('JIS') && !/^ASME [AB]$/.test(name));

/**
 * The name of the smallest well-known paper that takes a sheet of this size whole, either way round; null where none does. `like` is a paper
 * that the person uses: American papers are offered beside an American one, ISO's beside all others.
 */
export function fittingPaper(widthMm: number, heightMm: number, like: Paper): string | null {
  const american = isAmericanPaper(like);
  const offered = OFFERED.filter((paper) => isAmericanPaper(paper) === american);
  return smallestPaper(widthMm, heightMm, offered)?.name ?? null;
}
