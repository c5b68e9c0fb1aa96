import { PLAIN_SCAN } from '../scan/settings';
import { presentJob } from '../state/present-job';
import { type Project, sameWork } from '../state/project';
import { asksScale } from '../state/scale-asked';
import type { Studio } from '../state/studio';
import { type SizeQuestion, settledText, unitOf } from '../state/unit-size';
import { type EngineClient, GivenUp } from './client';
import { type CheckedReply, type EngineJob, isRefusal } from './protocol';

/** Keeps the results up with the project: whenever it changes, older work is given up and the new job is read and worked out. Returns how to stop. */
export function keepWorking(studio: Studio, client: EngineClient): () => void {
  let seen: Project | null = null;
  let wasStopped = false;
  let files: Pick<Project, 'motif' | 'fonts'> | null = null;

  const work = async (project: Project): Promise<void> => {
    const fresh = () => seen === project && !studio.state.stopped;
    try {
      studio.set({ work: { stage: 'reading the drawing', share: 0 }, refusal: null, sizeAsked: null });
      if (files === null || files.motif !== project.motif || files.fonts !== project.fonts) {
        files = { motif: project.motif, fonts: project.fonts };
        studio.set({ ties: null, tie: null, leftOut: new Set(), scaleAsked: null });
        await client.take(files);
      } else {
        client.cancel();
      }
      const job = jobOf(project);
      const progress = (stage: string, share: number): void => {
        if (fresh()) studio.set({ work: { stage, share } });
      };
      const read = await client.read(job, progress);
      if (!fresh()) return;
      if (isRefusal(read)) {
        studio.set({ refusal: read.refused, work: null, scaleAsked: asksScale(read, null) });
        return;
      }
      studio.set({ read, unit: unitOf(project, read) });
      const checked = await client.check(job, progress);
      if (!fresh()) return;
      if (isRefusal(checked)) studio.set({ refusal: checked.refused, work: null });
      else {
        const settled = settledProject(checked, project);
        if (settled !== project) {
          // What was worked out is that of the settled job: it is not worked out again.
          seen = { ...settled };
          studio.amend(settled, { worked: true });
        }
        const { job, tiesFrom } = settled === project ? checked : { job: presentJob(settled.jobText), tiesFrom: null };
        studio.set({
          checked: { ...checked, job: job ?? checked.job, tiesFrom },
          read: { ...read, job: job ?? read.job },
          sizeAsked: askedBy(checked),
          stale: false,
          work: null,
          refusal: null,
          finding: null,
          join: null,
          place: null,
        });
      }
    } catch (error) {
      if (error instanceof GivenUp || !fresh()) return;
      const message = error instanceof Error ? error.message : String(error);
      studio.set({ work: null, refusal: `A fault of the program, not of your drawing (${message}).` });
    }
  };

  const look = (): void => {
    const { project } = studio;
    const { stopped } = studio.state;
    const again = wasStopped && !stopped;
    wasStopped = stopped;
    if (stopped || (seen !== null && sameWork(project, seen) && !again)) return;
    // A new object, so that work on an older one is told from this.
    seen = { ...project };
    void work(seen);
  };
  look();
  return studio.subscribe(look);
}

/** The project with its ties at the unit's size, where that has changed and all of them come to stand. */
function settledProject(checked: CheckedReply, project: Project): Project {
  if (checked.tiesFrom === null || checked.strandedTies.length > 0) return project;
  return { ...project, jobText: settledText(project.jobText, checked) };
}

/** What the person is asked: of ties that a change of size has left without their banks. */
function askedBy({ tiesFrom, strandedTies, lattice }: CheckedReply): SizeQuestion | null {
  return tiesFrom === null || strandedTies.length === 0
    ? null
    : { stranded: strandedTies, from: tiesFrom, now: lattice };
}

/** A state of the project as the engine works on it. */
export function jobOf({ jobText, scan }: Project): EngineJob {
  return { jobText, date: today(), scan: scan ?? PLAIN_SCAN };
}

/** The day on the wall of the person, `YYYY-MM-DD`. */
export function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
