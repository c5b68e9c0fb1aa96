import { PUNCH_WITHIN_MM } from '@okuri/core/inside';
import { useEffect } from 'preact/hooks';
import { ChoiceField } from '../controls/choice-field';
import { LengthField } from '../controls/length-field';
import { TickField } from '../controls/tick-field';
import { TypedField } from '../controls/typed-field';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';
import { lengthList, lengthText } from '../words/lengths';
import { PlaceWalk } from './place-walk';
import { TieChoice } from './tie-choice';
import { useJobNow } from './use-job';

/** Whether the paper holds, and the ties that hold it. */
export function PaperStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { checked, stale } = state;
  const job = useJobNow();
  const {
    value: found,
    refused,
    late,
  } = useReply(checked !== null && !stale ? () => client.ask((engine) => engine.ties()) : null, [checked, stale]);
  useEffect(() => {
    if (found !== null) studio.set({ ties: found });
  }, [found, studio]);
  // A tie is drawn in this step alone.
  useEffect(() => () => studio.set({ drawnTie: null }), [studio]);
  if (job === null) return null;
  const { ties } = state;
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
      <LengthField of="paper.neck" label="Least width of paper between openings" mm={rules.neckMm} />
      <LengthField of="paper.tieWidth" label="Width of a tie" mm={tie.widthMm} />
      <TypedField
        label="Punches at hand"
        hint={`With commas between them. A round hole within ${PUNCH_WITHIN_MM} mm of one is punched, all others are cut by knife.`}
        value={job.punchesMm.map((mm) => lengthText(mm, state.units)).join(', ')}
        read={(text) => lengthList(text, state.units)}
        onChange={(sizes) => studio.edit(['punches'], sizes)}
      />
      <h3>Ties</h3>
      {refused !== null && <p role="alert">{refused}</p>}
      {ties === null && refused === null && <p class="fact">Looking for what would hold the paper …</p>}
      {ties !== null && (
        <div class={late ? 'findings-stale' : undefined}>
          <TieChoice ties={ties} job={job} />
        </div>
      )}
      <PlaceWalk />
    </>
  );
}
