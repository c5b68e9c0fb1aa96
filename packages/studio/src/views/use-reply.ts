import { useEffect, useState } from 'preact/hooks';
import { GivenUp } from '../engine/client';
import { isRefusal, type Refusal } from '../engine/protocol';

/** What the engine answered: nothing yet, a sentence why not, or the answer (of an older state while `late`). */
export interface Reply<T> {
  readonly value: T | null;
  readonly refused: string | null;
  readonly late: boolean;
}

/** Asks the engine anew whenever one of `about` changes; null for `ask` asks nothing. */
export function useReply<T extends object>(
  ask: (() => Promise<T | Refusal>) | null,
  about: readonly unknown[],
): Reply<T> {
  const [reply, setReply] = useState<Reply<T>>({ value: null, refused: null, late: true });
  useEffect(() => {
    let gone = false;
    setReply((before) => ({ ...before, late: true }));
    if (ask === null) return;
    ask().then(
      (answer) => {
        if (gone) return;
        if (isRefusal(answer)) setReply({ value: null, refused: answer.refused, late: false });
        else setReply({ value: answer, refused: null, late: false });
      },
      (error) => {
        if (gone || error instanceof GivenUp) return;
        const message = error instanceof Error ? error.message : String(error);
        setReply({ value: null, refused: `A fault of the program, not of your drawing (${message}).`, late: false });
      },
    );
    return () => {
      gone = true;
    };
  }, about);
  return reply;
}
