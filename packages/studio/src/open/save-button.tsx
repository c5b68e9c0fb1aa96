import { useThreads } from '../engine/use-engine';
import { useStudio } from '../state/use-studio';
import { saveAsFiles } from './save-as-files';

/** Saves the work at hand as files. */
export function SaveButton() {
  const { studio } = useStudio();
  const { client } = useThreads();
  return (
    <button type="button" onClick={() => void saveAsFiles(studio, client)}>
      Save as files
    </button>
  );
}
