import { expect, it } from 'vitest';
import { fittingPaper } from './named-paper.js';

// ISO 216 and ASME Y14.1 sizes.
it.each([
  [200, 280, 'A4'],
  [215, 279, 'Letter'],
  [420, 594, 'A2'],
  [594, 420, 'A2'],
  [700, 1000, 'B1'],
  [860, 1110, 'ASME E'],
  [1001, 1414, null],
])('%d × %d mm fits %s', (w, h, name) => {
  expect(fittingPaper(w, h)).toBe(name);
});
