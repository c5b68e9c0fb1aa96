import { Messages, WorkProgress } from '../notice';
import { useDropAndPaste } from '../open/use-open';
import type { ViewName } from '../state/studio';
import { useStudio } from '../state/use-studio';
import { ClothView } from './cloth-view';
import { PagesView } from './pages-view';
import { PrintView, ProofMapView } from './proof-view';
import { SheetLookChoice } from './sheet-look';
import { SheetView } from './sheet-view';

const VIEWS: readonly { readonly name: ViewName; readonly word: string }[] = [
  { name: 'cloth', word: 'Cloth' },
  { name: 'sheet', word: 'Sheet' },
  { name: 'pages', word: 'Pages' },
];

/** The table: one of three views of the job, and how far the work on it is. */
export function Table() {
  const { studio, state } = useStudio();
  const held = useDropAndPaste();
  const look = state.step === 'proof' ? state.sheetLook : 'cut';
  return (
    <main class="table" aria-busy={state.stale && !state.stopped && state.refusal === null}>
      <div class="table-head">
        <fieldset class="view-choice">
          <legend class="unseen">What lies on the table</legend>
          {VIEWS.map(({ name, word }) => (
            <button
              key={name}
              type="button"
              aria-pressed={state.view === name}
              onClick={() => studio.set({ view: name })}
            >
              {word}
            </button>
          ))}
        </fieldset>
        <SheetLookChoice />
        <WorkProgress />
      </div>
      <div class="view">
        {state.view === 'cloth' && <ClothView />}
        {state.view === 'sheet' && look === 'cut' && <SheetView />}
        {state.view === 'sheet' && look === 'print' && <PrintView />}
        {state.view === 'sheet' && look === 'map' && <ProofMapView />}
        {state.view === 'pages' && <PagesView />}
        <Messages />
        {held && (
          <p class="drop-here">
            {state.step === 'proof' ? 'Let go: a picture is taken for the proof' : 'Let go to lay it on the table'}
          </p>
        )}
      </div>
    </main>
  );
}
