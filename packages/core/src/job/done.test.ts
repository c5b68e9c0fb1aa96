import { expect, it } from 'vitest';
import { doneOf, mirroredFor } from '../job-file/practice.js';
import { readJob } from '../job-file/read.js';
import { InputError } from '../units/input-error.js';
import { markDone } from './done.js';
import type { JobResult } from './result.js';

const [BLACK, BLUE] = ['#000000', '#0000ff'];
type Marked = Pick<JobResult, 'job' | 'sheets' | 'lattice'>;
function result(done: unknown, inks: readonly string[] = [BLACK]): Marked {
  const { job } = readJob(JSON.stringify({ okuri: 1, motif: 'm.svg', ...(done ? { done } : {}) }), { file: 'm' });
  const sheets = inks.map((ink) => ({ ink, openings: [1, 2, 3, 4, 5].map((number) => ({ number })) }));
  return { job, sheets, lattice: { widthMm: 100, heightMm: 80 } } as unknown as Marked;
}

it('adds marks and takes them back', () => {
  expect(markDone(result(null), '2 4-5')).toEqual({ value: '2, 4, 5', numbers: [2, 4, 5] });
  expect(markDone(result('1, 3'), '2')).toEqual({ value: '1-3', numbers: [1, 2, 3] });
  expect(markDone(result('1-3'), '2', { not: true })).toEqual({ value: '1, 3', numbers: [1, 3] });
  expect(markDone(result('1'), '1', { not: true })).toEqual({ value: '', numbers: [] });
  // An opening that is gone can still be taken off the list.
  expect(markDone(result('1, 77'), '77', { not: true }).numbers).toEqual([1]);
});

it('keeps a list for each ink where there are several stencils or the file gives one', () => {
  const two = [BLACK, BLUE];
  expect(markDone(result(null, two), '3', { sheet: 2 }).value).toEqual({ [BLUE]: '3' });
  expect(markDone(result({ [BLACK]: '1' }, two), '3', { sheet: 2 }).value).toEqual({ [BLACK]: '1', [BLUE]: '3' });
  expect(markDone(result({ [BLACK]: '1' }), '2').value).toEqual({ [BLACK]: '1, 2' });
});

it('refuses what it cannot place', () => {
  for (const [done, text, options] of [
    [null, '9', {}],
    [null, '', {}],
    ['1', '9', { not: true }],
    [null, '1', { sheet: 2 }],
  ] as const) {
    expect(() => markDone(result(done), text, options)).toThrow(InputError);
  }
  expect(() => markDone(result(null, [BLACK, BLUE]), '1')).toThrow(/2 stencils/);
});

it('finds what is done on a stencil', () => {
  const { job } = result('1, 2');
  expect(doneOf(job, BLACK, [BLACK])).toEqual([1, 2]);
  expect(() => doneOf(job, BLACK, [BLACK, BLUE])).toThrow(InputError);
  expect(doneOf(result({ [BLUE]: '4' }).job, BLUE, [BLACK, BLUE])).toEqual([4]);
  expect(doneOf(result(null).job, BLACK, [BLACK])).toEqual([]);
});

it('mirrors for no transfer', () => {
  expect((['cut-through', 'carbon', 'lightbox'] as const).map(mirroredFor)).toEqual([false, false, false]);
});
