import { describe, expect, it } from 'vitest';
import { paperSheet, soundPaper } from '../guide/paper-sheet.test-help.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import {
  cutAwayWords,
  hasRelease,
  partWords,
  rangeOf,
  sheetName,
  tieWords,
  timeWords,
  workWords,
} from './paper-words.js';

const sheet = sampleSheet({ count: 20 });

describe('the words about paper', () => {
  it.each([
    [0.2, '1 min'],
    [44.1, '45 min'],
    [59.5, '1 h'],
    [60, '1 h'],
    [134, '2 h 10 min'],
    [179, '3 h'],
  ])('%d minutes are about %s', (minutes, says) => {
    expect(timeWords(minutes)).toBe(says);
  });

  it('call the work an estimate, and leave out what it has not', () => {
    const work = { lengthMm: 900, corners: 1, tightMm: 0, tightPlaces: 0, jerks: 0, minutes: 12, blades: 0.4 };
    expect(workWords(work)).toBe(
      '1 corner; about 12 min and 1 blade: our estimate, at 150 mm a minute and 3 s a corner, until you time yourself',
    );
    const own = { mmPerMinute: 200, secondsPerCorner: 3, bladeMm: 1500 };
    expect(workWords(work, own)).toBe('1 corner; about 12 min and 1 blade: an estimate from your own pace');
    expect(workWords({ ...work, corners: 5, tightPlaces: 1, jerks: 3, blades: 2.1 }, own)).toBe(
      '5 corners, 1 tight bend, 3 jerky stretches; about 12 min and 3 blades: an estimate from your own pace',
    );
  });

  it('give the weakest band the way it lies', () => {
    const { field } = sheet;
    const cut = { share: 0.004, weakestBand: { ...field, x0: 100, x1: 150 }, bandShare: 0.25 };
    expect(cutAwayWords(cut, sheet)).toBe(
      'less than 1 % of the design; most, 25 %, in the band 100 to 150 mm from the left',
    );
    const level = { ...cut, share: 0, weakestBand: { ...field, y0: 60, y1: 110 } };
    expect(cutAwayWords(level, sheet)).toBe('0 % of the design; most, 25 %, in the band 60 to 110 mm down');
  });

  it('draw names together', () => {
    const named = (...names: string[]) => names.map((id) => ({ tie: { id } }));
    const all = [['R1'], ['R1', 'R2'], ['R3', 'R1', 'R2', 'R1'], ['R1', 'R9', 'R2', 'R3']];
    expect(all.map((names) => rangeOf(named(...names)))).toEqual(['R1', 'R1 and R2', 'R1 to R3', 'R1–R3, R9']);
  });

  it('say nothing of ties and parts where there are none', () => {
    expect(tieWords(sheet)).toBeNull();
    expect(tieWords({ ...sheet, paper: soundPaper(sheet) })).toBeNull();
    expect(partWords(sheet)).toBeNull();
    expect(hasRelease(sheet)).toBe(false);
    expect(sheetName(sheet)).toBe('sheet 1 of 1');
    expect(hasRelease(paperSheet(sheet, { tieEvery: 1, kinds: ['release'] }))).toBe(true);
    expect(hasRelease(paperSheet(sheet, { tieEvery: 1, kinds: ['printed'] }))).toBe(false);
  });
});
