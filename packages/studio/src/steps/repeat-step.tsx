import { fractionText, parseFraction, repeatName } from '@okuri/core/inside';
import { ChoiceField } from '../controls/choice-field';
import { NumberField } from '../controls/number-field';
import { TypedField } from '../controls/typed-field';
import { useStudio } from '../state/use-studio';
import { jobBounds } from './job-bounds';
import { useJobNow } from './use-job';

/** How the unit steps along the cloth. */
export function RepeatStep() {
  const { studio } = useStudio();
  const job = useJobNow();
  if (job === null) return null;
  const kind = repeatName(job);
  return (
    <>
      <ChoiceField
        label="Kind of repeat"
        value={kind}
        choices={[
          { value: 'straight', label: 'Straight' },
          { value: 'half-drop', label: 'Half-drop', hint: 'the column to the right sits lower by half' },
          { value: 'drop', label: 'Drop', hint: 'the column to the right sits lower by a step of your own' },
          { value: 'brick', label: 'Brick', hint: 'the row below sits further right' },
        ]}
        onChange={(value) => {
          studio.edit(['step'], undefined, { joins: false });
          studio.edit(['repeat'], value);
        }}
      />
      {(kind === 'drop' || kind === 'brick') && (
        <TypedField
          label="Step"
          hint="a fraction of the unit, such as 1/3"
          value={fractionText(job.repeat.step)}
          read={(text) => {
            parseFraction(text);
            return text.trim();
          }}
          onChange={(value) => studio.edit(['step'], value)}
        />
      )}
      <NumberField
        label="Units across one sheet"
        value={job.across}
        {...jobBounds('across')}
        onChange={(value) => studio.edit(['across'], value)}
      />
      <NumberField
        label="Units down one sheet"
        value={job.down}
        {...jobBounds('down')}
        onChange={(value) => studio.edit(['down'], value)}
      />
    </>
  );
}
