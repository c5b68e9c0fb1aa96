import {
  type Box,
  boxContour,
  type Contour,
  circleContour,
  type Drawing,
  type Item,
  type Matrix,
  type Point,
  polyline,
} from '@okuri/core';
import { Resvg } from '@resvg/resvg-js';
import pixelmatch from 'pixelmatch';
import { describe, expect, it } from 'vitest';
import { colourChannels } from '../shared/colours.js';
import { toSvg } from '../svg/to-svg.js';
import { cellPlan } from './cell-plan.js';
import type { Pixels } from './options.js';
import { PITCH_TOLERANCE } from './options.js';
import { renderPixels } from './pixels.js';
import { tiledPage } from './tile-plan.js';

interface ClothOptions {
  readonly unit: readonly [width: number, height: number];
  readonly drop?: number;
  readonly brick?: number;
  readonly page: readonly [width: number, height: number];
  readonly origin?: readonly [x: number, y: number];
  readonly clip?: readonly [x0: number, y0: number, x1: number, y1: number];
  readonly over?: readonly Item[];
  readonly under?: readonly Item[];
}

type Ring = readonly Point[];

const GROUND = '#0072b2';
const FIGURE = '#f0e442';

/** How far a unit's content runs past its edges, mm. */
const BLEED = 1;

/**
 * One cloth in two ways: as copies of a unit, and with every figure drawn once where it lies on the cloth. Stripes, slanting
 * bars and discs run on over every seam.
 */
function cloths(options: ClothOptions): { readonly copies: Drawing; readonly plain: Drawing } {
  const { unit, drop = 0, brick = 0, page, origin = [0, 0], clip = [0, 0, ...page] } = options;
  const [W, H] = unit;
  const unitBox = grown({ x0: 0, y0: 0, x1: W, y1: H });
  const clothBox = { x0: clip[0], y0: clip[1], x1: clip[2], y1: clip[3] };
  const figures = figuresOf(W, H, drop, brick);
  const step = (i: number, j: number): Point => ({ x: i * W + j * brick * W, y: i * drop * H + j * H });
  // One path each: figures that lap over one another then have one common edge.
  const unitRings: Contour[] = [];
  const plainRings: Contour[] = [];
  const at: Matrix[] = [];
  for (let i = -70; i <= 70; i++) {
    for (let j = -70; j <= 70; j++) {
      const { x, y } = step(i, j);
      const [e, f] = [origin[0] + x, origin[1] + y];
      if (e < clip[2] && e + W > clip[0] && f < clip[3] && f + H > clip[1]) at.push([1, 0, 0, 1, e, f]);
      for (const ring of figures) {
        unitRings.push(...within(moved(ring, x, y), unitBox));
        plainRings.push(...within(moved(ring, e, f), grown(clothBox)));
      }
    }
  }
  const drawing = (item: Item): Drawing => ({
    title: 'Cloth',
    date: '2024-05-01',
    groups: { unit: [fill([boxContour(unitBox)], GROUND), fill(unitRings, FIGURE)] },
    pages: [
      {
        name: 'cloth',
        widthMm: page[0],
        heightMm: page[1],
        items: [
          ...(options.under ?? []),
          { kind: 'layer', id: 'cloth', label: 'Cloth', items: [item] },
          ...(options.over ?? []),
        ],
      },
    ],
  });
  const place: Item = { kind: 'place', group: 'unit', at, tile: { x0: 0, y0: 0, x1: W, y1: H } };
  return {
    copies: drawing({ kind: 'clip', contours: [boxContour(clothBox)], items: [place] }),
    plain: drawing({
      kind: 'clip',
      contours: [boxContour(clothBox)],
      items: [fill([boxContour(grown(clothBox))], GROUND), fill(plainRings, FIGURE)],
    }),
  };
}

function figuresOf(W: number, H: number, drop: number, brick: number): Ring[] {
  // The bar runs along a lattice vector and laps over the next one's start.
  const [dx, dy] = [1.2 * (W + brick * W), 1.2 * (drop * H + H)];
  const t = 0.06 * W;
  const bar = [
    { x: 0, y: 0 },
    { x: t, y: 0 },
    { x: t + dx, y: dy },
    { x: dx, y: dy },
  ];
  const disc = Array.from({ length: 64 }, (_, k) => ({
    x: W + 0.13 * W * Math.cos((k * Math.PI) / 32),
    y: 0.7 * H + 0.13 * W * Math.sin((k * Math.PI) / 32),
  }));
  return [rectangle(-0.2 * W, 0.3 * H, 1.2 * W, 0.4 * H), rectangle(0.45 * W, -0.2 * H, 0.5 * W, 1.2 * H), bar, disc];
}

function rectangle(x0: number, y0: number, x1: number, y1: number): Ring {
  return [
    { x: x0, y: y0 },
    { x: x1, y: y0 },
    { x: x1, y: y1 },
    { x: x0, y: y1 },
  ];
}

function grown({ x0, y0, x1, y1 }: Box): Box {
  return { x0: x0 - BLEED, y0: y0 - BLEED, x1: x1 + BLEED, y1: y1 + BLEED };
}

function moved(ring: Ring, x: number, y: number): Ring {
  return ring.map((p) => ({ x: p.x + x, y: p.y + y }));
}

function fill(contours: readonly Contour[], colour: string): Item {
  return { kind: 'path', contours, fill: colour };
}

function within(ring: Ring, { x0, y0, x1, y1 }: Box): Contour[] {
  let rest = ring;
  rest = cut(rest, (p) => p.x - x0);
  rest = cut(rest, (p) => x1 - p.x);
  rest = cut(rest, (p) => p.y - y0);
  rest = cut(rest, (p) => y1 - p.y);
  return rest.length < 3 ? [] : [polyline(rest, { closed: true })];
}

/** The part of a convex ring where `inside` is not negative (Sutherland and Hodgman 1974, one side). */
function cut(ring: Ring, inside: (p: Point) => number): Ring {
  return ring.flatMap((p, k) => {
    const q = ring[(k + 1) % ring.length];
    const [a, b] = [inside(p), inside(q)];
    const t = a / (a - b);
    const crossing = { x: p.x + (q.x - p.x) * t, y: p.y + (q.y - p.y) * t };
    return [...(a >= 0 ? [p] : []), ...(a >= 0 !== b >= 0 ? [crossing] : [])];
  });
}

function rgb(pixels: Pixels): Uint8Array {
  if (pixels.channels === 3) return pixels.data;
  const [a, b] = (pixels.colours as readonly [string, string]).map(colourChannels);
  const out = new Uint8Array(pixels.data.length * 3);
  pixels.data.forEach((value, k) => {
    for (let c = 0; c < 3; c++) out[3 * k + c] = Math.round(a[c] + ((b[c] - a[c]) * value) / 255);
  });
  return out;
}

function rgba(pixels: Pixels): Uint8Array {
  const from = rgb(pixels);
  const out = new Uint8Array(pixels.width * pixels.height * 4).fill(255);
  for (let k = 0; k < pixels.width * pixels.height; k++) out.set(from.subarray(3 * k, 3 * k + 3), 4 * k);
  return out;
}

/** What another renderer makes of the page's SVG, on the same grid of pixels. */
function byResvg(drawing: Drawing, { width, height, resolution }: Pixels): Uint8Array {
  const svg = toSvg(drawing, 0, { digits: 6 }).replace(
    /width="[\d.]+mm" height="[\d.]+mm" viewBox="[\d. ]+"/,
    `width="${width}" height="${height}" viewBox="0 0 ${width / resolution.x} ${height / resolution.y}" preserveAspectRatio="none"`,
  );
  return new Resvg(svg, { background: '#ffffff' }).render().pixels;
}

const SEAM: Item = {
  kind: 'path',
  contours: [
    polyline(
      [
        { x: 0, y: 40 },
        { x: 180, y: 61 },
      ],
      { closed: false },
    ),
  ],
  line: { colour: '#d55e00', widthMm: 0.8, dashMm: [4, 2] },
};
const TABLE: Item = { kind: 'path', contours: [circleContour({ x: 30, y: 30 }, 28)], fill: '#cc79a7' };

type Way = 'tile' | 'block';
const CASES: readonly (readonly [name: string, options: ClothOptions, pixelsPerMm: number, way: Way])[] = [
  ['straight, whole pixels', { unit: [40, 50], page: [200, 150] }, 3, 'tile'],
  ['half-drop, whole pixels', { unit: [40, 50], drop: 0.5, page: [200, 150] }, 4, 'tile'],
  ['brick of a third', { unit: [45, 40], brick: 1 / 3, page: [200, 150] }, 4, 'tile'],
  ['drop of a third', { unit: [45, 45], drop: 1 / 3, page: [200, 150] }, 4, 'tile'],
  ['bent to whole pixels', { unit: [180.0123, 200.0077], page: [500, 450] }, 3.0001, 'tile'],
  ['broken pixels', { unit: [9.987, 13.331], page: [300, 250] }, 2, 'block'],
  ['half-drop, broken pixels', { unit: [29.987, 33.331], drop: 0.5, page: [500, 450] }, 2, 'block'],
  ['off the pixel grid', { unit: [40, 50], drop: 0.5, page: [220, 200], origin: [-7.3, -11.17] }, 4, 'tile'],
  [
    'in a window, over and under marks',
    {
      unit: [20, 25],
      drop: 0.5,
      page: [220, 200],
      origin: [10.1, 10.1],
      clip: [10.1, 10.1, 190.3, 170.7],
      under: [TABLE],
      over: [SEAM],
    },
    4,
    'tile',
  ],
];

describe('renderPixels of cloth', () => {
  it.each(CASES)('%s: copies look like one drawing', async (_, options, pixelsPerMm, way) => {
    const { copies, plain } = cloths(options);
    const tiled = tiledPage(copies.pages[0]);
    expect(tiled).not.toBeNull();
    const plan = cellPlan(tiled!, pixelsPerMm);
    expect(plan).not.toBeNull();
    expect(plan!.shifts.length === tiled!.place.at.length).toBe(way === 'tile');

    const pixels = await renderPixels(copies, 0, { pixelsPerMm });
    expect(Math.abs(pixels.resolution.x / pixelsPerMm - 1)).toBeLessThanOrEqual(PITCH_TOLERANCE);
    expect(Math.abs(pixels.resolution.y / pixelsPerMm - 1)).toBeLessThanOrEqual(PITCH_TOLERANCE);
    expect(pixels.resolution).toEqual(plan!.resolution);
    expect(pixels.channels).toBe(options.over === undefined ? 1 : 3);

    // An independent renderer draws each figure once, at the same stretch. Renderers differ by some levels along edges.
    const other = byResvg(plain, pixels);
    const wrong = pixelmatch(rgba(pixels), other, undefined, pixels.width, pixels.height, {
      threshold: 0.1,
      includeAA: true,
    });
    expect(wrong / (pixels.width * pixels.height)).toBeLessThan(2e-4);
  });

  it.each([
    ['whole pixels', 40, 4],
    ['broken pixels', 39.987, 2],
    ['hardly more than one unit', 199.3, 1.37],
  ])('a plain stripe shows no seam: %s', async (_, unit, pixelsPerMm) => {
    const { copies } = cloths({ unit: [unit, unit], page: [300, 240] });
    const stripes: Item[] = [0, 1].map((k) =>
      fill(
        [
          boxContour({
            x0: -BLEED,
            y0: (k * unit) / 2 - BLEED,
            x1: unit + BLEED,
            y1: (k + 1) * 0.5 * unit + BLEED * k,
          }),
        ],
        [FIGURE, GROUND][k],
      ),
    );
    const { data, width, height } = await renderPixels({ ...copies, groups: { unit: stripes } }, 0, { pixelsPerMm });
    for (let y = 0; y < height; y++) {
      const row = data.subarray(y * width, (y + 1) * width);
      expect(Math.max(...row) - Math.min(...row)).toBeLessThanOrEqual(1);
    }
  });

  it('draws every copy where tiles do not keep their promise', async () => {
    const { copies } = cloths({ unit: [40, 50], page: [200, 150] });
    const open: Item[] = [fill([circleContour({ x: 20, y: 25 }, 22)], FIGURE)];
    const drawing = { ...copies, groups: { unit: open } };
    const pixels = await renderPixels(drawing, 0, { pixelsPerMm: 2 });
    const wrong = pixelmatch(rgba(pixels), byResvg(drawing, pixels), undefined, pixels.width, pixels.height, {
      threshold: 0.1,
      includeAA: true,
    });
    expect(wrong / (pixels.width * pixels.height)).toBeLessThan(2e-4);
  });
});
