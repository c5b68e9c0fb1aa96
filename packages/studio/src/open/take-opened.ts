import type { Opened } from '../state/open-files';
import type { Studio } from '../state/studio';

/** What was opened becomes the work at hand, as one step of undo. */
export function takeOpened(studio: Studio, { project, isNew }: Opened): void {
  studio.change(project);
  studio.set({ asksDark: isNew, said: null, view: 'cloth', step: isNew ? 'motif' : studio.state.step, goTo: null });
}
