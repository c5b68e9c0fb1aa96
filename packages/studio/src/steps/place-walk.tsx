import { useMemo } from 'preact/hooks';
import { sheetPlaces } from '../marks/sheet-places';
import { choosePlace } from '../state/go-to-finding';
import { useStudio } from '../state/use-studio';
import { SEVERITY_WORDS } from '../words/severity';
import { stencilIndex } from '../words/stencils';

/** The places of the sheet's paper one after the other, the worst first, each with what is to be said of it. */
export function PlaceWalk() {
  const { studio, state } = useStudio();
  const { checked, place: chosen } = state;
  const sheet = checked?.sheets[stencilIndex(checked.sheets, state.stencil)];
  const places = useMemo(
    () =>
      checked === null || sheet === undefined
        ? []
        : sheetPlaces(sheet, checked.findings).filter(({ topic }) => topic === 'paper'),
    [checked, sheet],
  );
  if (places.length === 0) return null;
  const at = places.findIndex(({ name }) => name === chosen);
  const go = (to: number): void => choosePlace(studio, places[(to + places.length) % places.length], { moves: true });
  const shown = places[at];
  return (
    <>
      <h3>Places on the sheet</h3>
      <div class="walk">
        <button type="button" onClick={() => go(at < 0 ? places.length - 1 : at - 1)}>
          Place before
        </button>
        <button type="button" onClick={() => go(at + 1)}>
          {at < 0 ? 'Worst place' : 'Next place'}
        </button>
      </div>
      {shown === undefined ? (
        <p class="fact">
          {places.length} places to watch are marked on the sheet with W and a number: paper that falls out or is weak,
          where gauze helps, where the knife has a hard way.
        </p>
      ) : (
        <div class="walk-at" role="status">
          <p>
            <strong>{shown.name}</strong> <span aria-hidden="true">{SEVERITY_WORDS[shown.severity].sign}</span>{' '}
            {SEVERITY_WORDS[shown.severity].word}, {at + 1} of {places.length}: {shown.message}
          </p>
        </div>
      )}
    </>
  );
}
