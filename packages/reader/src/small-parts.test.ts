import { describe, expect, it } from 'vitest';
import { parseColour, readColour } from './colour.js';
import { parseLength } from './length.js';
import { contourLength, filledContours, uprightRectangle } from './outline.js';
import { parsePathData } from './path-data.js';
import { parseTransform } from './transform.js';
import { parseAspectRatio, parseViewBox, viewBoxMatrix } from './viewport.js';

describe('lengths', () => {
  // CSS Values 3, "Absolute lengths".
  it.each([
    ['1in', 96],
    ['1mm', 3.779527559],
    ['1cm', 37.79527559],
    ['3pt', 4],
    ['1pc', 16],
    ['4Q', 3.779527559],
    ['2.5', 2.5],
    ['.5PX', 0.5],
    ['50%', 100],
    ['2em', 20],
    ['1e1px', 10],
  ])('%s', (text, want) => {
    expect(parseLength(text, { percent: 200, fontSize: 10 })).toBeCloseTo(want, 8);
  });

  it.each(['', 'NaN', '5 mm', '1e999', '10furlongs', '1..2', 'calc(1px)', 'constructor'])('"%s" is none', (text) => {
    expect(parseLength(text, { percent: 200, fontSize: 10 })).toBeNull();
  });
});

describe('colours', () => {
  // CSS Color 4: the worked examples of its sections on hex, rgb, hsl and named colours.
  it.each([
    ['#0AF', '#00aaff'],
    ['#0af8', '#00aaff'],
    ['#12345678', '#123456'],
    ['RebeccaPurple', '#663399'],
    ['rgb(255, 0, 51)', '#ff0033'],
    ['rgb(100%, 0%, 20%)', '#ff0033'],
    ['rgba(255 0 51 / 50%)', '#ff0033'],
    ['hsl(120deg, 100%, 25%)', '#008000'],
    ['hsl(240 100% 50%)', '#0000ff'],
    ['hsla(0.5turn,100%,50%,.3)', '#00ffff'],
    ['hwb(90 10% 10%)', '#80e61a'],
    ['  darkslategrey ', '#2f4f4f'],
    ['rgb(300,-5,0)', '#ff0000'],
  ])('%s', (text, want) => expect(parseColour(text)).toBe(want));

  it.each(['none', 'currentColor', 'transparent', '#12', '#ggg', 'rgb(1,2)', 'toString', '', 'rgb(a,b,c)'])(
    '"%s" is none',
    (text) => expect(parseColour(text)).toBeNull(),
  );

  it('reads how opaque a colour is', () => {
    expect(readColour('rgb(0 0 0 / 25%)')?.alpha).toBe(0.25);
    expect(readColour('#00000080')?.alpha).toBeCloseTo(0.502, 3);
    expect(readColour('transparent')?.alpha).toBe(0);
  });
});

describe('transforms', () => {
  it.each([
    ['translate(3)', [1, 0, 0, 1, 3, 0]],
    ['translate(3,4) scale(2)', [2, 0, 0, 2, 3, 4]],
    ['scale(2 3)', [2, 0, 0, 3, 0, 0]],
    ['rotate(90)', [0, 1, -1, 0, 0, 0]],
    ['rotate(90 10 0)', [0, 1, -1, 0, 10, -10]],
    ['rotate(0.25turn)', [0, 1, -1, 0, 0, 0]],
    ['skewX(45)', [1, 0, 1, 1, 0, 0]],
    ['skewY(45)', [1, 1, 0, 1, 0, 0]],
    ['matrix(1 2 3 4 5 6)', [1, 2, 3, 4, 5, 6]],
    ['matrix(1-2 3-4 5-6)', [1, -2, 3, -4, 5, -6]],
    [' translate(1 1) , translate(1,1)', [1, 0, 0, 1, 2, 2]],
    ['none', [1, 0, 0, 1, 0, 0]],
    ['', [1, 0, 0, 1, 0, 0]],
    ['translate(96px, 1in)', [1, 0, 0, 1, 96, 96]],
  ])('%s', (text, want) => {
    const m = parseTransform(text) ?? [];
    for (const [k, value] of want.entries()) expect(m[k]).toBeCloseTo(value, 12);
  });

  it.each([
    'rotate(',
    'rotate()',
    'matrix(1 2 3)',
    'translate(NaN)',
    'scale(1e999)',
    'perspective(3)',
    'foo',
    'rotate(1 2)',
  ])('"%s" can not be read', (text) => expect(parseTransform(text)).toBeNull());
});

describe('view boxes', () => {
  const box = { x0: 10, y0: 20, x1: 110, y1: 70 };
  // SVG 2, 8.2 and 8.7: a box of 100 × 50 in a viewport of 200 × 200; worked by hand.
  it.each([
    ['none', [2, 0, 0, 4, -20, -80]],
    ['xMinYMin', [2, 0, 0, 2, -20, -40]],
    ['xMidYMid meet', [2, 0, 0, 2, -20, 10]],
    ['xMaxYMax', [2, 0, 0, 2, -20, 60]],
    ['xMinYMid slice', [4, 0, 0, 4, -40, -80]],
    ['xMidYMin slice', [4, 0, 0, 4, -140, -80]],
    ['defer xMaxYMax slice', [4, 0, 0, 4, -240, -80]],
    ['nonsense', [2, 0, 0, 2, -20, 10]],
  ])('%s', (text, want) => expect(viewBoxMatrix(box, 200, 200, parseAspectRatio(text))).toEqual(want));

  it('refuses boxes without area', () => {
    expect(parseViewBox(undefined)).toBeNull();
    expect(parseViewBox('0,0 10 20')).toEqual({ x0: 0, y0: 0, x1: 10, y1: 20 });
    for (const text of ['0 0 0 10', '0 0 10', '0 0 -1 5', '0 0 NaN 5', '']) expect(parseViewBox(text)).toBe('invalid');
  });
});

describe('outlines', () => {
  const contours = (d: string) => parsePathData(d, { maxSegments: 100 }).contours;
  it('knows an upright rectangle', () => {
    expect(uprightRectangle(contours('M0 0h4v3h-4z'))).toEqual({ x0: 0, y0: 0, x1: 4, y1: 3 });
    expect(uprightRectangle(contours('M0 0v3h4V0z'))).toEqual({ x0: 0, y0: 0, x1: 4, y1: 3 });
    // Relative sides come back to the start but for rounding; the closing side is no fifth one.
    expect(uprightRectangle(contours('M.1.2h40.7v30.3h-40.7v-30.29999999z'))).not.toBeNull();
    for (const d of ['M0 0h4v3l-5 0z', 'M2 0l2 2-2 2-2-2z', 'M0 0h4v3z', 'M0 0h4v3h-4', 'M0 0h4v3h-4zM0 0h1v1z']) {
      expect(uprightRectangle(contours(d))).toBeNull();
    }
  });

  it('closes what a fill closes and drops what encloses nothing', () => {
    const [one] = filledContours(contours('M0 0h4v3M0 0h5M1 1z'));
    expect(one.closed).toBe(true);
    expect(Array.from(one.coords.slice(-2))).toEqual([0, 0]);
    expect(filledContours(contours('M0 0h4v3M0 0h5M1 1z'))).toHaveLength(1);
  });

  // Lengths computed independently: a curve whose length is exactly 4, and one with a cusp.
  it('measures length', () => {
    expect(contourLength(contours('M0 0C0 1 1 2 3 2')[0])).toBeCloseTo(4, 6);
    expect(contourLength(contours('M0 0Q1 1 2 0')[0])).toBeCloseTo(2.295587149, 6);
  });
});
