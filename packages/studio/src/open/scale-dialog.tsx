import { InputError, inVoice, type Point } from '@okuri/core';
import { looksUnmeasured } from '@okuri/scan';
import { useEffect, useRef, useState } from 'preact/hooks';
import { Field } from '../controls/field';
import { useThreads } from '../engine/use-engine';
import { PLACES, readScaleAnswer, type ScaleTexts, type ScaleWay } from '../scan/read-scale';
import { PLAIN_SCAN } from '../scan/settings';
import type { ScaleQuestion } from '../state/scale-asked';
import { useStudio } from '../state/use-studio';
import { PicturePlaces } from './picture-places';
import { tryOpened } from './use-open';

const WAYS: readonly { readonly way: ScaleWay; readonly label: string; readonly hint: string }[] = [
  { way: 'resolution', label: 'the scanner’s resolution', hint: 'as it was set when the scan was made' },
  { way: 'width', label: 'how wide the whole picture is on paper', hint: 'from its left edge to its right' },
  { way: 'ruler', label: 'two places and the length between them', hint: 'of a ruler that lies in the picture' },
  {
    way: 'dots',
    label: 'four dots drawn round the drawing',
    hint: 'found by themselves; a slanting view is set right',
  },
  { way: 'points', label: 'four places that I point out', hint: 'dots, or the corners of the paper' },
];

const CORNERS = ['upper left', 'upper right', 'lower right', 'lower left'] as const;

/** What one way asks for, line by line. */
const LINES: Readonly<Record<ScaleWay, readonly { readonly name: keyof ScaleTexts; readonly label: string }[]>> = {
  resolution: [{ name: 'dpi', label: 'Dots an inch' }],
  width: [{ name: 'width', label: 'Width of the picture' }],
  ruler: [{ name: 'length', label: 'Length between the two places' }],
  dots: [
    { name: 'across', label: 'Distance of the dots across' },
    { name: 'down', label: 'Distance of the dots down' },
  ],
  points: [
    { name: 'across', label: 'Distance of the places across' },
    { name: 'down', label: 'Distance of the places down' },
  ],
};

/** Asks for the scale of a scan whose file states none that was measured. */
export function ScaleDialog() {
  const { state } = useStudio();
  const { scaleAsked } = state;
  if (scaleAsked === null) return null;
  return <AskedScale key={scaleAsked.opened?.project.motif.name ?? ''} question={scaleAsked} />;
}

function AskedScale({ question }: { readonly question: ScaleQuestion }) {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const dialog = useRef<HTMLDialogElement>(null);
  const { opened, statedDpi, widthPx, heightPx } = question;
  const picture = opened?.project.motif ?? studio.project.motif;
  const [way, setWay] = useState<ScaleWay>('resolution');
  const [texts, setTexts] = useState<ScaleTexts>({
    dpi: statedDpi === null ? '' : String(statedDpi),
    width: '',
    across: '',
    down: '',
    length: '',
  });
  const [places, setPlaces] = useState<readonly Point[]>([]);
  const [fault, setFault] = useState<string | null>(null);
  const [busy, setBusy] = useState(false);
  useEffect(() => {
    if (dialog.current?.open === false) dialog.current.showModal();
  }, []);
  const leave = (): void => studio.set({ scaleAsked: null });
  const take = async (): Promise<void> => {
    setFault(null);
    try {
      const scale = readScaleAnswer(way, texts, { places, units: state.units });
      if (opened === null) {
        studio.traceBy({ scale });
        leave();
        return;
      }
      setBusy(true);
      await tryOpened(studio, client, {
        ...opened,
        project: { ...opened.project, scan: { ...PLAIN_SCAN, ...opened.project.scan, scale } },
      });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setFault(inVoice(error, 'window'));
    } finally {
      setBusy(false);
    }
  };
  const count = PLACES[way];
  return (
    <dialog ref={dialog} class="question scale-question" aria-labelledby="scale-title" onCancel={leave}>
      <form
        onSubmit={(event) => {
          event.preventDefault();
          void take();
        }}
      >
        <h2 id="scale-title" tabIndex={-1} autofocus>
          How large is {picture.name}?
        </h2>
        <p>
          {statedWords(statedDpi)}, and the picture is {widthPx} × {heightPx} pixels. Say one of these:
        </p>
        <div class={count > 0 ? 'scale-answer scale-answer-picture' : 'scale-answer'}>
          <div>
            <fieldset class="field choice">
              <legend class="unseen">What you know</legend>
              <div class="choice-row">
                {WAYS.map((one) => (
                  <label key={one.way} class="choice-one">
                    <input
                      type="radio"
                      name="scale-way"
                      checked={one.way === way}
                      onChange={() => {
                        setWay(one.way);
                        setPlaces([]);
                        setFault(null);
                      }}
                    />
                    <span>
                      {one.label}
                      <small>{one.hint}</small>
                    </span>
                  </label>
                ))}
              </div>
            </fieldset>
            {LINES[way].map(({ name, label }) => (
              <Field key={name} label={label}>
                {({ id }) => (
                  <input
                    id={id}
                    type="text"
                    autocomplete="off"
                    value={texts[name]}
                    onInput={(event) => setTexts({ ...texts, [name]: event.currentTarget.value })}
                  />
                )}
              </Field>
            ))}
          </div>
          {count > 0 && (
            <PicturePlaces
              picture={picture}
              names={count === 2 ? ['the first place', 'the second place'] : CORNERS}
              places={places}
              onPlaces={setPlaces}
            />
          )}
        </div>
        {fault !== null && (
          <p class="field-fault" role="alert">
            {fault}
          </p>
        )}
        <div class="question-row">
          <button type="submit" disabled={busy}>
            <strong>{busy ? 'Tracing …' : 'Lay it on the table'}</strong>
          </button>
          <button type="button" onClick={busy ? () => client.stopTrying() : leave}>
            <strong>{busy ? 'Stop' : 'Leave it'}</strong>
          </button>
        </div>
      </form>
    </dialog>
  );
}

function statedWords(dpi: number | null): string {
  if (dpi === null) return 'The file states no resolution';
  const doubt = looksUnmeasured({ across: dpi, down: dpi, unit: 'inch' })
    ? ', which many programs write without having measured'
    : '';
  return `The file states ${dpi} dpi${doubt}`;
}
