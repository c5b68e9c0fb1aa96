/** The input can't be used. The message is one sentence for a person: what, where, and what to do. */
export class InputError extends Error {
  override readonly name = 'InputError';
}
