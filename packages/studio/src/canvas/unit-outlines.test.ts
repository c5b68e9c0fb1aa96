import type { Contour, Motif } from '@okuri/core';
import { expect, it } from 'vitest';
import { motifOutlines } from './unit-outlines';

const line = (...coords: number[]): Contour => ({ closed: true, coords: Float64Array.from(coords) });
const first = line(0, 0, 1, 0, 2, 0, 3, 0, 3, 1, 3, 2, 0, 0);
const second = line(5, 5, 6, 5, 7, 5, 8, 8);

it('lays all outlines of a drawing into one buffer, shape by shape', () => {
  const shape = { id: 'a', ink: '#000000', contours: [first, second], rule: 'evenodd' as const, clips: [] };
  const pale = { ...shape, ink: '#ffffff', contours: [second], rule: 'nonzero' as const };
  const shapes = [shape, pale, { ...shape, contours: [] }];
  const made = motifOutlines({ shapes } as unknown as Motif);
  expect([...made.starts]).toEqual([0, 14, 22, 30]);
  expect([...made.layers]).toEqual([0, 2, 3, 3]);
  expect(made.inks).toEqual(['#000000', '#ffffff']);
  expect([...made.inkOf]).toEqual([0, 1, 0]);
  expect([...made.evenOdd]).toEqual([1, 0, 1]);
  expect([...made.coords.subarray(made.starts[1], made.starts[2])]).toEqual([...second.coords]);
  expect(made.box).toEqual({ x0: 0, y0: 0, x1: 8, y1: 8 });
  expect(made.special.size).toBe(0);
});

it('has no box of nothing', () => {
  expect(motifOutlines({ shapes: [] } as unknown as Motif).box).toBeNull();
});
