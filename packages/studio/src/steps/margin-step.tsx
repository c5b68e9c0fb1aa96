import { formatMm } from '@okuri/core';
import { findPaper, fittingPaper, heldWidth } from '@okuri/core/inside';
import { ChoiceField } from '../controls/choice-field';
import { LengthField } from '../controls/length-field';
import { TickField } from '../controls/tick-field';
import { useStudio } from '../state/use-studio';
import { lengthWords } from '../words/lengths';
import { useJobNow } from './use-job';

/** What waits for the proof, and the dots that place each print. */
export function MarginStep() {
  const { studio, state } = useStudio();
  const job = useJobNow();
  const sheet = state.checked?.sheets[0];
  if (job === null) return null;
  const fits = sheet ? fittingPaper(sheet.widthMm, sheet.heightMm, findPaper(job.pages.paper)) : null;
  const heldMm = sheet?.heldRight
    ? sheet.heldRight.x1 - sheet.heldRight.x0
    : (job.hold.widthMm ?? heldWidth(job.size.widthMm ?? Number.POSITIVE_INFINITY));
  return (
    <>
      <ChoiceField
        label="What stays uncut along the right and the bottom"
        value={job.hold.mode}
        choices={[
          { value: 'band', label: 'everything in the margin' },
          { value: 'crossing', label: 'only what crosses the seam, and what lies near it' },
        ]}
        onChange={(value) => studio.edit(['hold', 'mode'], value)}
      />
      <LengthField of="hold.width" label="Width of the held margin" mm={heldMm} />
      <LengthField of="lap" label="Lap of the lead cuts past the seam" mm={job.lapMm} />
      <LengthField of="sheet.border" label="Paper around the design" mm={job.sheet.borderMm} />
      <LengthField of="sheet.dot" label="Leading dots, which print" mm={job.sheet.dotMm} />
      <LengthField of="sheet.sightDot" label="Trailing dots, for sighting" mm={job.sheet.sightDotMm} />
      <TickField
        label="Put the dots where they show least"
        value={job.sheet.seat}
        onChange={(on) => studio.edit(['sheet', 'seat'], on)}
      />
      <ChoiceField
        label="The dots are punched"
        value={job.punch}
        choices={[
          { value: 'dry', label: 'through the joined cartoon' },
          { value: 'wet', label: 'on the soaked sheet' },
        ]}
        onChange={(value) => studio.edit(['punch'], value)}
      />
      {sheet !== undefined && (
        <>
          <h3>The sheet</h3>
          <p class="fact">
            {lengthWords(sheet.widthMm, state.units)} × {lengthWords(sheet.heightMm, state.units)}
            {fits === null ? '' : `; fits on ${fits}`}
          </p>
          <table class="facts">
            <caption>Measures from dot to dot</caption>
            <thead>
              <tr>
                <th scope="col">Dots</th>
                <th scope="col">mm</th>
                <th scope="col">in</th>
              </tr>
            </thead>
            <tbody>
              {sheet.measures.map(({ from, to, mm, inches }) => (
                <tr key={`${from}${to}`}>
                  <td>
                    {from}–{to}
                  </td>
                  <td>{formatMm(mm, 1).replace(' mm', '')}</td>
                  <td>{inches}</td>
                </tr>
              ))}
            </tbody>
          </table>
        </>
      )}
    </>
  );
}
