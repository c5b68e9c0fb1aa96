import { toJSONSchema, z } from 'zod';
import { plainText } from './field.js';
import { GROUPS, JOB_KEYS } from './keys.js';

/** The version of the job file's form that this engine reads and writes. */
export const JOB_VERSION = 1;

/** Names of keys step by step: `pages.paper` is `paper` in the group `pages`. */
function jobShape() {
  const top: Record<string, z.ZodType> = {
    $schema: plainText('Where an editor finds this schema; of no account for the work.').optional(),
    okuri: z.literal(JOB_VERSION).describe('The version of this form.'),
  };
  const groups = new Map<string, Record<string, z.ZodType>>();
  for (const [name, { shape }] of Object.entries(JOB_KEYS)) {
    const [head, part] = name.split('.');
    if (part === undefined) top[head] = shape;
    else groups.set(head, { ...groups.get(head), [part]: shape });
    // A group takes its place among the keys with its first one.
    if (part !== undefined) top[head] = groupShape(head, groups.get(head) ?? {});
  }
  return z.strictObject(top).describe('A job: one motif, how it repeats, and the sheets that are cut for it.');
}

function groupShape(name: string, shapes: Record<string, z.ZodType>): z.ZodType {
  const group = z.strictObject(shapes);
  return (GROUPS[name] === undefined ? group : group.describe(GROUPS[name])).prefault({});
}

/** What a job file may say. Lengths stay text here; `readJob` reads them and checks their bounds. */
export const jobFileSchema = jobShape();

/** The published JSON Schema (draft 2020-12) of the job file as a person writes it. */
export function jobSchema(): Record<string, unknown> {
  return { title: 'Okuri job', ...toJSONSchema(jobFileSchema, { io: 'input' }) };
}
