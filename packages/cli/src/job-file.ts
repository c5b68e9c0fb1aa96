import {
  chmodSync,
  closeSync,
  fsyncSync,
  openSync,
  readFileSync,
  realpathSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { InputError } from '@okuri/core';
import { applyEdits, modify } from 'jsonc-parser';
import { asInputError, shownPath } from './read-file.js';

/** A line of the job file takes about as many characters of a compact list. */
const LINE_CHARACTERS = 110;

/** A job file's text with the value of one top-level key put in place or added at the end; everything else stays byte for byte. */
export function withKey(text: string, key: string, value: unknown): string {
  const mark = text.startsWith('\uFEFF') ? '\uFEFF' : '';
  const body = text.slice(mark.length);
  const eol = body.includes('\r\n') ? '\r\n' : '\n';
  // One line of JSON stays one line; else the file's own indent is taken.
  const indent = /^[\s]*\{[ \t]*\r?\n([ \t]*)/.exec(body)?.[1] ?? null;
  const [edit, ...more] = modify(body, [key], value, {});
  const plain = JSON.stringify(value);
  if (edit === undefined || more.length > 0 || !edit.content.includes(plain)) throw new Error('one edit was expected');
  const added = !edit.content.startsWith(plain);
  const shown = indent === null ? plain : laidOut(value, { indent, eol });
  const named = `${JSON.stringify(key)}: ${shown}`;
  const comma = edit.content.startsWith(',') ? ',' : '';
  const content = added ? `${comma}${indent === null ? ' ' : `${eol}${indent}`}${named}` : shown;
  const made = applyEdits(body, [{ ...edit, content }]);
  if (JSON.stringify((JSON.parse(made) as Record<string, unknown>)[key]) !== plain) {
    throw new InputError(`"${key}" stands in the job file more than once: leave one of them.`);
  }
  return mark + made;
}

/** A group key by key on lines of its own, with lists of lists filled up to a line's length; anything else on one line. */
function laidOut(value: unknown, { indent, eol }: { indent: string; eol: string }): string {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return JSON.stringify(value);
  const [inner, items] = [indent + indent, indent + indent + indent];
  const keys = Object.entries(value).map(([key, own]) => {
    const list = Array.isArray(own) && own.length > 0 ? filled(own, items, eol) : null;
    return `${inner}${JSON.stringify(key)}: ${list === null ? JSON.stringify(own) : `[${eol}${list}${eol}${inner}]`}`;
  });
  return keys.length === 0 ? '{}' : `{${eol}${keys.join(`,${eol}`)}${eol}${indent}}`;
}

function filled(list: readonly unknown[], indent: string, eol: string): string {
  const lines: string[] = [];
  for (const item of list.map((one) => JSON.stringify(one))) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + item.length + 2 <= LINE_CHARACTERS)
      lines[lines.length - 1] = `${last}, ${item}`;
    else lines.push(indent + item);
  }
  return lines.join(`,${eol}`);
}

/**
 * Puts a new text in place of a job file that was read before: written beside it, then renamed; a link stays a link. Where the file is not what was read any
 * more it is left alone, and an `InputError` says so; likewise where it can't be written.
 */
export function replaceJob(path: string, { was, text }: { was: string; text: string }): void {
  const name = shownPath(path);
  let part: string | null = null;
  try {
    const target = realpathSync(path);
    if (readFileSync(target, 'utf8') !== was) {
      throw new InputError(`${name} was changed by somebody else meanwhile and is left as it is: run this again.`);
    }
    part = join(dirname(target), `.${basename(target).slice(0, 80)}.${process.pid}.part`);
    writeFileSync(part, text);
    chmodSync(part, statSync(target).mode & 0o777);
    const file = openSync(part, 'r+');
    try {
      fsyncSync(file);
    } finally {
      closeSync(file);
    }
    renameSync(part, target);
  } catch (error) {
    throw asInputError(error, `${name} can't be written`);
  } finally {
    if (part !== null) rmSync(part, { force: true });
  }
}
