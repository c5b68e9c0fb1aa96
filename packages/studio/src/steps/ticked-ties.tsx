import type { TieKind } from '@okuri/core';
import type { ShownTie } from '../marks/ties-shown';

export interface TickedTiesProps {
  readonly shown: readonly ShownTie[];
  /** Those of them that are ticked. */
  readonly marked: readonly ShownTie[];
  readonly mayRelease: boolean;
  readonly onTick: (list: readonly ShownTie[]) => void;
  readonly onAccept: (kind: TieKind | null) => void;
  readonly onLeaveOut: () => void;
  readonly onTakeOut: () => void;
}

/** Several ties changed in one go. */
export function TickedTies({ shown, marked, mayRelease, onTick, onAccept, onLeaveOut, onTakeOut }: TickedTiesProps) {
  return (
    <fieldset class="tie-ticked">
      <legend>
        {marked.length === 0 ? 'Tick ties to change several in one go.' : `The ${marked.length} that are ticked:`}
      </legend>
      <button type="button" onClick={() => onTick(marked.length === shown.length ? [] : shown)}>
        {marked.length === shown.length ? 'Tick none' : 'Tick all'}
      </button>
      {marked.length > 0 && (
        <>
          {marked.some(({ stands }) => !stands) && (
            <>
              <button type="button" onClick={() => onAccept(null)}>
                Accept
              </button>
              <button type="button" onClick={onLeaveOut}>
                Leave out
              </button>
            </>
          )}
          <button type="button" onClick={() => onAccept('printed')}>
            Stand as printed ties
          </button>
          <button type="button" disabled={!mayRelease} onClick={() => onAccept('release')}>
            Stand as release ties
          </button>
          {marked.some(({ stands }) => stands) && (
            <button type="button" onClick={onTakeOut}>
              Take out
            </button>
          )}
        </>
      )}
    </fieldset>
  );
}
