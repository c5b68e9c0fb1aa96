import { expect, it } from 'vitest';
import { sheetDots } from '../../register/dots.js';
import { edgeWords, fromDot, nameRanges, offsetWords, sideDots } from './join-places.js';

const field = { x0: 40, y0: 40, x1: 340, y1: 460 };
const dots = sheetDots(field, { kind: 'drop', step: { p: 1, q: 2 } }, { diameterMm: 1 });
const sheet = { field, dots };

it('names the dots of a side in their order along it', () => {
  expect(sideDots(sheet, 'right').map(({ name }) => name)).toEqual(['B', 'C', 'D']);
  expect(sideDots(sheet, 'bottom').map(({ name }) => name)).toEqual(['E', 'D']);
});

it('says how far a place lies from the last dot before it', () => {
  expect(fromDot(sheet, 'right', { x: 340, y: 172 })?.words).toBe('132.0 mm below dot B');
  expect(fromDot(sheet, 'right', { x: 340, y: 382 })?.words).toBe('132.0 mm below dot C');
  expect(fromDot(sheet, 'right', { x: 340, y: 250 })?.words).toBe('at dot C');
  expect(fromDot(sheet, 'bottom', { x: 52.5, y: 460 })?.words).toBe('12.5 mm right of dot E');
  expect(fromDot({ field, dots: [] }, 'right', { x: 340, y: 172 })).toBeNull();
});

it('says which edge a join is', () => {
  expect(edgeWords({ seam: 'bottom', edge: 'ends' })).toBe('right edge');
});

it('says offsets as directions', () => {
  expect(offsetWords('right', 0.42)).toBe('0.4 mm down');
  expect(offsetWords('right', -0.42)).toBe('0.4 mm up');
  expect(offsetWords('bottom', -1)).toBe('1.0 mm left');
  expect(offsetWords('bottom', 0.02)).toBe('as planned');
});

it('draws names in a row together', () => {
  expect(nameRanges(['X1', 'X2', 'X3', 'X7', 'X9', 'X10'])).toBe('X1–X3, X7, X9, X10');
  expect(nameRanges([])).toBe('');
});
