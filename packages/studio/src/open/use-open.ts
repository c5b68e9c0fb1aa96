import { InputError } from '@okuri/core';
import { useEffect, useState } from 'preact/hooks';
import type { EngineClient } from '../engine/client';
import { today } from '../engine/keep-working';
import { isRefusal } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { openFiles } from '../state/open-files';
import type { ArtworkFile } from '../state/project';
import type { Studio } from '../state/studio';
import { useStudio } from '../state/use-studio';
import { takeOpened } from './take-opened';

/** Takes files to the work at hand, or says why not. They are read first: the work at hand stays where they can't be. */
export async function openInto(studio: Studio, client: EngineClient, files: readonly File[]): Promise<void> {
  try {
    const read = await Promise.all(files.map(artworkOf));
    const opened = openFiles(read, studio.project);
    const { jobText, motif, fonts } = opened.project;
    studio.set({ work: { stage: `reading ${files[0].name}`, share: 0 }, said: null });
    const reply = await client.tryRead({ motif, fonts }, { jobText, date: today() });
    if (isRefusal(reply)) throw new InputError(`${files[0].name} can’t be opened. ${reply.refused}`);
    takeOpened(studio, opened);
  } catch (error) {
    const said = error instanceof InputError ? error.message : 'That file can’t be read: try to open it once more.';
    studio.set({ said, work: null });
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
