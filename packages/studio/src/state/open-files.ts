import { InputError, readJob } from '@okuri/core';
import { tiffSentence } from '../scan/scan-source';
import { keyOf, newJobFor, withKey } from './job-keys';
import type { ArtworkFile, Project } from './project';

/** What dropped or chosen files make of the work at hand. */
export interface Opened {
  readonly project: Project;
  /** A drawing that nothing is known of: it has to be asked what its dark means. */
  readonly isNew: boolean;
}

const FONT = /\.(?:ttf|otf|woff2?|ttc)$/i;
const JOB = /\.json$/i;
const TIFF = /\.tiff?$/i;
const DRAWING = /\.(?:svg|png|jpe?g|webp)$/i;

/** How large a file may be, bytes: a guard. */
const BYTES_MAX = 100e6;

/**
 * The project with the files in it: a job file (with the drawing it names, if that came along or is at hand already), a drawing alone, or
 * fonts for the drawing at hand. Throws an `InputError` of one sentence where they can't be used; the work at hand is not touched then.
 */
export function openFiles(files: readonly ArtworkFile[], now: Project): Opened {
  if (files.length === 0) throw new InputError('No file came along: drop a drawing (SVG, or a scan), or a job file.');
  const large = files.find(({ bytes }) => bytes.length > BYTES_MAX);
  if (large !== undefined) throw new InputError(`${large.name} is larger than 100 MB: make it smaller first.`);
  const fonts = files.filter(({ name }) => FONT.test(name));
  const jobs = files.filter(({ name }) => JOB.test(name));
  const drawings = files.filter(({ name }) => DRAWING.test(name));
  const tiff = files.find(({ name }) => TIFF.test(name));
  if (tiff !== undefined) throw new InputError(tiffSentence(tiff.name));
  const [other] = files.filter(({ name }) => ![FONT, JOB, DRAWING].some((kind) => kind.test(name)));
  if (other !== undefined) {
    throw new InputError(
      `${other.name} is nothing that can be opened here: drop a drawing (SVG, PNG, JPEG or WebP), a job file (.okuri.json), or fonts.`,
    );
  }
  if (jobs.length > 1) throw new InputError('Several job files came along: open one at a time.');
  if (drawings.length > 1 && jobs.length === 0) {
    throw new InputError('Several drawings came along: open one at a time, or join scans with okuri trace.');
  }
  const [job] = jobs;
  if (job !== undefined) return { project: withJob(job, { drawings, fonts, now }), isNew: false };
  const [drawing] = drawings;
  if (drawing !== undefined) {
    return { project: { jobText: newJobFor(drawing.name), motif: drawing, fonts }, isNew: true };
  }
  const known = now.fonts.filter(({ name }) => !fonts.some((font) => font.name === name));
  const all = [...known, ...fonts];
  const jobText = withKey(
    now.jobText,
    ['fonts'],
    all.map(({ name }) => name),
  );
  return { project: { ...now, jobText, fonts: all }, isNew: false };
}

function withJob(
  job: ArtworkFile,
  { drawings, fonts, now }: { drawings: readonly ArtworkFile[]; fonts: readonly ArtworkFile[]; now: Project },
): Project {
  const jobText = textOf(job);
  // Refused here with its sentence, before anything at hand is given up.
  readJob(jobText, { file: job.name });
  const wanted = baseName(String(keyOf(jobText, ['motif'])));
  const found = drawings.find(({ name }) => name === wanted) ?? (drawings.length === 1 ? drawings[0] : undefined);
  const motif = found ?? (baseName(now.motif.name) === wanted ? now.motif : undefined);
  if (motif === undefined) {
    throw new InputError(`${job.name} names the drawing "${wanted}": drop both files together.`);
  }
  const scan = motif === now.motif && now.scan !== undefined ? { scan: now.scan } : {};
  return { jobText, motif, fonts: fonts.length > 0 ? fonts : now.fonts, ...scan };
}

function textOf({ name, bytes }: ArtworkFile): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: false }).decode(bytes);
  } catch {
    throw new InputError(`${name} is no text file: a job file is JSON in UTF-8.`);
  }
}

function baseName(path: string): string {
  return path.split(/[\\/]/).at(-1) ?? path;
}
