import { useState } from 'preact/hooks';
import { GivenUp } from '../engine/client';
import { isRefusal, type ProofPaper } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { download } from '../handover/download';
import { useStudio } from '../state/use-studio';
import { stencilIndex } from '../words/stencils';

const PAPERS: Readonly<Record<ProofPaper, { readonly name: string; readonly about: string }>> = {
  map: { name: 'Proof map (PDF)', about: 'where to print, and in which order' },
  form: { name: 'Form to measure by hand (PDF)', about: 'where there is no scanner' },
  strips: { name: 'Strips for the second cut (PDF)', about: 'to lay under the held margin, as the job’s offsets say' },
  report: { name: 'The proof over the plan (PDF)', about: 'pictures and tables of what differs' },
};

/** What can be taken away of a proof. */
export function ProofPapers({ papers }: { readonly papers: readonly ProofPaper[] }) {
  const { studio, state } = useStudio();
  const { client } = useThreads();
  const [making, setMaking] = useState<ProofPaper | null>(null);
  const { checked, stale, proof } = state;
  const make = async (what: ProofPaper): Promise<void> => {
    setMaking(what);
    const stencil = stencilIndex(checked?.sheets ?? [], state.stencil);
    const { compared } = proof;
    const report = compared !== null && compared.of.sheet.index - 1 === stencil ? compared.report : null;
    try {
      const files = await client.ask((engine) => engine.makeProof(what, stencil, report));
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
    <ul class="files">
      {papers.map((what) => (
        <li key={what}>
          <button type="button" disabled={checked === null || stale || making !== null} onClick={() => void make(what)}>
            {making === what ? `${PAPERS[what].name} is being made …` : PAPERS[what].name}
          </button>
          <span>{PAPERS[what].about}</span>
        </li>
      ))}
    </ul>
  );
}
