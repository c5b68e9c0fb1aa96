import { findPaper } from '@okuri/core/inside';
import { useState } from 'preact/hooks';
import { ChoiceField } from '../controls/choice-field';
import { LengthField } from '../controls/length-field';
import { TypedField } from '../controls/typed-field';
import { GivenUp } from '../engine/client';
import { type HandOver, isRefusal } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { download } from '../handover/download';
import { useStudio } from '../state/use-studio';
import { useJobNow } from './use-job';

const FILES: readonly { readonly what: HandOver; readonly name: string; readonly about: string }[] = [
  { what: 'sheets', name: 'Print sheets (PDF)', about: 'the full-size drawing, split over printer pages' },
  { what: 'guide', name: 'Cut guide (PDF)', about: 'all an assistant needs to cut from paper alone' },
  { what: 'stencil', name: 'Cutting drawing (SVG)', about: 'in layers, at true size' },
  { what: 'cloth', name: 'Picture of the cloth (PNG)', about: 'as it lies on the table' },
  { what: 'plan', name: 'Plan (CSV)', about: 'every placement, for a table program' },
  { what: 'map', name: 'Placement map (PDF)', about: 'where each placement lies, in which pass' },
];

/** Sheets, guide and drawings to save. */
export function PrintStep() {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const [making, setMaking] = useState<HandOver | null>(null);
  const job = useJobNow();
  if (job === null) return null;
  const { pages } = job;
  const make = async (what: HandOver): Promise<void> => {
    setMaking(what);
    try {
      const files = await client.ask((engine) => engine.make(what));
      if (isRefusal(files)) {
        studio.set({ said: files.refused });
        return;
      }
      for (const { name, type, bytes } of files) download(name, type, bytes);
      studio.set({ said: `Saved: ${files.map(({ name }) => name).join(', ')}.` });
    } catch (error) {
      if (!(error instanceof GivenUp)) studio.set({ said: `That file could not be made (${String(error)}).` });
    } finally {
      setMaking(null);
    }
  };
  return (
    <>
      <TypedField
        label="Printer paper"
        hint="A4, A3, Letter, … or a size such as 329mm x 483mm"
        value={pages.paper}
        read={(text) => {
          findPaper(text);
          return text.trim();
        }}
        onChange={(value) => studio.edit(['pages', 'paper'], value)}
      />
      <ChoiceField
        label="Pages lie"
        value={pages.orientation}
        choices={[
          { value: 'auto', label: 'as fewest are needed' },
          { value: 'portrait', label: 'upright' },
          { value: 'landscape', label: 'across' },
        ]}
        onChange={(value) => studio.edit(['pages', 'orientation'], value)}
      />
      <LengthField of="pages.margin" label="What the printer leaves blank" mm={pages.marginMm} />
      <LengthField of="pages.overlap" label="Overlap of neighbouring pages" mm={pages.overlapMm} />
      <h3>Save to this machine</h3>
      <ul class="files">
        {FILES.map(({ what, name, about }) => (
          <li key={what}>
            <button
              type="button"
              disabled={state.checked === null || state.stale || making !== null}
              onClick={() => void make(what)}
            >
              {making === what ? `${name} is being made …` : name}
            </button>
            <span>{about}</span>
          </li>
        ))}
      </ul>
      <p class="fact">
        The blade is sharp: cut away from the holding hand, change and bin blades safely. Read the safety data sheets of
        dye, pigment, lime and soda. Local rules and qualified advice come first.
      </p>
    </>
  );
}
