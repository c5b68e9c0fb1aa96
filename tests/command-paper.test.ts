import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { runCommand } from '@okuri/cli';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';

// Paper and ties through the command: the demonstration job from its first list of ties to its release cut, and values that can't be.

const DEMO = fileURLToPath(new URL('../fixtures/demo/', import.meta.url));

let folder: string;
const path = (name: string): string => join(folder, name);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'okuri-paper-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

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

interface Listed {
  readonly id: string;
  readonly kind: string;
  readonly island: string | null;
  readonly lengthMm: number;
  readonly widthMm: number;
  readonly atMm: { readonly x: number; readonly y: number };
  readonly accepted: boolean;
}

describe('the demonstration job', () => {
  const job = () => path('demo/demo.okuri.json');
  const ties = async (...more: string[]): Promise<{ ties: Listed[]; impossible: unknown[] }> => {
    const { out, err } = await okuri('ties', job(), '--json', ...more);
    expect(err).toBe('');
    return JSON.parse(out);
  };
  const paper = async () => JSON.parse((await okuri('check', job(), '--json')).out).paper;

  beforeAll(() => {
    mkdirSync(path('demo'));
    copyFileSync(join(DEMO, 'motif.svg'), path('demo/motif.svg'));
    const file = JSON.parse(readFileSync(join(DEMO, 'demo.okuri.json'), 'utf8'));
    // From the beginning: before any tie was accepted.
    delete file.ties;
    writeFileSync(job(), JSON.stringify(file, null, 2));
  });

  it('has every key of the paper in its check', async () => {
    const known = await paper();
    expect(Object.keys(known)).toEqual(
      expect.arrayContaining(['islands', 'necks', 'slits', 'cutAwayShare', 'cutLengthMm']),
    );
    expect(known.cutAwayShare).toBeGreaterThan(0);
    expect(known.cutAwayShare).toBeLessThan(1);
    expect(known.cutLengthMm).toBeGreaterThan(1000);
    expect(known.islands.length).toBeGreaterThan(0);
    for (const { id, areaMm2, boxMm, dropsAt } of known.islands) {
      expect(id).toMatch(/^\d+$/);
      expect(areaMm2).toBeGreaterThan(0);
      expect(areaMm2).toBeLessThanOrEqual((boxMm.x1 - boxMm.x0) * (boxMm.y1 - boxMm.y0));
      expect(['first', 'second', 'release']).toContain(dropsAt);
    }
    for (const neck of known.necks) {
      expect(Object.keys(neck)).toEqual(['widthMm', 'atMm', 'lengthMm', 'weak', 'hangsMm2']);
      expect(neck.weak ? neck.hangsMm2 > 0 : neck.hangsMm2 === 0).toBe(true);
    }
    for (const slit of known.slits) expect(Object.keys(slit)).toEqual(['widthMm', 'atMm', 'lengthMm']);
  });

  it('lists its ties, takes them in for its gauze, and drops them again', async () => {
    const before = await paper();
    const first = await ties();
    expect(first.impossible).toEqual([]);
    expect(first.ties.length).toBeGreaterThan(0);
    expect(first.ties.map(({ id }) => id)).toEqual(first.ties.map((_, k) => `T${k + 1}`));
    for (const tie of first.ties) {
      expect(tie.accepted).toBe(false);
      expect(tie.lengthMm).toBeGreaterThan(0);
      expect(tie.widthMm).toBe(2);
    }
    // Ties that hold no island cut a long opening.
    expect(new Set(first.ties.flatMap(({ island }) => island ?? []))).toEqual(
      new Set(before.islands.map(({ id }: { id: string }) => id)),
    );

    const taken = await okuri('ties', job(), '--accept', 'all', '--kind', 'release');
    expect(taken).toMatchObject({ code: 0, err: '' });
    const held = await paper();
    expect(new Set(held.islands.map(({ dropsAt }: { dropsAt: string }) => dropsAt))).toEqual(new Set(['release']));
    expect(held.islands).toHaveLength(before.islands.length);
    const second = await ties();
    expect(second.ties.map(({ id, kind, accepted }) => [id, kind, accepted])).toEqual(
      first.ties.map(({ id }) => [id.replace('T', 'R'), 'release', true]),
    );

    const gone = await okuri('ties', job(), '--drop', 'all');
    expect(gone).toMatchObject({ code: 0, err: '' });
    expect(JSON.parse(readFileSync(job(), 'utf8')).ties).toEqual({});
  });
});

describe('values that cannot be', () => {
  const square = (at: number) => `M${at} ${at}h${100 - 2 * at}v${100 - 2 * at}h${2 * at - 100}z`;
  const job = () => path('ring.okuri.json');

  /** A square ring, 3 mm wide, around a square island of 8 mm. */
  function put(more: object): void {
    writeFileSync(job(), JSON.stringify({ okuri: 1, motif: 'ring.svg', ...more }, null, 2));
  }
  beforeEach(() =>
    writeFileSync(
      path('ring.svg'),
      `<svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="100mm" viewBox="0 0 100 100"><path fill-rule="evenodd" d="${square(43)}${square(46)}"/></svg>`,
    ),
  );

  /** A tie across the ring's left side. */
  const tie = { id: 'T1', kind: 'printed', from: [43, 50], to: [46, 50] };

  it.each<[string, object, string[], RegExp]>([
    [
      'a negative width of ties',
      { paper: { tieWidth: '-2mm' } },
      ['check'],
      /"paper\.tieWidth": the length "-2mm" is below zero/,
    ],
    ['no width of ties', { paper: { tieWidth: '0mm' } }, ['ties'], /"paper\.tieWidth" is 0 ?mm/],
    ['a negative neck', { paper: { neck: '-1mm' } }, ['check'], /"paper\.neck": the length "-1mm" is below zero/],
    ['a negative slit', { paper: { slit: '-0.5mm' } }, ['check'], /"paper\.slit": the length "-0\.5mm" is below zero/],
    [
      'a negative overlap',
      { double: { on: true, overlap: '-0.1mm' } },
      ['check'],
      /"double\.overlap": the length "-0\.1mm" is below zero/,
    ],
    ['a border of zero', { sheet: { border: '0mm' } }, ['check'], /"sheet\.border" is 0 ?mm/],
    ['a turn that no blade makes', { paper: { turn: '0mm' } }, ['check'], /"paper\.turn" is 0 ?mm/],
    [
      'ties wider than every island',
      { paper: { tieWidth: '12mm' } },
      ['ties'],
      /"paper\.tieWidth" is 12 mm, wider than every island .*8 mm/,
    ],
    [
      'the same, to be accepted',
      { paper: { tieWidth: '12mm' } },
      ['ties', '--accept', 'all', '--kind', 'printed'],
      /"paper\.tieWidth" is 12 mm, wider than every island/,
    ],
    [
      'a tie wider than the paper on which it lands, at the corner of the island',
      { ties: { '#000000': [{ ...tie, from: [43, 46.3], to: [46, 46.3] }] } },
      ['check'],
      /Tie T1 of "ties\.#000000" \(at 44\.5 mm, 46\.3 mm\) is 2 mm wide, wider than the paper on which it lands/,
    ],
    [
      'a tie from nowhere to nowhere',
      { ties: { '#000000': [{ ...tie, to: tie.from }] } },
      ['check'],
      /ends in one place/,
    ],
  ])('%s: one sentence and exit code 2', async (_what, says, [command, ...more], sentence) => {
    put(says);
    const run = await okuri(command, job(), ...more);
    expect(run).toMatchObject({ code: 2, out: '' });
    expect(run.err).toMatch(/^okuri: [^\n]+[.?]\n$/);
    expect(run.err).toMatch(sentence);
    const asJson = await okuri(command, job(), '--json', ...more);
    expect(asJson).toMatchObject({ code: 2, out: '' });
  });

  it('goes on where a tie lies elsewhere, and says so', async () => {
    put({ ties: { '#000000': [{ ...tie, from: [10, 10], to: [13, 10] }] } });
    const { out, code } = await okuri('check', job(), '--json');
    expect(code).toBe(1);
    expect(JSON.parse(out).findings.map(({ code: what }: { code: string }) => what)).toContain('tie-astray');
  });
});
