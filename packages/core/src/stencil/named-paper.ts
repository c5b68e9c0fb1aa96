import { PAPERS, type Paper, smallestPaper } from '../units/paper-sizes.js';

/** Papers that a sheet is named after: JIS sizes and the drawing sheets' second names would only confuse. */
const OFFERED: readonly Paper[] = PAPERS.filter(({ name }) => !name.startsWith('JIS') && !/^ASME [AB]$/.test(name));

/** The name of the smallest well-known paper that takes a sheet of this size whole, either way round; null where none does. */
export function fittingPaper(widthMm: number, heightMm: number): string | null {
  return smallestPaper(widthMm, heightMm, OFFERED)?.name ?? null;
}
