import { describe, expect, it } from 'vitest';
import type { NarrowPlace } from '../../strength/types.js';
import { paperSheet, soundPaper } from '../guide/paper-sheet.test-help.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { zonedSheet } from '../guide/zoned-sheet.test-help.js';
import { besideOf, needsStrip, paperNames, weakBeside } from './paper-names.js';

const plain = zonedSheet(sampleSheet({ count: 60 }), 3, 3);

function neck(more: Partial<NarrowPlace>): NarrowPlace {
  const at = { x: 100, y: 100 };
  return {
    widthMm: 1,
    from: at,
    to: at,
    atMm: at,
    lengthMm: 1,
    openings: [1, -1],
    weak: false,
    hangsMm2: 0,
    ...more,
  };
}

describe('paperNames', () => {
  it('has nothing for sound paper', () => {
    const { ties, weak, gauze, islands } = paperNames({ ...plain, paper: soundPaper(plain) });
    expect([ties, weak, gauze, islands].map((list) => list.length)).toEqual([0, 0, 0, 0]);
  });

  it('names ties as the job does, T those that stay and R those that go, zone by zone; the second place of a tie gets a number after it', () => {
    const sheet = paperSheet(plain, { tieEvery: 3 });
    const { ties } = paperNames(sheet);
    expect(ties.length).toBe(sheet.ties.length);
    for (const { name, tie } of ties) {
      expect(name).toBe(tie.id);
      expect(name[0]).toBe(tie.kind === 'printed' ? 'T' : 'R');
    }
    const [one] = sheet.ties;
    const twice = { ...sheet, paper: soundPaper(sheet), ties: [one, { ...one }] };
    expect(paperNames(twice).ties.map(({ name }) => name)).toEqual([one.id, `${one.id}/2`]);
    const order = ties.map((t) => sheet.zones.findIndex((z) => z.letter === t.zone));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    for (const { at, zone } of ties) {
      const box = sheet.zones.find((z) => z.letter === zone)?.box;
      expect(box && at.x >= box.x0 && at.x <= box.x1 && at.y >= box.y0 && at.y <= box.y1).toBe(true);
    }
  });

  it('names 40 weak places at most, the worst first, and counts the rest', () => {
    const necks = Array.from({ length: 55 }, (_, k) => neck({ weak: k > 20, hangsMm2: k > 20 ? k : 0, lengthMm: 9 }));
    const { weak, moreWeak } = paperNames({ ...plain, paper: { ...soundPaper(plain), necks } });
    expect(weak).toHaveLength(40);
    expect(moreWeak).toBe(15);
    expect(weak[0]).toMatchObject({ name: 'W1', neck: { hangsMm2: 54 } });
    expect(weak[33].neck.weak && !weak[34].neck.weak).toBe(true);
  });

  it('names tongues that point into the stroke, and no others', () => {
    const sheet = paperSheet(plain, { tongues: 2, longOpenings: 1 });
    expect(paperNames(sheet).gauze.map((g) => [g.name, g.tongue !== null])).toEqual([
      ['W1', true],
      ['W2', true],
      ['W3', false],
    ]);
    const paper = sheet.paper ?? soundPaper(plain);
    const along = paperNames({ ...sheet, paper: { ...paper, rules: { ...paper.rules, stroke: 'up' } } });
    expect(along.gauze.map((g) => g.tongue)).toEqual([null]);
  });

  it('tells islands that only release ties hold from those that fall out', () => {
    const { islands, onRelease } = paperNames(paperSheet(plain, { islands: 6 }));
    expect(islands.map((i) => i.name)).toEqual(['W1', 'W2', 'W4', 'W5']);
    expect(onRelease).toBe(2);
  });

  it('gives a place outside of all zones to the nearest that has a page', () => {
    const empty = plain.zones.map((z, k) => (k === 0 ? { ...z, firstCut: [], secondCut: [] } : z));
    const necks = [neck({ weak: true, atMm: { x: 1, y: 1 } })];
    const { weak } = paperNames({ ...plain, zones: empty, paper: { ...soundPaper(plain), necks } });
    expect(weak[0].zone).not.toBe('Z1');
    expect(paperNames({ ...plain, zones: [], paper: { ...soundPaper(plain), necks } }).weak[0].zone).toBe('');
  });
});

describe('needsStrip', () => {
  it.each([
    ['a short neck that carries little', {}, false],
    ['one on which all beyond hangs', { weak: true }, true],
    ['one of five widths', { lengthMm: 5 }, false],
    ['one longer than that', { lengthMm: 5.1 }, true],
    ['one that carries 151 mm²', { hangsMm2: 151 }, true],
  ])('%s', (_, more, yes) => {
    expect(needsStrip(neck(more))).toBe(yes);
  });
});

describe('weakBeside', () => {
  it('names the weak places beside an opening, and knows that the edge of the sheet is none', () => {
    expect(besideOf(neck({ openings: [7, 3] }))).toEqual([3, 7]);
    expect(besideOf(neck({ openings: [-1, 4] }))).toEqual([4]);
    const necks = [neck({ weak: true, hangsMm2: 9, openings: [3, 7] }), neck({ weak: true, openings: [7, -1] })];
    const beside = weakBeside(paperNames({ ...plain, paper: { ...soundPaper(plain), necks } }));
    expect(beside.get(7)).toEqual(['at W1 and W2']);
    expect(beside.get(3)).toEqual(['at W1']);
    expect(beside.has(-1)).toBe(false);
  });
});
