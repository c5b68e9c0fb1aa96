import { describe, expect, it } from 'vitest';
import { InputError } from './input-error.js';
import { findPaper, PAPERS, smallestPaper } from './paper-sizes.js';

/** ISO 216, table of A and B; JIS P 0138:1998, table of B; sizes 0 to 10, mm. */
const TABLES: Readonly<Record<string, string>> = {
  A: '841x1189 594x841 420x594 297x420 210x297 148x210 105x148 74x105 52x74 37x52 26x37',
  B: '1000x1414 707x1000 500x707 353x500 250x353 176x250 125x176 88x125 62x88 44x62 31x44',
  'JIS B': '1030x1456 728x1030 515x728 364x515 257x364 182x257 128x182 91x128 64x91 45x64 32x45',
};

/** ASME Y14.1-2020, inches. */
const ASME = { A: [8.5, 11], B: [11, 17], C: [17, 22], D: [22, 34], E: [34, 44], F: [28, 40] };

describe('findPaper', () => {
  it.each(Object.entries(TABLES))('has the published series %s', (letter, table) => {
    const sizes = Array.from({ length: 11 }, (_, n) => findPaper(`${letter}${n}`));
    expect(sizes.map((paper) => `${paper.widthMm}x${paper.heightMm}`).join(' ')).toBe(table);
  });

  it.each(Object.entries(ASME))('has ASME %s', (letter, [w, h]) => {
    const paper = findPaper(`ASME ${letter}`);
    expect(paper.widthMm).toBeCloseTo(w * 25.4, 9);
    expect(paper.heightMm).toBeCloseTo(h * 25.4, 9);
  });

  it('has the American office sizes', () => {
    expect(findPaper('Letter')).toMatchObject({
      widthMm: expect.closeTo(215.9, 9),
      heightMm: expect.closeTo(279.4, 9),
    });
    expect(findPaper('legal')).toMatchObject({ widthMm: expect.closeTo(215.9, 9), heightMm: expect.closeTo(355.6, 9) });
    expect(findPaper('Tabloid')).toMatchObject({ widthMm: expect.closeTo(279.4, 9) });
    expect(findPaper('ledger').name).toBe('Tabloid');
  });

  it('takes names as people write them', () => {
    expect(findPaper(' a4 ').name).toBe('A4');
    expect(findPaper('jis-b4').name).toBe('JIS B4');
    expect(findPaper('JISB4').name).toBe('JIS B4');
    expect(findPaper('ANSI C').name).toBe('ASME C');
  });

  it.each([
    ['329mm x 483mm', 329, 483],
    ['329x483mm', 329, 483],
    ['329 × 483 mm', 329, 483],
    ['13 x 19 in', 330.2, 482.6],
    ['8 1/2x11"', 215.9, 279.4],
    ['600px x 900px', 158.75, 238.125],
    ['600x900px', 158.75, 238.125],
    ['30cm x 400mm', 300, 400],
  ])('takes the size %s', (text, w, h) => {
    const paper = findPaper(text);
    expect(paper.widthMm).toBeCloseTo(w, 9);
    expect(paper.heightMm).toBeCloseTo(h, 9);
  });

  it.each([
    ['', /empty/],
    ['Leter', /did you mean Letter/],
    ['A44', /did you mean A4/],
    ['foolscap', /There is no paper named "foolscap": known are A0 to A10/],
    ['329x483', /no unit/],
    ['10mm x 20mm', /side of 10 mm: it must be from 50 to 5080 mm/],
    ['100mm x 9m', /side of 9000 mm/],
    ['1mm x 2mm x 3mm', /two sides/],
    ['constructor', /no paper named/],
  ])('refuses %j', (text, message) => {
    expect(() => findPaper(text)).toThrow(InputError);
    expect(() => findPaper(text)).toThrow(message);
  });
});

describe('smallestPaper', () => {
  it('takes the sheet either way round', () => {
    const isoA = PAPERS.filter(({ name }) => /^A\d/.test(name));
    expect(smallestPaper(210, 297, isoA)?.name).toBe('A4');
    expect(smallestPaper(297, 210, isoA)?.name).toBe('A4');
    expect(smallestPaper(210.01, 297, isoA)?.name).toBe('A3');
    expect(smallestPaper(2000, 100, isoA)).toBeNull();
    expect(smallestPaper(215, 279)?.name).toBe('Letter');
  });
});
