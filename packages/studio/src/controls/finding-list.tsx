import type { Finding, Severity } from '@okuri/core';
import { STEP_WORDS, type StepId, stepOfFinding } from '../state/steps';
import { useStudio } from '../state/use-studio';
import { SEVERITY_WORDS } from '../words/severity';
import { InParts } from './in-parts';

const ORDER: readonly Severity[] = ['stop', 'fix', 'look', 'note'];
/** How much is seen around a finding that one goes to, mm. */
const AROUND_MM = 60;

/** Findings, grouped, the worst first; choosing one takes the view there. With `step`, those that are settled in that step. */
export function FindingList({ step }: { readonly step?: StepId }) {
  const { studio, state } = useStudio();
  const all = state.checked?.findings ?? [];
  const shown = all
    .map((finding, place) => ({ finding, place }))
    .filter(({ finding }) => step === undefined || stepOfFinding(finding.code) === step);
  if (shown.length === 0)
    return <p class="findings-none">{state.checked === null ? 'Not worked out yet.' : 'Nothing to mend here.'}</p>;
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
            <InParts things={own} what="findings">
              {({ finding, place }) => (
                <li key={place}>
                  <FindingLine
                    finding={finding}
                    step={step === undefined ? STEP_WORDS[stepOfFinding(finding.code)].name : null}
                    chosen={state.finding === place}
                    onChoose={() => choose(place, finding)}
                  />
                </li>
              )}
            </InParts>
          </section>
        );
      })}
    </div>
  );

  function choose(place: number, { atMm }: Finding): void {
    studio.set({
      finding: place,
      join: null,
      view: 'cloth',
      goTo: atMm === null ? state.goTo : { view: 'cloth', at: atMm, widthMm: AROUND_MM },
    });
  }
}

interface FindingLineProps {
  readonly finding: Finding;
  /** The step in which it is settled, where that is not plain from where the line stands. */
  readonly step: string | null;
  readonly chosen: boolean;
  readonly onChoose: () => void;
}

function FindingLine({ finding, step, chosen, onChoose }: FindingLineProps) {
  const words = (
    <>
      {step !== null && <span class="finding-step">{step}: </span>}
      {finding.message}
    </>
  );
  if (finding.atMm === null) return <p class="finding">{words}</p>;
  return (
    <button type="button" class="finding" aria-pressed={chosen} onClick={onChoose}>
      {words}
    </button>
  );
}
