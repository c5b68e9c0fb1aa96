import { InputError } from '@okuri/core';
import { useEffect } from 'preact/hooks';
import { openFiles } from '../state/open-files';
import type { ArtworkFile } from '../state/project';
import type { Studio } from '../state/studio';

/** Takes files to the work at hand, or says why not; the work at hand stays then. */
export async function openInto(studio: Studio, files: readonly File[]): Promise<void> {
  try {
    const read = await Promise.all(files.map(artworkOf));
    const { project, isNew } = openFiles(read, studio.project);
    studio.change(project);
    studio.set({ asksDark: isNew, said: null, view: 'cloth', step: isNew ? 'motif' : studio.state.step, goTo: null });
  } catch (error) {
    const said = error instanceof InputError ? error.message : 'That file can’t be read: try to open it once more.';
    studio.set({ said });
  }
}

async function artworkOf(file: File): Promise<ArtworkFile> {
  return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
}

/** Files dropped anywhere on the window, and drawings pasted into it. */
export function useDropAndPaste(studio: Studio): void {
  useEffect(() => {
    const over = (event: DragEvent) => {
      if (event.dataTransfer?.types.includes('Files')) event.preventDefault();
    };
    const drop = (event: DragEvent) => {
      const files = [...(event.dataTransfer?.files ?? [])];
      if (files.length === 0) return;
      event.preventDefault();
      void openInto(studio, files);
    };
    const paste = (event: ClipboardEvent) => {
      if (event.target instanceof HTMLInputElement) return;
      const files = [...(event.clipboardData?.files ?? [])];
      const text = event.clipboardData?.getData('text/plain').trim() ?? '';
      if (files.length > 0) void openInto(studio, files);
      else if (/^(?:<\?xml|<svg|<!DOCTYPE svg)/i.test(text)) void openInto(studio, [new File([text], 'pasted.svg')]);
    };
    addEventListener('dragover', over);
    addEventListener('drop', drop);
    addEventListener('paste', paste);
    return () => {
      removeEventListener('dragover', over);
      removeEventListener('drop', drop);
      removeEventListener('paste', paste);
    };
  }, [studio]);
}
