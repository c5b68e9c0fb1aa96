import { useStudio } from '../state/use-studio';

/** What the window counts in. */
export function UnitsChoice() {
  const { studio, state } = useStudio();
  return (
    <fieldset class="units-choice">
      <legend class="unseen">Lengths in</legend>
      {(['mm', 'in'] as const).map((units) => (
        <label key={units}>
          <input type="radio" name="units" checked={state.units === units} onChange={() => studio.set({ units })} />{' '}
          {units}
        </label>
      ))}
    </fieldset>
  );
}
