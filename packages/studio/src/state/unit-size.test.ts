import { readJob } from '@okuri/core';
import { expect, it } from 'vitest';
import { keyOf } from './job-keys';
import { areTiesMoving, knownSize, settledText, unitOf, withSizes } from './unit-size';

const INK = '#000000';
const NOW = { widthMm: 200, heightMm: 160 };
const text = (keys: object) => JSON.stringify({ okuri: 1, motif: 'm.svg', ...keys }, null, 2);
const TIE = { id: 'T1', kind: 'printed', from: [70, 50], to: [74, 50] } as const;
const TIES = { [INK]: [TIE, { ...TIE, id: 'T2' }] };
const jobOf = (jobText: string) => readJob(jobText, { file: 'the job' }).job;

it.each([
  [
    'what the file gives no size, before another key changes',
    { ties: TIES, done: '1' },
    'width',
    { ties: '200x160mm', done: '200x160mm' },
  ],
  [
    'what is written, at the present size',
    { ties: TIES, takenAt: { ties: '100x80mm' } },
    'ties',
    { ties: '200x160mm' },
  ],
  ['nothing else', { ties: TIES, takenAt: { ties: '100x80mm' } }, 'width', { ties: '100x80mm' }],
  ['nothing of what is gone', { takenAt: { ties: '100x80mm' } }, 'ties', undefined],
])('keeps the size of %s', (_what, keys, changed, takenAt) => {
  const after = withSizes(text(keys), { now: NOW, changed, tiesStand: true });
  expect(keyOf(after, ['takenAt'])).toEqual(takenAt);
  expect(jobOf(after).ties).toEqual(jobOf(text(keys)).ties);
});

it('gives no size to ties that do not stand, as nobody knows theirs, and none that is not known', () => {
  expect(withSizes(text({ ties: TIES }), { now: NOW, changed: 'width', tiesStand: false })).toBe(text({ ties: TIES }));
  expect(withSizes(text({ ties: TIES }), { now: null, changed: 'ties', tiesStand: true })).toBe(text({ ties: TIES }));
});

it('puts ties where the new size has them, without those that are taken out', () => {
  const before = text({ ties: TIES, takenAt: { ties: '100x80mm' } });
  const { ties } = jobOf(
    text({ ties: { [INK]: TIES[INK].map((tie) => ({ ...tie, from: [140, 100], to: [148, 100] })) } }),
  );
  const settled = settledText(before, { ties, lattice: { ...NOW } as never });
  expect(jobOf(settled)).toMatchObject({ ties, takenAt: { ties: NOW } });
  const without = settledText(before, { ties, lattice: { ...NOW } as never }, [{ ink: INK, id: 'T2' }]);
  expect(jobOf(without).ties[INK].map(({ id }) => id)).toEqual(['T1']);
  const none = settledText(before, { ties, lattice: { ...NOW } as never }, [
    { ink: INK, id: 'T1' },
    { ink: INK, id: 'T2' },
  ]);
  expect(none).toBe(text({}));
});

it('knows when ties are on their way', () => {
  const state = (jobText: string, checkedText = jobText) => ({
    history: { present: { jobText, motif: { name: 'm.svg', bytes: new Uint8Array() }, fonts: [] } },
    checked: { job: jobOf(checkedText), lattice: { ...NOW } as never },
  });
  const settled = text({ ties: TIES, takenAt: { ties: '200x160mm' } });
  const wider = text({ ties: TIES, takenAt: { ties: '200x160mm' }, width: '210mm' });
  expect(areTiesMoving(state(settled))).toBe(false);
  expect(areTiesMoving(state(text({ ties: TIES })))).toBe(false);
  expect(areTiesMoving(state(wider, settled))).toBe(true);
  expect(areTiesMoving(state(text({ ties: TIES, takenAt: { ties: '100x80mm' } })))).toBe(true);
  expect(areTiesMoving(state(text({ width: '210mm' }), settled))).toBe(false);
});

it('knows the size of the unit only of the drawing, the scan and the size that were read', () => {
  const motif = { name: 'm.svg', bytes: new Uint8Array() };
  const project = { jobText: text({ width: '200mm' }), motif, fonts: [] };
  const unit = unitOf(project, { job: jobOf(project.jobText), lattice: NOW as never });
  expect(knownSize(unit, project)).toMatchObject(NOW);
  expect(knownSize(unit, { ...project, jobText: text({ width: '210mm' }) })).toBeNull();
  expect(knownSize(unit, { ...project, motif: { ...motif } })).toBeNull();
  expect(knownSize(null, project)).toBeNull();
});
