import { expect, it } from 'vitest';
import { readGlass, readKeep, readScale, readTracing, type TraceTexts } from './trace-options.js';

it.each<[TraceTexts, unknown]>([
  [{}, null],
  [{ resolution: '600' }, { from: 'resolution', resolution: { across: 600, down: 600, unit: 'inch' } }],
  [{ resolution: '299.9 dpi' }, { from: 'resolution', resolution: { across: 299.9, down: 299.9, unit: 'inch' } }],
  [{ dots: '300x200mm' }, { from: 'dots', widthMm: 300, heightMm: 200 }],
  [{ dots: '30 × 20.5cm' }, { from: 'dots', widthMm: 300, heightMm: 205 }],
  [{ dots: '5 x 2 1/2in' }, { from: 'dots', widthMm: 127, heightMm: 63.5 }],
  [{ dots: '1m x 800mm' }, { from: 'dots', widthMm: 1000, heightMm: 800 }],
  [
    { points: '10,20 500.5,20 500,300 10,300', apart: 'A4' },
    {
      from: 'points',
      points: [
        { x: 10, y: 20 },
        { x: 500.5, y: 20 },
        { x: 500, y: 300 },
        { x: 10, y: 300 },
      ],
      widthMm: 210,
      heightMm: 297,
    },
  ],
  [
    { ruler: '0,5; 900,5', length: '8in' },
    {
      from: 'ruler',
      points: [
        { x: 0, y: 5 },
        { x: 900, y: 5 },
      ],
      lengthMm: 203.2,
    },
  ],
])('reads where the scale comes from: %j', (texts, expected) => {
  expect(readScale(texts)).toEqual(expected);
});

it.each<[TraceTexts, RegExp]>([
  [{ resolution: '300', dots: '1x1mm' }, /^--resolution and --dots stand together/],
  [{ points: '1,1 2,2 3,3 4,4' }, /^--points needs --apart: say how far apart/],
  [{ apart: 'A4' }, /^--apart goes with --points/],
  [{ apart: 'A4', dots: '1x1mm' }, /^--apart goes with --points/],
  [{ length: '20cm' }, /^--length goes with --ruler/],
  [{ ruler: '1,1 2,2' }, /^--ruler needs --length/],
  [{ resolution: '0' }, /^--resolution is "0": it must be a number from 50 to 5000 dots an inch\.$/],
  [{ resolution: '' }, /^--resolution is ""/],
  [{ dots: '300x200' }, /^--dots: the length .*300/],
  [{ dots: '300mm' }, /^--dots is "300mm": give width and height with a unit/],
  [{ dots: '0x200mm' }, /above 0/],
  [{ dots: 'A44' }, /^--dots: there is no paper named "A44"/],
  [{ points: '1,1 2,2 3,3', apart: 'A4' }, /^--points is "1,1 2,2 3,3": give four places/],
  [{ points: '1,1 2,2 3,3 4,-4', apart: 'A4' }, /four places/],
  [{ ruler: '1,1 2;2', length: '1cm' }, /two places/],
  [{ ruler: '1,1 2,2', length: '-1cm' }, /^--length: the length/],
])('refuses %j', (texts, sentence) => {
  expect(() => readScale(texts)).toThrow(sentence);
});

it('reads the part to keep, and how to trace', () => {
  expect(readKeep('200x150mm+10+20.5')).toEqual({ x0: 10, y0: 20.5, x1: 210, y1: 170.5 });
  expect(readKeep('2x1in+1cm+0')).toEqual({ x0: 10, y0: 0, x1: 60.8, y1: 25.4 });
  expect(readKeep(undefined)).toBeNull();
  for (const text of ['200x150mm', '200x150mm+1', '+1+2', '200x150mm+a+b'])
    expect(() => readKeep(text)).toThrow('--keep');
  expect(readTracing({ inkLevel: '-0.1', speck: '0.3mm²', pinhole: '0', smooth: '2' })).toEqual({
    offset: -0.1,
    speckMm2: 0.3,
    pinholeMm2: 0,
    smooth: 2,
  });
  for (const texts of [{ inkLevel: '0.5' }, { speck: 'small' }, { pinhole: '-1' }, { smooth: '11' }]) {
    expect(() => readTracing(texts)).toThrow(/^--/);
  }
  expect([readGlass('Red'), readGlass(undefined)]).toEqual(['red', null]);
  expect(() => readGlass('pink')).toThrow('say red, green or blue');
});
