import { expect, it } from 'vitest';
import { writtenTies } from '../job-file/kept-fields.js';
import { readJob } from '../job-file/read.js';
import type { Tie } from '../strength/types.js';
import type { SuggestedTies } from '../ties/suggested.js';
import { tieName } from '../ties/tie-names.js';
import { InputError } from '../units/input-error.js';
import { acceptTies, dropTies } from './choose-ties.js';

const INK = '#000000';
const BLUE = '#0072b2';

function tie(n: number, kind: Tie['kind'] = 'printed'): Tie {
  return { id: tieName(n, kind), kind, from: { x: n, y: 0 }, to: { x: n, y: 3 } };
}
const suggested = (n: number, kind: Tie['kind'] = 'printed') => ({
  ...tie(n, kind),
  island: '1',
  lengthMm: 3,
  hidden: false,
});
const jobWith = (ties: Record<string, readonly Tie[]>, more: object = {}) =>
  readJob(JSON.stringify({ okuri: 1, motif: 'a.svg', ties: writtenTies(ties), ...more }), { file: 'a.okuri.json' }).job;
const of = (ink: string, accepted: readonly Tie[], more: SuggestedTies['suggested']): SuggestedTies => ({
  ink,
  accepted,
  suggested: more,
  impossible: [],
});
const idsOf = (ties: Readonly<Record<string, readonly Tie[]>>) =>
  Object.fromEntries(Object.entries(ties).map(([ink, list]) => [ink, list.map(({ id, kind }) => `${id} ${kind}`)]));

it('takes suggested ties in, each of its own kind or all of one', () => {
  const accepted = [tie(2)];
  const job = jobWith({ [INK]: accepted });
  const suggestions = [of(INK, accepted, [suggested(3), suggested(4, 'release'), suggested(5)])];
  const some = acceptTies(job, suggestions, { ids: 'T3 T4', stencil: null, kind: null });
  expect(idsOf(some.ties)).toEqual({ [INK]: ['T2 printed', 'T3 printed', 'R4 release'] });
  expect(some).toMatchObject({ changed: 'T3, R4', turned: '', same: '' });
  expect(some.ties[INK][1]).toEqual(tie(3));
  const all = acceptTies(job, suggestions, { ids: 'all', stencil: null, kind: 'release' });
  expect(idsOf(all.ties)).toEqual({ [INK]: ['T2 printed', 'R3 release', 'R4 release', 'R5 release'] });
  expect(all.changed).toBe('R3-R5');
});

it('gives a tie of the job another kind, and says of one that it stands already', () => {
  const accepted = [tie(1), tie(2, 'release')];
  const job = jobWith({ [INK]: accepted });
  const suggestions = [of(INK, accepted, [])];
  const turned = acceptTies(job, suggestions, { ids: 'T1-T2', stencil: null, kind: 'release' });
  expect(idsOf(turned.ties)).toEqual({ [INK]: ['R1 release', 'R2 release'] });
  expect(turned).toMatchObject({ changed: '', turned: 'R1', same: 'R2' });
  expect(acceptTies(job, suggestions, { ids: 'T1', stencil: null, kind: null })).toMatchObject({
    ties: job.ties,
    same: 'T1',
  });
  expect(acceptTies(job, suggestions, { ids: 'all', stencil: null, kind: 'printed' }).ties).toEqual(job.ties);
});

it('asks for the stencil where ids stand for several ties', () => {
  const job = jobWith({});
  const suggestions = [of(INK, [], [suggested(1)]), of(BLUE, [], [suggested(1), suggested(2)])];
  const accept = (ids: string, stencil: number | null) => acceptTies(job, suggestions, { ids, stencil, kind: null });
  expect(idsOf(accept('all', null).ties)).toEqual({ [INK]: ['T1 printed'], [BLUE]: ['T1 printed', 'T2 printed'] });
  expect(idsOf(accept('T1', 2).ties)).toEqual({ [BLUE]: ['T1 printed'] });
  expect(() => accept('T1', null)).toThrow(/several stencils: say which with --stencil/);
  expect(() => accept('T1', 3)).toThrow(/no stencil 3: the job has 2 stencils/);
  expect(() => accept('T2', 1)).toThrow(/no tie T2/);
});

it('takes no release tie without gauze, and none where two sheets print', () => {
  const suggestions = [of(INK, [], [suggested(1), suggested(2, 'release')])];
  const bare = jobWith({}, { gauze: false });
  const choice = { ids: 'all', stencil: null };
  expect(() => acceptTies(bare, suggestions, { ...choice, kind: null })).toThrow(InputError);
  expect(() => acceptTies(bare, suggestions, { ...choice, kind: null })).toThrow(/^R2 is .*release ties need gauze/);
  expect(acceptTies(bare, suggestions, { ...choice, kind: 'printed' }).changed).toBe('T1, T2');
  expect(acceptTies(bare, suggestions, { ids: 'T1', stencil: null, kind: null }).changed).toBe('T1');
  const double = jobWith({}, { double: { on: true } });
  expect(() => acceptTies(double, suggestions, { ...choice, kind: 'release' })).toThrow(/two sheets/);
});

it('drops ties of the job and leaves no empty list', () => {
  const job = jobWith({ [INK]: [tie(1), tie(2), tie(5)] });
  const drop = (ids: string) => dropTies(job, null, { ids, stencil: null });
  expect(idsOf(drop('T1-T5').ties)).toEqual({});
  expect(idsOf(drop('T2').ties)).toEqual({ [INK]: ['T1 printed', 'T5 printed'] });
  expect(drop('all')).toMatchObject({ ties: {}, changed: 'T1, T2, T5' });
  expect(() => drop('T3')).toThrow(/no tie T3 in the job/);
  expect(job.ties[INK]).toHaveLength(3);
});

it('drops of one stencil or of all, and knows when there is nothing', () => {
  const job = jobWith({ [INK]: [tie(1)], [BLUE]: [tie(1), tie(2)] });
  expect(idsOf(dropTies(job, [BLUE, INK], { ids: 'T1', stencil: 1 }).ties)).toEqual({
    [INK]: ['T1 printed'],
    [BLUE]: ['T2 printed'],
  });
  expect(dropTies(job, null, { ids: 'all', stencil: null }).ties).toEqual({});
  expect(() => dropTies(job, null, { ids: 'T1', stencil: null })).toThrow(/--stencil/);
  const empty = jobWith({});
  expect(dropTies(empty, null, { ids: 'all', stencil: null })).toMatchObject({ ties: {}, changed: '' });
  expect(() => dropTies(empty, null, { ids: 'T1', stencil: null })).toThrow(/no tie T1/);
  expect(() => dropTies(empty, [INK], { ids: 'T1', stencil: 1 })).toThrow(/no tie T1/);
});
