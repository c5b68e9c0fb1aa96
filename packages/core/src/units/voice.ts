/** Where a sentence is met: typed after a command, in a window, or printed on paper. */
export type Voice = 'command' | 'window' | 'print';

export const VOICES: readonly Voice[] = ['command', 'window', 'print'];

/** A sentence, and how it goes where no command can be typed. */
export interface Said {
  /** As the command says it. */
  readonly message: string;
  /** In a window and on paper, where that is another sentence: it names no command, no option and no key of a file. */
  readonly otherwise?: { readonly window: string; readonly print: string };
}

/** A sentence from what each voice makes of it. */
export function said(make: (voice: Voice) => string): Said {
  const [message, window, print] = [make('command'), make('window'), make('print')];
  return window === message && print === message ? { message } : { message, otherwise: { window, print } };
}

/** A sentence in one voice. */
export function inVoice({ message, otherwise }: Said, voice: Voice): string {
  return voice === 'command' || otherwise === undefined ? message : otherwise[voice];
}
