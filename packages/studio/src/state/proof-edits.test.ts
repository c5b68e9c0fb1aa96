import { type Job, type ProofOffset, readJob } from '@okuri/core';
import type { ProofSheet } from '@okuri/core/inside';
import { expect, it } from 'vitest';
import { withKey } from './job-keys';
import { distanceTexts, noOffsetsEdit, takeOverEdit, typedEdit } from './proof-edits';

const at = (x: number, y: number) => ({ x, y });
const of: Pick<ProofSheet, 'key' | 'ends'> = {
  key: '#000000',
  ends: {
    joins: ['J1', 'J2'].map((name, k) => ({
      name,
      seam: 'right',
      at: at(100, 10 + k),
      lead: at(0, 10 + k),
      step: at(100, 0),
      own: 1,
      partner: 2,
      edge: 'begins',
    })),
    firstCutEnds: [{ name: 'J3', at: at(90, 10), along: at(0, 1), opening: 1 }],
  },
};
const measured = (name: string, offsetMm: number): ProofOffset => ({ name, offsetMm, turnDeg: 0, place: at(1, 1) });
const START = '{ "okuri": 1, "motif": "a.svg", "repeat": "straight" }';

/** A job file, changed edit by edit. */
function edits(...all: ((job: Job) => { readonly path: readonly (string | number)[]; readonly value: unknown })[]) {
  let text = START;
  for (const edit of all) {
    const { path, value } = edit(readJob(text, { file: 'a job' }).job);
    text = withKey(text, path, value);
  }
  return {
    text,
    offsets: readJob(text, { file: 'a job' }).job.proof['#000000']?.map((one) => [one.name, one.offsetMm]),
  };
}

it('takes measured offsets over, and typed ones stay where the scan shows nothing', () => {
  const { offsets } = edits(
    (job) => typedEdit(job, of, 'J3', 0.4),
    (job) => typedEdit(job, of, 'J1', -0.2),
    (job) => takeOverEdit(job, of, { offsets: [measured('J2', 0.31), measured('J1', 0.1)] }),
  );
  expect(offsets).toEqual([
    ['J1', 0.1],
    ['J2', 0.31],
    ['J3', 0.4],
  ]);
});

it('lets what is typed later count most, and takes it back', () => {
  const measure = (job: Job) => takeOverEdit(job, of, { offsets: [measured('J1', 0.1), measured('J2', 0.31)] });
  expect(edits(measure, (job) => typedEdit(job, of, 'J2', -0.5)).offsets).toEqual([
    ['J1', 0.1],
    ['J2', -0.5],
  ]);
  expect(edits(measure, (job) => typedEdit(job, of, 'J2', null)).offsets).toEqual([['J1', 0.1]]);
});

it('leaves no trace in the job file when all is taken back', () => {
  const typed = (job: Job) => typedEdit(job, of, 'J1', 0.4);
  expect(edits(typed, (job) => typedEdit(job, of, 'J1', null)).text).not.toContain('proof');
  expect(edits(typed, (job) => noOffsetsEdit(job, of)).text).not.toContain('proof');
});

it('writes distances as the step Squaring takes them', () => {
  const distances = { top: 300.04, right: 420, bottom: 299.96, left: 419.9, falling: 516.14, rising: 516.2 };
  expect(distanceTexts({ distances })).toEqual({
    top: '300.0 mm',
    right: '420.0 mm',
    bottom: '300.0 mm',
    left: '419.9 mm',
    falling: '516.1 mm',
    rising: '516.2 mm',
  });
  expect(distanceTexts({ distances: null })).toBeNull();
});
