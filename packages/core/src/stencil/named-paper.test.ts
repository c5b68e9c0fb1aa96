import { expect, it } from 'vitest';
import { findPaper } from '../units/paper-sizes.js';
import { fittingPaper } from './named-paper.js';

// ISO 216 and ASME Y14.1 sizes.
it.each([
  [200, 280, 'A4', 'A4'],
  [215, 279, 'Tabloid', 'Letter'],
  [420, 594, 'A4', 'A2'],
  [594, 420, 'A3', 'A2'],
  [365, 485, 'A4', 'A2'],
  [365, 485, 'Letter', 'ASME C'],
  [700, 1000, 'A4', 'B1'],
  [860, 1110, 'Letter', 'ASME E'],
  [1001, 1414, 'A4', null],
])('%d × %d mm, beside %s, fits %s', (w, h, like, name) => {
  expect(fittingPaper(w, h, findPaper(like))).toBe(name);
});
