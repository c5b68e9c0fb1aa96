import { expect, it } from 'vitest';
import { type PlaceMark, withRoom } from './draw-places';

const mark = (x: number, more: Partial<PlaceMark> = {}): PlaceMark => ({
  name: 'W1',
  severity: 'fix',
  at: { x, y: 10 },
  across: null,
  chosen: false,
  ...more,
});

it('names no two marks over each other, the first before the next', () => {
  expect(withRoom([mark(0), mark(20), mark(45), mark(50)])).toEqual([true, false, true, false]);
});

it('always names the chosen one', () => {
  expect(withRoom([mark(0), mark(20, { chosen: true }), mark(45)])).toEqual([false, true, false]);
});

it('leaves what is merely good to know without names where there is much of it', () => {
  const notes = Array.from({ length: 40 }, (_, k) => mark(100 * k, { severity: 'note' }));
  expect(withRoom(notes).some((named) => named)).toBe(false);
  expect(withRoom([...notes, mark(-100)]).filter((named) => named)).toHaveLength(1);
  expect(withRoom(notes.slice(0, 20)).every((named) => named)).toBe(true);
});
