import { readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';

const part = (name: string) => import(new URL(`./mutants/${name}.mjs`, import.meta.url).href);
const { Lane } = await part('lanes');
const { mutantsOf, mutated } = await part('operators');
const { regionsSeeing, roundsFor } = await part('plan');
const { noting, regionsOf, usersOf } = await part('regions');
const { report, score } = await part('report');
const { sample } = await part('sample');
const { parse } = await part('syntax');

interface Mutant {
  readonly name: string;
  readonly operator: string;
}

interface TestFiles {
  readonly file: string;
  readonly ids: readonly string[] | null;
}

interface Drawn {
  readonly share: number;
  readonly chosen: readonly { readonly name: string; readonly site: string }[];
}

const root = join(dirname(fileURLToPath(import.meta.url)), '..');

const names = (source: string) => mutantsOf('a.ts', source).map(({ name }: Mutant) => name.replace('a.ts:', ''));
const texts = (source: string) => mutantsOf('a.ts', source).map((mutant: Mutant) => mutated(source, mutant));

describe('mutants of a source', () => {
  it('are named by file, function, operator and count, so that a name outlives moved lines', () => {
    const source = 'export function area(w: number, h: number): number {\n  return w * h;\n}\n';
    expect(mutantsOf('a.ts', source).map(({ name }: Mutant) => name)).toEqual(['a.ts:area#times-to-over@1']);
    expect(names(`// A line more.\n\n${source}`)).toEqual(names(source));
    expect(
      names('const f = (a: P): P => { const g = (x: number) => x - 1; return [a.x + a.x + g(1), -a.y]; };'),
    ).toEqual(
      expect.arrayContaining([
        'f.g#minus-to-plus@1',
        'f#plus-to-minus@2',
        'f#x-to-y@2',
        'f#y-to-x@1',
        'f#minus-dropped@1',
      ]),
    );
  });

  it('change one thing each, and leave types, names and prose alone', () => {
    const all = texts("import a from './1.js'; const b: 1 | 2 = c(d, 2); // 5\nconst words = `3 is b` + '4';");
    expect(all).toHaveLength(6);
    for (const text of all) {
      expect(text).toContain("from './1.js'; const b: 1 | 2 =");
      expect(text).toContain('// 5');
      expect(text).toContain('`3 is b`');
    }
    expect(texts('const m = Math.min(p, q) < 2 && !r;')).toEqual(
      expect.arrayContaining([
        'const m = Math.max(p, q) < 2 && !r;',
        'const m = Math.min(q, p) < 2 && !r;',
        'const m = Math.min(p, q) <= 2 && !r;',
        'const m = Math.min(p, q) >= 2 && !r;',
        'const m = Math.min(p, q) < 2 || !r;',
        'const m = Math.min(p, q) < 2 && (r);',
      ]),
    );
    expect(texts('function f() { if (a) return; b(); }')).toEqual([
      'function f() { if (true) return; b(); }',
      'function f() { ; b(); }',
      'function f() { if (a) return; ; }',
    ]);
    expect(texts('f({ x: a + 1, y: 2 })')).toContain('f({ x: 2, y: a + 1 })');
  });
});

describe('regions', () => {
  const source = [
    'const LEAST = 3;',
    'export const MOST = 2 * LEAST;',
    'export function clamp(n: number, least = LEAST): number {',
    '  if (n < least) return least;',
    '  return n > 9 ? [9].map((m) => m + 1)[0] : n;',
    '}',
  ].join('\n');

  it('note which of them run, and leave what the source does as it was', async () => {
    const noted = noting('clamp.ts', source, { deep: true }).replaceAll(': number', '').replaceAll('export ', '');
    const run = (call: string) => {
      const [value, marks] = new Function(
        `globalThis.__okuriReached = undefined; ${noted}; return [${call}, __reached];`,
      )();
      return [value, [...marks].join('')];
    };
    // The body, the early return, the first and the second choice with the arrow function within the first.
    expect(regionsOf(parse(source))).toHaveLength(5);
    expect(run('clamp(1)')).toEqual([3, '11000']);
    expect(run('clamp(5)')).toEqual([5, '10001']);
    expect(run('clamp(12)')).toEqual([10, '10110']);
    expect(noted.split('\n')).toHaveLength(source.split('\n').length);
  });

  it('tell who sees a change of a constant: those that use it, and those that use what is made from it', () => {
    const tree = parse(source);
    const at = source.indexOf('3');
    expect(usersOf(tree, regionsOf(tree), { start: at, end: at + 1 })).toEqual({ regions: [0], exported: ['MOST'] });
  });

  it('choose the tests that run a mutant, the fastest file first', () => {
    const sources = {
      parsed: () => ({ tree: parse(source), regions: regionsOf(parse(source)) }),
      importing: () => [],
    };
    const [mutant] = mutantsOf('clamp.ts', source).filter(({ operator }: Mutant) => operator === 'plus-to-minus');
    const seeing = regionsSeeing(mutant, sources);
    expect([...seeing]).toEqual([['clamp.ts', [3]]]);
    const bits = (...regions: number[]) =>
      new Map([['clamp.ts', Buffer.from([regions.reduce((sum, n) => sum | (1 << n), 0)])]]);
    const test = (id: string, ms: number, ...regions: number[]) => ({ id, ms, reached: bits(...regions) });
    const file = (name: string, ...tests: object[]) => ({ file: name, tier: 1, shared: bits(), tests });
    const rounds = roundsFor(seeing, [
      file('slow.test.ts', test('a', 50, 0, 2, 3), test('b', 1, 0)),
      file('never.test.ts', test('c', 1, 0, 1)),
      { ...file('wide.test.ts', test('d', 5, 3)), tier: 2 },
      file('fast.test.ts', test('e', 1, 0), test('f', 2, 3)),
    ]);
    expect(rounds[0].map((one: TestFiles) => [one.file, one.ids])).toEqual([
      ['fast.test.ts', ['f']],
      ['slow.test.ts', ['a']],
    ]);
    // What an earlier test made may be looked at by a later one.
    expect(rounds[1].map((one: TestFiles) => [one.file, one.ids])).toEqual([['slow.test.ts', null]]);
    expect(rounds[2].map((one: TestFiles) => one.file)).toEqual(['wide.test.ts']);
  });
});

describe('a sample', () => {
  const mutants = (folder: string, n: number) =>
    Array.from({ length: n }, (_, k) => ({ name: `${folder}:f#a@${k}`, site: `${folder}:f#a@${k - (k % 2)}` }));
  const byFolder = { one: mutants('one', 60), two: mutants('two', 8), three: mutants('three', 400) };
  const drawn = (seed: number) =>
    Object.values<Drawn>(sample(byFolder, { seed, count: 10 })).flatMap(({ share, chosen }) => chosen.slice(0, share));

  it('is as large from every folder, one mutant a place, the same for the same seed', () => {
    expect(drawn(1)).toHaveLength(4 + 3 + 3);
    expect(drawn(1)).toEqual(drawn(1));
    expect(drawn(1)).not.toEqual(drawn(2));
    expect(new Set(drawn(3).map(({ site }) => site)).size).toBe(10);
  });

  it('stays as it is in one folder when another changes', () => {
    const more = { ...byFolder, one: mutants('one', 70) };
    expect(sample(more, { seed: 1, count: 10 }).three).toEqual(sample(byFolder, { seed: 1, count: 10 }).three);
  });
});

describe('the score', () => {
  const tried = ['killed', 'killed', 'timed out', 'survived'].map((verdict, k) => {
    return {
      mutant: { name: `packages/core/src/pages/a.ts:f#x@${k}`, file: 'packages/core/src/pages/a.ts' },
      verdict,
      reachedBy: 1,
    };
  });

  it('counts what never came back as noticed, and says how many', () => {
    expect(score(tried)).toEqual({ mutants: 4, killed: 3, timedOut: 1, share: 0.75 });
  });

  it('prints what was not noticed with its reason', () => {
    const text = report(tried, { title: 'Seed 1', reasons: { 'pages/a.ts:f#x@3': 'nothing can tell' } });
    expect(text).toContain('pages      3 of 4 noticed, 1 of them by time (75.0 %)');
    expect(text).toContain('pages/a.ts:f#x@3: nothing can tell');
  });
});

describe('a lane', () => {
  it('tells killed, survived and endless mutants apart, and goes on after an endless one', async () => {
    const path = join(root, 'scripts/mutants/sample/tally.ts');
    const source = readFileSync(path, 'utf8');
    const all: readonly Mutant[] = mutantsOf('tally.ts', source);
    const lane = new Lane(root, { leastLimitMs: 2000 });
    const verdict = async (name: string) => {
      const mutant = all.find((one) => one.name === `tally.ts:${name}`);
      if (mutant === undefined) throw new Error(`no ${name} among ${all.map((one) => one.name).join(', ')}`);
      const files = [{ file: join(root, 'scripts/mutants/sample/tally.test.ts'), ids: null, ms: 1 }];
      const { verdict: found, by } = await lane.run({ path, source: mutated(source, mutant), files });
      return [found, by];
    };
    try {
      expect(await verdict('tally#at-most-to-less@1')).toEqual(['killed', 'sums whole numbers']);
      // Starting from 0 adds nothing.
      expect(await verdict('tally#constant-minus-one@2')).toEqual(['survived', null]);
      expect((await verdict('halvings#statement-dropped@1'))[0]).toBe('timed out');
      expect(await verdict('tally#add-to-subtract@1')).toEqual(['killed', 'sums whole numbers']);
    } finally {
      lane.close();
    }
  });
});
