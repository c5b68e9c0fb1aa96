import { describe, expect, it } from 'vitest';
import type { Drawing, Item, LayerItem, PathItem, PlaceItem, TextItem } from '../../draw/types.js';
import { boxContour, circleContour, contoursBox } from '../../geometry/contour.js';
import type { Finding } from '../../motif/finding.js';
import { makeLattice } from '../../repeat/lattice.js';
import { type ClothDrawingInput, clothDrawing } from './cloth.js';

const CLOTH = '#f4efe2';
const DYE = '#1f3a6e';
const BLEED = 2;

function input(more: Partial<ClothDrawingInput> = {}): ClothDrawingInput {
  const stripe = boxContour({ x0: -BLEED, y0: 40, x1: 360 + BLEED, y1: 46 });
  const spots = [circleContour({ x: 60, y: 120 }, 20), circleContour({ x: 240, y: 200 }, 20)];
  return {
    tile: { widthMm: 360, heightMm: 240, bleedMm: BLEED, inks: [{ ink: '#000000', contours: [stripe, ...spots] }] },
    lattice: makeLattice({ kind: 'drop', step: { p: 1, q: 2 } }, 180, 240),
    widthMm: 900,
    lengthMm: 1000,
    method: 'resist',
    clothColour: CLOTH,
    dyeColours: DYE,
    seams: false,
    dots: null,
    findings: null,
    title: 'Leaves',
    date: '2026-01-02',
    ...more,
  };
}

function all(items: readonly Item[]): Item[] {
  return items.flatMap((i) => (i.kind === 'clip' || i.kind === 'layer' ? [i, ...all(i.items)] : [i]));
}

function itemsOf(drawing: Drawing, id: string): readonly Item[] {
  return layerOf(drawing, id)?.items ?? [];
}

function layerOf(drawing: Drawing, id: string): LayerItem | undefined {
  return all(drawing.pages[0].items).find((i): i is LayerItem => i.kind === 'layer' && i.id === id);
}

describe('clothDrawing', () => {
  it('is one page as large as the cloth, clipped to it', () => {
    const [page, ...rest] = clothDrawing(input({ seams: true })).pages;
    expect(rest).toEqual([]);
    expect([page.widthMm, page.heightMm]).toEqual([900, 1000]);
    for (const item of page.items) {
      expect(item.kind === 'clip' && contoursBox(item.contours)).toEqual({ x0: 0, y0: 0, x1: 900, y1: 1000 });
    }
  });

  it('leaves openings cloth-coloured in a resist, and colours them in a direct print', () => {
    const fills = (drawing: Drawing) => (drawing.groups.tile as PathItem[]).map((i) => i.fill);
    expect(fills(clothDrawing(input()))).toEqual([DYE, CLOTH]);
    expect(fills(clothDrawing(input({ method: 'direct' })))).toEqual([CLOTH, DYE]);
  });

  it('takes a colour for each ink', () => {
    const inks = ['#aa0000', '#00aa00'].map((ink) => ({ ink, contours: input().tile.inks[0].contours }));
    const tile = { ...input().tile, inks };
    const dyeColours = { '#aa0000': '#111111', '#00aa00': '#222222' };
    const direct = clothDrawing(input({ tile, dyeColours, method: 'direct' }));
    expect((direct.groups.tile as PathItem[]).map((i) => i.fill)).toEqual([CLOTH, '#111111', '#222222']);
  });

  it('places the tile straight so that the cloth is covered', () => {
    const place = all(clothDrawing(input()).pages[0].items).find((i): i is PlaceItem => i.kind === 'place');
    expect(place?.tile).toEqual({ x0: 0, y0: 0, x1: 360, y1: 240 });
    expect(place?.at).toHaveLength(3 * 5);
    expect(
      place?.at.every(([a, b, c, d, e, f]) => a * d === 1 && b === 0 && c === 0 && e % 360 === 0 && f % 240 === 0),
    ).toBe(true);
  });

  it('runs the ground past the tile, but less far than the openings, which cover its edge on a neighbour', () => {
    const [ground, openings] = clothDrawing(input()).groups.tile as PathItem[];
    const box = contoursBox(ground.contours);
    const ink = contoursBox(openings.contours);
    expect(box?.x0).toBeLessThan(0);
    expect(ink?.x0).toBeLessThan(box?.x0 ?? 0);
    expect(box?.x1).toBeGreaterThan(360);
    expect(ink?.x1).toBeGreaterThan(box?.x1 ?? 0);
  });

  it('staggers the seams with the columns', () => {
    const [, seams] = itemsOf(clothDrawing(input({ seams: true })), 'seams') as PathItem[];
    const corners = seams.contours.map(({ coords }) => `${coords[6]},${coords[7]}`);
    expect(corners).toContain('0,0');
    expect(corners).toContain('180,120');
    expect(corners).toContain('180,-120');
    expect(corners).not.toContain('180,0');
    expect(seams.line?.dashMm).toBeDefined();
  });

  it('shows no marks that were not asked for', () => {
    const drawing = clothDrawing(input());
    for (const id of ['seams', 'dots', 'findings']) expect(layerOf(drawing, id)).toBeUndefined();
  });

  it('prints each dot once where neighbours share it', () => {
    const dots = [0, 180].flatMap((x) => [0, 120, 240].map((y) => ({ x, y })));
    const [layer] = itemsOf(clothDrawing(input({ dots })), 'dots') as PathItem[];
    // On 0, 180, … 900 across and 0, 120, … 960 along.
    expect(layer.contours).toHaveLength(6 * 9);
  });

  it('numbers findings by their place in the list, in one whole unit', () => {
    const finding = (x: number | null): Finding => ({
      code: 'join-off',
      topic: 'paper',
      severity: 'fix',
      message: 'off',
      atMm: x === null ? null : { x, y: 100 },
      measure: null,
    });
    const layer = itemsOf(clothDrawing(input({ findings: [finding(0), finding(null), finding(180)] })), 'findings');
    const texts = layer.filter((i): i is TextItem => i.kind === 'text');
    expect(texts.map((t) => t.text)).toEqual(['1', '3']);
    for (const t of texts) expect(t.x > 0 && t.x < 900 && t.y > 0 && t.y < 1000).toBe(true);
  });

  it('draws a cloth smaller than the unit', () => {
    const drawing = clothDrawing(
      input({ widthMm: 50, lengthMm: 30, seams: true, dots: [{ x: 0, y: 0 }], findings: [] }),
    );
    const place = all(drawing.pages[0].items).find((i): i is PlaceItem => i.kind === 'place');
    expect(place?.at).toEqual([[1, 0, 0, 1, 0, 0]]);
  });

  it('draws a tile without any opening', () => {
    const tile = { ...input().tile, inks: [{ ink: '#000000', contours: [] }] };
    expect(clothDrawing(input({ tile })).groups.tile).toHaveLength(1);
  });
});
