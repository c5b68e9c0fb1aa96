import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runCommand } from '@okuri/cli';
import { afterEach, beforeEach, expect, it } from 'vitest';

// A job file whose width is changed by hand after ties, numbers, marks and offsets went into it.

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-sizes-'));
  writeFileSync(at('ring.svg'), DRAWING);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const at = (name: string) => join(folder, name);
const file = () => readFileSync(at('ring.okuri.json'), 'utf8');
const parsed = () => JSON.parse(file());

/** A square ring of 4 mm around an island, two bars that reach the seams, and a square. */
const DRAWING = `<svg xmlns="http://www.w3.org/2000/svg" width="200mm" height="160mm" viewBox="0 0 200 160">
<path fill-rule="evenodd" d="M46 36h28v28h-28z M50 40h20v20h-20z"/><path d="M0 90h30v10h-30z M170 90h30v10h-30z M20 20h8v8h-8z"/></svg>`;

const tie = (id: string, y: number) => ({ id, kind: 'printed', from: [70, y], to: [74, y] });

function put(keys: object): void {
  writeFileSync(
    at('ring.okuri.json'),
    JSON.stringify({ okuri: 1, motif: 'ring.svg', width: '200mm', ...keys }, null, 2),
  );
}

function setWidth(width: string): void {
  writeFileSync(at('ring.okuri.json'), file().replace(/"width": "[^"]*"/, `"width": "${width}"`));
}

async function okuri(command: string, ...args: string[]) {
  const said = { out: '', err: '' };
  const code = await runCommand([command, at('ring.okuri.json'), ...args], {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    errIsTerminal: false,
  });
  return { code, ...said };
}

async function tiesThere(): Promise<[string, number, number][]> {
  const { ties } = JSON.parse((await okuri('ties', '--json')).out);
  return ties
    .filter(({ accepted }: { accepted: boolean }) => accepted)
    .map(({ id, atMm }: { id: string; atMm: { x: number; y: number } }) => [id, atMm.x, atMm.y]);
}

it('takes ties, numbers and marks along, and writes the size of each beside it', async () => {
  put({ ties: { '#000000': [tie('T1', 50)] } });
  // A file of the old form: taken at its present size, which it says from now on.
  expect((await okuri('done', '1-2')).code).toBe(0);
  const size = '200x160mm';
  expect(parsed().takenAt).toEqual({ ties: size, numbers: size, done: size });
  expect(parsed().ties['#000000']).toEqual([tie('T1', 50)]);
  const before = parsed().numbers['#000000'];

  setWidth('210mm');
  expect(await tiesThere()).toEqual([['T1', 75.6, 52.5]]);
  const check = JSON.parse((await okuri('check', '--json')).out);
  const codes = check.findings.map(({ code }: { code: string }) => code);
  expect(codes).toContain('done-other-sheet');
  expect(codes.filter((code: string) => code.startsWith('tie-'))).toEqual([]);

  // What is written is of the present size; what is not touched stays as it was taken.
  expect((await okuri('guide', '-o', at('guide.pdf'))).out).toContain('kept the numbers');
  expect(parsed().takenAt).toEqual({ ties: size, numbers: '210x168mm', done: size });
  for (const [k, [number, x, y, area]] of parsed().numbers['#000000'].entries()) {
    expect(number).toBe(before[k][0]);
    expect([x / 1.05, y / 1.05]).toEqual([expect.closeTo(before[k][1], 1), expect.closeTo(before[k][2], 1)]);
    expect(area / 1.05 ** 2).toBeCloseTo(before[k][3], 0);
  }
  expect((await okuri('guide', '-o', at('guide.pdf'))).out).not.toContain('kept');

  // The first mark on the new sheet puts those of the old one out.
  const marked = await okuri('done', '3');
  expect(marked.out).toContain('the marks of the older sheet (unit of 200 × 160 mm) are out');
  expect(parsed()).toMatchObject({ done: '3', takenAt: { ties: size, done: '210x168mm' } });
});

it('accepts ties at the present size, and brings those of the job along', async () => {
  put({ ties: { '#000000': [tie('T1', 50)] }, takenAt: { ties: '100x80mm' }, width: '400mm' });
  writeFileSync(at('ring.okuri.json'), file().replaceAll('70,', '35,').replaceAll('74,', '37,').replaceAll('50', '25'));
  const accepted = await okuri('ties', '--accept', 'all', '--kind', 'printed');
  expect(accepted).toMatchObject({ code: 0, err: '' });
  expect(parsed().takenAt.ties).toBe('400x320mm');
  const [first, ...more] = parsed().ties['#000000'];
  expect(first).toEqual({ id: 'T1', kind: 'printed', from: [140, 100], to: [148, 100] });
  expect(more.length).toBeGreaterThan(0);
});

it('keeps offsets of a proof for the sheet that they were measured on', async () => {
  put({});
  expect((await okuri('proof', '--offset', 'X1=0.4mm')).code).toBe(0);
  expect(parsed().takenAt).toEqual({ proof: '200x160mm' });
  const measured = parsed().proof;
  setWidth('220mm');
  expect(JSON.parse((await okuri('proof', '--json')).out).joins[0]).toMatchObject({ name: 'J1', offsetMm: null });
  const { findings } = JSON.parse((await okuri('check', '--json')).out);
  expect(findings).toContainEqual(expect.objectContaining({ code: 'proof-other-sheet', severity: 'look' }));
  expect(parsed().proof).toEqual(measured);
  setWidth('200mm');
  expect(JSON.parse((await okuri('proof', '--json')).out).joins[0]).toMatchObject({ name: 'J1', offsetMm: 0.4 });
  setWidth('220mm');
  const typed = await okuri('proof', '--offset', 'X1=0.4mm');
  expect(typed.out).toContain('offsets of the older sheet (unit of 200 × 160 mm) are out');
  expect(parsed()).toMatchObject({ proof: measured, takenAt: { proof: '220x176mm' } });
});

it('refuses in one sentence where a tie finds no banks at the new size, writes nothing, and lets it be taken out', async () => {
  // The second tie is 2 mm from the island's corner; at 60 mm that is 0.6 mm, and a tie is 2 mm wide as ever.
  put({ ties: { '#000000': [tie('T1', 50), tie('T2', 42)] }, takenAt: { ties: '200x160mm' }, width: '60mm' });
  const before = file();
  for (const [command, ...args] of [
    ['check'],
    ['ties'],
    ['ties', '--accept', 'all'],
    ['done', '1'],
    ['proof', '--offset', 'X1=0.4mm'],
    ['guide', '-o', at('guide.pdf')],
    ['make', '-o', at('out')],
  ]) {
    const refused = await okuri(command, ...args);
    expect(refused).toMatchObject({ code: 2, out: '' });
    expect(refused.err).toBe(
      `okuri: ${at('ring.okuri.json')}: Tie T2 finds no two banks of paper now that the unit is 60 × 48 mm, not 200 × 160 mm as when it was set: take it out with okuri ties JOB --drop T2, or give the unit its old size back.\n`,
    );
  }
  expect(file()).toBe(before);
  expect([existsSync(at('guide.pdf')), existsSync(at('out'))]).toEqual([false, false]);
  expect(await okuri('ties', '--drop', 'T2', '--stencil', '1')).toMatchObject({ code: 0, err: '' });
  expect(parsed()).toMatchObject({ ties: { '#000000': [tie('T1', 50)] }, takenAt: { ties: '200x160mm' } });
  expect(await tiesThere()).toEqual([['T1', 21.6, 15]]);
});
