// Writes the published JSON Schema of the job file from the schema that the engine reads by.
import { writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { jobSchema } from '../packages/core/dist/job-file/schema.js';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
writeFileSync(join(root, 'packages/core/job.schema.json'), `${JSON.stringify(jobSchema(), null, 2)}\n`);
