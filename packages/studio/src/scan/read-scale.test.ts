import { InputError, type Point } from '@okuri/core';
import { expect, it } from 'vitest';
import { readScaleAnswer, type ScaleTexts, type ScaleWay } from './read-scale';
import type { ScanScale } from './settings';

const NOTHING: ScaleTexts = { dpi: '', width: '', across: '', down: '', length: '' };
const CORNERS: readonly Point[] = [
  { x: 1, y: 2 },
  { x: 100, y: 3 },
  { x: 99, y: 80 },
  { x: 2, y: 81 },
];

it.each<[ScaleWay, Partial<ScaleTexts>, 'mm' | 'in', ScanScale]>([
  ['resolution', { dpi: '300 dpi' }, 'mm', { from: 'resolution', dpi: 300 }],
  ['width', { width: '30 cm' }, 'in', { from: 'width', widthMm: 300 }],
  ['dots', { across: '10', down: '2 1/2' }, 'in', { from: 'dots', widthMm: 254, heightMm: 63.5 }],
  ['ruler', { length: '200' }, 'mm', { from: 'ruler', points: CORNERS.slice(0, 2), lengthMm: 200 }],
  ['points', { across: '210', down: '297' }, 'mm', { from: 'points', points: CORNERS, widthMm: 210, heightMm: 297 }],
])('takes the scale by %s', (way, texts, units, scale) => {
  expect(readScaleAnswer(way, { ...NOTHING, ...texts }, { places: CORNERS, units })).toEqual(scale);
});

it.each<[string, ScaleWay, Partial<ScaleTexts>, number]>([
  ['a resolution', 'resolution', {}, 0],
  ['fifty dots', 'resolution', { dpi: '49' }, 0],
  ['a length', 'width', {}, 0],
  ['more than nothing', 'width', { width: '0' }, 0],
  ['a unit that is known', 'width', { width: '3 ells' }, 0],
  ['both distances', 'dots', { across: '200' }, 0],
  ['both places of a ruler', 'ruler', { length: '200' }, 1],
  ['four places', 'points', { across: '200', down: '100' }, 3],
])('asks for %s', (_, way, texts, count) => {
  const read = () => readScaleAnswer(way, { ...NOTHING, ...texts }, { places: CORNERS.slice(0, count), units: 'mm' });
  expect(read).toThrow(InputError);
  expect(read).toThrow(/[.]$/);
});
