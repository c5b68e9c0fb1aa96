import type { Project } from './project';
import { type Settings, saveProject, saveSettings } from './save';
import type { Studio } from './studio';

/** Changes are gathered for so long before they are written, ms. */
const PAUSE_MS = 100;

/** Writes the work at hand to the browser's store whenever it changes, and when the window is hidden. Returns how to stop. */
export function keepSaving(studio: Studio): () => void {
  let saved: Project = studio.project;
  let settings = settingsOf(studio);
  let timer = 0;
  const isSaved = (now: Settings): boolean =>
    studio.project === saved && SETTINGS.every((key) => now[key] === settings[key]);
  const write = async (): Promise<void> => {
    clearTimeout(timer);
    timer = 0;
    const { project } = studio;
    const now = settingsOf(studio);
    if (isSaved(now)) return;
    const isNew = project !== saved;
    saved = project;
    settings = now;
    try {
      // Both are on their way before anything is waited for: the window may be closing.
      const kept = await Promise.all([isNew ? saveProject(project) : true, saveSettings(now)]);
      if (kept[0]) return;
    } catch {
      // Said below: a full disk, or a store that was taken away.
    }
    if (isNew) studio.set({ said: 'This browser keeps nothing: save the job as a file before you close the window.' });
  };
  const stop = studio.subscribe(() => {
    // Not put off by what comes after: while work goes on there is always more.
    if (timer !== 0 || isSaved(settingsOf(studio))) return;
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

/** What is kept beside the work itself. */
const SETTINGS = ['units', 'screenPxPerMm', 'step', 'view', 'look', 'asksDark'] as const;

function settingsOf({ state: { units, screenPxPerMm, step, view, look, asksDark } }: Studio): Required<Settings> {
  return { units, screenPxPerMm, step, view, look, asksDark };
}
