import { useEffect, useRef } from 'preact/hooks';
import { FindingList } from '../controls/finding-list';
import { Invitation } from '../open/invitation';
import { STEP_WORDS, STEPS, type StepId } from '../state/steps';
import { useStudio } from '../state/use-studio';
import { SEVERITY_WORDS } from '../words/severity';
import { STEP_PARTS } from './step-parts';

/** The job as the order of its steps; the open one shows its controls and its findings. */
export function StepList() {
  const { studio, state } = useStudio();
  const slip = useRef<HTMLElement>(null);
  useEffect(() => {
    // The step that was open before has closed above it: what was chosen stays in sight, with room for what it holds.
    const open = slip.current?.querySelector<HTMLElement>('.step-open');
    if (open && state.step !== STEPS[0]) open.scrollIntoView({ block: 'start' });
  }, [state.step]);
  return (
    <nav class="slip" aria-label="The order of the work" ref={slip}>
      <Invitation />
      <ol>
        {STEPS.map((step) => {
          const open = state.step === step;
          return (
            <li key={step} class={open ? 'step step-open' : 'step'}>
              <h2>
                <button
                  type="button"
                  class="step-head"
                  aria-expanded={open}
                  aria-controls={`step-${step}`}
                  onClick={() => studio.set({ step })}
                >
                  <span class="step-name">{STEP_WORDS[step].name}</span>
                  <StepMark step={step} />
                </button>
              </h2>
              {open && (
                <div id={`step-${step}`} class="step-body">
                  <p class="step-purpose">{STEP_WORDS[step].purpose}</p>
                  <StepControls step={step} />
                  <h3>Findings of this step</h3>
                  <FindingList step={step} />
                  <NextStep step={step} />
                </div>
              )}
            </li>
          );
        })}
      </ol>
      <details class="all-findings">
        <summary>All findings ({state.checked?.findings.length ?? 0})</summary>
        <FindingList />
      </details>
    </nav>
  );
}

function StepControls({ step }: { readonly step: StepId }) {
  const Part = STEP_PARTS[step];
  return <Part />;
}

/** On to the step that follows in the order. */
function NextStep({ step }: { readonly step: StepId }) {
  const { studio } = useStudio();
  const next = STEPS[STEPS.indexOf(step) + 1];
  if (next === undefined) return null;
  const go = (): void => {
    studio.set({ step: next });
    // The button goes with its step: keys go on from the step that opens.
    setTimeout(() => document.querySelector<HTMLElement>('.step-open .step-head')?.focus());
  };
  return (
    <button type="button" class="next-step" onClick={go}>
      Next: {STEP_WORDS[next].name}
    </button>
  );
}

/** The gravest of a step's findings, as a sign and a count. */
function StepMark({ step }: { readonly step: StepId }) {
  const { checked } = useStudio().state;
  const own = (checked?.findings ?? []).filter(({ topic }) => topic === step);
  const worst = (['stop', 'fix', 'look'] as const).find((one) => own.some(({ severity }) => severity === one));
  if (worst === undefined) return null;
  const count = own.filter(({ severity }) => severity === worst).length;
  const { word, sign } = SEVERITY_WORDS[worst];
  return (
    <span class={`step-mark mark-${worst}`}>
      <span aria-hidden="true">{sign}</span> {count} {word.toLowerCase()}
    </span>
  );
}
