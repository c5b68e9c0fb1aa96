import { copyFileSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { runCommand } from './run-command.js';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-revisions-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const at = (name: string) => join(folder, name);
const text = (name: string) => readFileSync(at(name), 'utf8');

async function okuri(...args: string[]) {
  const said = { out: '', err: '' };
  const streams = {
    out: (t: string) => {
      said.out += t;
    },
    err: (t: string) => {
      said.err += t;
    },
    errIsTerminal: false,
  };
  return { code: await runCommand(args, streams), ...said };
}

type Leaf = readonly [x: number, y: number];
/** Leaves in rows, in the order in which a right hand cuts them. */
const LEAVES: readonly Leaf[] = [
  [15, 10],
  [45, 10],
  [75, 10],
  [15, 45],
  [45, 45],
  [75, 45],
];
/** A unit of 130 × 110 mm; the leaves lie clear of its held margin. */
function motif(leaves: readonly Leaf[]): string {
  const shapes = leaves.map(([x, y]) => `<path d="M${x} ${y} c6 4 6 12 0 18 c-6 -6 -6 -14 0 -18z"/>`);
  return `<svg xmlns="http://www.w3.org/2000/svg" width="130mm" height="110mm" viewBox="0 0 130 110">${shapes.join('')}</svg>`;
}
const JOB = '{\n  "okuri": 1,\n  "motif":   "leaves.svg",\n  "date": "2026-03-02",\n  "revision": "2"\n}\n';
function setUp(leaves = LEAVES, job = JOB): void {
  writeFileSync(at('leaves.svg'), motif(leaves));
  writeFileSync(at('leaves.okuri.json'), job);
}
/** Places of the leaves by number, as the job keeps them (the middle of a leaf is 9 mm below its tip, about). */
function kept(): Map<number, Leaf> {
  const list: [number, number, number, number][] = JSON.parse(text('leaves.okuri.json')).numbers['#000000'];
  return new Map(list.filter(([, , , area]) => area > 0).map(([n, x, y]) => [n, [Math.round(x), Math.round(y - 9)]]));
}
const guide = (...more: string[]) => okuri('guide', at('leaves.okuri.json'), '-o', at('guide.pdf'), ...more);

it('keeps the numbers in the job, and touches nothing else and nothing twice', async () => {
  setUp();
  const run = await guide();
  expect(run).toMatchObject({ code: 0, err: '' });
  expect(run.out).toContain('kept the numbers in');
  expect([...kept()]).toEqual(LEAVES.map((leaf, k) => [k + 1, leaf]));
  const made = text('leaves.okuri.json');
  expect(made.startsWith(JOB.slice(0, JOB.lastIndexOf('\n}')))).toBe(true);
  const { ino, mtimeMs } = statSync(at('leaves.okuri.json'));
  expect((await guide()).out).not.toContain('kept');
  expect(statSync(at('leaves.okuri.json'))).toMatchObject({ ino, mtimeMs });
});

it('leaves the job alone when told so, for other sheets, for a bare drawing and for other commands', async () => {
  setUp();
  await guide('--no-keep');
  expect((await guide('--width', '260mm')).out).toContain('--width makes another sheet');
  await okuri('sheets', at('leaves.okuri.json'), '-o', at('sheets.pdf'));
  await okuri('stencil', at('leaves.okuri.json'), '-o', at('stencil.svg'));
  await okuri('guide', at('leaves.svg'), '-o', at('other.pdf'));
  expect(text('leaves.okuri.json')).toBe(JOB);
  expect(text('leaves.svg')).toBe(motif(LEAVES));
  // What only bears on how the sheet is worked or printed leaves the openings as they are.
  await guide('--hand', 'left', '--revision', '3');
  expect(kept().get(1)).toEqual([75, 10]);
});

it('leaves the job alone when nothing was made', async () => {
  setUp();
  writeFileSync(at('guide.pdf'), 'mine');
  expect((await guide()).code).toBe(2);
  expect(text('leaves.okuri.json')).toBe(JOB);
});

it('keeps numbers with their shapes while the drawing is edited, and says what changed', async () => {
  setUp();
  await guide();
  copyFileSync(at('leaves.okuri.json'), at('old.okuri.json'));
  copyFileSync(at('leaves.svg'), at('old.svg'));
  writeFileSync(at('old.okuri.json'), text('old.okuri.json').replace('leaves.svg', 'old.svg'));
  // The second moves by 1 mm, the fourth goes, one comes in before all others.
  const edited: Leaf[] = [[30, 4], LEAVES[0], [46, 10], LEAVES[2], LEAVES[4], LEAVES[5]];
  writeFileSync(at('leaves.svg'), motif(edited));
  const run = await guide('--since', at('old.okuri.json'));
  expect(run).toMatchObject({ code: 0, err: '' });
  expect(run.out).toContain('since the older job: cut again 2; patch 2, 4; new 7\n');
  expect([...kept()]).toEqual([
    [1, [15, 10]],
    [2, [46, 10]],
    [3, [75, 10]],
    [5, [45, 45]],
    [6, [75, 45]],
    [7, [30, 4]],
  ]);
  // The older job was only read.
  expect(text('old.okuri.json')).toContain('old.svg');
  expect(Object.keys(JSON.parse(text('old.okuri.json')))).toEqual(Object.keys(JSON.parse(text('leaves.okuri.json'))));
  // The highest goes: its number is never given again.
  writeFileSync(at('leaves.svg'), motif(edited.slice(1)));
  await guide();
  writeFileSync(at('leaves.svg'), motif([...edited.slice(1), [15, 60]]));
  await guide();
  expect(kept().get(8)).toEqual([15, 60]);
  expect(kept().has(7)).toBe(false);
});

it('numbers as the older job where the job has no numbers of its own', async () => {
  setUp();
  copyFileSync(at('leaves.okuri.json'), at('old.okuri.json'));
  copyFileSync(at('leaves.svg'), at('old.svg'));
  writeFileSync(at('old.okuri.json'), JOB.replace('leaves.svg', 'old.svg'));
  writeFileSync(at('leaves.svg'), motif(LEAVES.slice(1)));
  const run = await okuri(
    'make',
    at('leaves.okuri.json'),
    '-o',
    at('out'),
    '--since',
    at('old.okuri.json'),
    '--pixels-per-mm',
    '1',
  );
  expect(run.out).toContain('since the older job: patch 1\n');
  expect([...kept().keys()]).toEqual([2, 3, 4, 5, 6]);
  const same = await guide('--since', at('leaves.okuri.json'));
  expect(same.out).toContain('nothing to cut and nothing to patch');
});

it('marks openings as done, and takes it back', async () => {
  setUp();
  const done = (...args: string[]) => okuri('done', at('leaves.okuri.json'), ...args);
  expect(await done('1', '3-5')).toMatchObject({ code: 0, err: '' });
  expect(JSON.parse(text('leaves.okuri.json')).done).toBe('1, 3-5');
  // Marks are by number: they are pinned as well.
  expect([...kept().keys()]).toEqual([1, 2, 3, 4, 5, 6]);
  expect((await done('4', '--not')).out).toContain('done now: 1, 3, 5\n');
  expect(JSON.parse(text('leaves.okuri.json')).done).toBe('1, 3, 5');
  const before = text('leaves.okuri.json');
  for (const wrong of [['9'], ['two'], ['5-2'], ['2', '--stencil', '2']]) {
    const refused = await done(...wrong);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toMatch(/^okuri: .*[.?]\n$/);
  }
  expect(text('leaves.okuri.json')).toBe(before);
  expect((await okuri('done', at('leaves.svg'), '1')).err).toContain('kept in a job file');
  expect((await guide()).code).toBe(0);
});

it('asks for the job file of the older sheet', async () => {
  setUp();
  expect((await guide('--since', at('leaves.svg'))).err).toContain('--since needs the job file');
  expect((await guide('--since', at('none.json'))).code).toBe(2);
});
