import { InputError, readJob, type SuggestedTies } from '@okuri/core';
import { expect, it } from 'vitest';
import { type ShownTie, shownTies } from '../marks/ties-shown';
import { withKey } from './job-keys';
import { acceptEdit, drawnKind, dropEdit, endEdit, type JobEdit, newTieEdit, refuseUnreadable } from './tie-edits';

const TEXT = `{
  "okuri": 1, "motif": "m.svg", "gauze": true,
  "ties"  : {
    "#3A6EA5": [
      { "id": "T1", "kind": "release", "from": [1, 2], "to": [5,   2] },
      { "id": "T3", "kind": "printed", "from": [10, 20], "to": [10, 24] }
    ]
  }
}
`;
const INK = '#3a6ea5';
const jobOf = (text: string) => readJob(text, { file: 'the job' }).job;
const job = jobOf(TEXT);
const made = (text: string, { path, value }: JobEdit) => withKey(text, path, value);
const suggestions: SuggestedTies[] = [
  {
    ink: INK,
    accepted: [],
    impossible: [],
    suggested: [
      {
        id: 'R4',
        kind: 'release',
        from: { x: 30, y: 30 },
        to: { x: 33, y: 30 },
        island: '2',
        lengthMm: 3,
        hidden: true,
      },
      {
        id: 'R5',
        kind: 'release',
        from: { x: 40, y: 30 },
        to: { x: 44, y: 30 },
        island: '3',
        lengthMm: 4,
        hidden: true,
      },
    ],
  },
];
const shown = shownTies(job, { suggested: suggestions }, { leftOut: new Set() });
const named = (id: string) => shown.find((tie) => tie.id === id) as ShownTie;

it('moves one end, and leaves all else of the file as it was written', () => {
  const edit = endEdit(TEXT, job, named('T3'), 'to', { x: 10.12345, y: 23.5 });
  expect(edit).toEqual({ path: ['ties', '#3A6EA5', 1, 'to'], value: [10.123, 23.5] });
  const text = made(TEXT, edit);
  expect(text.replace(/"to": \[\s*10\.123,\s*23\.5\s*\]/, '"to": [10, 24]')).toBe(TEXT);
  expect(jobOf(text).ties[INK][1]).toEqual({ ...job.ties[INK][1], to: { x: 10.123, y: 23.5 } });
});

it('takes a suggested tie into the job where it was moved to', () => {
  const after = jobOf(made(TEXT, endEdit(TEXT, job, named('R4'), 'from', { x: 29, y: 31 })));
  expect(after.ties[INK].slice(0, 2)).toEqual(job.ties[INK]);
  expect(after.ties[INK][2]).toEqual({ id: 'R4', kind: 'release', from: { x: 29, y: 31 }, to: { x: 33, y: 30 } });
});

it('draws a new tie by the next id that nothing else is called by', () => {
  const edit = newTieEdit(job, shown, { ink: INK, kind: drawnKind(job), from: { x: 1, y: 1 }, to: { x: 4, y: 5 } });
  expect(edit.id).toBe('R6');
  expect(jobOf(made(TEXT, edit)).ties[INK].at(-1)).toEqual({
    id: 'R6',
    kind: 'release',
    from: { x: 1, y: 1 },
    to: { x: 4, y: 5 },
  });
  const bare = '{ "okuri": 1, "motif": "m.svg" }';
  const first = newTieEdit(jobOf(bare), [], { ink: INK, kind: 'printed', from: { x: 1, y: 1 }, to: { x: 4, y: 5 } });
  expect(jobOf(made(bare, first)).ties[INK].map(({ id }) => id)).toEqual(['T1']);
});

it('accepts several in one go, and gives them and standing ones one kind', () => {
  const both = acceptEdit(job, suggestions, [named('R4'), named('R5')], null);
  expect(jobOf(made(TEXT, both)).ties[INK].map(({ id, kind }) => [id, kind])).toEqual([
    ['R1', 'release'],
    ['T3', 'printed'],
    ['R4', 'release'],
    ['R5', 'release'],
  ]);
  const printed = acceptEdit(job, suggestions, [named('R1'), named('R5')], 'printed');
  expect(jobOf(made(TEXT, printed)).ties[INK].map(({ id, kind }) => [id, kind])).toEqual([
    ['T1', 'printed'],
    ['T3', 'printed'],
    ['T5', 'printed'],
  ]);
});

it('goes by the ties of the job as it is now, not by those of the older answer', () => {
  const text = made(TEXT, acceptEdit(job, suggestions, [named('R4')], null));
  const then = made(text, acceptEdit(jobOf(text), suggestions, [named('R5')], null));
  expect(jobOf(then).ties[INK].map(({ id }) => id)).toEqual(['R1', 'T3', 'R4', 'R5']);
});

it('takes ties out, and with the last one the key', () => {
  const one = made(TEXT, dropEdit(job, suggestions, [named('R1')]));
  expect(jobOf(one).ties[INK].map(({ id }) => id)).toEqual(['T3']);
  const none = dropEdit(job, suggestions, [named('R1'), named('T3')]);
  expect(none.value).toBeUndefined();
  expect(jobOf(made(TEXT, none)).ties).toEqual({});
});

it('refuses what the job could not be read with, in a sentence', () => {
  expect(() => refuseUnreadable(TEXT, endEdit(TEXT, job, named('R1'), 'to', { x: 1, y: 2 }))).toThrow(InputError);
  expect(() => refuseUnreadable(TEXT, endEdit(TEXT, job, named('R1'), 'to', { x: 1, y: 2 }))).toThrow(/R1/);
  expect(() => refuseUnreadable(TEXT, endEdit(TEXT, job, named('R1'), 'to', { x: 1, y: 3 }))).not.toThrow();
  expect(drawnKind({ ...job, practice: { ...job.practice, gauze: false } })).toBe('printed');
});
