import { type GreyImage, InputError } from '@okuri/core';
import { expect, it } from 'vitest';
import type { PictureScan } from './decode-picture';
import { PLAIN_SCAN, type ScanScale } from './settings';
import { scaleRequest, traceScan } from './trace-scan';

const MM_PER_INCH = 25.4;
/** A disc of 20 mm in the middle of 60 by 40 mm, at 10 px a mm; and a dot of dust. */
const PX = 10;
const [WIDE, HIGH] = [60, 40];

function disc(): GreyImage {
  const [width, height] = [WIDE * PX, HIGH * PX];
  const values = new Uint8Array(width * height).fill(235);
  for (let j = 0; j < height; j++) {
    for (let i = 0; i < width; i++) {
      const [x, y] = [(i + 0.5) / PX, (j + 0.5) / PX];
      const far = Math.hypot(x - WIDE / 2, y - HIGH / 2);
      if (far < 10 || Math.hypot(x - 5, y - 5) < 0.35) values[j * width + i] = 20;
    }
  }
  return { width, height, values, white: 255 };
}

const picture = (more: Partial<PictureScan> = {}): PictureScan => {
  const image = disc();
  return { name: 'disc.png', image, sides: image, factor: 1, resolution: null, remarks: [], ...more };
};

it.each<[string, ScanScale | null, Partial<PictureScan>, number | null]>([
  ['its file', null, { resolution: { across: PX, down: PX } }, 1],
  ['the unit, where nothing else is known', null, {}, WIDE],
  ['a resolution', { from: 'resolution', dpi: PX * MM_PER_INCH }, { resolution: { across: 1, down: 1 } }, null],
  ['its width', { from: 'width', widthMm: WIDE }, {}, 7],
  [
    'a ruler',
    {
      from: 'ruler',
      points: [
        { x: 10, y: 5 },
        { x: 510, y: 5 },
      ],
      lengthMm: 50,
    },
    {},
    null,
  ],
])('has the size that comes from %s', (_, scale, more, widthMm) => {
  const { motif, facts } = traceScan(picture(more), { ...PLAIN_SCAN, scale }, { widthMm });
  expect(motif.frame.widthMm).toBeCloseTo(WIDE, 3);
  expect(motif.frame.heightMm).toBeCloseTo(HIGH, 3);
  expect(motif.shapes).toHaveLength(1);
  expect(facts).toMatchObject({ widthPx: WIDE * PX, heightPx: HIGH * PX, specks: 1 });
});

it('keeps specks where they are asked for, and names the file where it refuses', () => {
  const settings = { ...PLAIN_SCAN, scale: { from: 'width' as const, widthMm: WIDE } };
  expect(traceScan(picture(), { ...settings, specksMm2: 0.1 }, { widthMm: null }).motif.shapes).toHaveLength(2);
  const none = () => traceScan(picture(), { ...settings, specksMm2: 400 }, { widthMm: null });
  expect(none).toThrow(InputError);
  expect(none).toThrow(/^disc\.png: .*make the limit for specks smaller\.$/);
});

it('measures places of the file in a picture that was reduced', () => {
  const image = disc();
  const reduced = { image, factor: 3, sides: { width: 1801, height: 1200 }, resolution: { across: 30, down: 15 } };
  const points = [
    { x: 30, y: 60 },
    { x: 300, y: 90 },
  ];
  expect(scaleRequest(reduced, { from: 'ruler', points, lengthMm: 9 }, null)).toEqual({
    from: 'ruler',
    points: [
      { x: 10, y: 20 },
      { x: 100, y: 30 },
    ],
    lengthMm: 9,
  });
  expect(scaleRequest(reduced, null, null)).toEqual({
    from: 'file',
    resolution: { across: 10 * MM_PER_INCH, down: 5 * MM_PER_INCH, unit: 'inch' },
  });
  expect(scaleRequest(reduced, { from: 'resolution', dpi: 600 }, null)).toMatchObject({ resolution: { across: 200 } });
  // The third that was cut off counts to the width.
  expect(scaleRequest(reduced, { from: 'width', widthMm: 60 }, null)).toMatchObject({
    resolution: { across: 1801 / 3 / 60, unit: 'mm' },
  });
});
