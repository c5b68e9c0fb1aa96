import { InputError } from '../units/input-error.js';
import { pathName } from './explain.js';
import { FieldReader } from './field-reader.js';
import type { JobKey } from './job-key.js';
import { JOB_KEYS } from './keys.js';
import { repeatName } from './repeat-fields.js';
import { JOB_VERSION } from './schema.js';
import type { Job } from './types.js';
import { writtenAt } from './written-at.js';

/**
 * A job file that says everything there is to say: every default written out, lengths as a person writes them. `readJob` of it gives the same job. What
 * `written` (an older file's content) says of a key stays as it stands there, in a person's own units, where it means the same.
 */
export function newJobText(job: Job, written: Readonly<Record<string, unknown>> = {}): string {
  const file: Record<string, unknown> = { okuri: JOB_VERSION };
  for (const [name, key] of Object.entries(JOB_KEYS)) {
    const value = key.write(job);
    if (value === undefined) continue;
    const own = writtenAt(written, name);
    const stays = own !== undefined && means(name, key, own, job);
    const [head, part] = name.split('.');
    if (part === undefined) file[head] = stays ? own : value;
    else file[head] = { ...(file[head] as object | undefined), [part]: stays ? own : value };
  }
  return `${JSON.stringify(file, null, 2)}\n`;
}

/** Whether what is written under a key means what the job holds for it. */
function means(name: string, key: JobKey, own: unknown, job: Job): boolean {
  // Reading puts a value into the job that it is given.
  const alone: Job = JSON.parse(JSON.stringify(job));
  const fail = (sentence: string): never => {
    throw new InputError(sentence);
  };
  try {
    const reader = new FieldReader({ nameOf: pathName, fail, written: () => repeatName(job), today: job.date });
    key.read(key.shape.parse(own), name, reader, alone);
    // What was read as something else is written as what it was read as.
    return reader.remarks.length === 0 && JSON.stringify(key.heldIn(alone)) === JSON.stringify(key.heldIn(job));
  } catch {
    return false;
  }
}
