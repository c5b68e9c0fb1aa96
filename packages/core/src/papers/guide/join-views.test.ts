import { describe, expect, it } from 'vitest';
import { labelFont } from '../../draw/label-font.test-help.js';
import { GuidePages } from '../../draw/layout.js';
import type { Item, TextItem } from '../../draw/types.js';
import { boxContour } from '../../geometry/contour.js';
import type { Join } from '../../joins/types.js';
import type { JoinView } from '../../joins/view-types.js';
import { makeLattice } from '../../repeat/lattice.js';
import { JOINS_A_PAGE, joinPictures, joinSentences } from './join-views.js';

const HALF_DROP = makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 300, 420);
const STRAIGHT = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 300, 420);

function view(more: Partial<Join> = {}): JoinView {
  const join: Join = {
    seam: 'right',
    ink: '#000000',
    atMm: 100,
    at: { x: 300, y: 100 },
    offsetMm: 0.8,
    gapMm: 0.61,
    kinkDeg: 4,
    state: 'off',
    flush: false,
    widthMm: 6,
    ...more,
  };
  const { x, y } = join.at;
  const leaf = boxContour({ x0: x - 6, y0: y, x1: x + 6, y1: y + 6 });
  return {
    join,
    part: null,
    own: 14,
    partner: 3,
    box: { x0: x - 10, y0: y - 7, x1: x + 10, y1: y + 7 },
    contours: [leaf],
  };
}

describe('joinSentences', () => {
  it('names both sides first', () => {
    const [first, miss, kink] = joinSentences(view(), STRAIGHT);
    expect(first).toBe('14 at the right edge meets 3 at the left edge, upper half.');
    expect(miss).toBe('Off. 3 lies 0.80 mm lower; the gap across the outline is 0.61 mm.');
    expect(kink).toBe('Kink 4°.');
  });

  it('finds the half under the step: right y meets left y − H/2', () => {
    expect(joinSentences(view(), HALF_DROP)[0]).toBe('14 at the right edge meets 3 at the left edge, lower half.');
    expect(joinSentences(view({ atMm: 300, at: { x: 300, y: 300 } }), HALF_DROP)[0]).toContain('upper half');
  });

  it('says left and right along the bottom seam', () => {
    const said = joinSentences(view({ seam: 'bottom', atMm: 200, at: { x: 200, y: 420 }, offsetMm: -0.5 }), STRAIGHT);
    expect(said[0]).toBe('14 at the bottom edge meets 3 at the top edge, right half.');
    expect(said[1]).toContain('further left');
  });

  it('says so where there is no partner', () => {
    const open = { ...view({ state: 'open', offsetMm: null, gapMm: null, kinkDeg: null }), partner: null };
    expect(joinSentences(open, STRAIGHT)[0]).toBe('14 at the right edge has no partner, upper half.');
  });
});

describe('joinPictures', () => {
  it('shows at most six a page, each three times true size or more', () => {
    const pages = new GuidePages({ widthMm: 210, heightMm: 297 }, labelFont());
    const views = Array.from({ length: 13 }, (_, k) => view({ atMm: 20 + 25 * k, at: { x: 300, y: 20 + 25 * k } }));
    joinPictures(pages, views, { lattice: STRAIGHT, sheet: { openings: [] } });
    const drawn = pages.finish('', []);
    const meets = drawn.map((p) => words(p.items).filter((t) => t.text.includes('at the right edge')).length);
    expect(meets).toEqual([JOINS_A_PAGE, JOINS_A_PAGE, 1]);
    // The leaf is 12 mm across.
    const leaves = drawn.flatMap((p) => paths(p.items)).filter((i) => i.fill !== undefined && i.contours.length === 1);
    const widths = leaves.map(({ contours: [{ coords }] }) => Math.abs(coords[6] - coords[0])).filter((w) => w > 10);
    expect(widths).toHaveLength(13);
    for (const w of widths) expect(w / 12).toBeGreaterThanOrEqual(3 - 1e-9);
  });

  it('writes the number of either side on its own side of the seam', () => {
    const pages = new GuidePages({ widthMm: 210, heightMm: 297 }, labelFont());
    joinPictures(pages, [view()], { lattice: STRAIGHT, sheet: { openings: [] } });
    const [page] = pages.finish('', []);
    const at = (text: string) => words(page.items).find((t) => t.text === text) as TextItem;
    expect(at('14').x).toBeLessThan(at('3').x);
  });
});

function words(items: readonly Item[]): TextItem[] {
  return items.filter((i): i is TextItem => i.kind === 'text');
}

function paths(items: readonly Item[]) {
  const all = items.flatMap((i) => (i.kind === 'clip' ? i.items : [i]));
  return all.filter((i) => i.kind === 'path');
}
