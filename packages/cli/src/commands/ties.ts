import {
  acceptTies,
  type ChosenTies,
  dropTies,
  InputError,
  type JobResult,
  mustMend,
  readJob,
  type SuggestedTies,
  type TieChoice,
  type TieKind,
  tiesDocument,
  tiesReport,
} from '@okuri/core';
import { listTies, nearNames, writtenTies } from '@okuri/core/inside';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { replaceJob } from '../job-file.js';
import { HARMLESS } from '../keep-numbers.js';
import { withPlaces } from '../keep-places.js';
import type { Loaded } from '../load.js';
import { addJobOptions, jobOverrides, listOption } from '../options.js';
import { shownPath } from '../read-file.js';
import type { Run } from './run.js';

/** Finds the ties of every stencil: those of the job, and those that would hold what is loose. */
export type SuggestTies = (result: JobResult) => readonly SuggestedTies[];

interface TiesOptions {
  readonly json?: boolean;
  readonly accept?: readonly string[];
  readonly drop?: readonly string[];
  readonly kind?: string;
  readonly stencil?: string;
  readonly font?: readonly string[];
}

const KINDS: readonly TieKind[] = ['printed', 'release'];

/** `okuri ties JOB|MOTIF [--json] [--accept all|IDS] [--kind printed|release] [--drop all|IDS]`. */
export function addTies(program: Command, run: Run, suggestTies: SuggestTies): void {
  const command = program
    .command('ties')
    .summary('what holds the paper together: ties of the job, and suggested ones')
    .description(
      'Lists the ties of the job and those that are suggested, and takes suggested ones into the job file. A printed tie stays and shows on the cloth; a release tie is cut away when the gauze holds. Exit code 1: something must be mended.',
    )
    .argument('<JOB|MOTIF>', 'a job file, or a drawing')
    .option('--json', 'print one JSON document and nothing else')
    .addOption(listOption('--accept <IDS...>', 'write suggested ties into the job: all, or such as T1 T3-T5'))
    .option('--kind <kind>', 'with --accept: printed or release, whatever was suggested')
    .addOption(listOption('--drop <IDS...>', 'take ties out of the job: all, or such as T1 T3-T5'))
    .option('--stencil <n>', 'which stencil, where the job has several');
  addJobOptions(command, ['motif', 'practice']).action(async (named: string) => {
    const options = command.opts<TiesOptions>();
    const kind = readKind(options);
    const stencil = readStencil(options);
    if (options.accept !== undefined && options.drop !== undefined) {
      throw new InputError('--accept and --drop stand together: do one after the other.');
    }
    const loaded = loadFor(command, named);
    const find = (result: JobResult): readonly SuggestedTies[] => {
      run.progress.show('looking for ties', 1);
      return suggestTies(result);
    };
    const list = async (from: Loaded, how: Parameters<typeof runEngine>[2] = {}): Promise<JobResult> => {
      const result = await runEngine(from, run, how);
      const found = find(result);
      const ties = listTies(result, found);
      run.progress.clear();
      run.streams.out(options.json ? `${JSON.stringify(tiesDocument(ties), null, 2)}\n` : tiesReport(ties, result.job));
      return result;
    };
    const ids = options.accept ?? options.drop;
    if (ids === undefined) {
      run.finish(mustMend((await list(loaded)).findings));
      return;
    }
    refuseOther(loaded, command, options);
    const choice: TieChoice = { ids: ids.join(' '), stencil };
    let wrote: boolean;
    let chosen: ChosenTies;
    if (options.accept === undefined) {
      chosen = await dropped(loaded, choice, run);
      wrote = writeTies(loaded, chosen, null);
    } else {
      const result = await runEngine(loaded, run);
      chosen = acceptTies(result.job, find(result), { ...choice, kind });
      wrote = writeTies(loaded, chosen, result);
    }
    run.progress.clear();
    // What is left to choose from is counted anew in the job as it is now; the file is written already, so nothing is refused any more.
    if (options.json) await list(loadFor(command, named), { strandedTies: 'leave-out' });
    else run.streams.out(`${sayChosen(chosen, options)}${wrote ? `wrote ${shownPath(named)}` : 'nothing to write'}\n`);
    run.finish(false);
  });
}

/** Taking ties out needs no drawing, so that a tie which the drawing no longer suits can go; only the number of a stencil has to be looked up. */
async function dropped(loaded: Loaded, choice: TieChoice, run: Run): Promise<ChosenTies> {
  const inks = choice.stencil === null ? null : (await runEngine(loaded, run, { strandedTies: 'leave-out' })).inks;
  return dropTies(loaded.job, inks, choice);
}

/** Puts the ties into the job file, where they differ from what is there; what would make a job that can't be read is not written. */
function writeTies(
  { named, jobText, job }: Loaded,
  { ties, changed, turned }: ChosenTies,
  result: JobResult | null,
): boolean {
  if (jobText === null || (changed === '' && turned === '')) return false;
  const text = withPlaces({ job, jobText }, result, { ties: { value: writtenTies(ties) } });
  readJob(text, { file: named });
  replaceJob(named, { was: jobText, text });
  return true;
}

/** Ties are kept in a job file, and belong to the sheet that the job file makes. */
function refuseOther({ jobText, named }: Loaded, command: Command, { font, accept }: TiesOptions): void {
  if (jobText === null) {
    throw new InputError(`${shownPath(named)} is a drawing: ties are kept in a job file; okuri new makes one.`);
  }
  const strange =
    font === undefined
      ? jobOverrides(command).find(({ path }) => path[0] === 'gauze' || !HARMLESS.includes(path[0]))?.name
      : '--font';
  if (strange !== undefined) {
    throw new InputError(
      `${strange} makes another sheet than the job file: write it into the job before ties are ${accept === undefined ? 'dropped' : 'accepted'}.`,
    );
  }
}

function sayChosen({ changed, turned, same }: ChosenTies, { accept, kind }: TiesOptions): string {
  const lines = [
    changed === '' ? '' : `${accept === undefined ? 'dropped' : 'accepted'} ${changed}\n`,
    turned === '' ? '' : `${kind} now: ${turned}\n`,
    same === '' ? '' : `in the job already: ${same}\n`,
  ];
  return lines.join('');
}

function readKind({ kind, accept }: TiesOptions): TieKind | null {
  if (kind === undefined) return null;
  const known = KINDS.find((one) => one === kind);
  if (known === undefined) {
    const [near] = nearNames(kind, KINDS, 1);
    const hint = near === undefined ? `say ${KINDS.join(' or ')}.` : `did you mean ${near}?`;
    throw new InputError(`--kind is ${JSON.stringify(kind)}: ${hint}`);
  }
  if (accept === undefined) throw new InputError('--kind goes with --accept: name the ties that it is for.');
  return known;
}

function readStencil({ stencil, accept, drop }: TiesOptions): number | null {
  if (stencil === undefined) return null;
  const value = /^\d{1,3}$/.test(stencil.trim()) ? Number(stencil) : 0;
  if (value < 1) throw new InputError(`--stencil is ${JSON.stringify(stencil)}: give its number, from 1.`);
  if (accept === undefined && drop === undefined) {
    throw new InputError('--stencil goes with --accept or --drop: a list names the ties of every stencil.');
  }
  return value;
}
