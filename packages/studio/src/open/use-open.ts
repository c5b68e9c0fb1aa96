import { InputError, inVoice } from '@okuri/core';
import { useEffect, useState } from 'preact/hooks';
import { type EngineClient, GivenUp } from '../engine/client';
import { jobOf } from '../engine/keep-working';
import { isRefusal } from '../engine/protocol';
import { takeProofPicture } from '../engine/prove';
import { useThreads } from '../engine/use-engine';
import { isPicture } from '../scan/scan-source';
import { type Opened, openFiles } from '../state/open-files';
import type { ArtworkFile } from '../state/project';
import { asksScale } from '../state/scale-asked';
import type { Studio } from '../state/studio';
import { useStudio } from '../state/use-studio';
import { takeOpened } from './take-opened';

/** Takes files to the work at hand, or says why not. They are read first: the work at hand stays where they can't be. */
export async function openInto(studio: Studio, client: EngineClient, files: readonly File[]): Promise<void> {
  try {
    const read = await Promise.all(files.map(artworkOf));
    if (studio.state.step === 'proof' && read.length === 1 && isPicture(read[0])) {
      takeProofPicture(studio, client, read[0]);
      return;
    }
    await tryOpened(studio, client, openFiles(read, studio.project));
  } catch (error) {
    const said =
      error instanceof InputError ? inVoice(error, 'window') : 'That file can’t be read: try to open it once more.';
    studio.set({ said, work: null });
  }
}

/** Lays what was opened on the table once it could be read; a scan without a scale is asked about first. Throws an `InputError` where it can't be used. */
export async function tryOpened(studio: Studio, client: EngineClient, opened: Opened): Promise<void> {
  const { motif, fonts } = opened.project;
  // Fonts come to a drawing that is at hand.
  const isFont = motif === studio.project.motif && fonts !== studio.project.fonts;
  const name = (isFont ? fonts.at(-1)?.name : undefined) ?? motif.name;
  let over = false;
  const show = (stage: string, share: number): void => {
    // What a stopped thread said last may still be on its way.
    if (!over) studio.set({ work: { stage, share } });
  };
  studio.set({ work: { stage: `reading ${name}`, share: 0 }, said: null });
  try {
    const reply = await client.tryRead({ motif, fonts }, jobOf(opened.project), show);
    over = true;
    if (!isRefusal(reply)) {
      studio.set({ scaleAsked: null });
      takeOpened(studio, opened);
      return;
    }
    const asked = asksScale(reply, opened);
    if (asked === null) throw new InputError(`${name} can’t be opened. ${reply.refused}`);
    studio.set({ scaleAsked: asked, work: null });
  } catch (error) {
    over = true;
    studio.set({ work: null });
    if (!(error instanceof GivenUp)) throw error;
  }
}

async function artworkOf(file: File): Promise<ArtworkFile> {
  return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
}

/** Files dropped anywhere on the window, and drawings pasted into it. Tells whether files are held over the window just now. */
export function useDropAndPaste(): boolean {
  const { studio } = useStudio();
  const { client } = useThreads();
  const [held, setHeld] = useState(false);
  useEffect(() => {
    const over = (event: DragEvent) => {
      if (!event.dataTransfer?.types.includes('Files')) return;
      event.preventDefault();
      setHeld(true);
    };
    const leave = (event: DragEvent) => {
      if (event.relatedTarget === null) setHeld(false);
    };
    const drop = (event: DragEvent) => {
      setHeld(false);
      const files = [...(event.dataTransfer?.files ?? [])];
      if (files.length === 0) return;
      event.preventDefault();
      void openInto(studio, client, files);
    };
    const paste = (event: ClipboardEvent) => {
      if (event.target instanceof HTMLInputElement) return;
      const files = [...(event.clipboardData?.files ?? [])];
      const text = event.clipboardData?.getData('text/plain').trim() ?? '';
      if (files.length > 0) void openInto(studio, client, files);
      else if (/^(?:<\?xml|<svg|<!DOCTYPE svg)/i.test(text)) {
        void openInto(studio, client, [new File([text], 'pasted.svg')]);
      }
    };
    addEventListener('dragover', over);
    addEventListener('dragleave', leave);
    addEventListener('drop', drop);
    addEventListener('paste', paste);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('dragleave', leave);
      removeEventListener('drop', drop);
      removeEventListener('paste', paste);
    };
  }, [studio, client]);
  return held;
}
