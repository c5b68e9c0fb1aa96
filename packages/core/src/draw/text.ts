import type { FaceMetrics, FontMetrics } from './types.js';

/** How a line of text is set. `sizeMm` is the em size; regular unless `bold`. */
export interface TextStyle {
  readonly sizeMm: number;
  readonly bold?: boolean;
}

/** Drawn by the writers for a character that the font lacks. */
const REPLACEMENT_CODE_POINT = 0xfffd;

/** Stands at the end of a text that was shortened. */
const ELLIPSIS = '…';

/** Slack of a fit, mm: the rounding of a sum of advances, far below what can be seen. */
const FIT_SLACK_MM = 1e-9;

/**
 * Length of one line of text along its baseline, mm: the sum of its advances, with neither kerning nor ligatures, as all writers
 * set it. A character that the font lacks counts as the replacement character. Empty text is 0 long.
 */
export function textWidthMm(text: string, style: TextStyle, font: FontMetrics): number {
  const face = faceOf(style, font);
  let units = 0;
  for (const character of text) units += advance(character, face);
  return (units * style.sizeMm) / face.unitsPerEm;
}

/**
 * The text itself where it fits into `widthMm`, else as much of its beginning as fits with `…` after it. Where not even one
 * character and the `…` fit, nothing (the empty text).
 */
export function fitText(text: string, widthMm: number, style: TextStyle, font: FontMetrics): string {
  if (textWidthMm(text, style, font) <= widthMm + FIT_SLACK_MM) return text;
  const characters = [...text];
  for (let n = characters.length - 1; n > 0; n--) {
    const shortened = characters.slice(0, n).join('').trimEnd() + ELLIPSIS;
    if (textWidthMm(shortened, style, font) <= widthMm + FIT_SLACK_MM) return shortened;
  }
  return '';
}

/**
 * Splits a text into lines no longer than `widthMm`, at spaces; line breaks in the text are kept. A word that is longer than a
 * line is broken between characters, and a line holds at least one character however narrow it is. Text without any word gives no line.
 */
export function wrapText(text: string, widthMm: number, style: TextStyle, font: FontMetrics): string[] {
  if (text.trim() === '') return [];
  return text.split(/\r\n|\r|\n/).flatMap((line) => wrapLine(line, widthMm, style, font));
}

/** What each of several widths may be at most so that together they take no more than a room: the smallest stay, what is left is shared evenly by the others. */
export function evenMost(widths: readonly number[], room: number): number {
  let left = room;
  let most = 0;
  widths
    .toSorted((a, b) => a - b)
    .forEach((width, k) => {
      most = Math.max(0, left) / (widths.length - k);
      left -= Math.min(width, most);
    });
  return most;
}

/** The lines of a text, at most so many: of a longer text the last one is shortened. */
export function wrapAtMost(
  text: string,
  widthMm: number,
  { most, ...style }: TextStyle & { readonly most: number },
  font: FontMetrics,
): string[] {
  const lines = wrapText(text, widthMm, style, font);
  if (lines.length <= most) return lines;
  return [...lines.slice(0, most - 1), fitText(lines.slice(most - 1).join(' '), widthMm, style, font)];
}

/** The distinct characters of a text that the regular or the bold face lacks, in the order of the text; line breaks and tabs left out. */
export function missingCharacters(text: string, font: FontMetrics): string[] {
  const missing = new Set<string>();
  for (const character of text) {
    if (/[\r\n\t]/.test(character)) continue;
    const code = character.codePointAt(0) as number;
    if (!font.regular.advances.has(code) || !font.bold.advances.has(code)) missing.add(character);
  }
  return [...missing];
}

function wrapLine(line: string, widthMm: number, style: TextStyle, font: FontMetrics): string[] {
  const fits = (text: string) => textWidthMm(text, style, font) <= widthMm + FIT_SLACK_MM;
  const lines: string[] = [];
  let current = '';
  for (const word of line.split(/[ \t]+/).filter((part) => part !== '')) {
    const longer = current === '' ? word : `${current} ${word}`;
    if (fits(longer)) {
      current = longer;
      continue;
    }
    if (current !== '') lines.push(current);
    const pieces = breakWord(word, fits);
    lines.push(...pieces.slice(0, -1));
    current = pieces[pieces.length - 1];
  }
  return [...lines, current];
}

/** The word in pieces that fit; a piece that is one character is never broken. */
function breakWord(word: string, fits: (text: string) => boolean): string[] {
  const pieces: string[] = [];
  let piece = '';
  for (const character of word) {
    if (piece === '' || fits(piece + character)) piece += character;
    else {
      pieces.push(piece);
      piece = character;
    }
  }
  return [...pieces, piece];
}

function faceOf(style: TextStyle, font: FontMetrics): FaceMetrics {
  return style.bold === true ? font.bold : font.regular;
}

function advance(character: string, { advances }: FaceMetrics): number {
  return advances.get(character.codePointAt(0) as number) ?? advances.get(REPLACEMENT_CODE_POINT) ?? 0;
}
