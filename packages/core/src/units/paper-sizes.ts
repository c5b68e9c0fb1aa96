import { MM_PER_INCH } from './constants.js';
import { InputError } from './input-error.js';
import { nearNames } from './near-names.js';
import { quote } from './quote.js';
import { rounded } from './round.js';
import { parseSides } from './sides.js';

/** A size of paper. Named papers stand upright (`widthMm <= heightMm`); others are as they were written. */
export interface Paper {
  readonly name: string;
  readonly widthMm: number;
  readonly heightMm: number;
}

/** Sides of a paper that a person gives by its size, mm: less is no page, more than 200 in no PDF reader takes (PDF Reference 1.7, app. C). */
export const PAPER_SIDE_MM = { min: 50, max: 5080 } as const;

/** Sizes 0 to 10 of a series. */
const LAST_SIZE = 10;

/**
 * The papers known by name: ISO 216 A and B, JIS P 0138 B, ASME Y14.1 A to F, and the American office sizes. The metric series are
 * halved from size 0 in whole mm, as the standards do; their formula, rounded, gives other sizes.
 */
export const PAPERS: readonly Paper[] = [
  ...halvedSeries('A', 841, 1189),
  ...halvedSeries('B', 1000, 1414),
  ...halvedSeries('JIS B', 1030, 1456),
  inchPaper('Letter', 8.5, 11),
  inchPaper('Legal', 8.5, 14),
  inchPaper('Tabloid', 11, 17),
  inchPaper('ASME A', 8.5, 11),
  inchPaper('ASME B', 11, 17),
  inchPaper('ASME C', 17, 22),
  inchPaper('ASME D', 22, 34),
  inchPaper('ASME E', 34, 44),
  inchPaper('ASME F', 28, 40),
];

/** Whether a paper is one of the American sizes (Letter and its kin, ASME's drawing sheets). */
export function isAmericanPaper({ name }: Paper): boolean {
  return /^(?:Letter|Legal|Tabloid|ASME)/.test(name);
}

/** Names that people use beside those of the list. */
const OTHER_NAMES: ReadonlyMap<string, string> = new Map([
  ['ledger', 'Tabloid'],
  ['usletter', 'Letter'],
  ['uslegal', 'Legal'],
]);

/**
 * The paper of a name (`A4`, `JIS B4`, `Letter`; case, spaces and hyphens are of no account, and `ANSI C` is `ASME C`), or of a size
 * with a unit (`329mm x 483mm`, `13 x 19 in`). Throws an `InputError` that lists near names, or says what is wrong with the size.
 */
export function findPaper(text: string): Paper {
  const key = nameKey(text);
  if (key === '')
    throw new InputError('The paper is empty: give a name such as "A4" or a size such as "329mm x 483mm".');
  const wanted = OTHER_NAMES.get(key) ?? key;
  const named = PAPERS.find(({ name }) => nameKey(name) === nameKey(wanted));
  if (named !== undefined) return named;
  if (/\d\D*[x×*]\D*\d/i.test(text)) return customPaper(text);
  const near = nearNames(
    text,
    PAPERS.map(({ name }) => name),
  );
  const hint =
    near.length > 0 ? `did you mean ${near.join(', ')}?` : 'known are A0 to A10, B0 to B10, JIS B0 to JIS B10,';
  const rest = near.length > 0 ? 'Else give' : 'Letter, Legal, Tabloid and ASME A to F; else give';
  throw new InputError(`There is no paper named ${quote(text)}: ${hint} ${rest} a size such as "329mm x 483mm".`);
}

/** The smallest paper (by area) that takes a sheet of the given size whole, upright or on its side; null where none does. */
export function smallestPaper(widthMm: number, heightMm: number, candidates: readonly Paper[] = PAPERS): Paper | null {
  const [short, long] = [Math.min(widthMm, heightMm), Math.max(widthMm, heightMm)];
  let best: Paper | null = null;
  for (const paper of candidates) {
    if (Math.min(paper.widthMm, paper.heightMm) < short || Math.max(paper.widthMm, paper.heightMm) < long) continue;
    if (best === null || paper.widthMm * paper.heightMm < best.widthMm * best.heightMm) best = paper;
  }
  return best;
}

function halvedSeries(letter: string, widthMm: number, heightMm: number): Paper[] {
  const papers: Paper[] = [];
  let [w, h] = [widthMm, heightMm];
  for (let n = 0; n <= LAST_SIZE; n++) {
    papers.push({ name: `${letter}${n}`, widthMm: w, heightMm: h });
    [w, h] = [Math.floor(h / 2), w];
  }
  return papers;
}

function inchPaper(name: string, widthIn: number, heightIn: number): Paper {
  return { name, widthMm: widthIn * MM_PER_INCH, heightMm: heightIn * MM_PER_INCH };
}

function nameKey(text: string): string {
  return text
    .trim()
    .toLowerCase()
    .replaceAll(/[\s_-]+/g, '')
    .replace(/^ansi(?=[a-f]$)/, 'asme');
}

function customPaper(text: string): Paper {
  const sides = parseSides(text);
  if (sides === null) {
    throw new InputError(
      `The paper ${quote(text)} needs two sides: write a width and a height such as "329mm x 483mm".`,
    );
  }
  const [widthMm, heightMm] = sides;
  for (const mm of [widthMm, heightMm]) {
    if (mm < PAPER_SIDE_MM.min || mm > PAPER_SIDE_MM.max) {
      throw new InputError(
        `The paper ${quote(text)} has a side of ${rounded(mm, 2)} mm: it must be from ${PAPER_SIDE_MM.min} to ${PAPER_SIDE_MM.max} mm.`,
      );
    }
  }
  return { name: `${rounded(widthMm, 2)} × ${rounded(heightMm, 2)} mm`, widthMm, heightMm };
}
