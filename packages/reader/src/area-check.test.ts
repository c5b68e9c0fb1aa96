import type { Clip, Motif } from '@okuri/core';
import { Resvg } from '@resvg/resvg-js';
import { describe, expect, it } from 'vitest';
import { readSvg } from './index.js';

/** Pixels per mm of both pictures. */
const SCALE = 8;

/** The motif as plain SVG of absolute paths: strokes under their pens, clips as clip paths. */
function redraw(motif: Motif): string {
  const { widthMm: w, heightMm: h } = motif.frame;
  const d = (contours: Clip['contours']) =>
    contours
      .map(({ coords: q, closed }) => {
        let out = `M${q[0]} ${q[1]}`;
        for (let k = 2; k < q.length; k += 6) out += `C${Array.from(q.subarray(k, k + 6)).join(' ')}`;
        return closed ? `${out}Z` : out;
      })
      .join('');
  let defs = '';
  let body = '';
  let n = 0;
  for (const shape of motif.shapes) {
    let inner: string;
    if (shape.stroke === undefined) {
      inner = `<path d="${d(shape.contours)}" fill="${shape.ink}" fill-rule="${shape.rule}"/>`;
    } else {
      const { stroke } = shape;
      const [a, b, c, e] = stroke.pen;
      const det = a * e - b * c;
      const back = [e / det, -b / det, -c / det, a / det];
      const local = shape.contours.map((contour) => {
        const coords = contour.coords.slice();
        for (let k = 0; k < coords.length; k += 2) {
          const [x, y] = [contour.coords[k], contour.coords[k + 1]];
          coords[k] = back[0] * x + back[2] * y;
          coords[k + 1] = back[1] * x + back[3] * y;
        }
        return { closed: contour.closed, coords };
      });
      inner =
        `<path d="${d(local)}" fill="none" transform="matrix(${a} ${b} ${c} ${e} 0 0)" stroke="${shape.ink}" ` +
        `stroke-width="${stroke.width}" stroke-linecap="${stroke.cap}" stroke-linejoin="${stroke.join}" ` +
        `stroke-miterlimit="${stroke.miterLimit}" stroke-dashoffset="${stroke.dashOffset}" ` +
        `stroke-dasharray="${stroke.dash.length === 0 ? 'none' : stroke.dash.join(' ')}"/>`;
    }
    for (const clip of shape.clips) {
      n++;
      defs += `<clipPath id="c${n}"><path clip-rule="${clip.rule}" d="${d(clip.contours)}"/></clipPath>`;
      inner = `<g clip-path="url(#c${n})">${inner}</g>`;
    }
    body += inner;
  }
  return `<svg xmlns="http://www.w3.org/2000/svg" width="${w * SCALE}" height="${h * SCALE}" viewBox="0 0 ${w} ${h}"><defs>${defs}</defs>${body}</svg>`;
}

function pixels(svg: string, width: number): Picture {
  const image = new Resvg(svg, {
    fitTo: { mode: 'width', value: width },
    background: '#ffffff',
    font: { loadSystemFonts: false },
  }).render();
  return { data: image.pixels, width: image.width, height: image.height };
}

interface Picture {
  readonly data: Buffer;
  readonly width: number;
  readonly height: number;
}

function twoPictures(svg: string): { motif: Motif; width: number; want: Picture } {
  const motif = readSvg(svg, { hairlines: 'line' });
  const width = Math.round(motif.frame.widthMm * SCALE);
  return { motif, width, want: pixels(svg, width) };
}

/** Mean difference of two pictures, as a share of full contrast. */
function differenceOf(want: Picture, got: Picture): number {
  expect([got.width, got.height]).toEqual([want.width, want.height]);
  let sum = 0;
  for (let k = 0; k < want.data.length; k++) sum += Math.abs(want.data[k] - got.data[k]);
  return sum / (want.data.length * 0.75 * 255);
}

function inkOf(picture: Picture): number {
  let sum = 0;
  for (const value of picture.data) sum += 255 - value;
  return sum / (picture.data.length * 0.75 * 255);
}

const WRAP = (body: string, more = '') =>
  `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="100mm" height="80mm" viewBox="0 0 200 160" ${more}>${body}</svg>`;

// Each drawing is rendered twice by resvg, an independent renderer: as it is, and as the reader understood it.
const DRAWINGS: Record<string, string> = {
  'basic shapes': WRAP(
    '<rect x="10" y="10" width="40" height="30" rx="12" ry="6"/><circle cx="90" cy="30" r="20" fill="#0072b2"/>' +
      '<ellipse cx="150" cy="30" rx="35" ry="15" fill="#d55e00"/><polygon points="10,60 50,60 30,95" fill="#009e73"/>' +
      '<polyline points="60,60 100,95 110,60" fill="none" stroke="#cc79a7" stroke-width="4"/>' +
      '<line x1="120" y1="60" x2="180" y2="100" stroke="black" stroke-width="6" stroke-linecap="round"/>',
  ),
  'path commands': WRAP(
    '<path d="M10 10h40v30H10z m60 0 l30 0 0 30 -30 0z M120 10c20 0 20 30 40 30s0-20 20-20v20H120Z"/>' +
      '<path d="M10 80q20-30 40 0t40 0v20H10zM110 80a30 15 20 1 1 40 20 10 10 0 0110-10L150 130Z" fill="#e69f00"/>' +
      '<path d="M300,200 h-150 a150,150 0 1,0 150,-150 z" transform="translate(0 80) scale(.25)" fill="#56b4e9"/>',
  ),
  transforms: WRAP(
    '<g transform="translate(40 30) rotate(30)"><rect width="40" height="20" transform="skewX(20) scale(1.5 .8)"/>' +
      '<g transform="matrix(.5 .2 -.3 .8 60 10)"><circle r="30" stroke="#d55e00" stroke-width="10" fill="none"/></g></g>' +
      '<rect x="120" y="60" width="40" height="40" transform="rotate(45 140 80)" fill="#0072b2"/>' +
      '<path d="M20 120h100" stroke="#000" stroke-width="8" stroke-dasharray="12 5 3" transform="skewY(-10)"/>' +
      '<path d="M140 130h40l-20 20z" fill="none" stroke="#009e73" stroke-width="3" transform="translate(0 10)"/>',
  ),
  'use and symbol': WRAP(
    '<defs><g id="leaf"><path d="M0 0q20-20 40 0q-20 20-40 0"/></g>' +
      '<symbol id="s" viewBox="0 0 10 10" preserveAspectRatio="xMaxYMin slice"><circle cx="5" cy="5" r="6"/></symbol></defs>' +
      '<use href="#leaf" x="10" y="30"/><use xlink:href="#leaf" transform="translate(100 40) rotate(60)" fill="#d55e00"/>' +
      '<use href="#s" x="20" y="80" width="60" height="30" fill="#009e73"/><use href="#s" x="120" y="80" width="30" height="60"/>',
  ),
  'nested svg': WRAP(
    '<svg x="10" y="10" width="80" height="50" viewBox="0 0 10 10"><rect width="10" height="10"/><circle cx="10" cy="5" r="3" fill="#d55e00"/></svg>' +
      '<svg x="100" y="10" width="80" height="50" viewBox="0 0 10 10" preserveAspectRatio="none"><circle cx="5" cy="5" r="5"/></svg>' +
      '<svg x="10" y="80" width="50%" height="25%" overflow="visible"><circle cx="50%" cy="50%" r="30" fill="#0072b2"/></svg>',
  ),
  'style sheets': WRAP(
    '<style>/*a*/ .a{fill:#d55e00} rect.b{fill:#0072b2;stroke:black;stroke-width:2} #x{fill:#009e73} g > .c{fill:hsl(40,100%,45%)} @media print{.a{fill:red}} .d:first-child{fill:none}</style>' +
      '<rect class="a" width="30" height="30"/><rect class="a b" x="40" width="30" height="30"/><rect id="x" fill="red" x="80" width="30" height="30"/>' +
      '<g fill="#cc79a7" color="rgb(0 114 178)"><rect y="40" width="30" height="30"/><rect class="c" x="40" y="40" width="30" height="30"/><rect fill="currentColor" x="80" y="40" width="30" height="30"/></g>' +
      '<g><circle class="d" cx="20" cy="110" r="15"/><circle class="d" cx="60" cy="110" r="15"/></g>',
  ),
  clips: WRAP(
    '<defs><clipPath id="a"><circle cx="50" cy="40" r="30"/></clipPath>' +
      '<clipPath id="b" clipPathUnits="objectBoundingBox"><path d="M0 0h1v1z"/></clipPath>' +
      '<clipPath id="c" clip-path="url(#a2)"><rect x="20" y="90" width="60" height="60"/></clipPath><clipPath id="a2"><circle cx="50" cy="120" r="35"/></clipPath>' +
      '<clipPath id="d"><path clip-rule="evenodd" d="M110 90h60v60h-60z M125 105h30v30h-30z"/></clipPath><path id="p" d="M150 10h20v60h-20z"/><clipPath id="e"><use href="#p"/><circle cx="150" cy="40" r="15"/></clipPath></defs>' +
      '<rect width="100" height="80" clip-path="url(#a)"/><rect x="100" y="10" width="40" height="60" transform="rotate(5)" clip-path="url(#b)" fill="#0072b2"/>' +
      '<g clip-path="url(#c)"><rect y="80" width="100" height="80" fill="#d55e00"/></g><rect x="100" y="80" width="100" height="80" clip-path="url(#d)" fill="#009e73"/>' +
      '<rect x="120" width="80" height="80" clip-path="url(#e)" fill="#cc79a7"/>',
  ),
  'strokes and paint order': WRAP(
    '<rect x="20" y="20" width="60" height="40" fill="#e69f00" stroke="black" stroke-width="12" paint-order="stroke"/>' +
      '<path d="M110 60l20-40 20 40" fill="none" stroke="#0072b2" stroke-width="10" stroke-linejoin="round"/>' +
      '<path d="M160 60l10-40 10 40" fill="none" stroke="#d55e00" stroke-width="6" stroke-miterlimit="10"/>' +
      '<path d="M30 120h0M60 120l0 0" stroke="black" stroke-width="14" stroke-linecap="round"/><path d="M100 120z" stroke="black" stroke-width="14" stroke-linecap="square"/>' +
      '<circle cx="160" cy="120" r="25" fill="none" stroke="#009e73" stroke-width="6" stroke-dasharray="9 7 5" stroke-dashoffset="4"/>',
  ),
  'page fitting': WRAP('<circle cx="100" cy="80" r="90"/>', '').replace(
    'width="100mm"',
    'width="60mm" preserveAspectRatio="xMinYMax slice"',
  ),
};

describe('the ink of a drawing, against resvg', () => {
  for (const [name, svg] of Object.entries(DRAWINGS)) {
    it(name, () => {
      const { motif, width, want } = twoPictures(svg);
      expect(inkOf(want)).toBeGreaterThan(0.02);
      // Sub-pixel rounding along outlines comes to about 0.0003; a missing dot of 1 mm shows as 0.0001 a pixel row.
      expect(differenceOf(want, pixels(redraw(motif), width))).toBeLessThan(0.0008);
    });
  }

  it('tells a wrong picture from a right one', () => {
    const { motif, width, want } = twoPictures(DRAWINGS['basic shapes']);
    const less: Motif = { ...motif, shapes: motif.shapes.slice(1) };
    expect(differenceOf(want, pixels(redraw(less), width))).toBeGreaterThan(0.01);
  });
});
