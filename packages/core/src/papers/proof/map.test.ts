import { describe, expect, it } from 'vitest';
import { capHeight, textTurnedBox } from '../../draw/label-box.js';
import { labelFont } from '../../draw/label-font.test-help.js';
import { COLOURS, PAPER } from '../../draw/palette.js';
import type { Item, PathItem, TextItem } from '../../draw/types.js';
import { contoursBox } from '../../geometry/contour.js';
import type { Box, Point } from '../../geometry/types.js';
import type { SheetEnds, SheetJoin } from '../../proof/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { Repeat } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';
import { sampleSheet } from '../guide/sample-sheet.test-help.js';
import { pencilWords, proofMapDrawing } from './map.js';

const font = labelFont();
const [W, H] = [330, 470];
const sheet = sampleSheet({ count: 20, fieldWidthMm: W, fieldHeightMm: H });
/** Left and right margin of the guide's pages, and the most that the picture takes of their height, mm. */
const [LEFT, RIGHT, HIGH] = [20, 210 - 14, 118];

function join(k: number, seam: SheetJoin['seam'], at: Point, step: Point): SheetJoin {
  const lead = { x: at.x - step.x, y: at.y - step.y };
  return { name: `J${k}`, seam, at, lead, step, own: k, partner: 1, edge: 'begins' };
}

const [X, Y] = [sheet.field.x1, sheet.field.y1];
const ends: SheetEnds = {
  firstCutEnds: [],
  joins: [
    ...[1, 2, 3].map((k) => join(k, 'right', { x: X, y: 60 + 20 * k }, { x: W, y: -H / 2 })),
    ...[4, 5].map((k) => join(k, 'right', { x: X, y: 300 + 20 * k }, { x: W, y: H / 2 })),
    join(6, 'bottom', { x: 200, y: Y }, { x: 0, y: H }),
  ],
};

function mapOf(repeat: Repeat, own: Sheet = sheet, withEnds = ends) {
  const drawing = proofMapDrawing(own, {
    title: 'Reeds',
    revision: 'C',
    date: '2026-01-02',
    font,
    paper: { widthMm: 210, heightMm: 297 },
    lattice: makeLattice(repeat, W, H),
    ends: withEnds,
  });
  const [{ items }] = drawing.pages;
  return { drawing, items, words: texts(items).map(({ text }) => text) };
}

const flat = (items: readonly Item[]): readonly Item[] =>
  items.flatMap((item) => (item.kind === 'clip' ? [item, ...flat(item.items)] : [item]));
const texts = (items: readonly Item[]) => flat(items).filter((i): i is TextItem => i.kind === 'text');
const paths = (items: readonly Item[]) => flat(items).filter((i): i is PathItem => i.kind === 'path');
const boxOf = ({ contours }: Pick<PathItem, 'contours'>) => contoursBox(contours) as Box;
const middle = ({ x0, y0, x1, y1 }: Box): Point => ({ x: (x0 + x1) / 2, y: (y0 + y1) / 2 });
/** The middle of a word's capitals. */
const centre = (item: TextItem): Point => {
  const rise = capHeight(item.sizeMm, font) / 2;
  return item.turn === -90 ? { x: item.x - rise, y: item.y } : { x: item.x, y: item.y - rise };
};

const HALF_DROP: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
/** From the first placement's upper left, in printing order. */
const DROP = [
  { x: 0, y: 0 },
  { x: 0, y: H },
  { x: W, y: H / 2 },
];

describe('the map of a half-drop', () => {
  const { drawing, items, words } = mapOf(HALF_DROP);
  const outlines = paths(items)
    .filter(({ line, contours }) => line?.widthMm === 0.5 && line.join === 'miter' && contours.length === 1)
    .map(boxOf);
  const scale = (outlines[0].x1 - outlines[0].x0) / W;
  const onPage = (p: Point): Point => ({ x: outlines[0].x0 + scale * p.x, y: outlines[0].y0 + scale * p.y });
  const expectNear = (found: Point, wanted: Point, digits = 3) => {
    expect(found.x).toBeCloseTo(wanted.x, digits);
    expect(found.y).toBeCloseTo(wanted.y, digits);
  };

  it('shows the three placements where they are printed, to the scale that it says, in the middle of the page', () => {
    expect(outlines).toHaveLength(3);
    DROP.forEach((at, k) => {
      expectNear({ x: outlines[k].x0, y: outlines[k].y0 }, onPage(at));
      expectNear({ x: outlines[k].x1, y: outlines[k].y1 }, onPage({ x: at.x + W, y: at.y + H }));
    });
    const said = Number(/Scale 1 : ([\d.]+)\. Hatched/.exec(words.join(' '))?.[1]);
    expect(scale).toBeCloseTo(1 / said, 4);
    // Two fields wide; two and a half high with the placement that shows the other point. The next larger scale has no room.
    const fits = (s: number) => 2 * W * s <= RIGHT - LEFT && 2.5 * H * s <= HIGH;
    expect([fits(1 / said), fits(1 / (said - 0.1))]).toEqual([true, false]);
    const [x0, x1] = [Math.min(...outlines.map((b) => b.x0)), Math.max(...outlines.map((b) => b.x1))];
    expect((x0 + x1) / 2).toBeCloseTo((LEFT + RIGHT) / 2, 3);
    const further = paths(items).filter(({ line }) => line?.widthMm === 0.35 && line.dashMm?.[0] === 3);
    expectNear(middle(boxOf(further[0])), onPage({ x: 1.5 * W, y: 2 * H }));
    // What is written below stands below.
    const below = texts(items).find(({ text }) => text.startsWith('Scale 1 :')) as TextItem;
    expect(below.y).toBeGreaterThan(onPage({ x: 0, y: 2.5 * H }).y);
  });

  it('numbers them in the middle, in the order of printing', () => {
    for (const [k, at] of [...DROP, { x: W, y: 1.5 * H }].entries()) {
      const numerals = texts(items).filter((t) => t.text === `${k + 1}` && t.sizeMm > 10);
      expect(numerals).toHaveLength(1);
      expectNear(centre(numerals[0]), onPage({ x: at.x + W / 2, y: at.y + H / 2 }));
      // Read from where the proof is printed, and at most a third of its field.
      expect(capHeight(numerals[0].sizeMm, font)).toBeCloseTo(Math.min(15, (H * scale) / 3), 3);
      expect(numerals[0].colour === '#000000').toBe(k < 3);
    }
  });

  it('hatches the held margins of each, with the hold line on their inner side', () => {
    const margins = [sheet.heldRight as Box, sheet.heldBottom as Box];
    const clips = flat(items).flatMap((i) => (i.kind === 'clip' ? [boxOf(i as unknown as PathItem)] : []));
    const holds = paths(items).filter(({ line }) => line?.colour === COLOURS.vermillion && line.widthMm === 0.35);
    const wanted = DROP.flatMap((at) => margins.map((b) => ({ at, b })));
    expect([clips.length, holds.length]).toEqual([6, 6]);
    wanted.forEach(({ at, b }, k) => {
      const from = onPage({ x: at.x + b.x0 - sheet.field.x0, y: at.y + b.y0 - sheet.field.y0 });
      const to = onPage({ x: at.x + b.x1 - sheet.field.x0, y: at.y + b.y1 - sheet.field.y0 });
      expectNear({ x: clips[k].x0, y: clips[k].y0 }, from);
      expectNear({ x: clips[k].x1, y: clips[k].y1 }, to);
      const line = boxOf(holds[k]);
      expectNear({ x: line.x0, y: line.y0 }, from);
      expectNear({ x: line.x1, y: line.y1 }, b === margins[0] ? { x: from.x, y: to.y } : { x: to.x, y: from.y });
    });
  });

  it('rings the point where three meet, and says so', () => {
    const rings = paths(items).filter(({ line }) => line?.colour === COLOURS.vermillion && line.widthMm === 0.5);
    expect(rings).toHaveLength(1);
    expectNear(middle(boxOf(rings[0])), onPage({ x: W, y: H }));
    expect(words.join(' ')).toContain('Ringed: where three meet.');
    expect(words.join(' ')).toContain('Dashed: a fourth placement');
  });

  it('marks every dot of every placement, full where it prints and ringed where it does not, with a letter inside', () => {
    const spots = paths(items).filter(({ fill, contours }) => fill === COLOURS.black && contours.length === 1);
    const rings = paths(items).filter(({ line }) => line?.colour === COLOURS.black && line.widthMm === 0.3);
    const places = DROP.flatMap((at) =>
      sheet.dots.map((dot) => {
        const place = { x: at.x + dot.at.x - sheet.field.x0, y: at.y + dot.at.y - sheet.field.y0 };
        return { dot, at, place: onPage(place) };
      }),
    );
    for (const { dot, place } of places) {
      const found = (dot.lead ? spots : rings).map(boxOf).filter((b) => {
        const m = middle(b);
        return Math.hypot(m.x - place.x, m.y - place.y) < 1e-3;
      });
      expect(found.length, dot.name).toBeGreaterThan(0);
      for (const b of found) expect((b.x1 - b.x0) / 2).toBeCloseTo(dot.lead ? 0.7 : 1.3, 3);
    }
    expect(spots).toHaveLength(3 * sheet.dots.filter(({ lead }) => lead).length);
    const letters = texts(items).filter(({ colour }) => colour === COLOURS.green);
    expect(letters.length).toBeGreaterThanOrEqual(15);
    for (const letter of letters) {
      const own = places
        .filter(({ dot }) => dot.name === letter.text)
        .map(({ dot, at, place }) => {
          const c = centre(letter);
          // Towards the middle of its placement; halfway along a side only inwards.
          const way = { x: Math.sign(at.x + W / 2 - (dot.at.x - sheet.field.x0 + at.x)), y: 0 };
          return { gap: Math.hypot(c.x - place.x, c.y - place.y), inwards: Math.sign(c.x - place.x) === way.x };
        })
        .sort((a, b) => a.gap - b.gap)[0];
      expect(own.gap, letter.text).toBeLessThan(6);
      expect(own.inwards, letter.text).toBe(true);
    }
  });

  it('writes the joins in the middle of the side that shows them, along it, on white', () => {
    const straight: SheetEnds = {
      firstCutEnds: [],
      joins: ends.joins.map((j) => ({ ...j, step: j.seam === 'right' ? { x: W, y: 0 } : { x: 0, y: H } })),
    };
    const whole = mapOf({ kind: 'straight', step: { p: 0, q: 1 } }, sheet, straight).items;
    const fields = paths(whole).filter(({ line }) => line?.widthMm === 0.5 && line.join === 'miter');
    const own = (text: string, all: readonly Item[]) =>
      texts(all).filter((t) => t.text === text && t.anchor === 'middle');
    const placesOf = (at: readonly Point[]) => {
      const [{ x0, x1, y0 }] = fields.map(boxOf);
      return at.map(({ x, y }) => ({ x: x0 + ((x1 - x0) / W) * x, y: y0 + ((x1 - x0) / W) * y }));
    };
    for (const [text, all, places, turn] of [
      [
        'J1–J5',
        whole,
        placesOf([
          { x: W, y: 0.5 * H },
          { x: W, y: 1.5 * H },
        ]),
        -90,
      ],
      [
        'J6',
        whole,
        placesOf([
          { x: 0.5 * W, y: H },
          { x: 1.5 * W, y: H },
        ]),
        undefined,
      ],
      ['J6', items, [onPage({ x: W / 2, y: H })], undefined],
      // Half a side has no room for names between its dots.
      ['J1–J3', items, [], -90],
      ['J4, J5', items, [], -90],
    ] as const) {
      const names = own(text, all);
      expect(names.length, text).toBe(places.length);
      for (const [k, name] of names.entries()) {
        expect(name.turn).toBe(turn);
        expectNear(centre(name), places[k]);
        const { halfU, halfV } = textTurnedBox(name, font);
        const plates = paths(all)
          .filter(({ fill }) => fill === PAPER)
          .map(boxOf);
        const [hx, hy] = turn === undefined ? [halfU, halfV] : [halfV, halfU];
        const under = plates.some((b) => {
          const m = middle(b);
          return (
            Math.hypot(m.x - centre(name).x, m.y - centre(name).y) < 1e-3 &&
            Math.abs((b.x1 - b.x0) / 2 - hx - 0.8) < 1e-3 &&
            Math.abs((b.y1 - b.y0) / 2 - hy - 0.8) < 1e-3
          );
        });
        expect(under, text).toBe(true);
      }
    }
  });

  it('tells in a table what is laid on what by which dots and which joins that shows', () => {
    for (const cell of ['2 on 1', '3 on 1', '3 on 2', 'J1–J3', 'J4, J5', 'J6']) expect(words).toContain(cell);
    const row = (lay: string) => {
      const { y } = texts(items).find(({ text }) => text === lay) as TextItem;
      return texts(items)
        .filter((t) => Math.abs(t.y - y) < 1e-6)
        .map(({ text }) => text)
        .join(' | ');
    };
    // A and B are the upper corners, C halfway down the right side, D and E the lower corners, F halfway down the left.
    expect(row('2 on 1')).toMatch(/A on E.*B on D \(pencil\).* \| J6$/);
    expect(row('3 on 1')).toMatch(/A on C \(pencil\).*J4, J5$/);
    expect(row('3 on 2')).toMatch(/J1–J3$/);
    expect(drawing.title).toBe('Reeds – proof map');
    expect(words.join(' ')).toContain('revision C · 2026-01-02');
  });
});

it('shows the four placements of a straight repeat around one point, without a further one', () => {
  const { items, words } = mapOf({ kind: 'straight', step: { p: 0, q: 1 } });
  const outlines = paths(items).filter(({ line }) => line?.widthMm === 0.5 && line.join === 'miter');
  expect(outlines).toHaveLength(4);
  const said = words.join(' ');
  expect(said).toContain('Ringed: where four meet.');
  expect(said).not.toContain('Dashed:');
});

it('says none where no join of the sheet is shown, and shows no margin of a side on which nothing is held', () => {
  const bare = { ...sheet, heldRight: null };
  const { items, words } = mapOf(HALF_DROP, bare, { joins: [], firstCutEnds: [] });
  expect(words.filter((text) => text === 'none')).toHaveLength(1);
  expect(flat(items).filter(({ kind }) => kind === 'clip')).toHaveLength(2);
  expect(paths(items).filter(({ line }) => line?.widthMm === 0.5 && line.join === 'miter')).toHaveLength(2);
});

it('names sheets of several by their number', () => {
  expect(mapOf(HALF_DROP, { ...sheet, index: 2, count: 3 }).drawing.title).toMatch(/^Reeds – .*2.* – proof map$/);
});

it('says which dots are to be marked through in pencil', () => {
  expect(pencilWords([])).toBe('');
  const words = pencilWords([
    { placement: 1, dots: ['C', 'D'] },
    { placement: 2, dots: ['B'] },
  ]);
  expect(words).toContain('C and D of print 1, B of print 2.');
});
