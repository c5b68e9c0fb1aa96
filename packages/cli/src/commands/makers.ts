import { dirname, extname, join } from 'node:path';
import {
  changesSince,
  checkDocument,
  type Finding,
  InputError,
  type JobResult,
  jobPlanDocument,
  mustMend,
  planCsv,
  type SheetChanges,
} from '@okuri/core';
import { briefReport, counted, numbersText } from '@okuri/core/inside';
import type { Command } from 'commander';
import { loadFor, numberedAfter, runEngine, runOlder } from '../engine.js';
import { keepNumbers } from '../keep-numbers.js';
import { addJobOptions, jobOverrides, type OptionFamily } from '../options.js';
import {
  clothFile,
  guideFile,
  type MakeContext,
  mapFiles,
  pageFiles,
  readPixelsPerMm,
  sheetFiles,
  stencilFiles,
} from '../outputs.js';
import { shownPath } from '../read-file.js';
import type { FileKind } from '../seal.js';
import { checkFolder, checkTarget, type OutputFile, stalePages, writeFiles } from '../write-files.js';
import type { Run } from './run.js';

/** A command that makes files from a job. */
interface Maker {
  readonly name: string;
  readonly about: string;
  readonly families: readonly OptionFamily[];
  readonly target: string;
  /** Endings that are taken, and the kind of file they stand for; null stands for a folder, which has any other name. */
  readonly endings: Readonly<Record<string, FileKind>> | null;
  /** Whether a name without an ending is taken as a folder too. */
  readonly folderToo?: boolean;
  /** It makes a guide, by which openings are cut: their numbers are kept in the job file, and an older job may be compared. */
  readonly guide?: boolean;
  /** What is said of the job, and is its exit code. By default all findings. */
  readonly says?: (result: JobResult) => readonly Finding[];
  readonly make: (context: MakeContext, output: string) => OutputFile[] | Promise<OutputFile[]>;
}

const MAKERS: readonly Maker[] = [
  {
    name: 'cloth',
    about: 'the repeat over yardage, with or without seams shown',
    families: ['motif', 'cloth'],
    target: 'FILE.png|.svg',
    endings: { '.png': 'png', '.svg': 'svg' },
    // The cloth shows nothing of the paper it is printed with.
    says: ({ clothFindings }) => clothFindings,
    make: async (context, output) => [await clothFile(context, output)],
  },
  {
    name: 'sheets',
    about: 'print sheets at true scale: a PDF, or a folder with one SVG a page',
    families: ['motif', 'practice', 'pages'],
    target: 'FILE.pdf|DIR',
    endings: { '.pdf': 'pdf' },
    folderToo: true,
    make: (context, output) => (endingOf(output) === '.pdf' ? sheetFiles(context, output) : pageFiles(context, output)),
  },
  {
    name: 'guide',
    about: 'the cut guide for an assistant',
    families: ['motif', 'practice', 'pages'],
    target: 'FILE.pdf',
    endings: { '.pdf': 'pdf' },
    guide: true,
    make: async (context, output) => [await guideFile(context, output)],
  },
  {
    name: 'stencil',
    about: 'the cutting drawing, in layers',
    families: ['motif', 'practice'],
    target: 'FILE.svg',
    endings: { '.svg': 'svg' },
    make: stencilFiles,
  },
  {
    name: 'make',
    about: 'everything above and the plan, in one folder',
    families: ['motif', 'practice', 'pages', 'cloth', 'plan'],
    target: 'DIR',
    endings: null,
    guide: true,
    make: makeEverything,
  },
];

/** `okuri cloth`, `sheets`, `guide`, `stencil` and `make`. */
export function addMakers(program: Command, run: Run): void {
  for (const maker of MAKERS) {
    const command = program
      .command(maker.name)
      .summary(maker.about)
      .description(`Makes ${maker.about}. Exit code 1: made, but something must be mended before the first cut.`)
      .argument('<JOB|MOTIF>', 'a job file, or a drawing')
      .requiredOption(`-o, --output <${maker.target}>`, 'what to write')
      .option('--force', "write over files that are not the tool's own");
    if (maker.families.includes('cloth')) command.option('--pixels-per-mm <n>', 'how fine the picture of the cloth is');
    if (maker.guide) {
      command
        .option(
          '--since <OLDJOB>',
          'the job file of an older sheet: say what has to be cut again, patched and cut newly',
        )
        .option('--no-keep', "leave the job file alone: do not keep the openings' numbers in it");
    }
    addJobOptions(command, maker.families).action((named: string) => produce(run, maker, command, named));
  }
}

interface MakerOptions {
  readonly output: string;
  readonly force?: boolean;
  readonly pixelsPerMm?: string;
  readonly since?: string;
  readonly keep?: boolean;
}

async function produce(run: Run, maker: Maker, command: Command, named: string): Promise<void> {
  const { output, force, pixelsPerMm, since, keep } = command.opts<MakerOptions>();
  const kind = maker.endings?.[endingOf(output)];
  const folder = maker.endings === null || (kind === undefined && maker.folderToo === true && endingOf(output) === '');
  if (kind === undefined && !folder) {
    throw new InputError(
      `${shownPath(output)} is no name for what okuri ${maker.name} makes: give -o ${maker.target}.`,
    );
  }
  const pixels = pixelsPerMm === undefined ? null : readPixelsPerMm(pixelsPerMm);
  const asked = loadFor(command, named);
  const older = since === undefined ? null : await runOlder(since, run);
  const loaded = older === null ? asked : numberedAfter(asked, older.result);
  const inputs = [...loaded.inputs, ...(older?.loaded.inputs ?? [])];
  const options = { force: force === true, inputs, makeFolders: folder };
  // What can be judged before the work is, so that nobody waits for a refusal; whose file it is may hang on the count of stencils.
  if (kind === undefined) checkFolder(output);
  else checkTarget({ path: output, kind }, { ...options, force: true });
  const result = await runEngine(loaded, run);
  const writer = await import('@okuri/writer');
  const changes = older === null ? null : changesSince(older.result, result);
  const context: MakeContext = {
    result,
    writer,
    file: loaded.motifPath,
    progress: run.progress,
    pixelsPerMm: pixels,
    changes,
  };
  const files = await maker.make(context, output);
  run.progress.show('writing');
  writeFiles(files, { ...options, remove: stalePages(files) });
  // Last of all: numbers that no guide shows need not be kept.
  const remark = maker.guide && keep !== false ? keepNumbers(asked, result, jobOverrides(command)) : null;
  run.progress.clear();
  const lines = [...(changes === null ? [] : changeLines(changes)), ...(remark === null ? [] : [remark])];
  const findings = maker.says?.(result) ?? result.findings;
  run.streams.out(`${briefReport(result, findings)}${writtenLines(files)}${lines.map((line) => `${line}\n`).join('')}`);
  run.finish(mustMend(findings));
}

async function makeEverything(context: MakeContext, folder: string): Promise<OutputFile[]> {
  const at = (name: string) => join(folder, name);
  const document = JSON.stringify(checkDocument(context.result, context.file));
  return [
    { path: at('check.json'), kind: 'json', content: document },
    await clothFile(context, at('cloth.png')),
    await clothFile(context, at('cloth.svg')),
    ...(await sheetFiles(context, at('sheets.pdf'))),
    ...(await pageFiles(context, at('sheets-svg'))),
    await guideFile(context, at('guide.pdf')),
    ...(await stencilFiles(context, at('stencil.svg'))),
    ...(await planFiles(context, at)),
  ];
}

/** The plan of the run: as a document, as a table and as a map. */
async function planFiles(context: MakeContext, at: (name: string) => string): Promise<OutputFile[]> {
  context.progress.show('planning');
  const { plan } = context.result;
  return [
    { path: at('plan.json'), kind: 'json', content: JSON.stringify(jobPlanDocument(context.result, plan)) },
    { path: at('plan.csv'), kind: 'csv', content: planCsv(plan) },
    ...(await mapFiles(context, at('plan.pdf'))),
  ];
}

/** What has to be done to the older sheets, a line for each. */
function changeLines(changes: readonly (SheetChanges | null)[]): string[] {
  return changes.map((change, k) => {
    const name = changes.length > 1 ? `stencil ${k + 1}, since the older job` : 'since the older job';
    if (change === null) return `${name}: all of it is new`;
    const parts = [
      ['cut again', change.cutAgain] as const,
      ['patch', change.patch] as const,
      ['new', change.fresh] as const,
    ].flatMap(([word, numbers]) => (numbers.length > 0 ? [`${word} ${numbersText(numbers)}`] : []));
    return `${name}: ${parts.length > 0 ? parts.join('; ') : 'nothing to cut and nothing to patch'}`;
  });
}

/** A line for each file; pages are counted, a line for each of their folders. */
function writtenLines(files: readonly OutputFile[]): string {
  const pages = new Map<string, number>();
  for (const { path } of files.filter(({ isPage }) => isPage)) {
    pages.set(dirname(path), (pages.get(dirname(path)) ?? 0) + 1);
  }
  const lines = files.filter(({ isPage }) => !isPage).map(({ path }) => shownPath(path));
  for (const [folder, count] of pages) lines.push(`${shownPath(folder)} (${counted(count, 'page')})`);
  return lines.map((line) => `wrote ${line}\n`).join('');
}

function endingOf(path: string): string {
  return extname(path).toLowerCase();
}
