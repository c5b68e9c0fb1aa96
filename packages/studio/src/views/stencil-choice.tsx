import type { Sheet } from '@okuri/core';
import { useStudio } from '../state/use-studio';
import { stencilIndex, stencilName, unitsWords } from '../words/stencils';

/** Which stencil lies on the table, where there are several; and how many units it holds, where these are several. */
export function StencilChoice({ sheets }: { readonly sheets: readonly Sheet[] }) {
  const { studio, state } = useStudio();
  const at = stencilIndex(sheets, state.stencil);
  const units = sheets[at] === undefined ? null : unitsWords(sheets[at]);
  if (sheets.length <= 1 && units === null) return null;
  return (
    <div class="stencil-choice">
      {sheets.length > 1 && (
        <fieldset>
          <legend>Stencil</legend>
          {sheets.map((sheet, k) => (
            <button
              key={sheet.index}
              type="button"
              aria-pressed={k === at}
              onClick={() => studio.set({ stencil: k, place: null, page: 0 })}
            >
              <span class="swatch" style={{ background: sheet.ink }} aria-hidden="true" /> {stencilName(sheet)}
            </button>
          ))}
        </fieldset>
      )}
      {units !== null && <p class="fact">{units}</p>}
    </div>
  );
}
