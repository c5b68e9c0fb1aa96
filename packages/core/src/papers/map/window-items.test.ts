import { describe, expect, it } from 'vitest';
import type { Mask } from '../../cloth/plan-types.js';
import type { ClipItem, Item, LineStyle, PathItem, PlaceItem, TextItem } from '../../draw/types.js';
import { contoursBox } from '../../geometry/contour.js';
import type { Box } from '../../geometry/types.js';
import { sampleFont } from '../guide/sample-font.test-help.js';
import type { MapFace, MapPlacement } from './face.js';
import { longestLabel } from './labels.js';
import { EDGE_OUT_MM, MAP_LINES, MARK_MM, MASK_TINT, UNPRINTED_TINT } from './symbols.js';
import { windowItems } from './window-items.js';
import type { MapWindow } from './windows.js';

const font = sampleFont();
const [W, H] = [300, 200];
const CLOTH = { x0: 0, y0: 0, x1: 1000, y1: 1500 };
const USABLE = { x0: 40, y0: 70, x1: 940, y1: 1390 };
const EXTENT = { x0: -60, y0: -30, x1: 1140, y1: 1570 };

/** Four columns and eight rows from a corner outside of the cloth; nine passes in turn. */
const PLACEMENTS: readonly MapPlacement[] = Array.from({ length: 32 }, (_, k) => {
  const [column, row] = [k % 4, Math.floor(k / 4)];
  const [x0, y0] = [EXTENT.x0 + column * W, EXTENT.y0 + row * H];
  const field = { x0, y0, x1: x0 + W, y1: y0 + H };
  return {
    id: `c${column + 1}r${row + 1}`,
    column: column + 1,
    row: row + 1,
    pass: (k % 9) + 1,
    order: Math.floor(k / 9) + 1,
    field,
    visible: shared(field, USABLE) as Box,
  };
});

const mask = (side: Mask['side'], box: Box): Mask => ({ side, box, onClothMm: 1, beyondMm: 2 });
const MASKS = [
  mask('start', { x0: -60, y0: -30, x1: 1140, y1: 70 }),
  mask('end', { x0: -60, y0: 1390, x1: 1140, y1: 1570 }),
  mask('left', { x0: -60, y0: -30, x1: 40, y1: 1570 }),
  mask('right', { x0: 940, y0: -30, x1: 1140, y1: 1570 }),
];
const MARKS = [
  { id: 'a', at: { x: 240, y: 70 }, alongMm: 0, onLine: true },
  { id: 'b', at: { x: 540, y: 70 }, alongMm: 0, onLine: false },
  { id: 'c', at: { x: 240, y: 470 }, alongMm: 400, onLine: true },
  // Nearer on the page than two measures can be written.
  { id: 'd', at: { x: 240, y: 485 }, alongMm: 415, onLine: true },
  { id: 'e', at: { x: 240, y: 1270 }, alongMm: 1200, onLine: true },
];
const FACE: MapFace = {
  face: 'front',
  cloth: CLOTH,
  usable: USABLE,
  extent: EXTENT,
  placements: PLACEMENTS,
  masks: MASKS,
  ground: { xMm: 240, fromMm: 30, toMm: 1480, zero: { x: 240, y: 70 }, marks: MARKS },
};

const SCALE = 0.12;
const WHOLE: MapWindow = { shows: EXTENT, at: { x: 33, y: 47 } };
/** Cut on all four sides. */
const PART: MapWindow = { shows: { x0: 140, y0: 170, x1: 840, y1: 1270 }, at: { x: 29, y: 58 } };

function shared(a: Box, b: Box): Box | null {
  const [x0, y0] = [Math.max(a.x0, b.x0), Math.max(a.y0, b.y0)];
  const [x1, y1] = [Math.min(a.x1, b.x1), Math.min(a.y1, b.y1)];
  return x1 > x0 && y1 > y0 ? { x0, y0, x1, y1 } : null;
}

const pageX = ({ shows, at }: MapWindow, mm: number) => at.x + SCALE * (mm - shows.x0);
const pageY = ({ shows, at }: MapWindow, mm: number) => at.y + SCALE * (mm - shows.y0);
const pageBox = (w: MapWindow, { x0, y0, x1, y1 }: Box): Box => {
  return { x0: pageX(w, x0), y0: pageY(w, y0), x1: pageX(w, x1), y1: pageY(w, y1) };
};

function drawn(window: MapWindow, { face = FACE, windows = 1, numbered = true } = {}): readonly Item[] {
  const layout = { scale: SCALE, numbered, pages: [Array.from({ length: windows }, () => window)] };
  return windowItems(face, {
    placements: face.placements,
    window,
    layout,
    longest: longestLabel(face.placements, font),
    font,
  });
}

const flat = (items: readonly Item[]): readonly Item[] =>
  items.flatMap((item) => (item.kind === 'clip' ? [item, ...flat(item.items)] : [item]));
const texts = (items: readonly Item[]) => flat(items).filter((i): i is TextItem => i.kind === 'text');
const withLine = (items: readonly Item[], line: LineStyle) =>
  flat(items).filter((i): i is PathItem => i.kind === 'path' && i.line === line);
const filled = (items: readonly Item[], fill: string) =>
  flat(items).filter((i): i is PathItem => i.kind === 'path' && i.fill === fill);
const boxes = (paths: readonly PathItem[]) =>
  paths.flatMap(({ contours }) => contours.map((c) => contoursBox([c]) as Box));
const placed = (items: readonly Item[], group: string) =>
  flat(items)
    .filter((i): i is PlaceItem => i.kind === 'place' && i.group === group)
    .flatMap(({ at }) => at);

function near(found: readonly Box[], wanted: readonly Box[]): void {
  const sorted = (list: readonly Box[]) =>
    list.map(({ x0, y0, x1, y1 }) => [x0, y0, x1, y1].map((v) => Math.round(v * 1e6) / 1e6)).sort();
  expect(sorted(found)).toEqual(sorted(wanted));
}

describe.each([
  ['the whole cloth', WHOLE],
  ['a part of it', PART],
] as const)('a window of %s', (_, window) => {
  const items = drawn(window, { windows: window === WHOLE ? 1 : 2 });
  const inside = PLACEMENTS.filter(({ field }) => shared(field, window.shows) !== null);

  it('has every placement that it shows, and no other, with the ground of its pass and its outline', () => {
    const at = (list: readonly MapPlacement[]) =>
      list.map(({ field }) => [1, 0, 0, 1, pageX(window, field.x0), pageY(window, field.y0)]);
    for (let style = 1; style <= 7; style++) {
      // Seven hatchings: passes 8 and 9 begin again.
      const own = inside.filter(({ pass }) => pass === style || pass === style + 7);
      expect(placed(items, `front-pass-${style}`), `${style}`).toEqual(at(own));
    }
    expect(placed(items, 'front-pass-8')).toEqual([]);
    expect(placed(items, 'front-placement')).toEqual(at(inside));
    const reaching = inside.filter(({ field, visible: v }) => (v.x1 - v.x0) * (v.y1 - v.y0) < W * H - 1e-6 && field);
    expect(reaching.length).toBeGreaterThan(0);
    expect(placed(items, 'front-beyond')).toEqual(at(reaching));
    // What is printed ends at the usable cloth, and only the dashes of the rest go on.
    for (const clip of flat(items).filter((i): i is ClipItem => i.kind === 'clip')) {
      const groups = clip.items.flatMap((i) => (i.kind === 'place' ? [i.group] : []));
      if (groups.some((g) => g !== 'front-beyond') && !groups.includes('front-beyond'))
        near([contoursBox(clip.contours) as Box], [pageBox(window, USABLE)]);
    }
  });

  it('shows cloth, usable cloth, masks with the edge at the print, and the ground line', () => {
    const [unprinted] = filled(items, UNPRINTED_TINT);
    expect(unprinted.rule).toBe('evenodd');
    near(boxes([unprinted]), [pageBox(window, CLOTH), pageBox(window, USABLE)]);
    near(boxes(withLine(items, MAP_LINES.usable)), [pageBox(window, USABLE)]);
    const { x0, y0, x1, y1 } = pageBox(window, CLOTH);
    const out = EDGE_OUT_MM;
    near(boxes(withLine(items, MAP_LINES.cloth)), [{ x0: x0 - out, y0: y0 - out, x1: x1 + out, y1: y1 + out }]);
    near(
      boxes(filled(items, MASK_TINT)),
      MASKS.map(({ box }) => pageBox(window, box)),
    );
    near(
      boxes(withLine(items, MAP_LINES.mask)),
      [
        { ...EXTENT, y0: USABLE.y0, y1: USABLE.y0 },
        { ...EXTENT, y0: USABLE.y1, y1: USABLE.y1 },
        { ...EXTENT, x0: USABLE.x0, x1: USABLE.x0 },
        { ...EXTENT, x0: USABLE.x1, x1: USABLE.x1 },
      ].map((b) => pageBox(window, b)),
    );
    near(boxes(withLine(items, MAP_LINES.ground)), [pageBox(window, { x0: 240, y0: 30, x1: 240, y1: 1480 })]);
  });

  it('rings the check marks that it shows, with a cross, and writes their measures at its left', () => {
    // A mark on the lower cut belongs to the next window.
    const { shows } = window;
    const own = MARKS.filter(({ at }) => at.y >= shows.y0 && at.y < shows.y1 && at.x >= shows.x0 && at.x <= shows.x1);
    expect(own.map(({ id }) => id)).toEqual(window === WHOLE ? ['a', 'b', 'c', 'd', 'e'] : ['c', 'd']);
    const lines = withLine(items, MAP_LINES.mark);
    const around = (r: number, s: number) =>
      own.map(({ at }) => {
        const [x, y] = [pageX(window, at.x), pageY(window, at.y)];
        return { x0: x - r, y0: y - s, x1: x + r, y1: y + s };
      });
    near(boxes(lines.filter(({ fill }) => fill === '#ffffff')), around(MARK_MM, MARK_MM));
    const bare = boxes(lines.filter(({ fill }) => fill === undefined));
    const level = own
      .filter(({ onLine, id }) => onLine && id !== 'd')
      .map(({ at }) => {
        const [edge, y] = [pageX(window, shows.x0), pageY(window, at.y)];
        return { x0: edge - 3, y0: y, x1: edge - 0.8, y1: y };
      });
    near(bare, [...around(1.6 * MARK_MM, 0), ...around(0, 1.6 * MARK_MM), ...level]);
    const words = texts(items).filter(({ anchor }) => anchor === 'end');
    const wanted = window === WHOLE ? ['zero', '400 mm', '1200 mm'] : ['400 mm'];
    expect(words.map(({ text }) => text)).toEqual(wanted);
    words.forEach(({ x, y, sizeMm }, k) => {
      expect(x).toBeLessThan(level[k].x0);
      expect(x).toBeGreaterThan(level[k].x0 - 1);
      // The middle of its figures stands level with the mark.
      expect(y - 0.35 * sizeMm).toBeCloseTo(level[k].y0, 6);
    });
  });

  it('writes the number of each placement on what is seen of its print, or where it has none beside it', () => {
    const numbers = texts(items).filter(({ text, bold }) => bold && /^\d+-\d+\.?$/.test(text));
    expect(numbers).toHaveLength(inside.length);
    for (const { pass, order, field, visible } of inside) {
      const [number] = numbers.filter(({ text }) => text.replace('.', '') === `${pass}-${order}`);
      const seen = shared(visible, window.shows);
      const [w, h] = seen === null ? [0, 0] : [SCALE * (seen.x1 - seen.x0), SCALE * (seen.y1 - seen.y0)];
      const middle = { x: number.x, y: number.y - 0.35 * number.sizeMm };
      const own = pageBox(window, shared(field, window.shows) as Box);
      expect(middle.x > own.x0 && middle.x < own.x1 && middle.y > own.y0 && middle.y < own.y1, number.text).toBe(true);
      if (w < 13 || h < 6) continue;
      const print = pageBox(window, seen as Box);
      expect(number.x, number.text).toBeCloseTo((print.x0 + print.x1) / 2, 6);
      expect(middle.y, number.text).toBeGreaterThan(print.y0);
      expect(middle.y, number.text).toBeLessThan(print.y1);
    }
    expect(texts(drawn(window, { numbered: false })).filter(({ text }) => /^\d+-\d+|^c\d+r\d+$/.test(text))).toEqual(
      [],
    );
  });
});

describe('the edges of a window', () => {
  const CUT = 2;
  const seen = pageBox(PART, PART.shows);
  const cutsOf = (items: readonly Item[]) => boxes(withLine(items, MAP_LINES.cut));
  const clipOf = (items: readonly Item[]) => {
    const clip = items.find((i): i is ClipItem => i.kind === 'clip') as ClipItem;
    return contoursBox(clip.contours) as Box;
  };

  it('are drawn where the cloth goes on in another, and only there', () => {
    expect(cutsOf(drawn(WHOLE))).toEqual([]);
    const { x0, y0, x1, y1 } = seen;
    const edges = {
      y0: { x0: x0 - CUT, x1: x1 + CUT, y0, y1: y0 },
      y1: { x0: x0 - CUT, x1: x1 + CUT, y0: y1, y1 },
      x0: { x0, x1: x0, y0: y0 - CUT, y1: y1 + CUT },
      x1: { x0: x1, x1, y0: y0 - CUT, y1: y1 + CUT },
    };
    near(cutsOf(drawn(PART)), Object.values(edges));
    for (const side of ['x0', 'y0', 'x1', 'y1'] as const) {
      // All of the cloth but for one side.
      const face = { ...FACE, extent: { ...PART.shows, [side]: EXTENT[side] } };
      near(cutsOf(drawn(PART, { face })), [edges[side]]);
    }
  });

  it('are sharp where it is cut and leave room for the edge of the cloth elsewhere', () => {
    near([clipOf(drawn(PART))], [seen]);
    const out = EDGE_OUT_MM + MAP_LINES.cloth.widthMm;
    const all = pageBox(WHOLE, EXTENT);
    near([clipOf(drawn(WHOLE))], [{ x0: all.x0 - out, y0: all.y0 - out, x1: all.x1 + out, y1: all.y1 + out }]);
  });

  it('say above which part of the cloth is shown', () => {
    const above = (items: readonly Item[]) => items.find((i): i is TextItem => i.kind === 'text') as TextItem;
    const whole = above(drawn(WHOLE));
    expect(whole.text).toBe('start of the cloth');
    expect(whole.x).toBeCloseTo(pageX(WHOLE, 0), 9);
    expect(whole.y).toBeCloseTo(WHOLE.at.y - 3, 9);
    const part = above(drawn(PART, { windows: 2 }));
    expect(part.text).toBe('cloth from 170 mm to 1270 mm, across 140 mm to 840 mm');
    expect(part.x).toBeCloseTo(PART.at.x, 9);
    // No measure lies outside of the cloth, and the breadth is said only where it is cut.
    const upper = above(drawn({ ...WHOLE, shows: { ...EXTENT, y1: 570 } }, { windows: 2 }));
    expect(upper.text).toBe('cloth from 0 mm to 570 mm');
    const lower = above(drawn({ ...WHOLE, shows: { ...EXTENT, y0: 570 } }, { windows: 2 }));
    expect(lower.text).toBe('cloth from 570 mm to 1500 mm');
    const right = above(drawn({ ...WHOLE, shows: { ...EXTENT, x0: 240 } }, { windows: 2 }));
    expect(right.text).toBe('cloth from 0 mm to 1500 mm, across 240 mm to 1000 mm');
    const left = above(drawn({ ...WHOLE, shows: { ...EXTENT, x1: 540 } }, { windows: 2 }));
    expect(left.text).toBe('cloth from 0 mm to 1500 mm, across 0 mm to 540 mm');
  });
});

it('leaves out what a face does not have: a ground line, marks, an edge of usable cloth that is the edge of the cloth', () => {
  const items = drawn(WHOLE, { face: { ...FACE, ground: null, masks: [], usable: CLOTH } });
  for (const line of [MAP_LINES.ground, MAP_LINES.mark, MAP_LINES.usable]) expect(withLine(items, line)).toEqual([]);
  expect(boxes(withLine(items, MAP_LINES.mask))).toEqual([]);
  expect(texts(items).some(({ anchor }) => anchor === 'end')).toBe(false);
});
