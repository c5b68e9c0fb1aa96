import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  InputError,
  type JobResult,
  readJob,
  StageMemory,
  type SuggestedTies,
  type Tie,
  type TiesDocument,
} from '@okuri/core';
import { tieNumber } from '@okuri/core/inside';
import { Command, CommanderError } from 'commander';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { spreadLists } from '../options.js';
import { progressLine } from '../progress.js';
import { addTies } from './ties.js';

// The engine's own suggestions are tested with the engine; here they are given, so that each test says what there is to choose from.

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-ties-'));
  writeFileSync(join(folder, 'ring.svg'), RING);
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

/** Paper 20 mm across in a ring of 3 mm. */
const RING =
  '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 60 60">' +
  '<path fill-rule="evenodd" d="M17 17h26v26h-26z M20 20h20v20h-20z"/></svg>';

const INK = '#000000';
const TIES: readonly Tie[] = [
  { id: 'T1', kind: 'printed', from: { x: 30, y: 17 }, to: { x: 30, y: 20 } },
  { id: 'R2', kind: 'release', from: { x: 30, y: 40 }, to: { x: 30, y: 43 } },
  { id: 'T3', kind: 'printed', from: { x: 17, y: 30 }, to: { x: 20, y: 30 } },
];

/** Of the three ties those that the job has not yet are suggested. */
function suggest({ job, inks }: JobResult): SuggestedTies[] {
  return inks.map((ink, k) => {
    const accepted = job.ties[ink] ?? [];
    const left = k > 0 ? [] : TIES.filter(({ id }) => accepted.every((tie) => tieNumber(tie.id) !== tieNumber(id)));
    return {
      ink,
      accepted,
      suggested: left.map((tie) => ({ ...tie, island: '1', lengthMm: 3, hidden: false })),
      impossible: [{ island: '9', areaMm2: 1, atMm: { x: 1, y: 2 }, reason: 'it is too small' }],
    };
  });
}

async function okuri(...args: string[]) {
  const said = { out: '', err: '', mend: null as boolean | null, calls: 0 };
  const streams = {
    out: (text: string) => {
      said.out += text;
    },
    err: (text: string) => {
      said.err += text;
    },
    errIsTerminal: false,
  };
  const program = new Command('okuri').exitOverride().configureOutput({ writeErr: () => {}, outputError: () => {} });
  const run = {
    streams,
    progress: progressLine(streams),
    memory: new StageMemory({ keeps: false }),
    finish: (mend: boolean) => {
      said.mend = mend;
    },
  };
  addTies(program, run, (result) => {
    said.calls++;
    return suggest(result);
  });
  await program.parseAsync(spreadLists(args), { from: 'user' });
  return said;
}

async function refusal(...args: string[]): Promise<string> {
  try {
    await okuri(...args);
  } catch (error) {
    expect(error instanceof InputError || error instanceof CommanderError).toBe(true);
    return (error as Error).message;
  }
  throw new Error('The arguments were taken.');
}

const path = (name = 'ring.okuri.json') => join(folder, name);
function putJob(more: object = {}, text?: string): string {
  writeFileSync(path(), text ?? JSON.stringify({ okuri: 1, motif: 'ring.svg', ...more }, null, 2));
  return path();
}
const written = () => readFileSync(path(), 'utf8');
const tiesOf = () => readJob(written(), { file: path() }).job.ties;
const asFile = (...ties: Tie[]) => ({
  [INK]: ties.map(({ id, kind, from, to }) => ({ id, kind, from: [from.x, from.y], to: [to.x, to.y] })),
});

describe('the list', () => {
  it('names ties of the job, suggested ones, and what no tie holds', async () => {
    const { out } = await okuri('ties', putJob({ ties: asFile(TIES[0]) }));
    expect(out).toMatch(/in the job: 1\n.*\n {2}T1 {2}printed/);
    expect(out).toMatch(/suggested: 2\n.*\n {2}R2 {2}release {2}island 1/);
    expect(out).toContain('island 9, 1 mm² at 1, 2 mm: it is too small');
  });

  it('is one document with --json, of a job or of a drawing, and writes nothing', async () => {
    const before = readFileSync(putJob(), 'utf8');
    const { out, err } = await okuri('ties', path(), '--json');
    const document: TiesDocument = JSON.parse(out);
    expect(err).toBe('');
    expect(document.ties.map(({ id, kind, accepted }) => [id, kind, accepted])).toEqual([
      ['T1', 'printed', false],
      ['R2', 'release', false],
      ['T3', 'printed', false],
    ]);
    expect(document.ties[0]).toMatchObject({ island: '1', lengthMm: 3, widthMm: 2, atMm: { x: 30, y: 18.5 } });
    expect(document.impossible).toHaveLength(1);
    expect(written()).toBe(before);
    const bare: TiesDocument = JSON.parse((await okuri('ties', join(folder, 'ring.svg'), '--json')).out);
    expect(bare).toEqual(document);
    const wide: TiesDocument = JSON.parse(
      (await okuri('ties', join(folder, 'ring.svg'), '--json', '--width', '12cm')).out,
    );
    expect(wide.ties).toHaveLength(3);
  });
});

describe('accepting', () => {
  it('writes ties into the job and nothing else', async () => {
    const text = '\uFEFF{\r\n\t"okuri": 1,\r\n\t"motif":   "ring.svg",\r\n\t"title": "Ring"\r\n}\r\n';
    putJob({}, text);
    const { out, mend } = await okuri('ties', path(), '--accept', 'T1', 'T3');
    expect(out).toBe(`accepted T1, T3\nwrote ${path()}\n`);
    expect(mend).toBe(false);
    expect(tiesOf()).toEqual({ [INK]: [TIES[0], TIES[2]] });
    const after = written();
    const added = after.slice(text.indexOf('"Ring"') + 6, after.lastIndexOf('\r\n}'));
    expect(after.replace(added, '')).toBe(text);
    expect(added.trimStart().startsWith(',')).toBe(true);
  });

  it.each([
    [['all'], ['T1', 'R2', 'T3']],
    [['T1-T3'], ['T1', 'R2', 'T3']],
    [['T1,T2'], ['T1', 'R2']],
    [
      ['T3', 'T1'],
      ['T1', 'T3'],
    ],
    [
      ['T2', '-', 'T3'],
      ['R2', 'T3'],
    ],
    [['t2'], ['R2']],
  ])('reads %j, before the job or after it', async (ids, taken) => {
    putJob();
    await okuri('ties', path(), '--accept', ...ids);
    expect(tiesOf()[INK].map(({ id }) => id)).toEqual(taken);
    putJob();
    await okuri('ties', '--accept', ...ids, path());
    expect(tiesOf()[INK].map(({ id }) => id)).toEqual(taken);
  });

  it('gives all of them one kind when told, those of the job too when named', async () => {
    putJob();
    await okuri('ties', path(), '--accept', 'all', '--kind', 'release');
    expect(tiesOf()[INK].map(({ kind }) => kind)).toEqual(['release', 'release', 'release']);
    expect((await okuri('ties', path(), '--accept', 'T1', 'T2', '--kind', 'printed')).out).toMatch(
      /^printed now: T1, T2\nwrote /,
    );
    expect(tiesOf()[INK].map(({ kind }) => kind)).toEqual(['printed', 'printed', 'release']);
    const before = written();
    expect((await okuri('ties', path(), '--accept', 'T1')).out).toBe('in the job already: T1\nnothing to write\n');
    expect(written()).toBe(before);
  });

  it('prints with --json what is in the job then', async () => {
    putJob();
    const document: TiesDocument = JSON.parse((await okuri('ties', path(), '--accept', 'T2', '--json')).out);
    expect(document.ties.map(({ id, accepted }) => [id, accepted])).toEqual([
      ['R2', true],
      ['T1', false],
      ['T3', false],
    ]);
  });

  it('takes options that change no opening', async () => {
    putJob();
    await okuri('ties', path(), '--accept', 'T1', '--title', 'Ring', '--hand', 'left');
    expect(tiesOf()[INK]).toHaveLength(1);
    expect(written()).not.toContain('title');
  });
});

describe('dropping', () => {
  it('takes ties out, by id or all, without looking for others', async () => {
    putJob({ ties: asFile(...TIES) });
    const some = await okuri('ties', path(), '--drop', 'T1-T2');
    expect(some).toMatchObject({ out: `dropped T1, R2\nwrote ${path()}\n`, mend: false, calls: 0 });
    expect(tiesOf()).toEqual({ [INK]: [TIES[2]] });
    await okuri('ties', path(), '--drop', 'all');
    expect(tiesOf()).toEqual({});
    expect((await okuri('ties', path(), '--drop', 'all')).out).toBe('nothing to write\n');
  });

  it('of one stencil', async () => {
    putJob({ ties: { ...asFile(...TIES), '#0072b2': asFile(TIES[0])[INK] } });
    expect(await refusal('ties', path(), '--drop', 'T1')).toMatch(/--stencil/);
    await okuri('ties', path(), '--drop', 'T1', '--stencil', '1');
    expect(Object.values(tiesOf()).map((list) => list.length)).toEqual([2, 1]);
  });
});

describe('what is refused', () => {
  const cases: [string, string[], object, RegExp][] = [
    ['an id that is not there', ['--accept', 'T7'], {}, /no tie T7/],
    ['an id that is none', ['--accept', 'seven'], {}, /"seven" is no id of a tie/],
    ['a suggested tie to be dropped', ['--drop', 'T1'], {}, /no tie T1 in the job/],
    ['a kind that there is not', ['--accept', 'all', '--kind', 'relese'], {}, /did you mean release\?/],
    ['another kind', ['--accept', 'all', '--kind', 'glue'], {}, /--kind is "glue": say printed or release/],
    ['a kind of nothing', ['--kind', 'release'], {}, /--kind goes with --accept/],
    ['a kind of what is dropped', ['--drop', 'all', '--kind', 'release'], {}, /--kind goes with --accept/],
    ['both ways at once', ['--accept', 'T1', '--drop', 'T2'], {}, /--accept and --drop stand together/],
    ['a stencil that is none', ['--accept', 'all', '--stencil', '0'], {}, /--stencil is "0"/],
    ['a stencil that there is not', ['--accept', 'all', '--stencil', '2'], {}, /no stencil 2/],
    ['a stencil of a list', ['--stencil', '1'], {}, /--stencil goes with/],
    ['another sheet', ['--accept', 'all', '--width', '12cm'], {}, /--width makes another sheet/],
    ['another sheet to drop from', ['--drop', 'all', '--across', '2'], {}, /--across .* before ties are dropped/],
    ['gauze that the job has not', ['--accept', 'all', '--gauze'], { gauze: false }, /--gauze makes another sheet/],
    ['release without gauze', ['--accept', 'all', '--kind', 'release'], { gauze: false }, /release ties need gauze/],
    ['release with two sheets', ['--accept', 'T2'], { double: { on: true } }, /two sheets/],
    ['an option that there is not', ['--acept', 'T1'], {}, /--accept/],
    ['no ids', ['--accept'], {}, /argument missing/],
  ];
  it.each(cases)('%s', async (_what, args, more, sentence) => {
    const before = readFileSync(putJob(more), 'utf8');
    expect(await refusal('ties', path(), ...args)).toMatch(sentence);
    expect(written()).toBe(before);
  });

  it('a drawing to keep ties in', async () => {
    for (const way of ['--accept', '--drop']) {
      expect(await refusal('ties', join(folder, 'ring.svg'), way, 'all')).toMatch(
        /ties are kept in a job file; okuri new/,
      );
    }
  });

  it('fonts of the command line, which may make other openings', async () => {
    putJob();
    writeFileSync(join(folder, 'own.ttf'), Uint8Array.from([0, 1, 0, 0, 0, 0, 0, 0]));
    expect(await refusal('ties', path(), '--accept', 'all', '--font', join(folder, 'own.ttf'))).toMatch(
      /--font makes another/,
    );
  });

  it('a job whose ties stand twice', async () => {
    putJob({}, `{"okuri": 1, "motif": "ring.svg", "ties": {}, "ties": {}}`);
    expect(await refusal('ties', path(), '--accept', 'all')).toMatch(/"ties" stands in the job file more than once/);
  });
});
