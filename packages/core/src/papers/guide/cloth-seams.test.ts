import { describe, expect, it } from 'vitest';
import type { Item, LayerItem, PathItem, TextItem } from '../../draw/types.js';
import { boxContour, contoursBox } from '../../geometry/contour.js';
import type { Finding } from '../../motif/finding.js';
import { latticePoint, makeLattice } from '../../repeat/lattice.js';
import type { Repeat } from '../../repeat/types.js';
import { type ClothDrawingInput, clothDrawing } from '../cloth/cloth.js';

const W = 180;
const H = 240;

function input(repeat: Repeat, more: Partial<ClothDrawingInput> = {}): ClothDrawingInput {
  return {
    tile: {
      widthMm: W,
      heightMm: H,
      bleedMm: 2,
      inks: [{ ink: '#000000', contours: [boxContour({ x0: 1, y0: 1, x1: 9, y1: 9 })] }],
    },
    lattice: makeLattice(repeat, W, H),
    widthMm: 900,
    lengthMm: 960,
    method: 'resist',
    clothColour: '#ffffff',
    dyeColours: '#223344',
    seams: false,
    dots: null,
    findings: null,
    title: 'Cloth',
    date: '2026-01-02',
    ...more,
  };
}

function layer(drawn: ReturnType<typeof clothDrawing>, id: string): readonly Item[] {
  const inside = drawn.pages[0].items.flatMap((item) => (item.kind === 'clip' ? item.items : [item]));
  return inside.find((item): item is LayerItem => item.kind === 'layer' && item.id === id)?.items ?? [];
}

function paths(items: readonly Item[]): PathItem[] {
  return items.filter((item): item is PathItem => item.kind === 'path');
}

/** The straight pieces of outlines, as `x,y x,y` from the smaller end. */
function pieces(path: PathItem): string[] {
  return path.contours.flatMap(({ coords }) =>
    Array.from({ length: (coords.length - 2) / 6 }, (_, k) => {
      const ends = [
        [coords[6 * k], coords[6 * k + 1]],
        [coords[6 * k + 6], coords[6 * k + 7]],
      ];
      ends.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
      return ends.map(([x, y]) => `${x},${y}`).join(' ');
    }),
  );
}

const REPEATS: readonly Repeat[] = [
  { kind: 'straight', step: { p: 0, q: 1 } },
  { kind: 'drop', step: { p: 1, q: 2 } },
  { kind: 'brick', step: { p: 1, q: 3 } },
];

describe('seams on the cloth', () => {
  it.each(REPEATS)('of a $kind run along the left and the upper side of every unit, once each', (repeat) => {
    const [, seams] = paths(layer(clothDrawing(input(repeat, { seams: true })), 'seams'));
    const found = pieces(seams);
    expect(new Set(found).size).toBe(found.length);
    const lattice = makeLattice(repeat, W, H);
    const wanted = new Set<string>();
    for (let i = -9; i <= 9; i++) {
      for (let j = -9; j <= 9; j++) {
        const { x, y } = latticePoint(lattice, { i, j });
        if (!(x < 900 && x + W > 0 && y < 960 && y + H > 0)) continue;
        wanted.add(`${x},${y} ${x},${y + H}`).add(`${x},${y} ${x + W},${y}`);
      }
    }
    expect(new Set(found)).toEqual(wanted);
  });

  it('are dashed over a lighter line twice as wide, and larger on more cloth, by its longer side, up to four times', () => {
    const at = (widthMm: number, lengthMm: number) =>
      paths(layer(clothDrawing(input(REPEATS[0], { seams: true, widthMm, lengthMm })), 'seams'));
    const [below, above] = at(900, 960);
    expect(below.line?.widthMm).toBeCloseTo(2 * (above.line?.widthMm ?? 0), 9);
    expect(below.line?.dashMm).toBeUndefined();
    const wide = (drawn: PathItem[]) => drawn[1].line?.widthMm ?? 0;
    expect(wide(at(400, 300))).toBe(wide(at(900, 960)));
    expect(wide(at(900, 2000)) / wide(at(900, 960))).toBeCloseTo(2, 6);
    expect(wide(at(3000, 900)) / wide(at(900, 960))).toBeCloseTo(3, 6);
    expect(wide(at(9000, 900)) / wide(at(900, 960))).toBeCloseTo(4, 6);
  });
});

describe('dots on the cloth', () => {
  it('lie where units put them, those that reach onto the cloth, never wider than a tenth of the unit', () => {
    const [dots] = paths(layer(clothDrawing(input(REPEATS[1], { dots: [{ x: 0, y: 0 }] })), 'dots'));
    const middles = dots.contours.map((contour) => {
      const { x0, y0, x1, y1 } = contoursBox([contour]) as NonNullable<ReturnType<typeof contoursBox>>;
      expect(x1 - x0).toBeCloseTo(3, 6);
      return `${(x0 + x1) / 2},${(y0 + y1) / 2}`;
    });
    const wanted = [0, 180, 360, 540, 720, 900].flatMap((x, k) =>
      (k % 2 === 0 ? [0, 240, 480, 720, 960] : [120, 360, 600, 840]).map((y) => `${x},${y}`),
    );
    // A dot on the cloth's far edge shows by its half, where a unit of the cloth has it.
    for (const middle of middles) expect(wanted).toContain(middle);
    for (const middle of wanted.filter((name) => !/^900,|,960$/.test(name))) expect(middles).toContain(middle);
    const small = makeLattice(REPEATS[0], 20, 12);
    const [tiny] = paths(
      layer(
        clothDrawing(input(REPEATS[0], { lattice: small, widthMm: 100, lengthMm: 100, dots: [{ x: 5, y: 5 }] })),
        'dots',
      ),
    );
    const box = contoursBox([tiny.contours[0]]) as NonNullable<ReturnType<typeof contoursBox>>;
    expect(box.x1 - box.x0).toBeCloseTo(2 * 0.05 * 12, 6);
  });
});

describe('findings on the cloth', () => {
  const finding = (x: number, y: number): Finding => {
    return { code: 'join-off', topic: 'paper', severity: 'fix', message: 'off', atMm: { x, y }, measure: null };
  };
  const shown = (found: readonly Finding[], more: Partial<ClothDrawingInput> = {}) => {
    const items = layer(clothDrawing(input(REPEATS[0], { findings: found, ...more })), 'findings');
    const [, ring, plate] = paths(items);
    const box = (path: PathItem) => contoursBox(path.contours) as NonNullable<ReturnType<typeof contoursBox>>;
    return { ring: box(ring), plate: box(plate), text: items.find((item): item is TextItem => item.kind === 'text') };
  };

  it('are ringed at their place, in a unit a ring’s width away from the cloth’s edges', () => {
    const { ring } = shown([finding(30, 50)]);
    expect([(ring.x0 + ring.x1) / 2, (ring.y0 + ring.y1) / 2]).toEqual([W + 30, H + 50]);
    // On a cloth without such a unit it is the first whole one.
    const narrow = shown([finding(30, 50)], { widthMm: 190, lengthMm: 250 }).ring;
    expect([(narrow.x0 + narrow.x1) / 2, (narrow.y0 + narrow.y1) / 2]).toEqual([30, 50]);
  });

  it('have their number on a plate that begins where the ring ends, to the side where there is more cloth', () => {
    const right = shown([finding(30, 50)]);
    expect(right.plate.x0).toBeCloseTo(right.ring.x1, 6);
    const left = shown([finding(30, 50)], { widthMm: 380 });
    expect(left.plate.x1).toBeCloseTo(left.ring.x0, 6);
    for (const { plate, ring, text } of [right, left]) {
      expect(text?.text).toBe('1');
      expect(text?.x).toBeCloseTo((plate.x0 + plate.x1) / 2, 6);
      expect((plate.y0 + plate.y1) / 2).toBeCloseTo((ring.y0 + ring.y1) / 2, 6);
      expect(text?.y).toBeGreaterThan((plate.y0 + plate.y1) / 2);
      expect(text?.y).toBeLessThan(plate.y1);
    }
  });
});
