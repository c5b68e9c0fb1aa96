import { checkDocument, checkReport, mustMend } from '@okuri/core';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { addJobOptions } from '../options.js';
import type { Run } from './run.js';

/** `okuri check JOB|MOTIF [--json]`. */
export function addCheck(program: Command, run: Run): void {
  const command = program
    .command('check')
    .summary('joins, held margin, paper: the findings')
    .description('Says what would show on the cloth or tear in the paper. Exit code 1: something must be mended.')
    .argument('<JOB|MOTIF>', 'a job file, or a drawing')
    .option('--json', 'print one JSON document and nothing else');
  addJobOptions(command, ['motif', 'cloth']).action(async (named: string) => {
    const loaded = loadFor(command, named);
    const result = await runEngine(loaded, run);
    run.progress.clear();
    run.streams.out(
      command.opts<{ json?: boolean }>().json
        ? `${JSON.stringify(checkDocument(result, loaded.motifPath), null, 2)}\n`
        : checkReport(result),
    );
    run.finish(mustMend(result.findings));
  });
}
