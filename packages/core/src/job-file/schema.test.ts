import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { jobFileSchema, jobSchema } from './schema.js';

const published = readFileSync(new URL('../../job.schema.json', import.meta.url), 'utf8');

it('is published as it is (scripts/job-schema.mjs writes it)', () => {
  expect(published).toBe(`${JSON.stringify(jobSchema(), null, 2)}\n`);
});

it('asks a person for two keys only and refuses unknown ones at every level', () => {
  const schema = JSON.parse(published);
  expect(schema.required).toEqual(['okuri', 'motif']);
  const groups = [
    schema,
    ...['joins', 'hold', 'sheet', 'paper', 'double', 'pace', 'pages', 'cloth', 'plan'].map(
      (key) => schema.properties[key],
    ),
  ];
  for (const group of groups) expect(group.additionalProperties).toBe(false);
  for (const group of groups.slice(1)) expect(group.required).toBeUndefined();
});

it('fills every default', () => {
  const filled = jobFileSchema.parse({ okuri: 1, motif: 'leaves.svg' });
  expect(filled.pages).toMatchObject({ paper: 'A4', margin: '6.35mm', overlap: '10mm', orientation: 'auto' });
  expect(filled.sheet).toEqual({ border: '40mm', trailing: '25mm', dot: '1mm', sightDot: '1.5mm', seat: false });
  expect(filled.cloth).toMatchObject({ width: '2m', length: '2m' });
});
