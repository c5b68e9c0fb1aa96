import { pencilWords } from '@okuri/core/inside';
import { useRef } from 'preact/hooks';
import { NumberField } from '../controls/number-field';
import { TickField } from '../controls/tick-field';
import { compareAgain, compareProof, stopComparing, takeProofPicture } from '../engine/prove';
import { useThreads } from '../engine/use-engine';
import { SCAN_BOUNDS } from '../scan/settings';
import { sameProved } from '../state/proof-state';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';
import { stencilIndex } from '../words/stencils';
import { ProofCorners } from './proof-corners';
import { ProofEnds } from './proof-ends';
import { ProofPapers } from './proof-papers';
import { ProofTold } from './proof-told';

/** The printed proof: how it is printed, what its picture tells, and the second cut that follows it. */
export function ProofStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { checked, stale, proof } = state;
  const stencil = stencilIndex(checked?.sheets ?? [], state.stencil);
  const { value: of, refused } = useReply(
    checked !== null && !stale ? () => client.ask((engine) => engine.proof(stencil)) : null,
    [checked, stale, stencil],
  );
  const { compared } = proof;
  const isOlder = compared !== null && of !== null && !sameProved(compared.of, of);
  return (
    <>
      <p class="fact">
        Before the held margin is cut, the sheet is printed a few times on paper or spare cloth, so that every join is
        seen once. How far the lead edges really lie off then shows, and the second cut is made to meet them.
      </p>
      {refused !== null && <p role="alert">{refused}</p>}
      {of !== null && (
        <>
          <h3>Print the proof</h3>
          <p class="fact">
            {of.map.placements.length} placements show every join.{' '}
            <button type="button" onClick={() => studio.set({ view: 'sheet', sheetLook: 'map' })}>
              Show the proof map
            </button>
          </p>
          {of.map.pencil.length > 0 && <p class="fact">{pencilWords(of.map.pencil)}</p>}
          <ProofPapers papers={['map', 'form']} />
        </>
      )}
      <h3>Its picture</h3>
      <ProofPicture />
      {isOlder && (
        <p class="fact" role="status">
          The sheet has changed since this proof was compared.{' '}
          <button type="button" onClick={() => void compareProof(studio, client)}>
            Compare it once more
          </button>
        </p>
      )}
      {compared !== null && !isOlder && <ProofTold compared={compared} />}
      {of !== null && <ProofEnds of={of} measured={compared !== null && !isOlder ? compared.report.offsets : []} />}
      <h3>The second cut</h3>
      <ProofPapers papers={compared === null || isOlder ? ['strips'] : ['strips', 'report']} />
    </>
  );
}

/** Chooses the scan of the proof, says how it is read, and how far the work is. */
function ProofPicture() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const input = useRef<HTMLInputElement>(null);
  const { picture, how, work, refused } = state.proof;
  const choose = async (files: readonly File[]): Promise<void> => {
    const [file] = files;
    if (file === undefined) return;
    takeProofPicture(studio, client, { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) });
  };
  return (
    <>
      <p class="fact">
        {picture === null
          ? 'Scan one clean print with all of its dots at 300 dpi, or photograph it from straight above. Drop the picture here, or choose it; it stays on this machine.'
          : `${picture.name} is looked at as the proof.`}
      </p>
      <p class="fact">
        <button type="button" disabled={state.checked === null} onClick={() => input.current?.click()}>
          {picture === null ? 'Choose the picture of the proof …' : 'Choose another picture …'}
        </button>
        <input
          ref={input}
          type="file"
          hidden
          aria-label="Picture of the proof"
          accept=".png,.jpg,.jpeg,.webp"
          onChange={(event) => {
            const files = [...(event.currentTarget.files ?? [])];
            event.currentTarget.value = '';
            void choose(files);
          }}
        />
      </p>
      {work !== null && (
        <div class="proof-work" role="status">
          <progress value={work.share} aria-label="How far comparing is" />
          <span>{work.stage} …</span>
          <button type="button" onClick={() => stopComparing(studio)}>
            Stop
          </button>
        </div>
      )}
      {refused !== null && (
        <p class="field-fault" role="alert">
          {refused}
        </p>
      )}
      {picture !== null && work === null && (
        <details class="proof-how">
          <summary>How the picture is read</summary>
          <NumberField
            label="Resolution, dots an inch"
            hint="0 for what the file states; without one the dots alone give the scale."
            value={how.dpi ?? 0}
            least={0}
            most={SCAN_BOUNDS.dpi.most}
            onChange={(dpi) => compareAgain(studio, client, { dpi: dpi === 0 ? null : dpi })}
          />
          <TickField
            label="What is light is the print"
            hint="A resist on dark cloth, or a discharge."
            value={how.light}
            onChange={(light) => compareAgain(studio, client, { light })}
          />
          <ProofCorners picture={picture} />
          <button type="button" onClick={() => void compareProof(studio, client)}>
            Compare once more
          </button>
        </details>
      )}
    </>
  );
}
