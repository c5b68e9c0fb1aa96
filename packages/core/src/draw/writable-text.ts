import { missingCharacters } from './text.js';
import type { FontMetrics } from './types.js';

/** Stands for a character that the font lacks; the plain one where the font lacks this as well. */
const REPLACEMENT = '\ufffd';
const PLAIN_REPLACEMENT = '?';

/** A text as it can be written, and how many of its characters had to be replaced. */
export interface WritableText {
  readonly text: string;
  readonly replaced: number;
}

/** The text in one line with every character that the bundled font lacks replaced by one mark each. Accents are put together with their letters first. */
export function writableText(text: string, font: FontMetrics): WritableText {
  const composed = text.normalize('NFC').replace(/\s+/g, ' ').trim();
  const missing = new Set(missingCharacters(composed, font));
  const mark = missingCharacters(REPLACEMENT, font).length === 0 ? REPLACEMENT : PLAIN_REPLACEMENT;
  const characters = [...composed];
  const replaced = characters.filter((c) => missing.has(c)).length;
  return { text: characters.map((c) => (missing.has(c) ? mark : c)).join(''), replaced };
}

/** What to say of replaced characters; nothing where there are none. */
export function replacedWords(what: string, { text, replaced }: WritableText): string[] {
  if (replaced === 0) return [];
  const mark = text.includes(REPLACEMENT) ? REPLACEMENT : PLAIN_REPLACEMENT;
  const [characters, show] = replaced === 1 ? ['1 character', 'shows'] : [`${replaced} characters`, 'show'];
  return [`${characters} of the ${what} can't be written in this font and ${show} as ${mark}.`];
}
