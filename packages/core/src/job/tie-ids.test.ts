import fc from 'fast-check';
import { expect, it } from 'vitest';
import { tieName, tieNumber } from '../ties/tie-names.js';
import { InputError } from '../units/input-error.js';
import { parseTieIds, tieIdsText } from './tie-ids.js';

const KNOWN = ['T1', 'T3', 'T4', 'T5', 'T9', 'T10'];
const parse = (text: string) => parseTieIds(text, KNOWN, 'in the job');

it.each([
  ['T1 T3-T5', ['T1', 'T3', 'T4', 'T5']],
  ['T1,T4', ['T1', 'T4']],
  ['t10; T9', ['T9', 'T10']],
  ['T1 – T4', ['T1', 'T3', 'T4']],
  ['T3-5, T4', ['T3', 'T4', 'T5']],
  ['T4-T4', ['T4']],
  [' all ', KNOWN],
  ['ALL T1', KNOWN],
])('reads %j', (text, ids) => {
  expect(parse(text)).toEqual(ids);
});

it('takes for all what the caller says', () => {
  expect(parseTieIds('all', KNOWN, 'in the job', ['T9'])).toEqual(['T9']);
  expect(parseTieIds('all', [], 'in the job')).toEqual([]);
});

it.each([
  ['', /No tie is named/],
  [' , ', /No tie is named/],
  ['T2', /no tie T2 in the job/],
  ['T1-T2', /no tie T2 in the job/],
  ['T1-T999999', /no tie T999999/],
  ['T9-T3', /"T9-T3" runs backwards: write T3-T9/],
  ['5', /"5" is no id of a tie/],
  ['T', /"T" is no id/],
  ['T0', /"T0" is no id/],
  ['TT1', /"TT1" is no id/],
  ['T1-T3-T4', /"T1-T3-T4" is no id/],
  ['T1-', /"" is no id|"T1-" is no id/],
  ['-T1', /"-T1" is no id/],
  ['T1.5', /"T1\.5" is no id/],
  ['T1e3', /"T1e3" is no id/],
  ['every', /"every" is no id/],
])('refuses %j', (text, sentence) => {
  expect(() => parse(text)).toThrow(InputError);
  expect(() => parse(text)).toThrow(sentence);
});

it('reads what it writes', () => {
  fc.assert(
    fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { minLength: 1 }), (numbers) => {
      const ids = numbers.sort((a, b) => a - b).map((n) => `T${n}`);
      expect(parseTieIds(tieIdsText(ids), ids, 'in the job')).toEqual(ids);
    }),
  );
  expect(tieIdsText(['T5', 'T1', 'T2', 'T4', 'T3', 'T9'])).toBe('T1-T5, T9');
  expect(tieIdsText([])).toBe('');
});

it('takes a tie by its number, whichever letter it is named with', () => {
  const known = ['T1', 'R2', 'T3', 'R10'];
  const named = (text: string) => parseTieIds(text, known, 'in the job');
  expect(named('T2 R3')).toEqual(['R2', 'T3']);
  expect(named('T1-T10')).toEqual(known);
  expect(named('r1-3')).toEqual(['T1', 'R2', 'T3']);
  expect(() => named('R4')).toThrow(/no tie R4 in the job/);
  expect(tieIdsText(['R10', 'T1', 'R2', 'T3', 'R3', 'R4'])).toBe('T1, T3, R2-R4, R10');
  expect([tieName(7, 'printed'), tieName(7, 'release')]).toEqual(['T7', 'R7']);
});

it('knows ids by their form', () => {
  expect(['T1', 'R7', 'T999999', 'T1000000', 'T01', 't1', '1'].map(tieNumber)).toEqual([1, 7, 999_999, 0, 0, 0, 0]);
});
