import { ChoiceField } from '../controls/choice-field';
import { LengthField } from '../controls/length-field';
import { TickField } from '../controls/tick-field';
import { isPicture } from '../scan/scan-source';
import { useStudio } from '../state/use-studio';
import { lengthWords } from '../words/lengths';
import { ScaleButton, ScanPart } from './scan-part';
import { useJobNow } from './use-job';

/** How the size of the unit was read. */
const FROM_WORDS = {
  shape: 'from the shape marked as the repeat',
  rectangle: 'from the bare rectangle around the drawing',
  page: 'from the page of the drawing',
  artwork: 'from the outline of the artwork',
} as const;

/** The drawing: its size, and what of it is cut. */
export function MotifStep() {
  const { studio, state } = useStudio();
  const job = useJobNow();
  const frame = state.read?.motif.frame;
  const isScan = isPicture(state.history.present.motif);
  if (isScan && state.refusal !== null && !state.read?.scan) return <ScaleButton />;
  if (job === null || frame === undefined || state.read === null) return null;
  // What was typed shows at once; the drawing follows when it was read at that size.
  const widthMm = job.size.widthMm ?? frame.widthMm;
  const heightMm = job.size.heightMm ?? (frame.heightMm * widthMm) / frame.widthMm;
  const inks = state.read.motif.outlines.inks.filter((ink) => ink !== job.paperColour);
  const cut = job.cut ?? inks;
  return (
    <>
      <p class="fact">
        {state.history.present.motif.name}: one unit of {lengthWords(frame.widthMm, state.units)} ×{' '}
        {lengthWords(frame.heightMm, state.units)}, {FROM_WORDS[frame.from]}.
      </p>
      <LengthField
        of="width"
        label="Width of the unit"
        hint="The drawing grows or shrinks evenly with it."
        mm={widthMm}
      />
      <LengthField
        of="height"
        label="Height of the unit"
        hint="The drawing is not stretched: the frame around it changes."
        mm={heightMm}
      />
      <ChoiceField
        label="The dark of the drawing is"
        value={job.drawn}
        choices={[
          { value: 'cut', label: 'what I cut' },
          { value: 'cloth', label: 'what shall be dark on the cloth' },
        ]}
        onChange={(value) => studio.edit(['drawn'], value)}
      />
      <ChoiceField
        label="Printed with"
        value={job.method}
        choices={[
          { value: 'resist', label: 'resist paste', hint: 'openings keep the colour of the cloth' },
          { value: 'direct', label: 'dye or pigment', hint: 'openings take the colour' },
        ]}
        onChange={(value) => studio.edit(['method'], value)}
      />
      <ChoiceField
        label="Shapes that poke out of the unit"
        value={job.spill}
        choices={[
          { value: 'auto', label: 'decide shape by shape' },
          { value: 'carry', label: 'go on in the next placement' },
          { value: 'trim', label: 'end at the seam' },
        ]}
        onChange={(value) => studio.edit(['spill'], value === 'auto' ? undefined : value)}
      />
      {state.read.scan !== null && <ScanPart facts={state.read.scan.facts} />}
      {inks.length > 1 && (
        <fieldset class="field">
          <legend>Inks to cut, one stencil each</legend>
          {inks.map((ink) => (
            <TickField
              key={ink}
              label={ink}
              value={cut.includes(ink)}
              disabled={cut.length === 1 && cut.includes(ink)}
              onChange={(on) =>
                studio.edit(
                  ['cut'],
                  on ? inks.filter((one) => one === ink || cut.includes(one)) : cut.filter((one) => one !== ink),
                )
              }
            />
          ))}
        </fieldset>
      )}
    </>
  );
}
