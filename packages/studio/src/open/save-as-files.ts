import { type EngineClient, GivenUp } from '../engine/client';
import { jobOf } from '../engine/keep-working';
import { isRefusal } from '../engine/protocol';
import { download } from '../handover/download';
import { isPlain } from '../scan/settings';
import { keyOf, withKey } from '../state/job-keys';
import type { ArtworkFile, Project } from '../state/project';
import type { Studio } from '../state/studio';

/** How the files are called that hold a project. */
export interface SavedNames {
  readonly job: string;
  readonly motif: string;
  /** The motif is a scan of which a person said something: its trace is saved in its place, for the command reads a scan as its file states it. */
  readonly traced: boolean;
}

/** The names under which a project is saved. */
export function savedNames({ jobText, motif, scan }: Pick<Project, 'jobText' | 'motif' | 'scan'>): SavedNames {
  const wanted =
    String(keyOf(jobText, ['motif']))
      .split(/[\\/]/)
      .at(-1) ?? motif.name;
  const stem = wanted.replace(/\.[^.]*$/, '');
  const traced = !isPlain(scan);
  return { job: `${stem}.okuri.json`, motif: traced ? `${stem}.svg` : wanted, traced };
}

/** Saves the job as a file, and its drawing beside it, as the command reads them. */
export async function saveAsFiles(studio: Studio, client: EngineClient): Promise<void> {
  const { project } = studio;
  const names = savedNames(project);
  const motif = names.traced ? await tracedFile(studio, client) : project.motif;
  if (motif === null) return;
  // They lie in one folder now.
  const jobText = withKey(project.jobText, ['motif'], names.motif);
  download(names.job, 'application/json', jobText);
  download(names.motif, 'application/octet-stream', motif.bytes);
  studio.set({
    said: names.traced
      ? `Saved as two files, the job and the scan as it was traced: keep them in one folder. ${project.motif.name} itself stays as it is.`
      : 'Saved as two files, the job and its drawing: keep them in one folder.',
  });
}

async function tracedFile(studio: Studio, client: EngineClient): Promise<Pick<ArtworkFile, 'bytes'> | null> {
  const job = jobOf(studio.project);
  try {
    const made = await client.ask((engine) => engine.motifFile(job));
    if (!isRefusal(made)) return made;
    studio.set({ said: made.refused });
  } catch (error) {
    if (!(error instanceof GivenUp)) throw error;
    studio.set({ said: 'The job changed before it was saved: save it once more.' });
  }
  return null;
}
