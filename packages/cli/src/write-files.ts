import {
  closeSync,
  existsSync,
  fsyncSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeSync,
} from 'node:fs';
import { basename, dirname, join, resolve } from 'node:path';
import { InputError } from '@okuri/core';
import { asInputError, MAX_FILE_BYTES, shownPath } from './read-file.js';
import { type FileKind, isSealed, seal } from './seal.js';

/** A file to be written. */
export interface OutputFile {
  readonly path: string;
  readonly kind: FileKind;
  readonly content: Uint8Array | string;
  /** One page of a set that has its folder to itself. */
  readonly isPage?: boolean;
}

export interface WriteOptions {
  /** Write over files that are not the tool's own. */
  readonly force?: boolean;
  /** Files that were read for this work: never written over, not even by force. */
  readonly inputs?: readonly string[];
  /** Make the folders that are missing. */
  readonly makeFolders?: boolean;
  /** Files that go when all is written. */
  readonly remove?: readonly string[];
}

/**
 * Writes all files or none: every target is judged first, then everything is written beside its target, then renamed. A
 * target that the tool did not write itself, or that was changed since, throws an `InputError` unless `force` is given.
 */
export function writeFiles(files: readonly OutputFile[], options: WriteOptions = {}): void {
  for (const file of files) checkTarget(file, options);
  const beside: { from: string; to: string }[] = [];
  let at = '';
  try {
    for (const { path, kind, content } of files) {
      at = path;
      if (options.makeFolders) mkdirSync(dirname(path), { recursive: true });
      const bytes = typeof content === 'string' ? new TextEncoder().encode(content) : content;
      const from = join(dirname(path), `.${basename(path).slice(0, 80)}.${process.pid}.part`);
      beside.push({ from, to: path });
      writeWhole(from, seal(kind, bytes));
    }
    for (const { from, to } of beside) {
      at = to;
      renameSync(from, to);
    }
    for (const path of options.remove ?? []) {
      at = path;
      rmSync(path);
    }
  } catch (error) {
    throw asInputError(error, `${shownPath(at)} can't be written`);
  } finally {
    for (const { from } of beside) rmSync(from, { force: true });
  }
}

/** Judges a target before any work is done for it. */
export function checkTarget({ path, kind }: Pick<OutputFile, 'path' | 'kind'>, options: WriteOptions = {}): void {
  const name = shownPath(path);
  if (!options.makeFolders && !isFolder(dirname(path))) {
    throw new InputError(`${name} can't be written: there is no folder ${shownPath(dirname(path))}; make it first.`);
  }
  if (!existsSync(path)) return;
  if (isFolder(path)) throw new InputError(`${name} is a folder: name a file to write.`);
  if (options.inputs?.some((input) => sameFile(input, path))) {
    throw new InputError(`${name} is what was read: choose another name for what is written.`);
  }
  if (!options.force && !isOwn(path, kind)) {
    const whose = kind === 'job' ? '' : " and is not this tool's unchanged work";
    throw new InputError(`${name} is there already${whose}: choose another name, or say --force to write over it.`);
  }
}

function isOwn(path: string, kind: FileKind): boolean {
  try {
    // Nothing that the tool writes is near this size; and no large file of somebody else's is read in vain.
    return statSync(path).size <= 16 * MAX_FILE_BYTES && isSealed(kind, readFileSync(path));
  } catch (error) {
    throw asInputError(error, `${shownPath(path)} can't be read to see whose it is`);
  }
}

function writeWhole(path: string, bytes: Uint8Array): void {
  const file = openSync(path, 'w');
  try {
    for (let done = 0; done < bytes.length; ) done += writeSync(file, bytes, done);
    fsyncSync(file);
  } finally {
    closeSync(file);
  }
}

function isFolder(path: string): boolean {
  try {
    return statSync(path).isDirectory();
  } catch {
    return false;
  }
}

function sameFile(a: string, b: string): boolean {
  try {
    return realpathSync(a) === realpathSync(b);
  } catch {
    return resolve(a) === resolve(b);
  }
}

/** Refuses a file where a folder is to be; a folder that is not there yet is made later. */
export function checkFolder(path: string): void {
  if (existsSync(path) && !isFolder(path)) {
    throw new InputError(`${shownPath(path)} is a file, not a folder: name a folder to write into.`);
  }
}

/**
 * The tool's own unchanged SVG pages, in the folders that it writes pages to, which the new set does not hold: pages of a
 * larger drawing left lying among those of a smaller one would be joined with them.
 */
export function stalePages(files: readonly OutputFile[]): string[] {
  const kept = new Set(files.map(({ path }) => resolve(path)));
  const folders = new Set(files.filter(({ isPage }) => isPage).map(({ path }) => dirname(resolve(path))));
  return [...folders].filter(isFolder).flatMap((folder) =>
    readdirSync(folder)
      .filter((name) => name.endsWith('.svg'))
      .map((name) => join(folder, name))
      .filter((path) => !kept.has(path) && !isFolder(path) && isOwn(path, 'svg')),
  );
}
