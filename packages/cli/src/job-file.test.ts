import {
  chmodSync,
  lstatSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { InputError } from '@okuri/core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { replaceJob, withKey } from './job-file.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-job-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const value = { '#000000': Array.from({ length: 9 }, (_, k) => [k + 1, 10.25 * k, 3.5, 120.1]) };

it.each([
  ['indented', '{\n  "okuri": 1,\n  "cut":   ["#000000"],\n  "cloth": { "width": "1m" }\n}\n'],
  ['with tabs and carriage returns', '{\r\n\t"okuri": 1,\r\n\t"motif": "a.svg"\r\n}'],
  ['on one line', '{"okuri":1,"motif":"a.svg"}'],
  ['with a mark at its start', '\uFEFF{\n    "okuri": 1\n}\n'],
])('adds a key to a file %s and keeps all else', (_, text) => {
  const made = withKey(text, 'numbers', value);
  const json = (s: string) => JSON.parse(s.replace('\uFEFF', ''));
  expect(json(made)).toEqual({ ...json(text), numbers: value });
  expect(Object.keys(json(made)).at(-1)).toBe('numbers');
  // What was there stands there still: the new text is the old one with a piece put in.
  let start = 0;
  while (made[start] === text[start]) start++;
  const end = text.length - start;
  expect(end === 0 ? '' : made.slice(-end)).toBe(text.slice(start));
  if (text.includes('\r\n')) expect(made.replaceAll('\r\n', '')).not.toContain('\n');
  else if (!text.includes('\n')) expect(made).not.toContain('\n');
  for (const line of made.split('\n')) expect(line.length < 130 || !text.includes('\n')).toBe(true);
});

it('changes the value of a key where it stands', () => {
  const text = '{\n  "okuri": 1,\n  "numbers": { "#000000": [[1, 2, 3, 4]] },\n  "title":  "x"\n}\n';
  const made = withKey(text, 'numbers', { '#000000': [[2, 3, 4, 5]] });
  expect(made.startsWith('{\n  "okuri": 1,\n  "numbers": ')).toBe(true);
  expect(made.endsWith(',\n  "title":  "x"\n}\n')).toBe(true);
  expect(JSON.parse(made).numbers).toEqual({ '#000000': [[2, 3, 4, 5]] });
  expect(withKey(made, 'numbers', { '#000000': [[2, 3, 4, 5]] })).toBe(made);
  expect(withKey('{\n  "okuri": 1,\n  "done": "3"\n}\n', 'done', '3-5')).toBe('{\n  "okuri": 1,\n  "done": "3-5"\n}\n');
});

it('refuses a key that stands there twice', () => {
  expect(() => withKey('{"done": "1", "done": "2"}', 'done', '3')).toThrow(InputError);
});

it('replaces a file whole, through a link, with its permissions, and leaves nothing beside', () => {
  const [file, link] = [join(folder, 'a.json'), join(folder, 'link.json')];
  writeFileSync(file, 'old');
  chmodSync(file, 0o640);
  symlinkSync(file, link);
  replaceJob(link, { was: 'old', text: 'new' });
  expect(readFileSync(file, 'utf8')).toBe('new');
  expect(statSync(file).mode & 0o777).toBe(0o640);
  expect(lstatSync(link).isSymbolicLink()).toBe(true);
  expect(readdirSync(folder).sort()).toEqual(['a.json', 'link.json']);
});

it('leaves a file alone that somebody changed meanwhile', () => {
  const file = join(folder, 'a.json');
  writeFileSync(file, 'newer');
  expect(() => replaceJob(file, { was: 'old', text: 'new' })).toThrow(/meanwhile/);
  expect(readFileSync(file, 'utf8')).toBe('newer');
  expect(readdirSync(folder)).toEqual(['a.json']);
});
