import { OpenButton } from './open/open-button';
import { SaveButton } from './open/save-button';
import { TrueSize } from './open/true-size';
import { UnitsChoice } from './open/units-choice';
import { useDropAndPaste } from './open/use-open';
import { keyOf } from './state/job-keys';
import { useStudio } from './state/use-studio';

/** The job's name, and what can be done to the whole of it. */
export function Headline() {
  const { studio, state } = useStudio();
  useDropAndPaste(studio);
  const { past, future, present } = state.history;
  const title = String(keyOf(present.jobText, ['title']) ?? present.motif.name);
  return (
    <header class="headline">
      <h1>
        <span class="wordmark">Okuri</span> <span class="job-title">{title}</span>
      </h1>
      <div class="headline-actions">
        <UnitsChoice />
        <TrueSize />
        <OpenButton />
        <SaveButton />
        <button type="button" disabled={past.length === 0} onClick={() => studio.undo()}>
          Undo
        </button>
        <button type="button" disabled={future.length === 0} onClick={() => studio.redo()}>
          Redo
        </button>
      </div>
    </header>
  );
}
