import {
  InputError,
  type Job,
  type JobResult,
  type ProofReport,
  proofDocument,
  proofReport,
  readJob,
  withOffsets,
} from '@okuri/core';
import {
  marksOfSheet,
  type ProofSheet,
  parseOffsets,
  proofListDocument,
  proofListReport,
  proofSheet,
  sizeText,
  type TypedOffset,
  writtenProof,
} from '@okuri/core/inside';
import { compareProof, layProof } from '@okuri/scan';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { replaceJob } from '../job-file.js';
import { HARMLESS } from '../keep-numbers.js';
import { withPlaces } from '../keep-places.js';
import type { Loaded } from '../load.js';
import { addJobOptions, jobOverrides, listOption } from '../options.js';
import { proofFiles } from '../proof-files.js';
import { namingScan, type ReadScan, readScan } from '../proof-scan.js';
import { shownPath } from '../read-file.js';
import { checkFolder, writeFiles } from '../write-files.js';
import type { Run } from './run.js';

interface ProofOptions {
  readonly stencil?: string;
  readonly points?: string;
  readonly apart?: string;
  readonly resolution?: string;
  readonly light?: boolean;
  readonly offset?: readonly string[];
  readonly accept?: boolean;
  readonly output?: string;
  readonly force?: boolean;
  readonly json?: boolean;
  readonly font?: readonly string[];
}

/** `okuri proof JOB [SCAN] [--accept] [--offset J3=0.4mm …] [-o DIR]`. */
export function addProof(program: Command, run: Run): void {
  const command = program
    .command('proof')
    .summary('a printed proof against the plan: what was really cut, and the second cut that meets it')
    .description(
      'Lays a scan or photograph of the printed proof (first cut only) over the plan by its dots, and tells how far lead edges lie off, what did not print and what printed beside the plan, and whether the dots are square. Without a scan: where to measure, and offsets typed by hand. Exit code 1: the sheet is proved not square.',
    )
    .argument('<JOB>', 'a job file')
    .argument('[SCAN]', 'the printed proof: PNG, JPEG, TIFF or WebP')
    .option('--stencil <n>', 'which stencil, where the job has several')
    .option('--resolution <dpi>', 'dots an inch, for a scan whose file states none or a wrong one')
    .option(
      '--points <"x,y x,y x,y x,y">',
      'four places in px, clockwise from the upper left of the sheet: its corner dots; with --apart other places of known distance, such as the corners of the paper',
    )
    .option('--apart <WIDTHxHEIGHT>', 'with --points: how far apart they are, or the name of the paper')
    .option('--light', 'what is light is the print')
    .option('--accept', 'write the measured offsets into the job, so that the second cut follows them')
    .addOption(
      listOption('--offset <J3=0.4mm...>', 'offsets measured by hand at numbered ends; J3=none takes one back'),
    )
    .option(
      '-o, --output <DIR>',
      'write the proof over the plan, the strips of the second cut, the map and a form, as PDF',
    )
    .option('--force', "write over files that are not the tool's own")
    .option('--json', 'print one JSON document and nothing else');
  addJobOptions(command, ['motif', 'practice', 'pages']).action(async (named: string, scan: string | undefined) => {
    const options = command.opts<ProofOptions>();
    const { offset = [], accept = false, output } = options;
    refuseStrange(options, scan);
    const stencil = readStencil(options.stencil);
    if (output !== undefined) checkFolder(output);
    const loaded = loadFor(command, named);
    const writes = accept || (offset.length > 0 && scan === undefined);
    if (writes) refuseOther(loaded, command, options);
    const read = scan === undefined ? null : await readScan(scan, options, run.progress);
    const result = await runEngine(loaded, run);
    const wholeList = scan === undefined && offset.length === 0 && stencil === null;
    const chosen = wholeList && result.sheets.length > 1 ? null : proofSheet(result, stencil);
    const report = read === null || chosen === null ? null : compared(read, chosen, options, run);
    const typed = chosen === null ? [] : parseOffsets(offset, chosen.ends);
    // Proofs of a sheet of another size are not of this one: with the first offset of this one they go out.
    const kept = marksOfSheet(loaded.job, result.lattice);
    const proof = chosen === null ? kept.proof : changedProof(kept, chosen, { report, typed });
    const wrote = writes && chosen !== null ? writeProof(loaded, proof, result) : null;
    const files =
      output === undefined
        ? []
        : await proofFiles({ ...loaded, job: { ...kept, proof, takenAt: { ...kept.takenAt, proof: null } } }, result, {
            report,
            chosen,
            output,
            run,
          });
    if (output !== undefined) {
      run.progress.show('writing');
      const inputs = [...loaded.inputs, ...(scan === undefined ? [] : [scan])];
      writeFiles(files, { force: options.force === true, inputs, makeFolders: true });
    }
    run.progress.clear();
    const older = kept.proof === loaded.job.proof ? null : loaded.job.takenAt.proof;
    const said = [
      ...(wrote === true && older !== null
        ? [`offsets of the older sheet (unit of ${sizeText(older)}) are out: this is a new one`]
        : []),
      ...(wrote === null ? [] : [wrote ? `wrote ${shownPath(named)}` : 'nothing to write into the job']),
      ...files.map(({ path }) => `wrote ${shownPath(path)}`),
    ];
    run.streams.out(spoken({ result, chosen, report, typed, options, said, named, scan }));
    run.finish(report?.square?.square === false);
  });
}

interface Spoken {
  readonly result: JobResult;
  readonly chosen: ProofSheet | null;
  readonly report: ProofReport | null;
  readonly typed: readonly TypedOffset[];
  readonly options: ProofOptions;
  readonly said: readonly string[];
  readonly named: string;
  readonly scan: string | undefined;
}

function spoken({ result, chosen, report, typed, options, said, named, scan }: Spoken): string {
  const { json, accept } = options;
  if (report !== null && chosen !== null) {
    if (json) return `${JSON.stringify(proofDocument(report, chosen), null, 2)}\n`;
    const next = accept
      ? ['The second cut follows it now: okuri guide prints it, okuri proof with -o DIR its strips.']
      : [
          `If this is how the sheet was cut: okuri proof ${shownPath(named)} ${shownPath(scan ?? '')} --accept takes the offsets into the job, and the second cut follows them.`,
        ];
    return proofReport(report, chosen, { next }) + lines(said);
  }
  const all = chosen === null ? result.sheets.map((_, k) => proofSheet(result, k + 1)) : [chosen];
  if (typed.length > 0 && !json) {
    const list = typed.map(({ name, offsetMm }) =>
      offsetMm === null ? `${name} as planned` : `${name} ${offsetMm} mm`,
    );
    return lines([`offsets typed: ${list.join(', ')}`, ...said]);
  }
  if (json) {
    const documents = all.map(proofListDocument);
    return `${JSON.stringify(documents.length === 1 ? documents[0] : { stencils: documents }, null, 2)}\n`;
  }
  return all.map(proofListReport).join('\n') + lines(said);
}

function lines(list: readonly string[]): string {
  return list.map((line) => `${line}\n`).join('');
}

function compared(read: ReadScan, { sheet, ends }: ProofSheet, { light = false }: ProofOptions, run: Run): ProofReport {
  return namingScan(read.name, () => {
    run.progress.show('looking for the dots');
    const { image } = read.scan;
    const laid = layProof(image, sheet, { scale: read.scale, corners: read.corners, light });
    return compareProof(image, sheet, ends, {
      laid,
      light,
      progress: (share) => run.progress.show('comparing', share),
    });
  });
}

function changedProof(
  { proof }: Job,
  chosen: ProofSheet,
  { report, typed }: { readonly report: ProofReport | null; readonly typed: readonly TypedOffset[] },
): Job['proof'] {
  if (report === null && typed.length === 0) return proof;
  return withOffsets(proof, chosen, { measured: report?.offsets ?? null, typed });
}

/** Puts the proofs into the job file, where they differ from what is there; what would make a job that can't be read is not written. */
function writeProof({ named, jobText, job }: Loaded, proof: Job['proof'], result: JobResult): boolean {
  const [now, before] = [writtenProof(proof), writtenProof(marksOfSheet(job, result.lattice).proof)];
  if (jobText === null || JSON.stringify(now) === JSON.stringify(before)) return false;
  const text = withPlaces({ job, jobText }, result, { proof: { value: now } });
  readJob(text, { file: named });
  replaceJob(named, { was: jobText, text });
  return true;
}

function refuseStrange(
  { points, apart, resolution, light, accept, offset }: ProofOptions,
  scan: string | undefined,
): void {
  if (points !== undefined && resolution !== undefined && apart !== undefined) {
    throw new InputError(
      '--resolution and --points with --apart stand together: the scale is taken from one thing, so leave one of them out.',
    );
  }
  if (scan !== undefined) return;
  const needs = {
    '--points': points,
    '--apart': apart,
    '--resolution': resolution,
    '--light': light,
    '--accept': accept,
  };
  const strange = Object.entries(needs).find(([, value]) => value !== undefined)?.[0];
  if (strange !== undefined) {
    const typed =
      strange === '--accept' && offset !== undefined ? ' (offsets typed by hand go into the job without it)' : '';
    throw new InputError(
      `${strange} goes with a scan of the proof: name the picture after the job, or leave it out${typed}.`,
    );
  }
}

/** Offsets are kept in a job file, and belong to the sheet that the job file makes. */
function refuseOther({ jobText, named }: Loaded, command: Command, { font }: ProofOptions): void {
  if (jobText === null) {
    throw new InputError(`${shownPath(named)} is a drawing: offsets are kept in a job file; okuri new makes one.`);
  }
  const strange =
    font === undefined ? jobOverrides(command).find(({ path }) => !HARMLESS.includes(path[0]))?.name : '--font';
  if (strange !== undefined) {
    throw new InputError(
      `${strange} makes another sheet than the job file: write it into the job before offsets are taken in.`,
    );
  }
}

function readStencil(text: string | undefined): number | null {
  if (text === undefined) return null;
  const value = /^\d{1,3}$/.test(text.trim()) ? Number(text) : 0;
  if (value >= 1) return value;
  throw new InputError(`--stencil is ${JSON.stringify(text)}: give its number, from 1.`);
}
