import { describe, expect, it } from 'vitest';
import { ClearSpace } from '../../draw/clear-space.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import type { PathItem, TextItem } from '../../draw/types.js';
import { WasteIndex } from '../../draw/waste-index.js';
import { circleContour, contoursBox } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import type { SheetOpening } from '../../stencil/types.js';
import { isPunched, punchCrosses, punchSizes, punchWords } from '../sheet/punch-marks.js';
import { sampleSheet } from './sample-sheet.test-help.js';

const plain = sampleSheet({ count: 12 });

function hole(number: number, x: number, y: number, punchMm: number): SheetOpening {
  const contour = circleContour({ x, y }, punchMm / 2);
  return {
    ...plain.openings[0],
    number,
    firstCut: [contour],
    secondCut: [],
    box: contoursBox([contour]) as Box,
    labelAt: { x, y },
    labelRoomMm: punchMm / 2,
    tool: 'punch',
    punchMm,
  };
}

describe('holes that are punched', () => {
  it('are those of the first cut that have a punch', () => {
    const one = hole(1, 50, 60, 3);
    expect(isPunched(one)).toBe(true);
    expect(isPunched({ ...one, tool: 'knife' })).toBe(false);
    expect(isPunched({ ...one, punchMm: null })).toBe(false);
    expect(isPunched({ ...one, firstCut: [] })).toBe(false);
    expect(punchWords(one)).toBe('ø3');
  });

  it('have a cross in their middle, its arms seven tenths of the radius', () => {
    const [item] = punchCrosses([hole(1, 50, 60, 3), { ...hole(2, 9, 9, 3), tool: 'knife' }], 1);
    const { contours } = item as PathItem;
    expect(contours).toHaveLength(2);
    const boxes = contours.map((contour) => contoursBox([contour]) as Box);
    const r = 0.7 * 1.5;
    for (const [key, wanted] of [
      [0, { x0: 50 - r, y0: 60, x1: 50 + r, y1: 60 }],
      [1, { x0: 50, y0: 60 - r, x1: 50, y1: 60 + r }],
    ] as const) {
      for (const side of ['x0', 'y0', 'x1', 'y1'] as const) expect(boxes[key][side]).toBeCloseTo(wanted[side], 6);
    }
    expect(punchCrosses([], 1)).toEqual([]);
  });

  it('say their size once for those of one size within 30 mm on the page', () => {
    const sizes = (scale: number, ...holes: SheetOpening[]) => {
      const sheet = { ...plain, openings: holes };
      const where = { space: new ClearSpace(), waste: new WasteIndex(holes) };
      const { labels } = punchSizes(sheet, where, { font: labelFont(), scale, reachMm: 30, digitMm: 2.5 });
      return labels
        .filter((item): item is TextItem => item.kind === 'text')
        .map(({ text }) => text)
        .sort();
    };
    expect(sizes(1, hole(1, 100, 100, 3), hole(2, 129, 100, 3))).toEqual(['ø3']);
    expect(sizes(1, hole(1, 100, 100, 3), hole(2, 131, 100, 3))).toEqual(['ø3', 'ø3']);
    expect(sizes(1, hole(1, 100, 100, 3), hole(2, 110, 100, 4))).toEqual(['ø3', 'ø4']);
    // Twice as large on the page, half as many share a mark.
    expect(sizes(2, hole(1, 100, 100, 3), hole(2, 120, 100, 3))).toEqual(['ø3', 'ø3']);
  });
});
