import { execFile } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import sharp from 'sharp';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { okuri } from './support/command.js';

const root = fileURLToPath(new URL('..', import.meta.url));

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-command-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** A unit of 60 × 40 mm with two bars that run on over the side seams, their upper edges `left` and `right` mm down there. */
function bars({ left = 10, right = 10 } = {}): string {
  const past = (right - left) / 10;
  const bar = (y: number) =>
    `<path d="M-6 ${left + y - past} L66 ${right + y + past} v4 L-6 ${left + y - past + 4}z"/>`;
  return `<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="40mm" viewBox="0 0 60 40">${bar(0)}${bar(12)}</svg>`;
}
const read = (name: string) => readFileSync(join(folder, name));
const files = () =>
  readdirSync(folder, { withFileTypes: true, recursive: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(folder.length + 1))
    .sort();

it('checks a bare motif, saying first what it read', async () => {
  writeFileSync(join(folder, 'bars.svg'), bars());
  const run = await okuri(['check', 'bars.svg'], folder);
  expect(run).toMatchObject({ code: 0, err: '' });
  expect(run.out.split('\n')[0]).toBe('unit 60 × 40 mm, from the page');
  expect(run.out).toContain('straight');
  expect(files()).toEqual(['bars.svg']);
});

it('ends with 1 where something must be mended, and prints one document', async () => {
  writeFileSync(join(folder, 'bars.svg'), bars({ right: 12 }));
  const run = await okuri(['check', 'bars.svg', '--json', '--method', 'direct'], folder);
  expect(run).toMatchObject({ code: 1, err: '' });
  const document = JSON.parse(run.out);
  expect(Object.keys(document)).toEqual([
    'motif',
    'repeat',
    'openings',
    'joins',
    'sheet',
    'paper',
    'summary',
    'findings',
  ]);
  expect(Object.keys(document.motif)).toEqual(
    expect.arrayContaining(['file', 'widthMm', 'heightMm', 'shapes', 'inks', 'notices']),
  );
  expect(document.repeat).toEqual({
    kind: 'straight',
    step: '0',
    widthMm: 60,
    heightMm: 40,
    basisMm: [
      [60, 0],
      [0, 40],
    ],
  });
  expect(document.findings[0].severity).toBe('fix');
  expect(document.summary.ready).toBe(false);
  // Drawn with a step of 2 mm down: by construction every end is off by that, along the seam.
  const offsets = document.joins.map((join: { offsetMm: number }) => join.offsetMm);
  expect(offsets).toHaveLength(4);
  for (const offset of offsets) expect(Math.abs(offset)).toBeCloseTo(2, 2);
});

it('takes the repeat and the width of the command line', async () => {
  writeFileSync(join(folder, 'bars.svg'), bars());
  const run = await okuri(['check', 'bars.svg', '--json', '--repeat', 'half-drop', '--width', '180mm'], folder);
  const { repeat, motif } = JSON.parse(run.out);
  expect(repeat).toMatchObject({
    kind: 'half-drop',
    step: '1/2',
    widthMm: 180,
    heightMm: 120,
    basisMm: [
      [180, 60],
      [0, 120],
    ],
  });
  expect(motif.file).toBe('bars.svg');
});

it('says the same twice', async () => {
  writeFileSync(join(folder, 'bars.svg'), bars());
  const [first, second] = [
    await okuri(['check', 'bars.svg', '--json'], folder),
    await okuri(['check', 'bars.svg', '--json'], folder),
  ];
  expect(second.out).toBe(first.out);
});

it('writes a job that it reads, beside the motif or elsewhere, once', async () => {
  mkdirSync(join(folder, 'art'));
  writeFileSync(join(folder, 'art/bars.svg'), bars());
  const args = [
    'new',
    'art/bars.svg',
    '-o',
    'bars.okuri.json',
    '--repeat',
    'brick',
    '--step',
    '5/3',
    '--width',
    '9 7/8in',
  ];
  const made = await okuri(args, folder);
  expect(made).toMatchObject({ code: 0, err: '' });
  expect(made.out).toMatch(/^unit 250\.8[23] × /);
  expect(made.out).toContain('5/3');
  const job = JSON.parse(read('bars.okuri.json').toString());
  expect(job).toMatchObject({ okuri: 1, motif: 'art/bars.svg', repeat: 'brick', step: '2/3', width: '9 7/8in' });
  expect(job.date).toMatch(/^\d{4}-\d\d-\d\d$/);
  const checked = await okuri(['check', 'bars.okuri.json', '--json'], folder);
  expect(JSON.parse(checked.out).repeat).toMatchObject({ kind: 'brick', step: '2/3', widthMm: 250.825 });
  expect((await okuri(args, folder)).code).toBe(2);
  expect((await okuri([...args, '--force'], folder)).code).toBe(0);
});

it('makes everything, again over its own work, and nothing over what was changed', async () => {
  copyFileSync(join(root, 'fixtures/motifs/colours.svg'), join(folder, 'colours.svg'));
  writeFileSync(
    join(folder, 'colours.okuri.json'),
    JSON.stringify({ okuri: 1, motif: 'colours.svg', date: '2025-03-01', cloth: { width: '50cm', length: '50cm' } }),
  );
  const make = (...more: string[]) => okuri(['make', 'colours.okuri.json', '-o', 'out', ...more], folder);
  const first = await make();
  expect(first.code).toBeLessThan(2);
  expect(first.err).toBe('');
  const made = files().filter((name) => name.startsWith('out'));
  for (const name of [
    'check.json',
    'cloth.png',
    'cloth.svg',
    'guide.pdf',
    'sheets-1.pdf',
    'sheets-3.pdf',
    'stencil-1.svg',
    'stencil-3.svg',
  ]) {
    expect(made).toContain(`out/${name}`);
  }
  expect(made).toContain('out/sheets-svg/2/P1.svg');
  expect((await sharp(join(folder, 'out/cloth.png')).metadata()).width).toBeGreaterThan(1000);
  for (const name of ['guide.pdf', 'sheets-1.pdf']) expect(read(`out/${name}`).toString('latin1', 0, 5)).toBe('%PDF-');

  // The same bytes from the same job; a page of an earlier, larger set goes.
  const bytes = made.map((name) => read(name).toString('latin1'));
  writeFileSync(join(folder, 'out/sheets-svg/2/Z9.svg'), read('out/sheets-svg/2/P1.svg'));
  expect((await make()).code).toBe(first.code);
  expect(files().filter((name) => name.startsWith('out'))).toEqual(made);
  expect(made.map((name) => read(name).toString('latin1'))).toEqual(bytes);

  // Somebody goes on with the cutting drawing by hand.
  const edited = read('out/stencil-2.svg').toString().replace('</svg>', '<path d="M0 0h9"/></svg>');
  writeFileSync(join(folder, 'out/stencil-2.svg'), edited);
  const refused = await make();
  expect(refused).toMatchObject({ code: 2, out: '' });
  expect(refused.err).toContain('stencil-2.svg');
  expect(read('out/stencil-2.svg').toString()).toBe(edited);
  expect((await make('--force')).code).toBe(first.code);
  expect(read('out/stencil-2.svg').toString()).not.toBe(edited);
});

it('runs from a checkout with paths relative to where the person stands, and passes the exit code on', async () => {
  writeFileSync(join(folder, 'bars.svg'), bars({ right: 12 }));
  const boot = join(root, 'scripts/boot.mjs');
  // What npm sets when the script is run from another folder.
  const env = { ...process.env, npm_lifecycle_event: 'okuri', INIT_CWD: folder };
  const run = promisify(execFile)(
    process.execPath,
    [boot, 'okuri', 'stencil', 'bars.svg', '-o', 'cut.svg', '--method', 'direct'],
    { cwd: root, env },
  );
  await expect(run).rejects.toMatchObject({ code: 1, stdout: expect.stringMatching(/^unit 60 × 40 mm/) });
  expect(existsSync(join(folder, 'cut.svg'))).toBe(true);
});
