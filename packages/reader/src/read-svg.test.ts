import { contoursBox } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { readSvg } from './index.js';
import { areaOf, codes, corners, drawing, read } from './testing.test-help.js';

describe('size and frame', () => {
  it('takes the page, in mm', () => {
    const motif = read('<rect x="10" y="10" width="20" height="10"/>');
    expect(motif.frame).toEqual({ widthMm: 100, heightMm: 80, from: 'page', assumedPpi: null });
    expect(areaOf(motif.shapes[0])).toBeCloseTo(200, 9);
    expect(corners(motif.shapes[0].contours[0])[0]).toEqual([10, 10]);
    expect(motif.notices).toEqual([]);
  });

  it.each([
    ['width="10cm" height="80mm" viewBox="0 0 50 40"', 100, 80],
    ['width="4in" viewBox="0 0 8 6"', 101.6, 76.2],
    ['height="144pt" viewBox="0 0 10 10"', 50.8, 50.8],
    ['width="400Q" height="12pc"', 100, 50.8],
    ['style="width:50mm;height:40mm"', 50, 40],
  ])('%s', (attributes, w, h) => {
    const { frame } = readSvg(drawing('<rect width="5" height="5"/>', attributes));
    expect(frame.widthMm).toBeCloseTo(w, 9);
    expect(frame.heightMm).toBeCloseTo(h, 9);
    expect(frame.assumedPpi).toBeNull();
  });

  it.each([
    ['width="960" height="480px"', 254, 127],
    ['viewBox="5 5 96 192"', 25.4, 50.8],
    ['width="100%" height="100%" viewBox="0 0 96 96"', 25.4, 25.4],
  ])('reads %s at 96 px an inch and names the size at 72', (attributes, w, h) => {
    const motif = readSvg(drawing('<rect x="5" y="5" width="5" height="5"/>', attributes));
    expect(motif.frame).toEqual({
      widthMm: expect.closeTo(w, 9),
      heightMm: expect.closeTo(h, 9),
      from: 'page',
      assumedPpi: 96,
    });
    const notice = motif.notices.find((one) => one.code === 'size-assumed');
    expect(notice?.message).toContain(`${Number((w * (4 / 3)).toPrecision(4))}`);
  });

  it("takes the artwork's box without a size, strokes included", () => {
    const motif = readSvg(drawing('<path d="M100 50h96" stroke="red" stroke-width="48"/>', ''));
    expect(motif.frame.from).toBe('artwork');
    expect(motif.frame.heightMm).toBeCloseTo(12.7, 9);
    expect(contoursBox(motif.shapes[0].contours)?.y0).toBeCloseTo(6.35, 9);
  });

  it('scales evenly to a width', () => {
    const motif = readSvg(drawing('<path d="M0 0h24v24H0z" stroke="red"/>', 'viewBox="0 0 24 24"'), { widthMm: 240 });
    expect(motif.frame).toEqual({ widthMm: 240, heightMm: 240, from: 'page', assumedPpi: null });
    expect(areaOf(motif.shapes[0])).toBeCloseTo(57600, 6);
    const { stroke } = motif.shapes[1];
    expect((stroke?.width ?? 0) * (stroke?.pen[0] ?? 0)).toBeCloseTo(10, 9);
  });

  it.each([
    '<rect id="repeat" x="20" y="10" width="50" height="40" fill="red"/>',
    '<rect id="Repeat" x="20" y="10" width="50" height="40" visibility="hidden"/>',
    '<path data-name="REPEAT" d="M20 10h50v40h-50z" fill="none"/>',
    '<g aria-label="repeat"><rect x="20" y="10" width="50" height="40"/></g>',
    '<g display="none"><rect xmlns:i="http://www.inkscape.org/namespaces/inkscape" i:label="repeat" x="20" y="10" width="50" height="40"/></g>',
    '<g transform="rotate(90)"><rect id="repeat" x="10" y="-70" width="40" height="50"/></g>',
  ])('takes the shape named repeat: %s', (box) => {
    const motif = read(`<circle cx="40" cy="30" r="5"/>${box}`);
    expect(motif.frame).toMatchObject({ from: 'shape', assumedPpi: null });
    expect(motif.frame.widthMm).toBeCloseTo(50, 6);
    expect(motif.frame.heightMm).toBeCloseTo(40, 6);
    expect(motif.shapes).toHaveLength(1);
    expect(contoursBox(motif.shapes[0].contours)?.x0).toBeCloseTo(15, 6);
  });

  it('takes a layer named repeat for what it is', () => {
    const motif = read('<g id="repeat"><circle cx="40" cy="30" r="5"/><circle cx="10" cy="30" r="5"/></g>');
    expect(motif.frame.from).toBe('page');
    expect(motif.shapes).toHaveLength(2);
    expect(codes(motif)).toContain('repeat-is-no-shape');
  });

  it('takes an unfilled rectangle around the artwork, even where some pokes out', () => {
    const leaves = '<circle cx="40" cy="30" r="8"/><circle cx="20" cy="30" r="5"/><circle cx="50" cy="35" r="9"/>';
    for (const stroke of ['stroke="black" stroke-width=".1"', '']) {
      const motif = read(`${leaves}<rect x="20" y="10" width="50" height="40" fill="none" ${stroke}/>`);
      expect(motif.frame).toMatchObject({ from: 'rectangle', widthMm: expect.closeTo(50, 9) });
      expect(motif.shapes).toHaveLength(3);
      expect(codes(motif)).toEqual(['frame-from-rectangle']);
    }
  });

  it('does not take a rectangle beside the artwork, a filled one, or the only shape', () => {
    for (const body of [
      '<circle cx="40" cy="30" r="8"/><rect x="60" y="10" width="20" height="20" fill="none" stroke="red"/>',
      '<circle cx="40" cy="30" r="8"/><rect x="20" y="10" width="50" height="40"/>',
      '<rect x="20" y="10" width="50" height="40" fill="none" stroke="red"/>',
    ]) {
      expect(read(body).frame.from).toBe('page');
    }
  });
});

describe('paint', () => {
  it('gives fill and stroke as two shapes in paint order', () => {
    const body = (order: string) =>
      `<path id="leaf" d="M10 10h20v10z" fill="#F00" stroke="navy" stroke-width="2" ${order}/>`;
    const plain = read(body(''));
    expect(plain.shapes.map((shape) => [shape.id, shape.ink, shape.stroke?.width])).toEqual([
      ['leaf', '#ff0000', undefined],
      ['leaf', '#000080', 2],
    ]);
    expect(read(body('paint-order="stroke"')).shapes.map((shape) => shape.ink)).toEqual(['#000080', '#ff0000']);
  });

  it('keeps strokes symbolic under slanting transforms', () => {
    const { shapes } = read(
      '<path transform="matrix(2 0 1 3 5 5)" d="M0 0h5" fill="none" stroke="red" stroke-width="2" stroke-dasharray="1 2 3" stroke-linecap="round" stroke-linejoin="bevel"/>',
    );
    expect(shapes[0].stroke).toMatchObject({ width: 2, cap: 'round', join: 'bevel', dash: [1, 2, 3, 1, 2, 3] });
    for (const [k, value] of [2, 0, 1, 3].entries()) expect(shapes[0].stroke?.pen[k]).toBeCloseTo(value, 9);
  });

  it('keeps the width of non-scaling strokes', () => {
    const { shapes } = read(
      '<path transform="scale(7)" vector-effect="non-scaling-stroke" d="M0 0h5" stroke="red" stroke-width="9"/>',
    );
    // 9 CSS pixels.
    expect((shapes[0].stroke?.pen[0] ?? 0) * 9).toBeCloseTo((9 * 25.4) / 96, 9);
  });

  it('has no shape for what is not inked', () => {
    const nothing =
      '<path d="M0 0h9v9z" fill="none"/><path d="M0 0h9v9z" fill-opacity="0"/><path d="M0 0h9v9z" opacity="0"/>' +
      '<path d="M0 0h9v9z" fill="transparent"/><path d="M0 0h9" stroke="red" stroke-width="0"/><path d="M0 0h9"/>' +
      '<g display="none"><path d="M0 0h9v9z"/></g><path d="M0 0h9v9z" visibility="collapse"/>';
    const motif = read(`${nothing}<circle cx="50" cy="50" r="5"/>`);
    expect(motif.shapes.map((shape) => shape.id)).toEqual(['circle[1]']);
    expect(codes(motif).every((code) => code === 'hidden-left-out')).toBe(true);
  });

  it('reads styles in the order of the cascade', () => {
    const sheet =
      '<style><![CDATA[.a{fill:#111111} #z{fill:#222222} .b{fill:#333333 !important} g>path{fill:#444444}' +
      '@media screen{.c{fill:#555555}} @media print{.c{fill:#666666}} :root{--ink:#777777} .v{fill:var(--ink)} path:not(.a):nth-child(3){fill:#888888}]]></style>';
    const p = (attributes: string) => `<path d="M10 10h9v9z" ${attributes}/>`;
    const motif = read(
      `${sheet}${p('fill="red" class="a"')}${p('id="z" class="a"')}${p('class="a b" style="fill:red"')}${p('class="c"')}` +
        `${p('class="v"')}${p('class="a" style="fill:#123456"')}<g fill="#999999">${p('class="q"')}${p('style="fill:inherit"')}${p('')}</g>`,
    );
    expect(motif.shapes.map((shape) => shape.ink)).toEqual([
      '#111111',
      '#222222',
      '#333333',
      '#555555',
      '#777777',
      '#123456',
      '#444444',
      '#999999',
      '#888888',
    ]);
    expect(codes(motif)).toEqual(['css-media-left-out']);
  });

  it('reads gradients by their first stop, patterns as their fallback, with a notice each', () => {
    const motif = read(
      '<linearGradient id="a" href="#b"/><radialGradient id="b"><stop stop-color="#E69F00"/><stop stop-color="red"/></radialGradient>' +
        '<pattern id="p"/><path d="M0 0h9v9z" fill="url(#a)"/><path d="M0 0h9v9z" fill="url(#p) #0072B2"/>' +
        '<path d="M0 0h9v9z" fill="url(#gone) blue"/><path d="M0 0h9v9z" style="fill:url(&quot;#gone&quot;)"/>',
    );
    expect(motif.shapes.map((shape) => shape.ink)).toEqual(['#e69f00', '#0072b2', '#0000ff']);
    expect(codes(motif)).toEqual(['gradient-read-flat', 'pattern-read-flat', 'paint-missing', 'paint-missing']);
    expect(motif.notices.every((notice) => notice.severity === 'look')).toBe(true);
  });

  it('keeps dots and drops what encloses nothing', () => {
    const motif = read(
      '<path d="M20 20z" stroke="red" stroke-width="3" stroke-linecap="round"/><path d="M20 20z" stroke="red" stroke-width="3"/>' +
        '<path d="M30 30l0 0" stroke="red" stroke-width="3" stroke-linecap="square"/><path d="M0 0h10z"/>',
    );
    expect(motif.shapes).toHaveLength(2);
    expect(motif.shapes.every((shape) => shape.contours.length === 1 && shape.contours[0].coords.length === 8)).toBe(
      true,
    );
  });
});

describe('knife lines', () => {
  const leaf = '<path id="leaf" d="M10 10h20v10h-20z" fill="none" stroke="#D55E00" stroke-width=".3"/>';
  it('reads the area inside', () => {
    const motif = read(`${leaf}<circle cx="80" cy="70" r="3"/>`);
    expect(motif.shapes[0]).toMatchObject({ id: 'leaf', ink: '#d55e00', rule: 'nonzero' });
    expect(motif.shapes[0].stroke).toBeUndefined();
    expect(areaOf(motif.shapes[0])).toBeCloseTo(200, 9);
    expect(codes(motif)).toEqual(['knife-line']);
    expect(motif.notices[0].message).toContain('0.3 mm');
  });

  it('reads the line where asked, and wider, dashed, filled or open lines always', () => {
    expect(read(leaf, { hairlines: 'line' }).shapes[0].stroke?.width).toBe(0.3);
    const line = (more: string, d = 'M10 10h20v10h-20z') =>
      read(`<path d="${d}" fill="none" stroke="red" stroke-width=".3" ${more}/><circle r="9"/>`).shapes[0];
    expect(line('').stroke).toBeUndefined();
    expect(line('style="stroke-width:.5"').stroke).toBeDefined();
    expect(line('stroke-dasharray="2 1"').stroke).toBeDefined();
    expect(line('', 'M10 10h20v10').stroke).toBeDefined();
    expect(line('', 'M10 10h20v10L10.01 10').stroke).toBeUndefined();
  });

  it('judges the width on paper', () => {
    const icon = '<path d="M3 3h9v9z" fill="none" stroke="red" stroke-width="1"/>';
    expect(readSvg(drawing(icon, 'viewBox="0 0 24 24"'), { widthMm: 10 }).shapes[0].stroke).toBeUndefined();
    expect(readSvg(drawing(icon, 'viewBox="0 0 24 24"'), { widthMm: 100 }).shapes[0].stroke).toBeDefined();
    expect(read(`<g transform="scale(4)">${icon.replace('"1"', '".2"')}</g>`).shapes[0].stroke).toBeDefined();
  });

  it('keeps holes of one path, and its open lines', () => {
    const motif = read(
      '<path d="M10 10h20v20h-20z M15 15h10v10h-10z M50 50h9" fill="none" stroke="red" stroke-width=".2"/>',
    );
    expect(motif.shapes.map((shape) => [shape.rule, shape.contours.length, shape.stroke?.width])).toEqual([
      ['evenodd', 2, undefined],
      ['nonzero', 1, 0.2],
    ]);
  });
});

describe('structure', () => {
  it('reads any prefix, entities and other namespaces', () => {
    const motif = readSvg(
      '<?xml version="1.0"?><!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" "x" [<!ENTITY ns_svg "http://www.w3.org/2000/svg"><!ENTITY st "fill:#0072b2;">]>' +
        '<s:svg xmlns:s="&ns_svg;" xmlns:l="http://www.w3.org/1999/xlink" xmlns:x="urn:other" width="50mm" height="50mm">' +
        '<s:defs><s:path id="p" d="M0 0h50v50z"/></s:defs><x:thing><s:circle r="9"/></x:thing><s:use l:href="#p" style="&st;"/></s:svg>',
    );
    expect(motif.shapes.map((shape) => [shape.id, shape.ink])).toEqual([['p', '#0072b2']]);
  });

  it.each([
    ['utf-16le', [0xff, 0xfe]],
    ['utf-16be', [0xfe, 0xff]],
    ['utf-8', [0xef, 0xbb, 0xbf]],
  ])('reads %s with its mark', (label, mark) => {
    const text = drawing('<path id="ø" d="M0 0h9v9z"/>');
    const plain = Buffer.from(text, label === 'utf-8' ? 'utf8' : 'utf16le');
    const bytes = label === 'utf-16be' ? Buffer.from(plain).swap16() : plain;
    expect(readSvg(Uint8Array.from([...mark, ...bytes])).shapes[0].id).toBe('ø');
    expect(readSvg(`\ufeff${text}`).shapes[0].id).toBe('ø');
  });

  it('takes the first readable child of a switch', () => {
    const motif = read(
      '<switch><foreignObject requiredExtensions="x"/><g systemLanguage="ja"><rect width="9" height="9"/></g><g><circle cx="9" cy="9" r="4"/></g></switch>',
    );
    expect(motif.shapes.map((shape) => shape.id)).toEqual(['circle[1]']);
  });

  it('names all that is left out', () => {
    const motif = read(
      '<image id="scan" x="10" y="20" width="30" height="10" href="x.png"/><foreignObject/><path d="M0 0h9v9z" filter="url(#f)" mask="url(#m)" opacity=".5" style="mix-blend-mode:multiply"/>' +
        '<path d="M0 0h9v9z" marker-end="url(#k)" fill="rgba(0,0,0,.5)"/><text y="9">a</text><flowRoot/><use href="#gone"/><script/><path d="M0 0h9v9 x"/>',
    );
    expect(codes(motif).sort()).toEqual(
      [
        'blend-read-as-full',
        'element-left-out',
        'filter-left-out',
        'foreign-object-left-out',
        'image-left-out',
        'markers-left-out',
        'mask-left-out',
        'opacity-read-as-full',
        'opacity-read-as-full',
        'path-cut-short',
        'script-left-out',
        'text-needs-font',
        'text-left-out',
        'use-left-out',
      ]
        .filter((code) => code !== 'element-left-out')
        .sort(),
    );
    const image = motif.notices.find((notice) => notice.code === 'image-left-out');
    expect(image?.element).toBe('<image id="scan">');
    expect(image?.boxMm?.x1).toBeCloseTo(40, 9);
  });

  it('counts notices beyond the cap', () => {
    const motif = read(`<rect width="9" height="9"/>${'<image width="1" height="1"/>'.repeat(250)}`);
    expect(motif.notices).toHaveLength(201);
    expect(motif.notices[200].message).toContain('50 more');
  });

  it('clips shapes, and drops clips that hide nothing', () => {
    const motif = read(
      '<clipPath id="page"><rect width="100" height="80"/></clipPath><clipPath id="far"><rect x="90" width="5" height="5"/></clipPath>' +
        '<clipPath id="half"><circle r="20"/></clipPath><g clip-path="url(#page)"><rect width="30" height="30" clip-path="url(#half)"/><rect width="9" height="9"/></g>' +
        '<rect width="9" height="9" clip-path="url(#far)"/><rect y="40" width="9" height="9" clip-path="url(#none)"/>',
    );
    expect(motif.shapes.map((shape) => shape.clips.length)).toEqual([1, 0, 0]);
    expect(codes(motif)).toEqual(['clip-left-out', 'clipped-away']);
  });
});
