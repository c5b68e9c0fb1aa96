import type { Finding, Severity } from '@okuri/core';
import { inVoice } from '@okuri/core';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { namesOfFindings } from '../marks/sheet-places';
import { goToFinding } from '../state/go-to-finding';
import { STEP_WORDS, type StepId } from '../state/steps';
import type { StudioState } from '../state/studio';
import { useStudio } from '../state/use-studio';
import { SEVERITY_WORDS } from '../words/severity';
import { stencilIndex } from '../words/stencils';
import { InParts } from './in-parts';

const ORDER: readonly Severity[] = ['stop', 'fix', 'look', 'note'];

/** Findings, grouped, the worst first; choosing one takes the view there. With `step`, those that are settled in that step. */
export function FindingList({ step }: { readonly step?: StepId }) {
  const { studio, state } = useStudio();
  const all = state.checked?.findings ?? [];
  const names = useNames();
  const shown = all
    .map((finding, place) => ({ finding, place }))
    .filter(({ finding }) => step === undefined || finding.topic === step);
  if (shown.length === 0) return <p class="findings-none">{noneWords(state, step)}</p>;
  return (
    <div class={state.stale ? 'findings findings-stale' : 'findings'} aria-busy={state.stale}>
      {ORDER.map((severity) => {
        const own = shown.filter(({ finding }) => finding.severity === severity);
        if (own.length === 0) return null;
        const { many, sign } = SEVERITY_WORDS[severity];
        return (
          <section key={severity} class={`findings-${severity}`}>
            <h4>
              <span aria-hidden="true">{sign}</span> {many} ({own.length})
            </h4>
            <InParts things={own} what="findings" shown={own.findIndex(({ place }) => place === state.finding)}>
              {({ finding, place }) => (
                <li key={place}>
                  <FindingLine
                    finding={finding}
                    step={step === undefined ? STEP_WORDS[finding.topic].name : null}
                    chosen={state.finding === place}
                    onChoose={() => goToFinding(studio, place)}
                    name={names.get(place) ?? null}
                  />
                </li>
              )}
            </InParts>
          </section>
        );
      })}
    </div>
  );
}

/** What stands in place of findings. What was measured has a verdict of its own, which nothing here may belie. */
function noneWords({ checked, history }: StudioState, step: StepId | undefined): string {
  if (checked === null) return 'Not worked out yet.';
  if (step !== 'squaring') return 'Nothing to mend here.';
  const isMeasured = Object.keys(history.present.measured ?? {}).length > 0;
  return isMeasured ? 'What the measurements tell, and what to do, stands above.' : 'Nothing was measured yet.';
}

interface FindingLineProps {
  readonly finding: Finding;
  /** The step in which it is settled, where that is not plain from where the line stands. */
  readonly step: string | null;
  /** How its place is called on the sheet. */
  readonly name: string | null;
  readonly chosen: boolean;
  readonly onChoose: () => void;
}

function FindingLine({ finding, step, name, chosen, onChoose }: FindingLineProps) {
  const line = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    // Chosen over the picture: the list follows. One that was chosen in a list is in sight.
    if (chosen && document.activeElement?.closest('.findings') == null) {
      line.current?.scrollIntoView({ block: 'nearest' });
    }
  }, [chosen]);
  const words = (
    <>
      {name !== null && <strong>{name} </strong>}
      {step !== null && <span class="finding-step">{step}: </span>}
      {inVoice(finding, 'window')}
    </>
  );
  if (finding.atMm === null) return <p class="finding">{words}</p>;
  return (
    <button ref={line} type="button" class="finding" aria-pressed={chosen} onClick={onChoose}>
      {words}
    </button>
  );
}

/** By place in the list of findings, how their places are called on the sheet at hand. */
function useNames(): ReadonlyMap<number, string> {
  const { checked, stencil } = useStudio().state;
  return useMemo(() => {
    const sheet = checked?.sheets[stencilIndex(checked.sheets, stencil)];
    return checked === null || sheet === undefined ? new Map() : namesOfFindings(sheet, checked.findings);
  }, [checked, stencil]);
}
