/** Longest piece of a person's own input that a sentence repeats, characters. */
const QUOTE_MAX = 40;

/** A person's own input in quotes for a sentence, shortened where it is long. */
export function quote(text: string): string {
  const characters = [...text];
  return JSON.stringify(characters.length > QUOTE_MAX ? `${characters.slice(0, QUOTE_MAX).join('')}…` : text);
}
