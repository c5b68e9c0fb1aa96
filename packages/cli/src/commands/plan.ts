import { extname } from 'node:path';
import { InputError, jobPlanDocument, jobPlanReport, mustMend, planCsv } from '@okuri/core';
import { jobPlanFindings } from '@okuri/core/inside';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { addJobOptions } from '../options.js';
import { mapFiles } from '../outputs.js';
import { shownPath } from '../read-file.js';
import { checkTarget, type OutputFile, writeFiles } from '../write-files.js';
import type { Run } from './run.js';

interface PlanCommandOptions {
  readonly json?: boolean;
  readonly csv?: string;
  readonly map?: string;
  readonly force?: boolean;
}

const MAP_KINDS = { '.pdf': 'pdf', '.svg': 'svg', '.png': 'png' } as const;

/** `okuri plan JOB|MOTIF [--json] [--csv FILE.csv] [--map FILE.pdf|.svg|.png]`. */
export function addPlan(program: Command, run: Run): void {
  const command = program
    .command('plan')
    .summary('placements along the cloth, passes, cloth and paste')
    .description(
      'Says how many placements a cloth takes, where each goes and in which pass, what has to be marked and masked, and how much cloth, time and paste it takes. Exit code 1: something must be mended before printing.',
    )
    .argument('<JOB|MOTIF>', 'a job file, or a drawing')
    .option('--json', 'print one JSON document and nothing else')
    .option('--csv <FILE.csv>', 'write the table of all placements')
    .option('--map <FILE.pdf|.svg|.png>', 'write the placement map for the printer paper of the job')
    .option('--force', "write over files that are not the tool's own");
  addJobOptions(command, ['motif', 'practice', 'plan', 'pages']).action(async (named: string) => {
    const { json, csv, map, force } = command.opts<PlanCommandOptions>();
    const [csvPath, mapPath] = [readCsv(csv), readMap(map)];
    const loaded = loadFor(command, named);
    const writing = { force: force === true, inputs: loaded.inputs };
    // What can be judged before the work is, so that nobody waits for a refusal.
    if (csvPath !== null) checkTarget({ path: csvPath, kind: 'csv' }, writing);
    if (mapPath !== null) checkTarget(mapPath, { ...writing, force: true });
    const result = await runEngine(loaded, run);
    run.progress.show('planning');
    const { plan } = result;
    const files: OutputFile[] = csvPath === null ? [] : [{ path: csvPath, kind: 'csv', content: planCsv(plan) }];
    if (mapPath !== null) {
      const writer = await import('@okuri/writer');
      files.push(...(await mapFiles({ result, writer, progress: run.progress }, mapPath.path)));
    }
    writeFiles(files, writing);
    run.progress.clear();
    const written = files.map(({ path }) => `wrote ${shownPath(path)}\n`).join('');
    run.streams.out(
      json ? `${JSON.stringify(jobPlanDocument(result, plan), null, 2)}\n` : `${jobPlanReport(result, plan)}${written}`,
    );
    run.finish(mustMend(jobPlanFindings(result, plan)));
  });
}

function readCsv(path: string | undefined): string | null {
  if (path === undefined || extname(path).toLowerCase() === '.csv') return path ?? null;
  throw new InputError(`${shownPath(path)} is no name for a table: give --csv FILE.csv.`);
}

function readMap(path: string | undefined): { path: string; kind: 'pdf' | 'svg' | 'png' } | null {
  if (path === undefined) return null;
  const ending = extname(path).toLowerCase();
  const kind = Object.hasOwn(MAP_KINDS, ending) ? MAP_KINDS[ending as keyof typeof MAP_KINDS] : undefined;
  if (kind !== undefined) return { path, kind };
  throw new InputError(`${shownPath(path)} is no name for a map: give --map FILE.pdf, .svg or .png.`);
}
