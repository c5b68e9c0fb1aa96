import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { readJob } from './read.js';

/** Sentences, `@` for the key, and for which values of which keys they are said. */
const REFUSALS: readonly { readonly says: string; readonly for: Readonly<Record<string, readonly string[]>> }[] =
  JSON.parse(readFileSync(new URL('refusals.json', import.meta.url), 'utf8'));

const nested = ([key, ...rest]: readonly string[], value: unknown): object => ({
  [key]: rest.length === 0 ? value : nested(rest, value),
});

function refusal(path: string, value: unknown): string | null {
  const data = { okuri: 1, motif: 'leaves.svg', ...nested(path.split('.'), value) };
  try {
    readJob(JSON.stringify(data), { file: 'job' });
    return null;
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    return (error as Error).message.replace(/^job: /, '').replaceAll(`"${path}"`, '@');
  }
}

it('says of every key the same about every value that it does not take, and takes all others', () => {
  const said = new Map(
    REFUSALS.flatMap(({ says, for: values }) =>
      Object.entries(values).flatMap(([value, paths]) =>
        paths.map((path): [string, string] => [`${path} ${value}`, says]),
      ),
    ),
  );
  const values = [...new Set(REFUSALS.flatMap(({ for: own }) => Object.keys(own)))];
  const paths = [...new Set(REFUSALS.flatMap(({ for: own }) => Object.values(own).flat()))];
  expect(paths.length * values.length).toBeGreaterThan(1500);
  const differing = paths.flatMap((path) =>
    values.flatMap((value) => {
      const [before, now] = [said.get(`${path} ${value}`) ?? null, refusal(path, JSON.parse(value))];
      return before === now ? [] : [{ path, value, before, now }];
    }),
  );
  expect(differing).toEqual([]);
});
