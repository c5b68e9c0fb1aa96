import { useEffect, useRef, useState } from 'preact/hooks';
import { useThreads } from '../engine/use-engine';
import { keyOf } from '../state/job-keys';
import type { Opened } from '../state/open-files';
import type { Project } from '../state/project';
import { useStudio } from '../state/use-studio';
import { saveAsFiles } from './save-as-files';
import { takeOpened } from './take-opened';

/** Asks before a job that was named at the start takes the place of other work at hand. */
export function HandedQuestion({ handed }: { readonly handed: Opened | null }) {
  const { studio } = useStudio();
  const { client } = useThreads();
  const [asks, setAsks] = useState(handed);
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => {
    if (asks !== null && dialog.current?.open === false) dialog.current.showModal();
  }, [asks]);
  if (asks === null) return null;
  const open = (): void => {
    setAsks(null);
    takeOpened(studio, asks);
    studio.set({ said: 'What was at hand before is one undo away, until this window is closed.' });
  };
  return (
    <dialog ref={dialog} class="question" aria-labelledby="handed-title" onCancel={() => setAsks(null)}>
      <h2 id="handed-title">
        Open “{titleOf(asks.project)}”, and put “{titleOf(studio.project)}” away?
      </h2>
      <p>This browser keeps one piece of work at hand. Save it as files to have it for later.</p>
      <div class="question-row">
        <button
          type="button"
          onClick={() => {
            void saveAsFiles(studio, client).then(open);
          }}
        >
          <strong>Save what is at hand, then open</strong>
        </button>
        <button type="button" onClick={open}>
          <strong>Open</strong>
        </button>
        <button type="button" onClick={() => setAsks(null)}>
          <strong>Stay with what is at hand</strong>
        </button>
      </div>
    </dialog>
  );
}

function titleOf({ jobText, motif }: Project): string {
  return String(keyOf(jobText, ['title']) ?? motif.name);
}
