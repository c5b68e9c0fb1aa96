import { useStudio } from '../state/use-studio';

export interface TieToolsProps {
  /** How many are suggested. */
  readonly open: number;
  readonly onAcceptAll: () => void;
}

/** What is done about ties as a whole, and the pen that draws one. */
export function TieTools({ open, onAcceptAll }: TieToolsProps) {
  const { studio, state } = useStudio();
  const { leftOut, drawnTie } = state;
  return (
    <>
      <div class="tie-tools">
        {open > 1 && (
          <button type="button" onClick={onAcceptAll}>
            Accept all {open} suggested ties
          </button>
        )}
        {leftOut.size > 0 && (
          <button type="button" onClick={() => studio.set({ leftOut: new Set() })}>
            Show those left out again
          </button>
        )}
        <button
          type="button"
          aria-pressed={drawnTie !== null}
          onClick={() =>
            studio.set({
              drawnTie: drawnTie === null ? { from: null } : null,
              tie: null,
              ...(state.view === 'pages' ? { view: 'sheet' as const } : {}),
            })
          }
        >
          Draw a tie
        </button>
      </div>
      {drawnTie !== null && (
        <p class="fact" role="status">
          {drawnTie.from === null
            ? 'Press on the paper where the tie begins, on one bank of the opening.'
            : 'Now press on the other bank, where it ends.'}{' '}
          Escape, or Draw a tie once more, gives up.
        </p>
      )}
    </>
  );
}
