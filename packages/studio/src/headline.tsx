import { useEffect } from 'preact/hooks';
import { OpenButton } from './open/open-button';
import { SaveButton } from './open/save-button';
import { UnitsChoice } from './open/units-choice';
import { keyOf } from './state/job-keys';
import type { Studio } from './state/studio';
import { useStudio } from './state/use-studio';

/** The job's name, and what can be done to the whole of it. */
export function Headline() {
  const { studio, state } = useStudio();
  useUndoKeys(studio);
  const { past, future, present } = state.history;
  const title = String(keyOf(present.jobText, ['title']) ?? present.motif.name);
  return (
    <header class="headline">
      <h1>
        <span class="wordmark">Okuri</span> <span class="job-title">{title}</span>
      </h1>
      <div class="headline-actions">
        <OpenButton />
        <SaveButton />
        <button type="button" disabled={past.length === 0} onClick={() => studio.undo()}>
          Undo
        </button>
        <button type="button" disabled={future.length === 0} onClick={() => studio.redo()}>
          Redo
        </button>
        <UnitsChoice />
      </div>
    </header>
  );
}

/** Ctrl+Z and Ctrl+Shift+Z (Ctrl+Y), or with the command key. In a line that is being typed in they are the line's own. */
function useUndoKeys(studio: Studio): void {
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => {
      const { target, key } = event;
      if (!(event.ctrlKey || event.metaKey) || event.altKey || document.querySelector('dialog[open]') !== null) return;
      if (target instanceof HTMLInputElement && target.dataset.typed === 'true') return;
      const pressed = key.toLowerCase();
      if (pressed === 'z' && !event.shiftKey) studio.undo();
      else if (pressed === 'y' || pressed === 'z') studio.redo();
      else return;
      event.preventDefault();
    };
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [studio]);
}
