import { type Colour, InputError } from '@okuri/core';

/** The three channels of `#rrggbb`, 0 to 255. Throws an `InputError` for any other text. */
export function colourChannels(colour: Colour): readonly [red: number, green: number, blue: number] {
  if (!/^#[0-9a-f]{6}$/i.test(colour)) {
    throw new InputError(`The colour "${colour}" can't be drawn; write it as # and six hexadecimal digits.`);
  }
  const value = Number.parseInt(colour.slice(1), 16);
  return [value >> 16, (value >> 8) & 255, value & 255];
}

/** The colour in lower case, checked. */
export function checkedColour(colour: Colour): Colour {
  colourChannels(colour);
  return colour.toLowerCase();
}
