import { useStudio } from '../state/use-studio';
import { saveAsFiles } from './save-as-files';

/** Saves the work at hand as files. */
export function SaveButton() {
  const { studio } = useStudio();
  return (
    <button type="button" onClick={() => saveAsFiles(studio)}>
      Save as files
    </button>
  );
}
