import { expect, it } from 'vitest';
import { STAGES } from '../job/stages.js';
import { jobSlice, type PresentJob } from './job-slice.js';
import { jobForMotif } from './read.js';

const job: PresentJob = { ...jobForMotif({ file: 'leaves.svg' }).job, otherNumbers: [] };

it('has the keys that are asked for and no other: whole ones, and parts of one under it', () => {
  const slice = jobSlice(job, ['across', 'cloth.widthMm', 'cloth.sizes', 'paper.rules', 'joins']);
  expect(slice).toEqual({
    across: job.across,
    cloth: { widthMm: job.cloth.widthMm, sizes: job.cloth.sizes },
    paper: { rules: job.paper.rules },
    joins: job.joins,
  });
  expect(jobSlice(job, [])).toEqual({});
});

it('is the same whatever else the job says, and leaves the job as it was', () => {
  const before = structuredClone(job);
  for (const { reads } of Object.values(STAGES)) {
    const renamed = { ...job, title: 'Another', date: '2026-02-03', revision: 'Z' };
    expect(jobSlice(renamed, reads)).toEqual(jobSlice(job, reads));
  }
  const moved = { ...job, cloth: { ...job.cloth, widthMm: job.cloth.widthMm + 1 } };
  expect(jobSlice(moved, ['cloth.sizes'])).toEqual(jobSlice(job, ['cloth.sizes']));
  expect(jobSlice(moved, ['cloth.widthMm'])).not.toEqual(jobSlice(job, ['cloth.widthMm']));
  expect(job).toEqual(before);
});

it('does not compile where a stage reads what it does not declare', () => {
  const { sheet } = jobSlice(job, ['sheet.borderMm']);
  expect(sheet.borderMm).toBe(job.sheet.borderMm);
  // @ts-expect-error: not among the keys that were asked for.
  expect(sheet.dotMm).toBeUndefined();
});
