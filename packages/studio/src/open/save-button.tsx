import { download } from '../handover/download';
import { keyOf } from '../state/job-keys';
import { useStudio } from '../state/use-studio';

/** Saves the job as a file, and its drawing beside it, as the command reads them. */
export function SaveButton() {
  const { studio } = useStudio();
  const save = (): void => {
    const { jobText, motif } = studio.project;
    const wanted =
      String(keyOf(jobText, ['motif']))
        .split(/[\\/]/)
        .at(-1) ?? motif.name;
    download(`${wanted.replace(/\.[^.]*$/, '')}.okuri.json`, 'application/json', jobText);
    download(wanted, 'application/octet-stream', motif.bytes);
    studio.set({ said: 'Saved as two files, the job and its drawing: keep them in one folder.' });
  };
  return (
    <button type="button" onClick={save}>
      Save as files
    </button>
  );
}
