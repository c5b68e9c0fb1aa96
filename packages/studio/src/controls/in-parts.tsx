import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

/** So many lines are shown at once: a busy sheet has thousands, and the window would stand still over them. */
const PART = 60;

export interface InPartsProps<T> {
  readonly things: readonly T[];
  /** What they are, for the words of the button. */
  readonly what: string;
  /** One `li` for a thing, with its key. */
  readonly children: (thing: T) => ComponentChildren;
  readonly class?: string;
  /** Place of a thing that has to be among those shown; -1 for none. */
  readonly shown?: number;
}

/** A list, the first of it at once and more when asked for. */
export function InParts<T>({ things, what, children, class: name, shown = -1 }: InPartsProps<T>) {
  const [asked, setMost] = useState(PART);
  const most = Math.max(asked, PART * Math.ceil((shown + 1) / PART));
  const more = Math.min(PART, things.length - most);
  return (
    <>
      <ul class={name}>{things.slice(0, most).map(children)}</ul>
      {more > 0 && (
        <button type="button" class="more" onClick={() => setMost(most + PART)}>
          Show {more} more of {things.length} {what}
        </button>
      )}
    </>
  );
}
