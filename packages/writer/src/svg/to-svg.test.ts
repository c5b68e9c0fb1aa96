import { boxContour, circleContour, type Drawing, InputError, type Item, polyline } from '@okuri/core';
import { Resvg } from '@resvg/resvg-js';
import { parseSync } from 'svgson';
import { describe, expect, it } from 'vitest';
import { toSvg } from './to-svg.js';

const BOX = boxContour({ x0: 10, y0: 20, x1: 30, y1: 40 });

function drawingOf(items: readonly Item[], groups: Drawing['groups'] = {}): Drawing {
  return { title: 'Sheet', date: '2024-05-01', groups, pages: [{ name: 'A1', widthMm: 210, heightMm: 297, items }] };
}

/** The colour of a place on the page, in the eyes of another renderer at 4 pixels a mm. */
function colourAt(svg: string, x: number, y: number): string {
  const image = new Resvg(svg, { fitTo: { mode: 'width', value: 840 }, background: '#ffffff' }).render();
  const at = 4 * (Math.floor(y * 4) * image.width + Math.floor(x * 4));
  return `#${[...image.pixels.subarray(at, at + 3)].map((v) => v.toString(16).padStart(2, '0')).join('')}`;
}

describe('toSvg', () => {
  it('has the true size', () => {
    const root = parseSync(toSvg(drawingOf([]), 0));
    expect(root.attributes).toMatchObject({ width: '210mm', height: '297mm', viewBox: '0 0 210 297' });
    // CSS Values 3, absolute lengths: 96 px to an inch.
    const image = new Resvg(toSvg(drawingOf([]), 0)).render();
    expect([image.width, image.height]).toEqual([Math.ceil((210 / 25.4) * 96), Math.ceil((297 / 25.4) * 96)]);
  });

  it('writes straight sides as lines, closes outlines, keeps curves', () => {
    const svg = toSvg(
      drawingOf([{ kind: 'path', contours: [BOX, circleContour({ x: 50, y: 50 }, 10)], fill: '#E69F00' }]),
      0,
    );
    expect(svg).toContain('d="M10 20L30 20L30 40L10 40ZM60 50C60 52.');
    expect(svg).toContain('fill="#e69f00"');
  });

  it('takes handles rounded to 0.1 µm as straight, and nothing that bends more', () => {
    const coords = Float64Array.from([0, 0, 3.3334, 0.0001, 6.6667, 0, 10, 0, 13, 0, 17, 0.001, 20, 0]);
    const svg = toSvg(
      drawingOf([{ kind: 'path', contours: [{ closed: false, coords }], line: { colour: '#000000', widthMm: 1 } }]),
      0,
    );
    expect(svg).toContain('d="M0 0L10 0C13 0 17 0.001 20 0"');
  });

  it('writes as many digits as asked for', () => {
    const items: Item[] = [
      { kind: 'path', contours: [boxContour({ x0: 1 / 3, y0: 0, x1: 1, y1: 1 })], fill: '#000000' },
    ];
    expect(toSvg(drawingOf(items), 0)).toContain('M0.3333 0L');
    expect(toSvg(drawingOf(items), 0, { digits: 2 })).toContain('M0.33 0L');
    expect(() => toSvg(drawingOf(items), 0, { digits: 7 })).toThrow(InputError);
  });

  it('keeps layers, and gives each its own id', () => {
    const layer: Item = { kind: 'layer', id: 'first cut', label: 'First "cut" & more\n', items: [] };
    const [a, b] = parseSync(toSvg(drawingOf([layer, layer]), 0)).children.slice(1);
    expect(a.attributes).toEqual({
      id: 'first-cut',
      'data-label': 'First &quot;cut&quot; &amp; more ',
      'aria-label': 'First &quot;cut&quot; &amp; more ',
    });
    expect(b.attributes.id).toBe('first-cut-2');
  });

  it('escapes titles, even those that look like the end of a CDATA section', () => {
    const drawing = { ...drawingOf([]), title: 'a]]>b & c]]>d <e> \u0000\ud800' };
    const svg = toSvg(drawing, 0);
    // Sections undone by the rule of XML 1.0, 2.7: what stands between the marks is text.
    const title = /<title>(.*)<\/title>/s.exec(svg)![1];
    const text = title.replace(/<!\[CDATA\[(.*?)\]\]>/gs, (_, inner: string) => inner);
    expect(text).toBe('a]]>b & c]]>d <e> \ufffd\ufffd: A1');
    expect(() => new Resvg(svg)).not.toThrow();
  });

  it('stores a group once and places it, nested groups too', () => {
    const groups: Drawing['groups'] = {
      pair: [
        {
          kind: 'place',
          group: 'box',
          at: [
            [1, 0, 0, 1, 0, 0],
            [1, 0, 0, 1, 100, 0],
          ],
        },
      ],
      box: [{ kind: 'path', contours: [BOX], fill: '#0072b2' }],
      unused: [{ kind: 'path', contours: [BOX], fill: '#cc79a7' }],
    };
    const svg = toSvg(
      drawingOf(
        [
          {
            kind: 'place',
            group: 'pair',
            at: [
              [1, 0, 0, 1, 5, 100],
              [0, 1, -1, 0, 200, 0],
            ],
          },
        ],
        groups,
      ),
      0,
    );
    expect(svg.match(/<path/g)).toHaveLength(1);
    expect(svg).not.toContain('#cc79a7');
    expect(colourAt(svg, 25, 130)).toBe('#0072b2');
    expect(colourAt(svg, 125, 130)).toBe('#0072b2');
    // A quarter turn: (20, 30) goes to (200 - 30, 20), and (120, 30) to (170, 120).
    expect(colourAt(svg, 170, 20)).toBe('#0072b2');
    expect(colourAt(svg, 170, 120)).toBe('#0072b2');
    expect(colourAt(svg, 75, 130)).toBe('#ffffff');
  });

  it('clips, by either rule', () => {
    const inner = boxContour({ x0: 15, y0: 25, x1: 25, y1: 35 });
    const all: Item = { kind: 'path', contours: [boxContour({ x0: 0, y0: 0, x1: 200, y1: 200 })], fill: '#009e73' };
    const svg = toSvg(drawingOf([{ kind: 'clip', contours: [BOX, inner], rule: 'evenodd', items: [all] }]), 0);
    expect(colourAt(svg, 12, 30)).toBe('#009e73');
    expect(colourAt(svg, 20, 30)).toBe('#ffffff');
    expect(colourAt(svg, 50, 50)).toBe('#ffffff');
    const nothing = toSvg(drawingOf([{ kind: 'clip', contours: [], items: [all] }]), 0);
    expect(colourAt(nothing, 20, 30)).toBe('#ffffff');
  });

  it('draws lines with dashes, caps and joins', () => {
    const item: Item = {
      kind: 'path',
      contours: [
        polyline(
          [
            { x: 0, y: 10 },
            { x: 100, y: 10 },
          ],
          { closed: false },
        ),
      ],
      line: { colour: '#d55e00', widthMm: 2, dashMm: [10, 5], cap: 'square', join: 'bevel' },
    };
    const svg = toSvg(drawingOf([item]), 0);
    expect(svg).toContain('stroke-dasharray="10 5" stroke-linecap="square" stroke-linejoin="bevel"');
    // A square cap of 1 mm lengthens the dash from 10 to 11 mm.
    expect(colourAt(svg, 10.5, 10)).toBe('#d55e00');
    expect(colourAt(svg, 12.5, 10)).toBe('#ffffff');
  });

  it('draws text as outlines and keeps the words', () => {
    const svg = toSvg(
      drawingOf([{ kind: 'text', text: 'H<I', x: 50, y: 100, sizeMm: 40, colour: '#000000', bold: true }]),
      0,
    );
    expect(svg).toContain('aria-label="H&lt;I"');
    expect(svg).not.toContain('<text');
    // The left stem of a bold H of 40 mm.
    expect(colourAt(svg, 56, 85)).toBe('#000000');
    expect(colourAt(svg, 56, 103)).toBe('#ffffff');
  });

  it.each<[string, Drawing, RegExp]>([
    [
      'a place that is not a number',
      drawingOf([{ kind: 'path', contours: [boxContour({ x0: Number.NaN, y0: 0, x1: 1, y1: 1 })], fill: '#000000' }]),
      /NaN/,
    ],
    [
      'an endless width',
      drawingOf([{ kind: 'path', contours: [BOX], line: { colour: '#000000', widthMm: Infinity } }]),
      /Infinity/,
    ],
    ['a colour by name', drawingOf([{ kind: 'path', contours: [BOX], fill: 'red' }]), /"red"/],
    [
      'a group that is not there',
      drawingOf([{ kind: 'place', group: 'toString', at: [[1, 0, 0, 1, 0, 0]] }]),
      /"toString"/,
    ],
    [
      'a group within itself',
      drawingOf([{ kind: 'place', group: 'a', at: [[1, 0, 0, 1, 0, 0]] }], {
        a: [{ kind: 'place', group: 'a', at: [[1, 0, 0, 1, 0, 0]] }],
      }),
      /holds itself/,
    ],
  ])('refuses %s', (_, drawing, message) => {
    expect(() => toSvg(drawing, 0)).toThrow(InputError);
    expect(() => toSvg(drawing, 0)).toThrow(message);
  });
});
