import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { InputError } from '@okuri/core';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { type OutputFile, writeFiles } from './write-files.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-write-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const svg = (name: string, content = '<svg/>\n'): OutputFile => ({ path: join(folder, name), kind: 'svg', content });
const refused = (files: OutputFile[], options = {}) => {
  expect(() => writeFiles(files, options)).toThrow(InputError);
};

it('writes, and writes its own work again', () => {
  writeFiles([svg('a.svg')]);
  writeFiles([svg('a.svg', '<svg id="two"/>\n')]);
  expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toContain('two');
  expect(readdirSync(folder)).toEqual(['a.svg']);
});

it("keeps somebody else's file unless forced", () => {
  writeFileSync(join(folder, 'a.svg'), '<svg>mine</svg>');
  refused([svg('a.svg')]);
  expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toBe('<svg>mine</svg>');
  writeFiles([svg('a.svg')], { force: true });
  expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toContain('<svg/>');
});

it('keeps its own work when somebody went on with it', () => {
  writeFiles([svg('a.svg')]);
  const edited = readFileSync(join(folder, 'a.svg'), 'utf8').replace('<svg/>', '<svg><path/></svg>');
  writeFileSync(join(folder, 'a.svg'), edited);
  refused([svg('a.svg')]);
  expect(readFileSync(join(folder, 'a.svg'), 'utf8')).toBe(edited);
});

it('writes none where one is refused', () => {
  writeFileSync(join(folder, 'b.svg'), 'mine');
  refused([svg('a.svg'), svg('b.svg')]);
  expect(readdirSync(folder)).toEqual(['b.svg']);
});

it('never writes over what was read, not even by force or through a link', () => {
  writeFileSync(join(folder, 'in.svg'), 'mine');
  symlinkSync(join(folder, 'in.svg'), join(folder, 'link.svg'));
  for (const name of ['in.svg', 'link.svg']) refused([svg(name)], { force: true, inputs: [join(folder, 'in.svg')] });
  expect(readFileSync(join(folder, 'in.svg'), 'utf8')).toBe('mine');
});

it('refuses a folder for a file, and a folder that is not there', () => {
  mkdirSync(join(folder, 'd.svg'));
  refused([svg('d.svg')], { force: true });
  refused([svg('none/a.svg')]);
  expect(existsSync(join(folder, 'none'))).toBe(false);
  writeFiles([svg('none/a.svg')], { makeFolders: true });
  expect(existsSync(join(folder, 'none/a.svg'))).toBe(true);
});

it('leaves nothing beside when a rename fails', () => {
  writeFileSync(join(folder, 'file'), '');
  refused([svg('file/a.svg')], { makeFolders: true });
  expect(readdirSync(folder)).toEqual(['file']);
});
