import { InputError } from '@okuri/core';
import { describe, expect, it } from 'vitest';
import { readSvg, readSvgTree } from './index.js';
import { drawing } from './testing.test-help.js';

function refusal(source: string | Uint8Array): string {
  try {
    readSvg(source);
  } catch (error) {
    if (error instanceof InputError) return error.message;
    throw error;
  }
  throw new Error('was read');
}

const SHAPE = '<rect width="9" height="9"/>';
const nested = (n: number) => drawing(`${'<g>'.repeat(n)}${SHAPE}${'</g>'.repeat(n)}`);
const useBomb = (n: number) =>
  drawing(
    `<defs><g id="a0">${SHAPE}</g>${Array.from({ length: n }, (_, k) => `<g id="a${k + 1}">${`<use href="#a${k}"/>`.repeat(10)}</g>`).join('')}</defs><use href="#a${n}"/>`,
  );
const laughs =
  '<!DOCTYPE svg [<!ENTITY a "ha"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;"><!ENTITY c "&b;&b;&b;&b;&b;&b;">]>' +
  drawing('<text>&c;</text>');
const longEntity = `<!DOCTYPE svg [<!ENTITY a "${'x'.repeat(4000)}">]>${drawing(`<text>${'&a;'.repeat(300)}</text>`)}`;

describe('input that is refused', () => {
  it.each<[string, string | Uint8Array, RegExp]>([
    ['nothing', '', /empty/],
    ['blanks', ' \n ', /empty/],
    ['plain text', 'hello', /not well formed at line 1/],
    ['a page', '<html xmlns="http://www.w3.org/1999/xhtml"/>', /<html>|outermost/],
    ['a PNG', Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 13, 10), /PNG/],
    ['a PDF', new TextEncoder().encode('%PDF-1.7'), /PDF/],
    ['compressed', Uint8Array.of(0x1f, 0x8b, 8), /SVGZ/],
    ['not UTF-8', Uint8Array.of(0x3c, 0x73, 0xff, 0xff), /UTF-8/],
    ['UTF-32', Uint8Array.of(0xff, 0xfe, 0, 0, 0x3c, 0, 0, 0), /utf-32/],
    ['an unknown encoding', new TextEncoder().encode('<?xml version="1.0" encoding="klingon"?><svg/>'), /klingon/],
    ['an unclosed element', `<svg xmlns="http://www.w3.org/2000/svg">\n<g>\n</svg>`, /line 3/],
    ['a cut file', drawing(SHAPE).slice(0, -9), /not well formed/],
    ['a doubled attribute', drawing('<rect x="1" x="2"/>'), /line 1, column \d+/],
    ['an unquoted attribute', drawing('<rect x=1/>'), /line 1/],
    ['a lone ampersand', drawing('\n<title>a & b</title><rect/>'), /line 2, column 10.*&amp;/],
    ['an undeclared entity', drawing('<title>&nbsp;</title>'), /undefined entity/],
    ['two roots', drawing(SHAPE) + drawing(SHAPE), /not well formed/],
    ['an unknown prefix', drawing('<q:path/>'), /unbound|not well formed/],
    ['nested entities', laughs, /nested entities/],
    ['a swelling entity', longEntity, /entities add/],
    [
      'many entities',
      `<!DOCTYPE svg [${Array.from({ length: 300 }, (_, k) => `<!ENTITY e${k} "x">`).join('')}]>${drawing(SHAPE)}`,
      /more than 200 entities/,
    ],
    ['deep nesting', nested(300), /more than 256/],
    ['very deep nesting', nested(100_000), /more than 256/],
    [
      'many attributes',
      drawing(`<rect ${Array.from({ length: 2000 }, (_, k) => `a${k}=""`).join(' ')}/>`),
      /more than 1000 attributes/,
    ],
    ['many elements', drawing('<g/>'.repeat(600_000)), /more than 500000 elements/],
    ['a use loop', drawing('<g id="a"><use href="#b"/></g><g id="b"><use href="#a"/></g>'), /loop/],
    ['a use of itself', drawing('<use id="a" href="#a"/>'), /loop/],
    [
      'a clip loop',
      drawing(`<clipPath id="c" clip-path="url(#c)">${SHAPE}</clipPath><g clip-path="url(#c)">${SHAPE}</g>`),
      /loop/,
    ],
    ['a use bomb', useBomb(9), /more than 100000 copies/],
    [
      'NaN in a path',
      drawing('<path id="leaf" d="M0 0L9 9 NaN 4"/>'),
      /path data of <path id="leaf">.*no finite number/,
    ],
    ['an infinite path', drawing('<path d="M0 0L1e999 4"/>'), /no finite number/],
    ['NaN in a rectangle', drawing('<rect width="NaN" height="9"/>'), /width of rect\[1\]/],
    ['infinite points', drawing('<polygon points="0,0 9,9 Infinity,4"/>'), /points of polygon\[1\]/],
    [
      'a NaN transform',
      drawing(`<g transform="translate(NaN)">${SHAPE}</g>`),
      /transform "translate\(NaN\)" of g\[1\]/,
    ],
    ['an absurdly far shape', drawing('<path d="M0 0h9v9e20z"/>'), /absurdly far/],
    ['a far away shape', drawing('<path d="M0 0h9v9e6z"/>'), /kilometre/],
    [
      'overflow by transforms',
      drawing(`<g transform="scale(1e200)"><g transform="scale(1e200)">${SHAPE}</g></g>`),
      /infinity/,
    ],
    ['endless comments', drawing('<!--'.repeat(500_000)), /not well formed/],
    [
      'an ampersand after a comment',
      drawing('<!-- a & b --><![CDATA[ & ]]>\n<title>&amp; & </title>'),
      /line 2, column 14/,
    ],
    [
      'a chain of clips',
      drawing(
        `${Array.from({ length: 3000 }, (_, k) => `<clipPath id="c${k}" clip-path="url(#c${k + 1})">${SHAPE}</clipPath>`).join('')}<g clip-path="url(#c0)">${SHAPE}</g>`,
      ),
      /ore than 600/,
    ],
    ['endlessly nested styles', drawing(`<style>${'@media all{'.repeat(50_000)}</style>${SHAPE}`), /styles/],
    ['no artwork', drawing(''), /nothing to cut/],
    ['only an image', drawing('<image width="9" height="9"/>'), /nothing to cut.*raster image/],
    ['only text', drawing('<text font-family="Nowhere">a</text>'), /nothing to cut.*"Nowhere"/],
    ['zero width', drawing(SHAPE, 'width="0" height="80mm"'), /width "0"/],
    ['negative height', drawing(SHAPE, 'width="10mm" height="-80mm"'), /height "-80mm"/],
    ['a width that is no length', drawing(SHAPE, 'width="wide" height="9"'), /width "wide"/],
    ['an empty view box', drawing(SHAPE, 'viewBox="0 0 0 10"'), /viewBox/],
    ['a broken view box', drawing(SHAPE, 'viewBox="0 0 NaN 10"'), /viewBox/],
    ['a tiny unit', drawing(SHAPE, 'width="2mm" height="20mm"'), /2 × 20 mm.*5 mm to 3000 mm/],
    ['a huge unit', drawing(SHAPE, 'width="20m" height="20mm"'), /width "20m"/],
    ['an absurd unit', drawing(SHAPE, 'width="9000cm" height="20mm"'), /90000 × 20 mm/],
    ['a turned repeat', drawing(`${SHAPE}<rect id="repeat" width="50" height="40" transform="rotate(5)"/>`), /upright/],
    [
      'two repeats',
      drawing(`${SHAPE}<rect id="repeat" width="50" height="40"/><rect data-name="Repeat" width="50" height="40"/>`),
      /Two elements/,
    ],
    ['a flat repeat', drawing(`${SHAPE}<path id="repeat" d="M0 0h9"/>`), /no area/],
  ])('%s', (_name, source, said) => {
    const start = performance.now();
    const message = refusal(source);
    expect(performance.now() - start).toBeLessThan(10_000);
    expect(message).toMatch(said);
    // One sentence for a person: no stack, no newline.
    expect(message).not.toMatch(/\n|undefined\b(?! entity)|\[object/);
    expect(message.endsWith('.')).toBe(true);
  });

  it('keeps names that objects have of their own', () => {
    const tree = readSvgTree(drawing('<g __proto__="x" constructor="y" id="toString"/><use href="#constructor"/>'));
    expect(Object.entries(tree.children[0].attributes)).toContainEqual(['__proto__', 'x']);
  });

  it.each([
    'rect{fill:',
    '@media{',
    '}}}}',
    '<!-- -->',
    'a{b:c;;d}',
    ':not('.repeat(50_000),
    '.a:hover{fill:red}',
    '.a::before{}',
    '\\',
  ])('reads on after the broken style sheet %.20s', (sheet) => {
    const source = drawing(`<style><![CDATA[${sheet}]]></style>${SHAPE}`);
    expect(readSvg(source).shapes).toHaveLength(1);
  });

  it('reads or refuses a path of 50 MB in time', () => {
    const line = 'l1 2-3 4.5 ';
    // Lines, moves and one long run of relative lines.
    for (const data of [line.repeat(50e6 / line.length), 'M0 0'.repeat(12_500_000), `l${'1 '.repeat(25_000_000)}`]) {
      const start = performance.now();
      const message = refusal(drawing(`<path d="M0 0${data}"/>`));
      expect(message).toMatch(/is 50 MB long, and at most 16 MB are read/);
      expect(performance.now() - start).toBeLessThan(10_000);
    }
  });

  it('refuses more curves than can be cut', () => {
    expect(refusal(drawing(`<path d="${'M0 0l1 2'.repeat(1_900_000)}"/>`))).toMatch(/more than 2000000 curves/);
  });

  it('refuses 50 MB of points in time', () => {
    for (const times of [6e6, 3e6]) {
      const start = performance.now();
      expect(refusal(drawing(`<polygon points="${'1,2 3,4 '.repeat(times)}"/>`))).toMatch(
        /is (48|24) MB long, and at most 16 MB are read/,
      );
      expect(performance.now() - start).toBeLessThan(10_000);
    }
  });

  it('bounds the work of selectors', () => {
    const sheet = Array.from({ length: 2000 }, (_, k) => `* * * * .x${k % 5} *{fill:red}`).join('');
    const source = drawing(
      `<style>${sheet}</style>${'<g class="x1">'.repeat(100)}${SHAPE.repeat(2000)}${'</g>'.repeat(100)}`,
    );
    const start = performance.now();
    expect(refusal(source)).toMatch(/style sheets/);
    expect(performance.now() - start).toBeLessThan(10_000);
  });
});
