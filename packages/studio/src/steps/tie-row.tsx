import type { TieKind } from '@okuri/core';
import { useEffect, useRef } from 'preact/hooks';
import type { ShownTie } from '../marks/ties-shown';

export interface TieRowProps {
  readonly tie: ShownTie;
  /** What is said of it beside its id. */
  readonly words: string;
  readonly astray: boolean;
  readonly chosen: boolean;
  readonly ticked: boolean;
  readonly mayRelease: boolean;
  readonly onTick: (on: boolean) => void;
  readonly onGo: () => void;
  readonly onKind: (kind: TieKind) => void;
  readonly onAccept: () => void;
  readonly onLeaveOut: () => void;
  readonly onTakeOut: () => void;
}

/** One tie of the list, with what can be done with it. */
export function TieRow(props: TieRowProps) {
  const { tie, words, astray, chosen, ticked, mayRelease, onTick, onGo, onKind, onAccept, onLeaveOut, onTakeOut } =
    props;
  const { id, kind, stands } = tie;
  const line = useRef<HTMLLIElement>(null);
  useEffect(() => {
    if (chosen && !line.current?.contains(document.activeElement)) line.current?.scrollIntoView({ block: 'nearest' });
  }, [chosen]);
  return (
    <li ref={line} class={chosen ? 'tie-chosen' : undefined}>
      <input
        type="checkbox"
        aria-label={`Tick tie ${id}`}
        checked={ticked}
        onChange={(event) => onTick(event.currentTarget.checked)}
      />
      <button type="button" class="tie-words" aria-pressed={chosen} onClick={onGo}>
        <strong>{id}</strong> {words}
        {astray && <em> ▲ It finds no two banks there and is left out: move it.</em>}
      </button>
      {stands ? (
        <>
          <select
            aria-label={`Kind of tie ${id}`}
            value={kind}
            onChange={(event) => onKind(event.currentTarget.value as TieKind)}
          >
            <option value="printed">printed</option>
            <option value="release" disabled={!mayRelease}>
              release
            </option>
          </select>
          <button type="button" aria-label={`Take out tie ${id}`} onClick={onTakeOut}>
            Take out
          </button>
        </>
      ) : (
        <>
          <button type="button" aria-label={`Accept tie ${id}`} onClick={onAccept}>
            Accept
          </button>
          <button type="button" aria-label={`Leave out tie ${id}`} onClick={onLeaveOut}>
            Leave out
          </button>
        </>
      )}
    </li>
  );
}
