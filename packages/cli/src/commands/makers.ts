import { dirname, extname, join } from 'node:path';
import { briefReport, checkDocument, InputError, mustMend } from '@okuri/core';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { addJobOptions, type OptionFamily } from '../options.js';
import {
  clothFile,
  guideFile,
  type MakeContext,
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
  readonly make: (context: MakeContext, output: string) => OutputFile[] | Promise<OutputFile[]>;
}

const MAKERS: readonly Maker[] = [
  {
    name: 'cloth',
    about: 'the repeat over yardage, with or without seams shown',
    families: ['motif', 'cloth'],
    target: 'FILE.png|.svg',
    endings: { '.png': 'png', '.svg': 'svg' },
    make: async (context, output) => [await clothFile(context, output)],
  },
  {
    name: 'sheets',
    about: 'print sheets at true scale: a PDF, or a folder with one SVG a page',
    families: ['motif', 'pages'],
    target: 'FILE.pdf|DIR',
    endings: { '.pdf': 'pdf' },
    folderToo: true,
    make: (context, output) => (endingOf(output) === '.pdf' ? sheetFiles(context, output) : pageFiles(context, output)),
  },
  {
    name: 'guide',
    about: 'the cut guide for an assistant',
    families: ['motif', 'pages'],
    target: 'FILE.pdf',
    endings: { '.pdf': 'pdf' },
    make: async (context, output) => [await guideFile(context, output)],
  },
  {
    name: 'stencil',
    about: 'the cutting drawing, in layers',
    families: ['motif'],
    target: 'FILE.svg',
    endings: { '.svg': 'svg' },
    make: stencilFiles,
  },
  {
    name: 'make',
    about: 'everything above, in one folder',
    families: ['motif', 'pages', 'cloth'],
    target: 'DIR',
    endings: null,
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
    addJobOptions(command, maker.families).action((named: string) => produce(run, maker, command, named));
  }
}

async function produce(run: Run, maker: Maker, command: Command, named: string): Promise<void> {
  const { output, force, pixelsPerMm } = command.opts<{ output: string; force?: boolean; pixelsPerMm?: string }>();
  const kind = maker.endings?.[endingOf(output)];
  const folder = maker.endings === null || (kind === undefined && maker.folderToo === true && endingOf(output) === '');
  if (kind === undefined && !folder) {
    throw new InputError(
      `${shownPath(output)} is no name for what okuri ${maker.name} makes: give -o ${maker.target}.`,
    );
  }
  const pixels = pixelsPerMm === undefined ? null : readPixelsPerMm(pixelsPerMm);
  const loaded = loadFor(command, named);
  const options = { force: force === true, inputs: loaded.inputs, makeFolders: folder };
  // What can be judged before the work is, so that nobody waits for a refusal; whose file it is may hang on the count of stencils.
  if (kind === undefined) checkFolder(output);
  else checkTarget({ path: output, kind }, { ...options, force: true });
  const result = runEngine(loaded, run.progress);
  const writer = await import('@okuri/writer');
  const context: MakeContext = { result, writer, file: loaded.motifPath, progress: run.progress, pixelsPerMm: pixels };
  const files = await maker.make(context, output);
  run.progress.show('writing');
  writeFiles(files, { ...options, remove: stalePages(files) });
  run.progress.clear();
  run.streams.out(`${briefReport(result)}${writtenLines(files)}`);
  run.finish(mustMend(result.findings));
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
  ];
}

/** A line for each file; pages are counted, a line for each of their folders. */
function writtenLines(files: readonly OutputFile[]): string {
  const pages = new Map<string, number>();
  for (const { path } of files.filter(({ isPage }) => isPage)) {
    pages.set(dirname(path), (pages.get(dirname(path)) ?? 0) + 1);
  }
  const lines = files.filter(({ isPage }) => !isPage).map(({ path }) => shownPath(path));
  for (const [folder, count] of pages) lines.push(`${shownPath(folder)} (${count} ${count === 1 ? 'page' : 'pages'})`);
  return lines.map((line) => `wrote ${line}\n`).join('');
}

function endingOf(path: string): string {
  return extname(path).toLowerCase();
}
