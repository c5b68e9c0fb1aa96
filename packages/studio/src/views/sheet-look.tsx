import type { SheetLook } from '../state/studio';
import { useStudio } from '../state/use-studio';

const LOOKS: readonly { readonly look: SheetLook; readonly word: string }[] = [
  { look: 'cut', word: 'As it is cut' },
  { look: 'print', word: 'Print over plan' },
  { look: 'map', word: 'Proof map' },
];

/** What of the sheet lies on the table; there is a choice in the step Proof. */
export function SheetLookChoice() {
  const { studio, state } = useStudio();
  const { view, step, sheetLook, proof } = state;
  if (view !== 'sheet' || step !== 'proof') return null;
  return (
    <fieldset class="view-choice sheet-look">
      <legend class="unseen">What of the sheet lies on the table</legend>
      {LOOKS.map(({ look, word }) => (
        <button
          key={look}
          type="button"
          aria-pressed={sheetLook === look}
          disabled={look === 'print' && proof.compared === null}
          onClick={() => studio.set({ sheetLook: look })}
        >
          {word}
        </button>
      ))}
    </fieldset>
  );
}
