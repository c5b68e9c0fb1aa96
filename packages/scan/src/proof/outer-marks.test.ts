import { expect, it } from 'vitest';
import type { FoundDot } from '../types.js';
import { outerMarks } from './outer-marks.js';

it('takes the marks that stand round all others', () => {
  const mark = (x: number, y: number): FoundDot => ({ at: { x, y }, diameter: 8, roundness: 1 });
  const berries = Array.from({ length: 200 }, (_, k) => mark(20 + ((k * 37) % 161), 30 + ((k * 53) % 97)));
  // A rectangle about them, turned by 20°.
  const [c, s] = [Math.cos(0.35), Math.sin(0.35)];
  const corners = [
    [-110, -80],
    [110, -80],
    [110, 80],
    [-110, 80],
  ].map(([x, y]) => mark(100 + c * x - s * y, 80 + s * x + c * y));
  const outer = outerMarks([...berries, ...corners], 12);
  expect(outer).toHaveLength(12);
  for (const corner of corners) expect(outer).toContain(corner);
  expect(outerMarks(corners, 12)).toEqual(corners);
});
