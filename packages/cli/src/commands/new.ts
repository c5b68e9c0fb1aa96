import { dirname, relative, resolve, sep } from 'node:path';
import { InputError, newJobText } from '@okuri/core';
import { readLine } from '@okuri/core/inside';
import type { Command } from 'commander';
import { loadFor, readMotif } from '../engine.js';
import { addJobOptions } from '../options.js';
import { shownPath } from '../read-file.js';
import { checkTarget, writeFiles } from '../write-files.js';
import type { Run } from './run.js';

/** `okuri new MOTIF -o JOB`: the motif is read first, so that a job file is only written for a drawing that can be used. */
export function addNew(program: Command, run: Run): void {
  const command = program
    .command('new')
    .summary('a job file from a motif, with every default written out')
    .description('Writes a job file for a motif, with every default written out.')
    .argument('<MOTIF>', 'the drawing, an SVG or a scan')
    .requiredOption('-o, --output <JOB>', 'the job file to write, such as leaves.okuri.json')
    .option('--force', 'write over a file that is there already');
  addJobOptions(command, ['motif', 'practice', 'pages', 'cloth', 'plan']).action(async (motifName: string) => {
    const { output, force } = command.opts<{ output: string; force?: boolean }>();
    const loaded = loadFor(command, motifName);
    if (loaded.isJob) {
      throw new InputError(`${shownPath(motifName)} is a job already: name the drawing that a new job is for.`);
    }
    const options = { force: force === true, inputs: loaded.inputs };
    checkTarget({ path: output, kind: 'job' }, options);
    const motif = await readMotif(loaded, run.progress);
    run.progress.clear();
    const beside = (path: string) =>
      relative(dirname(resolve(output)), resolve(path))
        .split(sep)
        .join('/');
    const job = { ...loaded.job, motif: beside(loaded.motifPath), fonts: loaded.fontPaths.map(beside) };
    writeFiles([{ path: output, kind: 'job', content: newJobText(job, loaded.written) }], options);
    const lines = [readLine(motif), ...loaded.remarks, `wrote ${shownPath(output)}`];
    run.streams.out(`${lines.join('\n')}\n`);
    run.finish(false);
  });
}
