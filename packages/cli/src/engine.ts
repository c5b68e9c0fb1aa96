import { InputError, type JobResult, type Motif, runJob } from '@okuri/core';
import { numbersAtSize, refuseStrandedTies } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { isScan } from '@okuri/reader/scan';
import type { Command } from 'commander';
import type { Run } from './commands/run.js';
import { type Loaded, load } from './load.js';
import { jobOverrides } from './options.js';
import type { ProgressLine } from './progress.js';
import { shownPath } from './read-file.js';
import { traceScans } from './trace-scans.js';

/** Reads what a command's argument names, under the command's options. */
export function loadFor(command: Command, named: string): Loaded {
  const { font } = command.opts<{ font?: string[] }>();
  return load(named, {
    overrides: jobOverrides(command),
    date: today(),
    ...(font === undefined ? {} : { fonts: font }),
  });
}

/** The drawing as a motif, at the width of the job. A scan is traced as `okuri trace` does it by itself. */
export async function readMotif(loaded: Loaded, progress: ProgressLine): Promise<Motif> {
  const { motifPath, motifBytes, fonts, job } = loaded;
  if (isScan(motifBytes)) return tracedMotif(loaded, progress);
  progress.show('reading the drawing');
  return namingFile(motifPath, () =>
    readSvg(motifBytes, {
      widthMm: job.size.widthMm,
      hairlines: job.hairlines,
      fonts: fonts.map((data) => ({ data })),
    }),
  );
}

async function tracedMotif({ motifPath, motifBytes, job }: Loaded, progress: ProgressLine): Promise<Motif> {
  const name = shownPath(motifPath);
  const { motif } = await traceScans(
    [{ name, bytes: motifBytes }],
    {
      scale: null,
      widthMm: job.size.widthMm,
      remedy: () =>
        `trace it first, with okuri trace ${name} -o MOTIF.svg --resolution DPI (or by dots or a ruler), or give the unit's width.`,
    },
    progress,
  );
  return motif;
}

/** A job file that an older sheet was cut by, run as it stands there. */
export async function runOlder(named: string, run: Working): Promise<{ loaded: Loaded; result: JobResult }> {
  const loaded = load(named, { date: today() });
  if (!loaded.isJob) {
    throw new InputError(
      `${shownPath(named)} is a drawing: --since needs the job file that the older sheet was made by.`,
    );
  }
  return { loaded, result: await runEngine(loaded, run) };
}

/**
 * The job with the numbers of an older run for every stencil that has none of its own: else the same opening would have one number there and
 * another here.
 */
export function numberedAfter(loaded: Loaded, older: JobResult): Loaded {
  const { job } = loaded;
  const { lattice } = older;
  const at = job.takenAt.numbers;
  if (Object.keys(job.numbers).length === 0) {
    return { ...loaded, job: { ...job, numbers: older.kept, takenAt: { ...job.takenAt, numbers: lattice } } };
  }
  const kept = at === null ? older.kept : numbersAtSize(older.kept, lattice, at);
  return { ...loaded, job: { ...job, numbers: { ...kept, ...job.numbers } } };
}

/** What a run of the command works with: where it says how it goes on, and the log of what was worked out. */
export type Working = Pick<Run, 'progress' | 'memory'>;

/**
 * The job, worked out as far as its result is read. Ties that can't come to stand after a change of size, or on paper that is too narrow, throw an `InputError`; `strandedTies: 'leave-out'` works without them.
 */
export async function runEngine(
  loaded: Loaded,
  { progress, memory }: Working,
  { strandedTies = 'refuse' }: { readonly strandedTies?: 'refuse' | 'leave-out' } = {},
): Promise<JobResult> {
  const motif = await readMotif(loaded, progress);
  const result = runJob(motif, loaded.job, {
    progress: (stage, share) => progress.show(stage, share),
    remarks: loaded.remarks,
    name: shownPath(loaded.motifPath),
    memory,
  });
  if (strandedTies === 'refuse') {
    // A change of size is the job's, a tie that is too broad the drawing's.
    const { tiesFrom } = result;
    namingFile(tiesFrom === null ? loaded.motifPath : loaded.named, () => refuseStrandedTies(result));
  }
  return result;
}

/** The engine knows artwork and no files: a refusal gets the drawing's name before it. */
function namingFile<T>(path: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (error instanceof InputError) throw new InputError(`${shownPath(path)}: ${error.message}`);
    throw error;
  }
}

/** The day on the wall of the person, `YYYY-MM-DD`. */
function today(): string {
  const now = new Date();
  const two = (n: number) => String(n).padStart(2, '0');
  return `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
}
