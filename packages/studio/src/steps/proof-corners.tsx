import type { Point } from '@okuri/core';
import { useRef, useState } from 'preact/hooks';
import { compareAgain } from '../engine/prove';
import { useThreads } from '../engine/use-engine';
import { PicturePlaces } from '../open/picture-places';
import type { ArtworkFile } from '../state/project';
import { useStudio } from '../state/use-studio';

const NAMES = ['the upper left dot', 'the upper right dot', 'the lower right dot', 'the lower left dot'] as const;

/** Points the four corner dots out on the picture, where they are not found by themselves. */
export function ProofCorners({ picture }: { readonly picture: ArtworkFile }) {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const dialog = useRef<HTMLDialogElement>(null);
  const [open, setOpen] = useState(false);
  const [places, setPlaces] = useState<readonly Point[]>([]);
  const { corners } = state.proof.how;
  const close = (): void => {
    dialog.current?.close();
    setOpen(false);
  };
  const show = (): void => {
    setPlaces(corners ?? []);
    setOpen(true);
    dialog.current?.showModal();
  };
  return (
    <div class="proof-corners">
      <button type="button" onClick={show}>
        Point out the corner dots …
      </button>
      {corners !== null && (
        <button type="button" onClick={() => compareAgain(studio, client, { corners: null })}>
          Have them found again
        </button>
      )}
      <dialog
        ref={dialog}
        class="question scale-question"
        aria-labelledby="corners-title"
        onClose={() => setOpen(false)}
      >
        <h2 id="corners-title" tabIndex={-1} autofocus>
          Where are the corner dots of the print?
        </h2>
        {open && <PicturePlaces picture={picture} names={NAMES} places={places} onPlaces={setPlaces} />}
        <div class="question-row">
          <button
            type="button"
            disabled={places.length < NAMES.length}
            onClick={() => {
              close();
              compareAgain(studio, client, { corners: places });
            }}
          >
            <strong>Lay the print by these</strong>
          </button>
          <button type="button" onClick={close}>
            <strong>Leave it</strong>
          </button>
        </div>
      </dialog>
    </div>
  );
}
