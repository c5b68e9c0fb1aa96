import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  truncateSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runCommand } from '@okuri/cli';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { okuri, type Ran } from './support/command.js';

// Input that can't be used: one clear sentence, exit code 2, standard output empty, within 10 s and 2 GB, and no file
// written or changed.
const MAX_SECONDS = 10;
const MAX_MEGABYTES = 2048;

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-bad-'));
});
afterEach(() => {
  chmodSync(folder, 0o700);
  rmSync(folder, { recursive: true, force: true });
});

const put = (name: string, content: string | Uint8Array) => writeFileSync(join(folder, name), content);
const svg = (inner: string, size = 'width="100mm" height="80mm" viewBox="0 0 100 80"') =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" ${size}>${inner}</svg>`;
const LEAF = '<path d="M20 20 C40 10 60 10 70 40 C50 60 30 50 20 20z"/>';
const job = (more: object = {}) => JSON.stringify({ okuri: 1, motif: 'leaf.svg', ...more });

const tie = (kind: string, to = [23, 20]) => ({ '#000000': [{ id: 'T1', kind, from: [20, 20], to }] });

/** Names, kinds and contents of all there is. */
function pictureOfFolder(): string {
  const entries = readdirSync(folder, { withFileTypes: true, recursive: true });
  const lines = entries.map((entry) => {
    const path = join(entry.parentPath ?? entry.path, entry.name);
    const small = entry.isFile() && !/large|unreadable/.test(entry.name);
    return `${path} ${small ? readFileSync(path, 'latin1').slice(0, 2000) : ''}`;
  });
  return lines.sort().join('\n');
}

/** In this process, standing in the folder: fast, where neither time nor memory is in question. */
async function here(args: readonly string[]): Promise<Pick<Ran, 'code' | 'out' | 'err'>> {
  const texts = { out: '', err: '' };
  const standing = process.cwd();
  process.chdir(folder);
  try {
    const code = await runCommand(args, {
      out: (text) => {
        texts.out += text;
      },
      err: (text) => {
        texts.err += text;
      },
      errIsTerminal: false,
    });
    return { ...texts, code };
  } finally {
    process.chdir(standing);
  }
}

async function refused(args: readonly string[], sentence?: RegExp): Promise<void> {
  const before = pictureOfFolder();
  expectRefusal(await here(args), sentence);
  expect(pictureOfFolder()).toBe(before);
}

/** In a process of its own, whose time and memory are watched. */
async function refusedInTime(args: readonly string[], sentence?: RegExp): Promise<void> {
  const before = pictureOfFolder();
  const run = await okuri(args, folder);
  expectRefusal(run, sentence);
  expect(run.seconds).toBeLessThan(MAX_SECONDS);
  expect(run.megabytes).toBeGreaterThan(0);
  expect(run.megabytes).toBeLessThan(MAX_MEGABYTES);
  expect(pictureOfFolder()).toBe(before);
}

function expectRefusal({ code, out, err }: Pick<Ran, 'code' | 'out' | 'err'>, sentence?: RegExp): void {
  expect(out).toBe('');
  expect(err).toMatch(/^okuri: [^\n]+[.?]\n$/);
  expect(err).not.toMatch(/fault of the program|\[object|reading '|is not a function/);
  if (sentence) expect(err).toMatch(sentence);
  expect(code).toBe(2);
}

describe('a drawing', () => {
  const bomb = Array.from({ length: 12 }, (_, k) => `<!ENTITY e${k + 1} "${`&e${k};`.repeat(10)}">`).join('');
  const uses = Array.from(
    { length: 24 },
    (_, k) => `<g id="u${k + 1}"><use xlink:href="#u${k}"/><use xlink:href="#u${k}"/></g>`,
  ).join('');
  const bombs: [string, string][] = [
    ['an entity bomb', `<!DOCTYPE svg [<!ENTITY e0 "leaf">${bomb}]>${svg('<text>&e12;</text>')}`],
    ['a bomb of uses', svg(`<defs><g id="u0">${LEAF}</g>${uses}</defs><use xlink:href="#u24"/>`)],
    ['a nest of groups', svg(`${'<g>'.repeat(100_000)}${LEAF}${'</g>'.repeat(100_000)}`)],
  ];
  const cases: [string, string | Uint8Array, RegExp?][] = [
    ['broken XML', svg('<path d="M0 0"><g></path>')],
    ['XML cut off in the middle', svg(LEAF).slice(0, 150)],
    ['no SVG but text', 'Dear colleague, the drawing is attached.'],
    ['another XML', '<?xml version="1.0"?><html><body/></html>'],
    ['an external entity', `<!DOCTYPE svg [<!ENTITY x SYSTEM "file:///etc/passwd">]>${svg('<text>&x;</text>')}`],
    ['a loop of uses', svg('<g id="a"><use xlink:href="#b"/></g><g id="b"><use xlink:href="#a"/></g>')],
    ['a place that is no number', svg('<path d="M0 0 L NaN 20 L 30 NaN z"/>')],
    ['a place without end', svg('<path d="M0 0 L1e999 20 L30 1e999 z"/>')],
    ['no artwork', svg('')],
    ['artwork without ink', svg('<path d="M0 0h20v20z" fill="none"/>')],
    ['paper-coloured artwork alone', svg('<path d="M0 0h20v20z" fill="#fff"/>'), /nothing to cut/],
    ['no width', svg(LEAF, 'width="0" height="80mm" viewBox="0 0 100 80"')],
    ['a view box without width', svg(LEAF, 'width="100mm" height="80mm" viewBox="0 0 0 80"')],
    ['a width of a mile', svg(LEAF, 'width="1609m" height="80mm" viewBox="0 0 100 80"')],
    ['a width of a hair', svg(LEAF, 'width="0.1mm" height="0.1mm" viewBox="0 0 100 80"')],
    ['a scale of zero', svg(`<g transform="scale(0)">${LEAF}</g>`)],
    ['no byte', ''],
    ['bytes that are no text', Uint8Array.from({ length: 500 }, (_, k) => (k * 73 + 137) % 256)],
    ['a picture', Buffer.from('89504e470d0a1a0a0000000d49484452000000010000000108000000003a7e9b55', 'hex')],
  ];
  it.each(cases)('with %s', async (_what, content, sentence) => {
    put('leaf.svg', content);
    await refused(['check', 'leaf.svg', '--json'], sentence);
  });

  it.each(bombs)('with %s, in time', async (_what, content) => {
    put('leaf.svg', content);
    await refusedInTime(['check', 'leaf.svg', '--json']);
  });

  it('with 50 MB of path', async () => {
    const steps = 'c1.25,2.5 3.75,-1.25 5,0 -1.25,2.5 -3.75,-1.25 -5,0';
    put('large.svg', svg(`<path d="M10 10 ${steps.repeat(Math.ceil(50e6 / steps.length))}z"/>`));
    await refusedInTime(['check', 'large.svg']);
  });

  it('of more than 64 MB', async () => {
    put('large.svg', svg(LEAF));
    truncateSync(join(folder, 'large.svg'), 3e9);
    await refusedInTime(['check', 'large.svg'], /at most 64 MB/);
  });

  it('that is missing, a folder, or under a file', async () => {
    mkdirSync(join(folder, 'art'));
    put('leaf.svg', svg(LEAF));
    await refused(['check', 'none.svg'], /none\.svg can't be read: there is no such file/);
    await refused(['check', 'art'], /art is a folder/);
    await refused(['check', 'leaf.svg/leaf.svg'], /is a file, not a folder/);
  });

  it.skipIf(process.getuid?.() === 0)('that may not be read', async () => {
    put('unreadable.svg', svg(LEAF));
    chmodSync(join(folder, 'unreadable.svg'), 0);
    await refused(['check', 'unreadable.svg'], /you may not open it/);
  });
});

describe('a job', () => {
  beforeEach(() => put('leaf.svg', svg(LEAF)));
  const cases: [string, string | Uint8Array, RegExp][] = [
    ['that is not JSON', '{"okuri": 1,', /not JSON from line 1/],
    ['that is a list', '[]', /braces/],
    ['with a key that nobody knows', job({ pages: { papier: 'A4' } }), /"pages\.papier" is not a key/],
    ['with an absurd width', job({ width: '1km' }), /"width"/],
    ['with a width of nothing', job({ width: '0mm' }), /"width" is 0 mm/],
    ['with an absurd height', job({ height: '1mm' }), /"height" is 1 mm/],
    ['with too many units', job({ across: 1000, down: 1000 }), /"across" is 1000/],
    ['with a border of nothing', job({ sheet: { border: '0mm' } }), /"sheet\.border" is 0 mm/],
    ['with a neck of less than nothing', job({ paper: { neck: '-1mm' } }), /"paper\.neck"/],
    ['with a tie narrower than paper holds', job({ paper: { tieWidth: '0.5mm' } }), /"paper\.tieWidth" is 0\.5 mm/],
    ['with a tie of no width', job({ paper: { tieWidth: '0mm' } }), /"paper\.tieWidth" is 0 mm/],
    ['with a pace of nothing', job({ pace: { mmPerMinute: 0 } }), /"pace\.mmPerMinute" is 0/],
    ['with a release tie and no gauze', job({ gauze: false, ties: tie('release') }), /release ties need gauze/],
    ['with a release tie and two sheets', job({ double: { on: true }, ties: tie('release') }), /"double\.on"/],
    ['with a tie of no length', job({ ties: tie('printed', [20, 20]) }), /begins and ends in one place/],
    ['whose motif is missing', job({ motif: 'none.svg' }), /none\.svg can't be read/],
    ['whose motif is a folder', job({ motif: '.' }), /is a folder/],
    ['whose motif is itself', job({ motif: 'bench.okuri.json' }), /./],
    ['whose font is missing', job({ fonts: ['none.ttf'] }), /none\.ttf can't be read/],
    ['whose font is none', job({ fonts: ['leaf.svg'] }), /leaf\.svg is no font/],
    ['that cuts an ink which is not there', job({ cut: ['#123456'] }), /#123456/],
    ['that is not UTF-8', Buffer.from('{"okuri": 1, "motif": "l\xe9af.svg"}', 'latin1'), /not UTF-8/],
  ];
  it.each(cases)('%s', async (_what, content, sentence) => {
    put('bench.okuri.json', content);
    await refused(['check', 'bench.okuri.json'], sentence);
  });
});

describe('an argument', () => {
  beforeEach(() => {
    put('leaf.svg', svg(LEAF));
    put('mine.png', 'mine');
    put('mine.svg', '<svg>mine</svg>');
  });
  const cases: [string, string[], RegExp][] = [
    ['none at all', [], /okuri --help/],
    ['a command that there is not', ['chek', 'leaf.svg'], /did you mean check\?/],
    ['no drawing', ['check'], /JOB\|MOTIF/],
    ['one too many', ['check', 'leaf.svg', 'leaf.svg'], /too many arguments/],
    ['an option that there is not', ['check', 'leaf.svg', '--widht', '3mm'], /did you mean --width\?/],
    ['a width without a unit', ['check', 'leaf.svg', '--width', '180'], /--width: .* no unit/],
    ['a repeat that there is not', ['check', 'leaf.svg', '--repeat', 'drip'], /--repeat must be one of/],
    ['a step that is none', ['check', 'leaf.svg', '--repeat', 'drop', '--step', '1/0'], /--step/],
    ['a step of a straight repeat', ['check', 'leaf.svg', '--step', '1/2'], /straight/],
    ['units that are no number', ['check', 'leaf.svg', '--across', 'two'], /--across must be a number, not "two"/],
    ['a colour that is none', ['check', 'leaf.svg', '--cut', 'dark'], /--cut is "dark"/],
    ['a paper that there is not', ['sheets', 'leaf.svg', '-o', 'x.pdf', '--paper', 'A44'], /--paper/],
    ['a font that is missing', ['check', 'leaf.svg', '--font', 'none.ttf'], /none\.ttf/],
    ['no output', ['cloth', 'leaf.svg'], /-o/],
    ['an output of another kind', ['cloth', 'leaf.svg', '-o', 'cloth.jpg'], /FILE\.png\|\.svg/],
    ['an output in a folder that is not there', ['cloth', 'leaf.svg', '-o', 'none/cloth.png'], /no folder/],
    ["somebody's own picture as output", ['cloth', 'leaf.svg', '-o', 'mine.png'], /--force/],
    ["somebody's own drawing as output", ['stencil', 'leaf.svg', '-o', 'mine.svg'], /--force/],
    ['the drawing itself as output', ['stencil', 'leaf.svg', '-o', 'leaf.svg', '--force'], /what was read/],
    ['a file for a folder', ['make', 'leaf.svg', '-o', 'mine.svg'], /not a folder/],
    ['pixels that are no number', ['cloth', 'leaf.svg', '-o', 'x.png', '--pixels-per-mm', 'many'], /--pixels-per-mm/],
    ['a job file that is there', ['new', 'leaf.svg', '-o', 'mine.svg'], /is there already/],
  ];
  it.each(cases)('%s', async (_what, args, sentence) => {
    await refused(args, sentence);
  });

  it('more pixels than memory', async () => {
    await refusedInTime(['cloth', 'leaf.svg', '-o', 'x.png', '--pixels-per-mm', '500'], /pixels/);
  });
});
