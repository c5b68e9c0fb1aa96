import { download } from '../handover/download';
import { keyOf } from '../state/job-keys';
import type { Studio } from '../state/studio';

/** Saves the job as a file, and its drawing beside it, as the command reads them. */
export function saveAsFiles(studio: Studio): void {
  const { jobText, motif } = studio.project;
  const wanted =
    String(keyOf(jobText, ['motif']))
      .split(/[\\/]/)
      .at(-1) ?? motif.name;
  download(`${wanted.replace(/\.[^.]*$/, '')}.okuri.json`, 'application/json', jobText);
  download(wanted, 'application/octet-stream', motif.bytes);
  studio.set({ said: 'Saved as two files, the job and its drawing: keep them in one folder.' });
}
