import { expect, it } from 'vitest';
import { InputError } from '../units/input-error.js';
import { readJob } from './read.js';
import { newJobText } from './write.js';

const read = (proof: unknown) =>
  readJob(JSON.stringify({ okuri: 1, motif: 'leaf.svg', proof }), { file: 'leaf.okuri.json' }).job;

it('reads offsets with their signs and units, and writes them again', () => {
  const job = read({
    '#000': [
      { at: 'x3', offset: '+0.4mm', turn: -1.2, place: [120, 33.5] },
      { at: 'Y1', offset: '−1/32in' },
      { at: 'X4', offset: '0mm' },
    ],
    '#c33 b': [{ at: 'X1', offset: '-0.05 cm' }],
  });
  expect(job.proof).toEqual({
    '#000000': [
      { name: 'X3', offsetMm: 0.4, turnDeg: -1.2, place: { x: 120, y: 33.5 } },
      { name: 'Y1', offsetMm: -25.4 / 32, turnDeg: 0, place: null },
      { name: 'X4', offsetMm: 0, turnDeg: 0, place: null },
    ],
    '#cc3333 B': [{ name: 'X1', offsetMm: -0.5, turnDeg: 0, place: null }],
  });
  const again = readJob(newJobText(job), { file: 'leaf.okuri.json' }).job;
  // Written to 0.1 µm.
  expect(again.proof['#000000'][1].offsetMm).toBeCloseTo(-25.4 / 32, 4);
  expect(again.proof['#cc3333 B']).toEqual(job.proof['#cc3333 B']);
  expect(again.proof['#000000'][0]).toEqual(job.proof['#000000'][0]);
});

it('leaves a job without proofs as it was', () => {
  const { job } = readJob('{"okuri": 1, "motif": "leaf.svg"}', { file: 'leaf.okuri.json' });
  expect(job.proof).toEqual({});
  expect(JSON.parse(newJobText(job)).proof).toBeUndefined();
});

it.each([
  [{ '#000': [{ at: 'Z3', offset: '1mm' }] }, /at.* is "Z3": write J and a number/],
  [{ '#000': [{ at: 'X0', offset: '1mm' }] }, /write J and a number/],
  [{ '#000': [{ at: 'X1', offset: '1' }] }, /unit/],
  [{ '#000': [{ at: 'X1', offset: '--1mm' }] }, /proof/],
  [{ '#000': [{ at: 'X1', offset: '11mm' }] }, /from -10 to 10 mm/],
  [{ '#000': [{ at: 'X1', offset: '1mm', turn: 60 }] }, /from -45 to 45/],
  [{ '#000': [{ at: 'X1', offset: '1mm', place: [1] }] }, /place/],
  [{ '#000': [{ at: 'X1', offset: '1mm', place: [1e9, 0] }] }, /place/],
  [
    {
      '#000': [
        { at: 'X1', offset: '1mm' },
        { at: 'x1', offset: '2mm' },
      ],
    },
    /has X1 twice/,
  ],
  [{ '#000': [{ offset: '1mm' }] }, /at.* is missing/],
  [{ '#000': [{ at: 'X1', offset: '1mm', by: 2 }] }, /by.* is not a key/],
  [{ '#000': [], '#000000': [] }, /in another spelling/],
  [{ black: [] }, /write a colour/],
  [[], /a group with a key for each ink/],
])('refuses %j in one sentence', (proof, sentence) => {
  expect(() => read(proof)).toThrow(InputError);
  expect(() => read(proof)).toThrow(sentence);
});
