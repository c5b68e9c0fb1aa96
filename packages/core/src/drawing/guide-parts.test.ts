import { describe, expect, it } from 'vitest';
import { PART_OVERLAP_MM, partName, partWindow, sheetParts } from './guide-parts.js';
import { sampleSheet } from './sample-sheet.test-help.js';

const ROOM = { widthMm: 176, heightMm: 245 };

describe('sheetParts', () => {
  it('needs none where the openings stand wide apart, or are none', () => {
    expect(sheetParts(sampleSheet({ count: 60 }), 0.3, ROOM)).toBeNull();
    expect(sheetParts({ ...sampleSheet({ count: 60 }), openings: [] }, 0.3, ROOM)).toBeNull();
  });

  it('needs none where the whole sheet is seen at full size', () => {
    const small = sampleSheet({ count: 400, fieldWidthMm: 90, fieldHeightMm: 90, borderMm: 20 });
    expect(sheetParts(small, 1, ROOM)).toBeNull();
  });

  it.each([500, 1000, 3000])('shows %d openings larger than on the whole, each part on a page', (count) => {
    const sheet = sampleSheet({ count });
    const parts = sheetParts(sheet, 0.3, ROOM);
    if (!parts) throw new Error('expected parts');
    expect(parts.scale).toBeGreaterThan(0.3);
    expect(parts.scale).toBeLessThanOrEqual(1);
    expect(parts.rows.length * parts.columns.length).toBeLessThanOrEqual(16);
    parts.rows.forEach((_, row) => {
      parts.columns.forEach((__, column) => {
        const w = partWindow(parts, { row, column }, sheet);
        expect((w.x1 - w.x0) * parts.scale).toBeLessThanOrEqual(ROOM.widthMm + 1e-9);
        expect((w.y1 - w.y0) * parts.scale).toBeLessThanOrEqual(ROOM.heightMm + 1e-9);
      });
    });
  });

  it('leaves nothing of the sheet out, and overlaps inside it', () => {
    const sheet = sampleSheet({ count: 1000 });
    const parts = sheetParts(sheet, 0.3, ROOM);
    if (!parts) throw new Error('expected parts');
    for (const [stretches, length] of [
      [parts.columns, sheet.widthMm],
      [parts.rows, sheet.heightMm],
    ] as const) {
      expect(stretches[0].from).toBe(0);
      expect(stretches[stretches.length - 1].to).toBeCloseTo(length, 9);
      for (let k = 1; k < stretches.length; k++) expect(stretches[k].from).toBe(stretches[k - 1].to);
    }
    const [first, second] = [0, 1].map((column) => partWindow(parts, { row: 0, column }, sheet));
    expect(first.x1 - second.x0).toBeCloseTo((2 * PART_OVERLAP_MM) / parts.scale, 9);
    expect([first.x0, first.y0]).toEqual([0, 0]);
  });
});

describe('partName', () => {
  it('has the row as a letter and the column as a number', () => {
    expect([partName(0, 0), partName(1, 2), partName(2, null), partName(null, 3)]).toEqual(['A1', 'B3', 'C', '4']);
  });
});
