import { acceptTies, dropTies, InputError, type Job, type ListedTie, writtenTies } from '@okuri/core';
import { useState } from 'preact/hooks';
import { ChoiceField } from '../controls/choice-field';
import { InParts } from '../controls/in-parts';
import { LengthField } from '../controls/length-field';
import { TickField } from '../controls/tick-field';
import type { TiesReply } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';
import { useJob } from './use-job';

/** How much is seen around a tie, mm. */
const AROUND_MM = 40;

/** Whether the paper holds, and the ties that hold it. */
export function PaperStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { checked, stale } = state;
  const job = useJob();
  const {
    value: ties,
    refused,
    late,
  } = useReply(checked !== null && !stale ? () => client.ask((engine) => engine.ties()) : null, [checked, stale]);
  if (job === null) return null;
  const { rules, kind, tie } = job.paper;
  return (
    <>
      <ChoiceField
        label="The stencil paper"
        value={kind}
        choices={[
          { value: 'treated', label: 'treated paper' },
          { value: 'card', label: 'plain card' },
        ]}
        onChange={(value) => studio.edit(['paper', 'kind'], value)}
      />
      <TickField
        label="Gauze is stuck over the cut sheet"
        hint="Release ties hold the paper until it is on and dry."
        value={job.practice.gauze}
        onChange={(on) => studio.edit(['gauze'], on)}
      />
      <LengthField
        label="Least width of paper between openings"
        mm={rules.neckMm}
        onChange={(written) => studio.edit(['paper', 'neck'], written)}
      />
      <LengthField
        label="Width of a tie"
        mm={tie.widthMm}
        onChange={(written) => studio.edit(['paper', 'tieWidth'], written)}
      />
      <h3>Ties</h3>
      {refused !== null && <p role="alert">{refused}</p>}
      {ties === null && refused === null && <p class="fact">Looking for what would hold the paper …</p>}
      {ties !== null && (
        <div class={late ? 'findings-stale' : undefined}>
          <TieChoice ties={ties} job={job} />
        </div>
      )}
    </>
  );
}

function TieChoice({ ties, job }: { readonly ties: TiesReply; readonly job: Job }) {
  const { studio } = useStudio();
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const [fault, setFault] = useState<string | null>(null);
  const suggested = ties.list.ties.filter(({ accepted }) => !accepted);
  const open = suggested.filter((tie) => !left.has(keyOf(tie)));
  const standing = ties.list.ties.filter(({ accepted }) => accepted);
  const accept = (chosen: readonly ListedTie[]): void =>
    take(() => {
      let now = job;
      for (const stencil of new Set(chosen.map((tie) => tie.stencil))) {
        const ids = chosen
          .filter((tie) => tie.stencil === stencil)
          .map(({ id }) => id)
          .join(' ');
        now = { ...now, ties: acceptTies(now, ties.suggested, { ids, stencil, kind: null }).ties };
      }
      return now.ties;
    });
  const drop = ({ id, stencil }: ListedTie): void =>
    take(
      () =>
        dropTies(
          job,
          ties.suggested.map(({ ink }) => ink),
          { ids: id, stencil },
        ).ties,
    );
  const take = (change: () => Job['ties']): void => {
    try {
      studio.edit(['ties'], writtenTies(change()));
      setFault(null);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setFault(error.message);
    }
  };
  return (
    <>
      {fault !== null && <p role="alert">{fault}</p>}
      <p class="fact">
        {standing.length} stand in the job, {open.length} more are suggested.
      </p>
      {open.length > 1 && (
        <button type="button" onClick={() => accept(open)}>
          Accept all {open.length} suggested ties
        </button>
      )}
      <InParts class="ties" things={open} what="suggested ties">
        {(tie) => (
          <li key={keyOf(tie)}>
            <TieWords tie={tie} />
            <button type="button" aria-label={`Accept tie ${tie.id}`} onClick={() => accept([tie])}>
              Accept
            </button>
            <button
              type="button"
              aria-label={`Leave out tie ${tie.id}`}
              onClick={() => setLeft(new Set([...left, keyOf(tie)]))}
            >
              Leave out
            </button>
          </li>
        )}
      </InParts>
      <InParts class="ties" things={standing} what="ties">
        {(tie) => (
          <li key={keyOf(tie)} class="tie-standing">
            <TieWords tie={tie} />
            <button type="button" aria-label={`Take out tie ${tie.id}`} onClick={() => drop(tie)}>
              Take out
            </button>
          </li>
        )}
      </InParts>
      {ties.list.impossible.map(({ island, reason }) => (
        <p key={island} class="fact">
          No tie can hold {island}: {reason}.
        </p>
      ))}
    </>
  );
}

function TieWords({ tie }: { readonly tie: ListedTie }) {
  const { studio } = useStudio();
  const go = (): void => studio.set({ view: 'cloth', goTo: { view: 'cloth', at: tie.atMm, widthMm: AROUND_MM } });
  return (
    <button type="button" class="tie-words" onClick={go}>
      <strong>{tie.id}</strong> {tie.kind}, {tie.lengthMm.toFixed(1)} mm long
      {tie.accepted ? '' : tie.island === null ? ', stiffens a long opening' : `, holds ${tie.island}`}
    </button>
  );
}

/** A tie of a list, told from all others. */
function keyOf({ ink, id, accepted }: ListedTie): string {
  return `${ink} ${id} ${accepted}`;
}
