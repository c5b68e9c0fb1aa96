import { MM_PER_INCH } from '@okuri/core/inside';
import { useRef, useState } from 'preact/hooks';
import { ChoiceField } from '../controls/choice-field';
import { Field } from '../controls/field';
import { useStudio } from '../state/use-studio';

/** A bank card: ISO/IEC 7810:2019, format ID-1. */
const CARD_MM = { width: 85.6, height: 53.98 } as const;
/** On a ruler 10 cm are enough, and fit on most screens. */
const RULER_MM = 100;
/** CSS takes an inch for 96 px; true screens lie within these factors of that. */
const PX_PER_MM = 96 / MM_PER_INCH;
const FACTORS = { least: 0.4, most: 2.5, step: 0.0025 } as const;

export interface TrueSizeProps {
  /** Shows what lies on the table at so many px a true mm. */
  readonly onShow: (pxPerMm: number) => void;
}

/** Shows things as large as they are. For that the screen is measured once. */
export function TrueSize({ onShow }: TrueSizeProps) {
  const { studio, state } = useStudio();
  const dialog = useRef<HTMLDialogElement>(null);
  const [by, setBy] = useState<'card' | 'ruler'>('card');
  const [pxPerMm, setPxPerMm] = useState(state.screenPxPerMm ?? PX_PER_MM);
  const size = by === 'card' ? CARD_MM : { width: RULER_MM, height: 14 };
  return (
    <>
      <button
        type="button"
        onClick={() => (state.screenPxPerMm === null ? dialog.current?.showModal() : onShow(state.screenPxPerMm))}
      >
        {state.screenPxPerMm === null ? 'True size …' : 'True size'}
      </button>
      {state.screenPxPerMm !== null && (
        <button type="button" onClick={() => dialog.current?.showModal()}>
          Measure the screen anew …
        </button>
      )}
      <dialog ref={dialog} class="question" aria-labelledby="true-size-title">
        <h2 id="true-size-title" tabIndex={-1} autofocus>
          How large is this screen?
        </h2>
        <ChoiceField
          label="Hold to the screen"
          value={by}
          choices={[
            { value: 'card', label: 'a bank card' },
            { value: 'ruler', label: 'a ruler' },
          ]}
          onChange={setBy}
        />
        <div
          class="card-shape"
          style={{ width: `${size.width * pxPerMm}px`, height: `${size.height * pxPerMm}px`, maxWidth: 'none' }}
        />
        <Field
          label={by === 'card' ? 'Slide until the frame is as large as the card' : 'Slide until the bar is 10 cm long'}
        >
          {({ id }) => (
            <input
              id={id}
              type="range"
              min={FACTORS.least}
              max={FACTORS.most}
              step={FACTORS.step}
              value={pxPerMm / PX_PER_MM}
              onInput={(event) => setPxPerMm(Number(event.currentTarget.value) * PX_PER_MM)}
            />
          )}
        </Field>
        <div class="walk">
          <button
            type="button"
            onClick={() => {
              studio.set({ screenPxPerMm: pxPerMm });
              dialog.current?.close();
              onShow(pxPerMm);
            }}
          >
            It fits
          </button>
          <button type="button" onClick={() => dialog.current?.close()}>
            Not now
          </button>
        </div>
      </dialog>
    </>
  );
}
