/** How the engine's sentences name what is typed after a command, and what there is in a window instead. */
const PHRASES: readonly (readonly [RegExp, string])[] = [
  [/with --points/g, 'on the picture'],
  [/, or photograph it on a sheet of known size and give --points and --apart/g, ''],
  [/and give --offset/g, 'and type it into the list'],
  [/or say --speck with a smaller area/g, 'or make the limit for specks smaller'],
];

/** A sentence of the engine as a person without a command line can follow it. */
export function inWindow(sentence: string): string {
  return PHRASES.reduce((text, [phrase, here]) => text.replace(phrase, here), sentence);
}
