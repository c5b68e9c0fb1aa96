import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { runCommand } from '@okuri/cli';
import { afterEach, beforeEach, expect, it } from 'vitest';

// `okuri ties` with the engine's own suggestions, on drawings whose answers are known by construction.

/** Widths and lengths of ties are compared with this much slack, mm. */
const SLACK_MM = 0.01;

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-ties-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

const path = (name: string) => join(folder, name);
const jobText = () => readFileSync(path('ring.okuri.json'), 'utf8');

/** A square ring, `gap` mm wide, around `side` × `side` mm of paper, in the middle of a unit of 100 × 100 mm. */
function ring(side: number, gap = 3): string {
  const [outer, inner] = [50 - side / 2 - gap, 50 - side / 2];
  const square = (at: number) => `M${at} ${at}h${100 - 2 * at}v${100 - 2 * at}h${2 * at - 100}z`;
  return svg(`<path fill-rule="evenodd" d="${square(outer)} ${square(inner)}"/>`);
}

function svg(inner: string): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100">${inner}</svg>`;
}

function put(drawing: string, more: object = {}): void {
  writeFileSync(path('ring.svg'), drawing);
  writeFileSync(path('ring.okuri.json'), JSON.stringify({ okuri: 1, motif: 'ring.svg', ...more }, null, 2));
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

async function ties(...more: string[]) {
  const { out, err } = await okuri('ties', path('ring.okuri.json'), '--json', ...more);
  expect(err).toBe('');
  return JSON.parse(out);
}

async function paperOf() {
  return JSON.parse((await okuri('check', path('ring.okuri.json'), '--json')).out).paper;
}

const METHOD_DIRECT = { method: 'direct' } as const;

it.each([
  ['one', 10, 1],
  ['two, as it is larger than 150 mm²,', 20, 2],
])('suggests %s across the ring for its island', async (_many, side, count) => {
  put(ring(side));
  const before = await paperOf();
  expect(before.islands).toHaveLength(1);
  expect(before.islands[0]).toMatchObject({ dropsAt: 'first' });
  expect(before.islands[0].areaMm2).toBeCloseTo(side * side, 2);
  const { ties: found, impossible } = await ties();
  expect(impossible).toEqual([]);
  expect(found).toHaveLength(count);
  for (const [k, tie] of found.entries()) {
    expect(tie).toMatchObject({ id: `T${k + 1}`, accepted: false, island: before.islands[0].id, stencil: 1 });
    expect(Math.abs(tie.lengthMm - 3)).toBeLessThan(SLACK_MM);
    expect(tie.widthMm).toBe(2);
    // Its middle is in the middle of the ring, on one of the four sides.
    const off = Math.max(Math.abs(tie.atMm.x - 50), Math.abs(tie.atMm.y - 50));
    expect(Math.abs(off - (side / 2 + 1.5))).toBeLessThan(SLACK_MM);
  }
});

it('holds the island once all are accepted, and drops them again', async () => {
  put(ring(20), METHOD_DIRECT);
  const first = await ties();
  const accepted = await okuri('ties', path('ring.okuri.json'), '--accept', 'all', '--kind', 'printed');
  expect(accepted).toMatchObject({ code: 0, err: '' });
  expect(accepted.out).toBe(`accepted T1, T2\nwrote ${path('ring.okuri.json')}\n`);
  expect(Object.keys(JSON.parse(jobText()))).toEqual(['okuri', 'motif', 'method', 'ties', 'takenAt']);
  const held = await paperOf();
  expect(held.islands).toEqual([]);
  const after = await ties();
  expect(after.impossible).toEqual([]);
  expect(after.ties.map(({ id, kind, accepted: own }: Record<string, unknown>) => [id, kind, own])).toEqual([
    ['T1', 'printed', true],
    ['T2', 'printed', true],
  ]);
  expect((await okuri('ties', path('ring.okuri.json'), '--drop', 'all')).out).toContain('dropped T1, T2');
  expect(JSON.parse(jobText()).ties).toEqual({});
  expect(await ties()).toEqual(first);
});

it('lets the island of release ties go at the release cut and not before', async () => {
  put(ring(20), METHOD_DIRECT);
  await okuri('ties', path('ring.okuri.json'), '--accept', 'all', '--kind', 'release');
  const { islands } = await paperOf();
  expect(islands.map(({ dropsAt }: { dropsAt: string }) => dropsAt)).toEqual(['release']);
});

it('goes on with the next id for what is still loose', async () => {
  const square = (x: number, y: number, side: number) => `M${x} ${y}h${side}v${side}h-${side}z`;
  put(
    svg(
      `<path fill-rule="evenodd" d="${[20, 55].map((x) => `${square(x, 30, 16)}${square(x + 3, 33, 10)}`).join('')}"/>`,
    ),
  );
  const { ties: both } = await ties();
  expect(both.map(({ id }: { id: string }) => id)).toEqual(['T1', 'T2']);
  await okuri('ties', path('ring.okuri.json'), '--accept', 'T2', '--kind', 'printed');
  expect((await paperOf()).islands).toHaveLength(1);
  const { ties: rest } = await ties();
  expect(rest.map(({ id, accepted }: Record<string, unknown>) => [id, accepted])).toEqual([
    ['T2', true],
    ['T3', false],
  ]);
  // What was the first is suggested in the same place under its new id.
  expect(rest[1].atMm).toEqual(both[0].atMm);
});

it('says the same twice', async () => {
  put(ring(20));
  expect(await ties()).toEqual(await ties());
});

it('needs none where nothing falls out', async () => {
  put(svg('<path d="M30 30h20v20h-20z"/>'));
  expect(await ties()).toEqual({ ties: [], impossible: [] });
  const { out, code } = await okuri('ties', path('ring.okuri.json'));
  expect(out).toBe('No tie is in the job, and none is needed.\n');
  expect(code).toBe(0);
});

it('refuses what it cannot do in one sentence, with exit code 2', async () => {
  put(ring(20), { gauze: false });
  const before = jobText();
  const job = path('ring.okuri.json');
  const cases: [string[], RegExp][] = [
    [['ties', path('ring.svg'), '--accept', 'all'], /kept in a job file/],
    [['ties', job, '--accept', 'T99'], /no tie T99/],
    [['ties', job, '--accept', 'all', '--kind', 'release'], /release ties need gauze/],
    [['ties', job, '--drop', 'T1'], /no tie T1 in the job/],
    [['tie', job], /did you mean ties\?/],
    [['ties'], /JOB\|MOTIF/],
    [['ties', job, '--drp', 'all'], /did you mean --drop\?/],
  ];
  for (const [args, sentence] of cases) {
    const run = await okuri(...args);
    expect(run).toMatchObject({ code: 2, out: '' });
    expect(run.err).toMatch(/^okuri: [^\n]+[.?]\n$/);
    expect(run.err).toMatch(sentence);
  }
  expect(jobText()).toBe(before);
});
