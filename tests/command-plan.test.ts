import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runCommand } from '@okuri/cli';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';

// `okuri plan`, and the picture of a drifting cloth, on a drawing of 100 × 100 mm with one square in it.

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-plan-'));
  writeFileSync(
    path('leaf.svg'),
    '<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><path d="M20 20h40v40h-40z"/></svg>',
  );
  job();
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const path = (name: string) => join(folder, name);

function job(more: object = {}): void {
  const cloth = { width: '300mm', length: '500mm' };
  writeFileSync(path('leaf.okuri.json'), JSON.stringify({ okuri: 1, motif: 'leaf.svg', cloth, ...more }));
}

async function okuri(...args: string[]) {
  const said = { out: '', err: '' };
  const code = await runCommand(args, {
    out: (text) => {
      said.out += text;
    },
    err: (text) => {
      said.err += text;
    },
    errIsTerminal: false,
  });
  return { ...said, code };
}

const plan = (...more: string[]) => okuri('plan', path('leaf.okuri.json'), ...more);

it('prints one document, and nothing else', async () => {
  const { out, err, code } = await plan('--json');
  expect([code, err]).toEqual([0, '']);
  const document = JSON.parse(out);
  expect(document).toMatchObject({ across: 3, along: 5, whole: 15, cut: 0 });
  expect(document.placements).toHaveLength(15);
  expect(document.placements[0]).toMatchObject({ id: 'c1r1', xMm: 0, yMm: 0, whole: true });
  expect(
    document.passes.map(({ placements }: { placements: number }) => placements).reduce((a: number, b: number) => a + b),
  ).toBe(15);
  expect(document.cloth).toMatchObject({ tableWidthMm: 300, tableLengthMm: 500 });
  // 40 × 40 mm open, 15 times, 0.7 mm thick, 40 % on top.
  expect(document.paste.ml).toBeCloseTo((1600 * 15 * 0.7 * 1.4) / 1000, 2);
  expect(document.paste).toMatchObject({ extraPercent: 40, inks: [{ printedMl: 16.8, ml: 23.52 }] });
});

it('says the paste as it adds it up', async () => {
  const { out } = await plan('--loss', '25');
  // 16.8 ml are printed, and a quarter more is mixed.
  expect(out).toMatch(/plus 25 % for tool and bowl, 1\.1 g\/ml\): 21 ml/);
  expect(out).not.toMatch(/\blost\b/);
});

it('takes the job’s plan from its keys and from options', async () => {
  job({ plan: { stepping: 'on' }, cloth: { width: '320mm', length: '5m', selvedge: '10mm' } });
  const own = JSON.parse((await plan('--json')).out);
  expect(own).toMatchObject({ stepping: { mode: 'on', wipeEvery: 4 }, across: 3, along: 50 });
  const given = JSON.parse(
    (await plan('--json', '--stepping', 'every-other', '--length', '600mm', '--selvedge', '20mm,100mm')).out,
  );
  expect(given).toMatchObject({ stepping: { mode: 'every-other' }, across: 2, along: 6 });
  expect(given.cloth.usable).toMatchObject({ leftMm: 20, rightMm: 220 });
  const ordered = JSON.parse((await plan('--json', '--order-whole', '1050mm', '--panels', '2x1m')).out);
  expect(ordered).toMatchObject({ order: { repeats: 11, orderMm: 1100 }, panels: { count: 2, fits: true } });
});

it('stays short for a long cloth', async () => {
  const { out, code } = await plan('--cloth-length', '500m', '--cloth-width', '1m');
  expect(code).toBe(0);
  expect(out).toContain('Placements: 50000');
  expect(out.split('\n').length).toBeLessThan(60);
});

it('writes a table and a map, and knows them as its own again', async () => {
  const files = ['--csv', path('plan.csv'), '--map', path('plan.pdf')];
  const { out, code } = await plan(...files);
  expect(code).toBe(0);
  expect(out).toContain('plan.csv');
  const rows = readFileSync(path('plan.csv'), 'utf8').split('\r\n');
  expect(rows).toHaveLength(1 + 15 + 1);
  expect(rows[0]).toBe(
    'id,column,row,pass,order,whole,x_mm,y_mm,visible_left_mm,visible_top_mm,visible_right_mm,visible_bottom_mm,share,okuri_seal',
  );
  expect(new Set(rows.slice(0, -1).map((row) => row.split(',').length)).size).toBe(1);
  expect(readFileSync(path('plan.pdf'), 'latin1')).toMatch(/^%PDF-/);
  expect((await plan(...files)).code).toBe(0);
  writeFileSync(path('plan.csv'), readFileSync(path('plan.csv'), 'utf8').replace('c1r1', 'first'));
  const refused = await plan(...files);
  expect([refused.code, refused.out]).toEqual([2, '']);
  expect(readFileSync(path('plan.csv'), 'utf8')).toContain('first');
  expect((await plan(...files, '--force')).code).toBe(0);
});

it('makes the plan with everything else', async () => {
  expect((await okuri('make', path('leaf.okuri.json'), '-o', path('out'))).code).toBe(0);
  const names = readdirSync(path('out'));
  for (const name of ['plan.json', 'plan.csv', 'plan.pdf']) expect(names).toContain(name);
  expect(JSON.parse(readFileSync(path('out/plan.json'), 'utf8')).placements).toHaveLength(15);
});

it('has exit code 1 where the plan can not be printed as it is', async () => {
  const { code, out } = await plan('--panels', '4x400mm');
  expect(code).toBe(1);
  expect(out).toContain('fix  ');
});

describe('refuses in one sentence', () => {
  it.each([
    ['a cloth of no width', ['--cloth-width', '0mm'], /--cloth-width is 0 mm/],
    ['a shrinkage of 100 %', ['--shrink-along', '100%'], /--shrink-along is 100 %/],
    ['selvedges wider than the cloth', ['--selvedge', '200mm'], /selvedges/],
    ['a strange stepping', ['--stepping', 'wet'], /--stepping must be one of/],
    ['panels without a length', ['--panels', '3'], /--panels must be "none", or a count/],
    ['a table that is none', ['--csv', 'plan.txt'], /no name for a table/],
    ['a map that is none', ['--map', 'plan.jpg'], /no name for a map/],
  ])('%s', async (_what, args, sentence) => {
    const { code, out, err } = await plan(...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toMatch(sentence);
    expect(err.trim().split('\n')).toHaveLength(1);
  });
});

it('plans a cloth narrower than one unit, and says what is trimmed', async () => {
  const { code, out } = await plan('--cloth-width', '60mm');
  expect(code).toBe(0);
  expect(out).toContain('40 mm of the pattern');
});

describe('a picture of the cloth under drift', () => {
  const sides = ['--top', '100mm', '--bottom', '100mm', '--left', '100mm', '--right', '101.5mm'];

  it('is written beside what is told', async () => {
    const { out, err } = await okuri(
      'square',
      path('leaf.okuri.json'),
      ...sides,
      '--falling',
      '142.5mm',
      '--rising',
      '141.4mm',
      '--cloth',
      path('drift.svg'),
    );
    expect(err).toBe('');
    expect(out).toContain('drift.svg');
    expect(readFileSync(path('drift.svg'), 'utf8')).toContain('<use');
  });

  it('needs a job, and readings that prove a shape', async () => {
    const alone = await okuri('square', ...sides, '--cloth', path('drift.svg'));
    expect([alone.code, alone.out]).toEqual([2, '']);
    expect(alone.err).toContain('--cloth');
    const few = await okuri('square', path('leaf.okuri.json'), ...sides, '--cloth', path('drift.svg'));
    expect([few.code, few.out]).toEqual([2, '']);
    const none = await okuri('square', path('leaf.okuri.json'), '--cloth', path('drift.svg'));
    expect([none.code, none.out]).toEqual([2, '']);
    expect(existsSync(path('drift.svg'))).toBe(false);
  });
});
