import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import {
  boxContour,
  circleContour,
  type Drawing,
  InputError,
  type Item,
  type Matrix,
  type Page,
  polyline,
} from '@okuri/core';
import { multiply } from '@okuri/core/inside';
import { getDocument, OPS } from 'pdfjs-dist/legacy/build/pdf.mjs';
import pixelmatch from 'pixelmatch';
import { PNG } from 'pngjs';
import { describe, expect, it } from 'vitest';
import { renderPixels } from '../png/pixels.js';
import { toPdf } from './to-pdf.js';

/** ISO 32000-1, 8.3.2.3: a unit of default user space is 1/72 inch. */
const MM = 25.4 / 72;

function drawingOf(pages: readonly Partial<Page>[], groups: Drawing['groups'] = {}): Drawing {
  const full = pages.map((page, k) => ({ name: `P${k + 1}`, widthMm: 210, heightMm: 297, items: [], ...page }));
  return { title: 'Print sheets', date: '2024-05-01', groups, pages: full };
}

function open(pdf: Uint8Array) {
  return getDocument({ data: pdf.slice(), verbosity: 0 }).promise;
}

/** The corners of every path on a page in mm from its upper left, by the reader's own operators and matrices. */
async function pathPoints(pdf: Uint8Array, pageNumber: number): Promise<{ x: number; y: number }[]> {
  const page = await (await open(pdf)).getPage(pageNumber);
  const height = page.view[3];
  const { fnArray, argsArray } = await page.getOperatorList();
  const points: { x: number; y: number }[] = [];
  const stack: Matrix[] = [];
  let matrix: Matrix = [1, 0, 0, 1, 0, 0];
  fnArray.forEach((operator, k) => {
    const args = argsArray[k];
    if (operator === OPS.save || operator === OPS.paintFormXObjectBegin) stack.push(matrix);
    if (operator === OPS.restore || operator === OPS.paintFormXObjectEnd) matrix = stack.pop()!;
    if (operator === OPS.transform) matrix = multiply(matrix, args as unknown as Matrix);
    if (operator === OPS.paintFormXObjectBegin && args[0] !== null) matrix = multiply(matrix, args[0] as Matrix);
    if (operator !== OPS.constructPath) return;
    for (const [x, y] of ends(args[1][0] as Float32Array)) {
      const [a, b, c, d, e, f] = matrix;
      points.push({ x: (a * x + c * y + e) * MM, y: (height - (b * x + d * y + f)) * MM });
    }
  });
  return points;
}

/** Ends of a path's pieces: the reader writes 0 x y (move), 1 x y (line), 2 and six numbers (curve), 3 (close). */
function ends(path: Float32Array): [number, number][] {
  const found: [number, number][] = [];
  for (let k = 0; k < path.length; ) {
    const size = [2, 2, 6, 0][path[k]];
    if (size > 0) found.push([path[k + size - 1], path[k + size]]);
    k += 1 + size;
  }
  return found;
}

const BOX: Item = { kind: 'path', contours: [boxContour({ x0: 1, y0: 2, x1: 11, y1: 22 })], fill: '#0072b2' };

const TEXT = { kind: 'text', text: 'A1', x: 100, y: 120, sizeMm: 6, colour: '#d55e00' } as const;

describe('toPdf', () => {
  it('gives pages their true size in all boxes', async () => {
    const drawing = drawingOf([{}, { widthMm: 215.9, heightMm: 279.4 }, { widthMm: 5080, heightMm: 100 }]);
    const pdf = await toPdf(drawing);
    const document = await open(pdf);
    expect(document.numPages).toBe(3);
    // A4 and Letter in points: 210 × 297 mm times 72 / 25.4; 612 × 792 (ANSI/ASME Y14.1, size A).
    expect((await document.getPage(1)).view).toEqual([0, 0, 595.275591, 841.889764]);
    expect((await document.getPage(2)).view).toEqual([0, 0, 612, 792]);
    expect((await document.getPage(3)).view[2]).toBe(14400);
    expect((await document.getPage(1)).userUnit).toBe(1);
    const text = Buffer.from(pdf).toString('latin1');
    for (const box of ['MediaBox', 'CropBox', 'TrimBox']) expect(text).toContain(`/${box} [0 0 595.275591 841.889764]`);
  });

  it('asks the viewer not to scale', async () => {
    const document = await open(await toPdf(drawingOf([{}])));
    expect(await document.getViewerPreferences()).toMatchObject({ PrintScaling: 'None' });
  });

  it('puts places within 0.02 mm over a metre', async () => {
    const corners = [0, 123.4567, 333.3333, 777.7777, 999.9999].map((at) => ({ x: at, y: 1000 - at * 0.7 }));
    const marks = corners.map(
      ({ x, y }): Item => ({
        kind: 'path',
        contours: [
          polyline(
            [
              { x, y },
              { x: x + 0.1, y },
            ],
            { closed: false },
          ),
        ],
        line: { colour: '#000000', widthMm: 0.1 },
      }),
    );
    const turned: Matrix = [Math.cos(0.3), Math.sin(0.3), -Math.sin(0.3), Math.cos(0.3), 20.1234, -10.5];
    const drawing = drawingOf(
      [{ widthMm: 1100, heightMm: 1200, items: [...marks, { kind: 'place', group: 'outer', at: [turned] }] }],
      { outer: [{ kind: 'place', group: 'inner', at: [[1, 0, 0, 1, 30.0001, 0]] }], inner: marks },
    );
    const points = (await pathPoints(await toPdf(drawing), 1)).filter((_, k) => k % 2 === 0);
    const [a, b, c, d, e, f] = multiply(turned, [1, 0, 0, 1, 30.0001, 0]);
    const wanted = [...corners, ...corners.map(({ x, y }) => ({ x: a * x + c * y + e, y: b * x + d * y + f }))];
    expect(points).toHaveLength(wanted.length);
    points.forEach((point, k) => {
      expect(Math.hypot(point.x - wanted[k].x, point.y - wanted[k].y)).toBeLessThan(0.002);
    });
  });

  it('stores a group once, however many pages show it', async () => {
    const shapes: Item[] = Array.from({ length: 1000 }, (_, k) => ({
      kind: 'path',
      contours: [circleContour({ x: (k % 40) * 20.123, y: Math.floor(k / 40) * 20.321 }, 5 + (k % 7) * 0.777)],
      fill: '#0072b2',
    }));
    const page = (k: number): Partial<Page> => ({
      items: [{ kind: 'place', group: 'art', at: [[1, 0, 0, 1, -190 * (k % 6), -277 * Math.floor(k / 6)]] }],
    });
    const one = await toPdf(drawingOf([page(0)], { art: shapes }));
    const sixty = await toPdf(
      drawingOf(
        Array.from({ length: 60 }, (_, k) => page(k)),
        { art: shapes },
      ),
    );
    expect(sixty.length / one.length).toBeLessThan(2);
    expect(await pathPoints(sixty, 60)).toHaveLength(9 * 1000);
    expect(
      Buffer.from(sixty)
        .toString('latin1')
        .match(/\/Subtype \/Form/g),
    ).toHaveLength(1);
  });

  it('gives the same bytes each time, whatever was written before', async () => {
    const drawing = drawingOf([{ items: [{ ...TEXT, text: 'a b' }, { ...TEXT, bold: true }, BOX] }]);
    const first = await toPdf(drawing);
    // A no-break space has the space's glyph.
    await toPdf(drawingOf([{ items: [{ ...TEXT, text: '\u00a0' }] }]));
    await new Promise((resolve) => setTimeout(resolve, 1100));
    expect(Buffer.from(await toPdf(drawing)).equals(Buffer.from(first))).toBe(true);
    const { info } = await (await open(first)).getMetadata();
    expect(info).toMatchObject({
      CreationDate: 'D:20240501000000Z',
      ModDate: 'D:20240501000000Z',
      Title: 'Print sheets',
    });
  });

  it('writes text as text, in forms and turned too', async () => {
    const group: Item[] = [{ ...TEXT, text: 'join 12½', x: 5, y: 6 }];
    const items: Item[] = [
      { ...TEXT, text: 'Okuri × "fi" — 30°', anchor: 'middle' },
      { ...TEXT, text: 'turned', turn: 90 },
      { kind: 'place', group: 'label', at: [[1, 0, 0, 1, 40, 50]] },
    ];
    const pdf = await toPdf(drawingOf([{ items }], { label: group }));
    const content = await (await (await open(pdf)).getPage(1)).getTextContent();
    const texts = content.items.flatMap((item) => ('str' in item && item.str !== '' ? [item] : []));
    expect(texts.map((item) => item.str)).toEqual(['Okuri × "fi" — 30°', 'turned', 'join 12½']);
    const [middle, turned, label] = texts;
    expect((middle.transform[4] + middle.width / 2) * MM).toBeCloseTo(100, 2);
    expect(297 - middle.transform[5] * MM).toBeCloseTo(120, 3);
    expect(middle.transform[0] * MM).toBeCloseTo(6, 3);
    // Clockwise by a quarter: the text runs down the page.
    expect(turned.transform.slice(0, 2).map((v: number) => Math.round(v * MM))).toEqual([0, -6]);
    expect([label.transform[4] * MM, 297 - label.transform[5] * MM].map((v) => Math.round(v * 1000) / 1000)).toEqual([
      45, 56,
    ]);
  });

  it('writes dashes, caps, joins and rules', async () => {
    const line: Item = {
      kind: 'path',
      contours: [circleContour({ x: 50, y: 50 }, 10)],
      rule: 'evenodd',
      fill: '#e69f00',
      line: { colour: '#000000', widthMm: 25.4, dashMm: [25.4, 12.7], cap: 'round', join: 'bevel' },
    };
    const clip: Item = { kind: 'clip', contours: [boxContour({ x0: 0, y0: 0, x1: 1, y1: 1 })], items: [BOX] };
    const text = Buffer.from(await toPdf(drawingOf([{ items: [line, clip] }]), { compress: false })).toString('latin1');
    expect(text).toContain('0 0 0 RG 72 w 1 J 2 j [72 36] 0 d');
    expect(text).toMatch(/ c\nh\nB\*\n/);
    expect(text).toMatch(/q\n0 0 m\n2\.8346 0 l\n2\.8346 2\.8346 l\n0 2\.8346 l\nh\nW n\n/);
  });

  it.each<[string, Drawing, RegExp]>([
    ['a page longer than readers take', drawingOf([{ widthMm: 5081 }]), /5080 mm/],
    ['no pages', drawingOf([]), /no pages/],
    ['an impossible date', { ...drawingOf([{}]), date: '2024-13-01' }, /2024-13-01/],
    [
      'a group within itself',
      drawingOf([{ items: [{ kind: 'place', group: 'a', at: [[1, 0, 0, 1, 0, 0]] }] }], {
        a: [{ kind: 'place', group: 'a', at: [[1, 0, 0, 1, 0, 0]] }],
      }),
      /holds itself/,
    ],
    [
      'a place that is not a number',
      drawingOf([{ items: [{ kind: 'place', group: 'a', at: [[1, 0, 0, 1, Number.NaN, 0]] }] }], { a: [BOX] }),
      /NaN/,
    ],
  ])('refuses %s', async (_, drawing, message) => {
    await expect(toPdf(drawing)).rejects.toThrow(InputError);
    await expect(toPdf(drawing)).rejects.toThrow(message);
  });
});

const HAS_POPPLER = spawnSync('pdftoppm', ['-v']).error === undefined;

describe('toPdf, printed by another program', () => {
  it.skipIf(!HAS_POPPLER)(
    `looks like the picture${HAS_POPPLER ? '' : ' (skipped: pdftoppm of poppler-utils is not installed)'}`,
    async () => {
      const items: Item[] = [
        {
          kind: 'place',
          group: 'pair',
          at: [
            [1, 0, 0, 1, 10, 10],
            [0.5, 0, 0, 0.5, 100, 10],
            [0, 1, -1, 0, 150, 100],
          ],
        },
        { ...TEXT, text: 'Held margin 1 in', anchor: 'end', x: 200 },
        { ...TEXT, text: 'dot', bold: true, turn: -30, x: 30, y: 180 },
        {
          kind: 'clip',
          contours: [circleContour({ x: 150, y: 200 }, 20), circleContour({ x: 150, y: 200 }, 10)],
          rule: 'evenodd',
          items: [{ kind: 'path', contours: [boxContour({ x0: 130, y0: 180, x1: 170, y1: 210 })], fill: '#56b4e9' }],
        },
        {
          kind: 'path',
          contours: [
            polyline(
              [
                { x: 20, y: 250 },
                { x: 100, y: 250 },
                { x: 60, y: 270 },
              ],
              { closed: true },
            ),
          ],
          fill: '#f0e442',
          line: { colour: '#cc79a7', widthMm: 3, dashMm: [8, 5], cap: 'round', join: 'round' },
        },
      ];
      const groups = {
        box: [BOX, { ...TEXT, text: 'box', x: 2, y: 15 }],
        pair: [
          {
            kind: 'place',
            group: 'box',
            at: [
              [1, 0, 0, 1, 0, 0],
              [1, 0, 0, 1, 35, 5],
            ],
          },
        ],
      } satisfies Drawing['groups'];
      const drawing = drawingOf([{ items, widthMm: 203.2, heightMm: 304.8 }], groups);
      const folder = mkdtempSync(join(tmpdir(), 'okuri-'));
      try {
        writeFileSync(join(folder, 'a.pdf'), await toPdf(drawing));
        execFileSync('pdftoppm', ['-r', '100', '-png', '-singlefile', join(folder, 'a.pdf'), join(folder, 'a')]);
        const printed = PNG.sync.read(readFileSync(join(folder, 'a.png')));
        const { data, width, height } = await renderPixels(drawing, 0, { pixelsPerMm: 100 / 25.4 });
        expect([printed.width, printed.height]).toEqual([width, height]);
        const picture = new Uint8Array(width * height * 4).fill(255);
        for (let k = 0; k < width * height; k++) picture.set(data.subarray(3 * k, 3 * k + 3), 4 * k);
        // Edges are softened differently; letters of 24 pixels are mostly edge.
        const wrong = pixelmatch(picture, printed.data, undefined, width, height, { threshold: 0.3 });
        expect(wrong / (width * height)).toBeLessThan(5e-4);
      } finally {
        rmSync(folder, { recursive: true });
      }
    },
  );
});
