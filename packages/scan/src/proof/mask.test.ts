import { boxContour, circleContour } from '@okuri/core';
import { flatRing, reverseContour } from '@okuri/core/inside';
import { expect, it } from 'vitest';
import { cellAt, cellGroups, cellMiddle, maskFrame, paintRings } from './mask.js';

const ring = (contour: Parameters<typeof flatRing>[0]) => flatRing(contour, 1) ?? expect.fail('no ring');

it('paints what lies inside rings, without their holes', () => {
  const frame = maskFrame({ x0: -1, y0: -2, x1: 21, y1: 22 }, { cellMm: 0.1, maxCells: 1e6 });
  const mask = new Uint8Array(frame.columns * frame.rows);
  const disc = ring(circleContour({ x: 10, y: 10 }, 8));
  const hole = ring(reverseContour(circleContour({ x: 12, y: 9 }, 3)));
  paintRings(mask, frame, { rings: [disc, hole], value: 1 });
  // Areas of circles; every cell at the rim is in or out.
  const area = mask.reduce((sum, cell) => sum + cell, 0) * 0.1 ** 2;
  expect(Math.abs(area - Math.PI * (64 - 9))).toBeLessThan(0.2);
  expect(mask[cellAt(frame, { x: 12, y: 9 })]).toBe(0);
  expect(mask[cellAt(frame, { x: 3, y: 10 })]).toBe(1);
});

it('leaves what sticks out of the frame', () => {
  const frame = maskFrame({ x0: 0, y0: 0, x1: 2, y1: 2 }, { cellMm: 1, maxCells: 100 });
  const mask = new Uint8Array(4);
  paintRings(mask, frame, { rings: [ring(boxContour({ x0: -5, y0: -5, x1: 1, y1: 9 }))], value: 7 });
  expect([...mask]).toEqual([7, 0, 7, 0]);
  expect(cellAt(frame, { x: 2.5, y: 1 })).toBe(-1);
  expect(cellMiddle(frame, 3)).toEqual({ x: 1.5, y: 1.5 });
});

it('makes cells larger rather than too many', () => {
  const frame = maskFrame({ x0: 0, y0: 0, x1: 100, y1: 100 }, { cellMm: 0.01, maxCells: 2500 });
  expect(frame).toMatchObject({ cellMm: 2, columns: 50, rows: 50 });
});

it('groups cells that touch along sides, and keeps unlike labels apart', () => {
  const frame = maskFrame({ x0: 0, y0: 0, x1: 3, y1: 3 }, { cellMm: 1, maxCells: 9 });
  const marks = [1, 1, 0, 0, 0, 1, 2, 2, 1];
  const sizes = (groups: number[][]) => groups.map((group) => group.length);
  expect(sizes(cellGroups(frame, (cell) => marks[cell] > 0))).toEqual([2, 4]);
  expect(
    sizes(
      cellGroups(
        frame,
        (cell) => marks[cell] > 0,
        (cell) => marks[cell],
      ),
    ),
  ).toEqual([2, 2, 2]);
});
