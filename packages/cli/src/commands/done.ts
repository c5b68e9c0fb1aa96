import { InputError, markDone } from '@okuri/core';
import { numbersText, sizeText, writtenNumbers } from '@okuri/core/inside';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { replaceJob } from '../job-file.js';
import { withPlaces } from '../keep-places.js';
import { shownPath } from '../read-file.js';
import type { Run } from './run.js';

/** `okuri done JOB NUMBERS... [--not]`. */
export function addDone(program: Command, run: Run): void {
  const command = program
    .command('done')
    .summary('mark openings as cut already, so that they are drawn as done')
    .description('Marks openings in the job file as cut already: print sheets and guide draw them as done.')
    .argument('<JOB>', 'a job file')
    .argument('<NUMBERS...>', 'numbers of openings and ranges of them, such as 14 15 20-30')
    .option('--not', 'take the marks back')
    .option('--stencil <n>', 'which stencil, where the job has several');
  command.action(async (named: string, numbers: readonly string[]) => {
    const { not, stencil } = command.opts<{ not?: boolean; stencil?: string }>();
    const loaded = loadFor(command, named);
    if (loaded.jobText === null) {
      throw new InputError(`${shownPath(named)} is a drawing: marks are kept in a job file; okuri new makes one.`);
    }
    const result = await runEngine(loaded, run);
    const marked = markDone(result, numbers.join(' '), { not: not === true, sheet: readStencil(stencil) });
    const { job, jobText } = loaded;
    // Marks are by number: from now on the numbers have to stay.
    const kept = Object.keys(job.numbers).length === 0 ? { numbers: { value: writtenNumbers(result.kept) } } : {};
    const done = { value: marked.value, ...(marked.stillOf === undefined ? {} : { of: marked.stillOf }) };
    const text = withPlaces({ job, jobText }, result, { done, ...kept });
    if (text !== loaded.jobText) replaceJob(named, { was: loaded.jobText, text });
    run.progress.clear();
    const list = marked.numbers.length === 0 ? 'nothing' : numbersText(marked.numbers);
    const older =
      marked.insteadOf === undefined
        ? ''
        : `the marks of the older sheet (unit of ${sizeText(marked.insteadOf)}) are out: this is a new one\n`;
    run.streams.out(`${older}done now: ${list}\nwrote ${shownPath(named)}\n`);
    run.finish(false);
  });
}

function readStencil(text: string | undefined): number | null {
  if (text === undefined) return null;
  const value = /^\d{1,3}$/.test(text.trim()) ? Number(text) : 0;
  if (value >= 1) return value;
  throw new InputError(`--stencil is ${JSON.stringify(text)}: give its number, from 1.`);
}
