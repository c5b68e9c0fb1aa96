import { ColourField } from '../controls/colour-field';
import { LengthField } from '../controls/length-field';
import { ReportText } from '../controls/report-text';
import { TickField } from '../controls/tick-field';
import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { useReply } from '../views/use-reply';
import { useJobNow } from './use-job';

/** The cloth, and the run along it. */
export function ClothStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const { checked, stale, look } = state;
  const job = useJobNow();
  const {
    value: plan,
    refused,
    late,
  } = useReply(checked !== null && !stale ? () => client.ask((engine) => engine.plan()) : null, [checked, stale]);
  if (job === null) return null;
  const { cloth } = job;
  return (
    <>
      <LengthField of="cloth.width" label="Width of the cloth" mm={cloth.widthMm} />
      <LengthField of="cloth.length" label="Length of the cloth" mm={cloth.lengthMm} />
      <ColourField
        label="Colour of the cloth"
        value={cloth.colour}
        onChange={(value) => studio.edit(['cloth', 'colour'], value, { joins: true })}
      />
      <ColourField
        label="Colour of the dye"
        value={cloth.dye}
        onChange={(value) => studio.edit(['cloth', 'dye'], value, { joins: true })}
      />
      <TickField
        label="Show the seams"
        value={look.seams}
        onChange={(seams) => studio.set({ look: { ...look, seams } })}
      />
      <TickField label="Show the dots" value={look.dots} onChange={(dots) => studio.set({ look: { ...look, dots } })} />
      <TickField
        label="Show where the findings are"
        value={look.findings}
        onChange={(findings) => studio.set({ look: { ...look, findings } })}
      />
      <h3>The plan</h3>
      {refused !== null && <p role="alert">{refused}</p>}
      {plan !== null && <ReportText text={plan.report} late={late} />}
    </>
  );
}
