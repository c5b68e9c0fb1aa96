import { closeSync, openSync, readFileSync, readSync, statSync } from 'node:fs';
import { InputError } from '@okuri/core';
import { isScan } from '@okuri/reader/scan';

/** Largest file that is read: beyond it no drawing of a unit is to be expected, and memory would run out first. */
export const MAX_FILE_BYTES = 64 * 1024 * 1024;

/** Largest scan that is read: as many pixels as are decoded at all, in colour, with 8 bits and nothing packed. */
export const MAX_SCAN_BYTES = 1024 * 1024 * 1024;

/** As many bytes tell a scan from all else. */
const HEAD_BYTES = 16;

/**
 * The bytes of a file that a person named. A missing file, a folder, a file that may not be read, an empty or an overlong
 * one throw an `InputError` that names it.
 */
export function readBytes(path: string, what: string): Uint8Array {
  const name = shownPath(path);
  try {
    const { size } = checkedStat(path, what);
    if (size === 0) throw new InputError(`${name} is empty: name the file that holds the ${what}.`);
    const scan = size > MAX_FILE_BYTES && isScan(headOf(path));
    const most = scan ? MAX_SCAN_BYTES : MAX_FILE_BYTES;
    if (size > most) throw tooLarge(name, size, scan);
    const bytes = readFileSync(path);
    // A file may have grown meanwhile.
    if (bytes.length > most) throw tooLarge(name, bytes.length, scan);
    return bytes;
  } catch (error) {
    throw asInputError(error, `${name} can't be read`);
  }
}

function checkedStat(path: string, what: string) {
  const stat = statSync(path);
  if (stat.isDirectory()) {
    throw new InputError(`${shownPath(path)} is a folder, not a file: name the file that holds the ${what}.`);
  }
  if (!stat.isFile()) {
    throw new InputError(`${shownPath(path)} is not a plain file: save the ${what} to a file and name that.`);
  }
  return stat;
}

function headOf(path: string): Uint8Array {
  const head = new Uint8Array(HEAD_BYTES);
  const file = openSync(path, 'r');
  try {
    return head.subarray(0, readSync(file, head));
  } finally {
    closeSync(file);
  }
}

function tooLarge(name: string, bytes: number, scan: boolean): InputError {
  const [size, most] = [bytes, scan ? MAX_SCAN_BYTES : MAX_FILE_BYTES].map((n) => Math.round(n / 1024 / 1024));
  const remedy = scan ? 'save the scan in grey, or scan it at a lower resolution' : 'so simplify the drawing first';
  return new InputError(`${name} is ${size} MB: at most ${most} MB are read, ${remedy}.`);
}

/** The text of a UTF-8 file, with the mark at its start where there is one; other bytes throw an `InputError`. */
export function decodeUtf8(bytes: Uint8Array, path: string): string {
  try {
    return new TextDecoder('utf-8', { fatal: true, ignoreBOM: true }).decode(bytes);
  } catch {
    throw new InputError(`${shownPath(path)} is not UTF-8 text: save it as UTF-8.`);
  }
}

/** What the system says about a file, in a person's words. Other errors come back as they are. */
export function asInputError(error: unknown, head: string): unknown {
  if (!(error instanceof Error) || !('code' in error) || error instanceof InputError) return error;
  const reason = REASONS[String(error.code)];
  return reason === undefined
    ? new InputError(`${head}: the system says ${error.code}.`)
    : new InputError(`${head}: ${reason}`);
}

const REASONS: Record<string, string> = {
  ENOENT: 'there is no such file or folder; check the name and the folder you stand in.',
  ENOTDIR: 'a part of its path is a file, not a folder; check the path.',
  EACCES: 'you may not open it; change its permissions or choose another place.',
  EPERM: 'the system does not allow it; choose another place.',
  EROFS: 'the disk is read-only; choose another place.',
  ENOSPC: 'the disk is full; make room first.',
  EISDIR: 'it is a folder, not a file; name a file.',
  EEXIST: 'something of that name is there already; choose another name.',
  ENAMETOOLONG: 'the name is too long; choose a shorter one.',
  ELOOP: 'its links run in a circle; name the file itself.',
  EMFILE: 'too many files are open; close some programs and run this again.',
};

/** A path for a sentence: control characters would break the line. */
export function shownPath(path: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what has to go.
  return path.replace(/[\u0000-\u001f\u007f]/g, '?');
}
