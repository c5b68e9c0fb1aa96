import type { Said } from './voice.js';

/** The input can't be used. The message is one sentence for a person: what, where, and what to do. */
export class InputError extends Error implements Said {
  override readonly name = 'InputError';
  declare readonly otherwise?: NonNullable<Said['otherwise']>;

  constructor(sentence: string | Said) {
    super(typeof sentence === 'string' ? sentence : sentence.message);
    if (typeof sentence !== 'string' && sentence.otherwise !== undefined) this.otherwise = sentence.otherwise;
  }
}
