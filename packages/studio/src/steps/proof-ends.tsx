import type { ProofOffset } from '@okuri/core';
import type { FirstCutEnd, ProofSheet, SheetJoin } from '@okuri/core/inside';
import { useEffect, useRef } from 'preact/hooks';
import { InParts } from '../controls/in-parts';
import { TypedField } from '../controls/typed-field';
import { keptOffsets, noOffsetsEdit, typedEdit } from '../state/proof-edits';
import { useStudio } from '../state/use-studio';
import { offsetText, readOffset } from '../words/offsets';
import { endWords, isMeasurable, plannedWords } from '../words/proof';
import { useSheetJob } from './use-job';

const AROUND_MM = 24;

/** Every end at which a proof is measured: what the scan showed, and the offset that the job keeps, to be typed as well. */
export function ProofEnds({ of, measured }: { readonly of: ProofSheet; readonly measured: readonly ProofOffset[] }) {
  const { studio, state } = useStudio();
  const job = useSheetJob();
  if (job === null) return null;
  const { ends } = of;
  const all: readonly (SheetJoin | FirstCutEnd)[] = [...ends.joins, ...ends.firstCutEnds];
  const kept = keptOffsets(job, of);
  const shown = new Map(measured.map((one) => [one.name, one]));
  return (
    <>
      <h3>Offsets at the ends</h3>
      {all.length === 0 ? (
        <p class="fact">Nothing is held back on this sheet: it has no second cut.</p>
      ) : (
        <>
          <p class="fact">
            Along the seam (or the stop), above zero down or to the right. {kept.size} of {all.length} are kept in the
            job.
            {kept.size > 0 && (
              <>
                {' '}
                <button
                  type="button"
                  onClick={() => {
                    const { path, value } = noOffsetsEdit(job, of);
                    studio.edit(path, value);
                  }}
                >
                  Take all of them out
                </button>
              </>
            )}
          </p>
          <InParts
            things={all}
            what="ends"
            class="proof-ends"
            shown={all.findIndex(({ name }) => name === state.proofEnd)}
          >
            {(end) => (
              <EndLine
                key={end.name}
                end={end}
                of={of}
                measured={shown.get(end.name) ?? null}
                kept={kept.get(end.name) ?? null}
              />
            )}
          </InParts>
        </>
      )}
    </>
  );
}

interface EndLineProps {
  readonly end: SheetJoin | FirstCutEnd;
  readonly of: ProofSheet;
  readonly measured: ProofOffset | null;
  readonly kept: ProofOffset | null;
}

function EndLine({ end, of, measured, kept }: EndLineProps) {
  const { studio, state } = useStudio();
  const job = useSheetJob();
  const { units, proof, proofEnd } = state;
  const line = useRef<HTMLLIElement>(null);
  const isChosen = proofEnd === end.name;
  useEffect(() => {
    // Chosen on the picture: the list follows.
    if (isChosen && line.current?.contains(document.activeElement) === false) {
      line.current.scrollIntoView({ block: 'nearest' });
    }
  }, [isChosen]);
  if (job === null) return null;
  const name = isChosen ? 'proof-end proof-end-chosen' : 'proof-end';
  const go = (): void => {
    const overPrint = proof.compared !== null;
    studio.set({
      view: 'sheet',
      sheetLook: overPrint ? 'print' : 'cut',
      proofEnd: end.name,
      goTo: { view: 'sheet', at: overPrint && 'lead' in end ? end.lead : end.at, widthMm: AROUND_MM },
    });
  };
  const words = endWords(end, of.sheet, units);
  if ('seam' in end && !isMeasurable(end)) {
    return (
      <li class={name} ref={line}>
        <p>
          <strong>{end.name}</strong> {words}: {plannedWords(end)}
        </p>
      </li>
    );
  }
  const shown = measured === null ? 'not measured' : `measured ${offsetText(measured.offsetMm, units)}`;
  const hint = kept === null || kept.place !== null ? shown : `${shown}; typed by hand`;
  return (
    <li class={name} ref={line}>
      <button type="button" class="end-go" aria-label={`Go to ${end.name}`} onClick={go}>
        {end.name}
      </button>
      <TypedField
        label={`${end.name}, ${words}`}
        hint={hint}
        value={kept === null ? '' : offsetText(kept.offsetMm, units)}
        read={(text) => readOffset(text, units)}
        onChange={(offsetMm) => {
          const { path, value } = typedEdit(job, of, end.name, offsetMm);
          studio.edit(path, value);
        }}
      />
    </li>
  );
}
