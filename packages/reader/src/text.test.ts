import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { contoursBox } from '@okuri/core';
import { Resvg } from '@resvg/resvg-js';
import opentype from 'opentype.js';
import { describe, expect, it } from 'vitest';
import { FontBook, splitFamilies } from './fonts.js';
import { readSvg } from './index.js';
import { areaOf, codes, drawing } from './testing.test-help.js';

const files = createRequire(import.meta.url);
const SERIF = files.resolve('dejavu-fonts-ttf/ttf/DejaVuSerif.ttf');
const fonts = [{ data: new Uint8Array(readFileSync(SERIF)) }];
const font = opentype.parse(Uint8Array.from(fonts[0].data).buffer);

function setText(body: string) {
  const svg = drawing(`<g font-family="'DejaVu Serif', serif" font-size="10">${body}</g>`);
  const motif = readSvg(svg, { fonts });
  const box = contoursBox(motif.shapes.flatMap((shape) => shape.contours));
  const area = motif.shapes.reduce((sum, shape) => sum + Math.abs(areaOf(shape)), 0);
  return { svg, motif, box, area };
}

/** Box of the ink (mm) and its area (mm²), as resvg draws it at 10 px a mm with the same font. */
function drawn(svg: string) {
  // Each access to the pixels copies them all: they are taken once.
  const { pixels, width } = new Resvg(svg, {
    fitTo: { mode: 'width', value: 1000 },
    background: '#fff',
    font: { fontFiles: [SERIF], loadSystemFonts: false },
  }).render();
  const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
  let ink = 0;
  for (let k = 0; k < pixels.length; k += 4) {
    const dark = (255 - pixels[k]) / 255;
    ink += dark;
    if (dark < 0.5) continue;
    const x = ((k / 4) % width) / 10;
    const y = Math.floor(k / 4 / width) / 10;
    box.x0 = Math.min(box.x0, x);
    box.y0 = Math.min(box.y0, y);
    box.x1 = Math.max(box.x1, x + 0.1);
    box.y1 = Math.max(box.y1, y + 0.1);
  }
  return { box, area: ink / 100 };
}

describe('texts', () => {
  // resvg is an independent renderer with a text engine of its own.
  it.each([
    ['a line', '<text x="10" y="20">Indigo 36</text>'],
    ['the middle', '<text x="50" y="20" text-anchor="middle">Leaf</text>'],
    ['the end', '<text x="90" y="20" text-anchor="end">Leaf</text>'],
    ['kerning', '<text x="10" y="20" font-size="20">AVATo</text>'],
    ['letter spacing', '<text x="10" y="20" letter-spacing="2">Leaf</text>'],
    ['lists', '<text x="10 25 30" y="20 30" dx="0 1">Leaf</text>'],
    [
      'tspans',
      '<text x="10" y="20">A <tspan font-size="20" fill="#000">big</tspan> <tspan x="10" dy="15">leaf</tspan></text>',
    ],
    ['a transform', '<text transform="translate(20 20) rotate(30)">Leaf</text>'],
    ['blanks', '<text x="10" y="20">\n   Le   af \n </text>'],
    ['kept blanks', '<text x="10" y="20" xml:space="preserve">L   e</text>'],
    ['turned letters', '<text x="10" y="20" rotate="30">Leaf</text>'],
  ])('%s', (_name, body) => {
    const { svg, box, area } = setText(body);
    const want = drawn(svg);
    // A pixel is 0.1 mm; glyph outlines of one letter may overlap, whose areas then add.
    for (const side of ['x0', 'y0', 'x1', 'y1'] as const)
      expect(Math.abs((box?.[side] ?? 0) - want.box[side])).toBeLessThan(0.15);
    expect(Math.abs(area / want.area - 1)).toBeLessThan(0.02);
  });

  it('takes advances and outlines from the font', () => {
    const { box } = setText('<text x="0" y="50" font-size="40">I</text>');
    const glyph = font.charToGlyph('I').getBoundingBox();
    const unit = 40 / font.unitsPerEm;
    expect(box?.x0).toBeCloseTo(glyph.x1 * unit, 4);
    expect(box?.y0).toBeCloseTo(50 - glyph.y2 * unit, 4);
  });

  it('gives a shape for each style, strokes too', () => {
    const { motif } = setText(
      '<text y="20" stroke="red" stroke-width="1"><tspan id="a">A</tspan><tspan id="b" fill="none">B</tspan></text>',
    );
    expect(motif.shapes.map((shape) => [shape.id, shape.ink])).toEqual([
      ['a', '#000000'],
      ['a', '#ff0000'],
      ['b', '#ff0000'],
    ]);
  });

  it('says what it can not set', () => {
    const rest = '<rect width="9" height="9"/>';
    const of = (text: string) => codes(setText(text + rest).motif);
    expect(of('<text font-family="Nowhere Sans">a</text>')).toEqual(['text-needs-font']);
    expect(of('<text>\u{1f33f}</text>')).toEqual(['character-missing']);
    expect(of('<text><textPath href="#p">a</textPath></text>')).toEqual(['text-on-path-left-out']);
    expect(of('<text font-weight="bold" y="20">a</text>')).toEqual(['font-style-missing']);
    expect(of('<text textLength="50" y="20">a</text>')).toEqual(['text-setting-left-out']);
    const { motif } = setText(`<text font-family="Nowhere Sans">a</text>${rest}`);
    expect(motif.notices[0].message).toContain('"Nowhere Sans"');
  });

  it('goes by the family that the caller names', () => {
    const book = new FontBook([{ family: 'House', data: fonts[0].data }]);
    expect(book.find('"house"', 'normal', 'normal')?.exact).toBe(true);
    expect(book.find('DejaVu Serif', 'normal', 'normal')).toBeNull();
    expect(splitFamilies(`"A, B", 'C' , D E`)).toEqual(['A, B', 'C', 'D E']);
  });

  it('refuses what is no font', () => {
    expect(() => new FontBook([{ data: Uint8Array.of(1, 2, 3) }])).toThrow(/can't be read as a TrueType/);
    expect(() => new FontBook([{ data: fonts[0].data.subarray(0, 5000) }])).toThrow(/can't be read as a TrueType/);
  });
});
