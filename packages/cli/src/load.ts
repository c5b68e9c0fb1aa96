import { dirname, isAbsolute, resolve } from 'node:path';
import { InputError, type Job, type JobOverride, type JobReading, jobForMotif, readJob } from '@okuri/core';
import { decodeUtf8, readBytes, shownPath } from './read-file.js';

/** What a person named: a job file, or a motif that becomes a job of defaults. */
export interface Loaded {
  readonly isJob: boolean;
  /** As the person named it. */
  readonly named: string;
  /** The job file's text; null for a bare motif. */
  readonly jobText: string | null;
  readonly job: Job;
  /** What has to be said about how the job was read. */
  readonly remarks: readonly string[];
  /** What the job file and the command's options say, before any default. */
  readonly written: JobReading['written'];
  readonly motifPath: string;
  readonly motifBytes: Uint8Array;
  readonly fontPaths: readonly string[];
  readonly fonts: readonly Uint8Array[];
  /** Every file that was read. */
  readonly inputs: readonly string[];
}

export interface LoadOptions {
  readonly overrides?: readonly JobOverride[];
  /** Font files of the command line, in place of the job's. */
  readonly fonts?: readonly string[];
  /** `YYYY-MM-DD`, for a job that gives none. */
  readonly date: string;
}

/**
 * Reads a job file with its motif and fonts, or a bare motif. A file whose name ends in `.json` or whose first character is a
 * brace is a job file. Whatever can't be read throws an `InputError`.
 */
export function load(named: string, options: LoadOptions): Loaded {
  const bytes = readBytes(named, 'job or the motif');
  if (isJobFile(named, bytes)) {
    const jobText = decodeUtf8(bytes, named);
    const { job, remarks, written } = readJob(jobText, readOptions(named, options));
    const beside = (path: string) => (isAbsolute(path) ? path : resolve(dirname(named), path));
    const motifPath = beside(job.motif);
    const fontPaths = options.fonts ?? job.fonts.map(beside);
    const motifBytes = readBytes(motifPath, 'motif');
    return gather({ isJob: true, named, jobText, job, remarks, written, motifPath, motifBytes, fontPaths }, [named]);
  }
  const { job, remarks, written } = jobForMotif(readOptions(named, options));
  const fontPaths = options.fonts ?? [];
  return gather(
    { isJob: false, named, jobText: null, job, remarks, written, motifPath: named, motifBytes: bytes, fontPaths },
    [],
  );
}

function readOptions(file: string, { overrides, date }: LoadOptions) {
  return { file, date, ...(overrides === undefined ? {} : { overrides }) };
}

function gather(loaded: Omit<Loaded, 'fonts' | 'inputs'>, read: readonly string[]): Loaded {
  const fonts = loaded.fontPaths.map(readFont);
  return { ...loaded, fonts, inputs: [...read, loaded.motifPath, ...loaded.fontPaths] };
}

/** How font files begin (OpenType 1.9.1, table directory and collections; WOFF 1.0 and 2.0). */
const FONT_STARTS = ['00010000', '4f54544f', '74727565', '74746366', '774f4646', '774f4632'];

function readFont(path: string): Uint8Array {
  const bytes = readBytes(path, 'font');
  if (!FONT_STARTS.includes(Buffer.from(bytes.subarray(0, 4)).toString('hex'))) {
    throw new InputError(`${shownPath(path)} is no font: name a TrueType, OpenType or WOFF file.`);
  }
  return bytes;
}

/** How far into a file its first printing character is looked for. */
const HEAD_BYTES = 1_000;

function isJobFile(path: string, bytes: Uint8Array): boolean {
  if (path.toLowerCase().endsWith('.json')) return true;
  const head = new TextDecoder('utf-8').decode(bytes.subarray(0, HEAD_BYTES));
  return head
    .replace(/^\uFEFF/, '')
    .trimStart()
    .startsWith('{');
}
