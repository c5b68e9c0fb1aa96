import { type Job, readJob } from '@okuri/core';

let last: { readonly jobText: string; readonly job: Job | null } | null = null;

/** The job that a job file says, with every default in it; null where it can't be read. The last one is kept. */
export function presentJob(jobText: string): Job | null {
  if (last?.jobText !== jobText) last = { jobText, job: read(jobText) };
  return last.job;
}

function read(jobText: string): Job | null {
  try {
    return readJob(jobText, { file: 'the job' }).job;
  } catch {
    return null;
  }
}
