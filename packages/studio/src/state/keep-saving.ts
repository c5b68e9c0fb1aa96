import type { Project } from './project';
import { saveProject, saveSettings } from './save';
import type { Studio } from './studio';

/** Changes are written when none followed for so long, ms. */
const PAUSE_MS = 250;

/** Writes the work at hand to the browser's store whenever it changes, and when the window is hidden. Returns how to stop. */
export function keepSaving(studio: Studio): () => void {
  let saved: Project = studio.project;
  let settings = settingsOf(studio);
  let timer = 0;
  const write = async (): Promise<void> => {
    const { project } = studio;
    if (project === saved) return;
    saved = project;
    try {
      if (await saveProject(project)) return;
    } catch {
      // Said below: a full disk, or a store that was taken away.
    }
    studio.set({ said: 'This browser keeps nothing: save the job as a file before you close the window.' });
  };
  const stop = studio.subscribe(() => {
    const now = settingsOf(studio);
    if (now.units !== settings.units || now.screenPxPerMm !== settings.screenPxPerMm) {
      settings = now;
      void saveSettings(now);
    }
    if (studio.project === saved) return;
    clearTimeout(timer);
    timer = setTimeout(write, PAUSE_MS) as unknown as number;
  });
  const hidden = () => void write();
  document.addEventListener('visibilitychange', hidden);
  addEventListener('pagehide', hidden);
  return () => {
    stop();
    clearTimeout(timer);
    document.removeEventListener('visibilitychange', hidden);
    removeEventListener('pagehide', hidden);
  };
}

function settingsOf({ state: { units, screenPxPerMm } }: Studio) {
  return { units, screenPxPerMm };
}
