import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { growBox } from '../geometry/boxes.js';
import { circleContour } from '../geometry/contour.js';
import { ClearSpace, NO_OWNER, SOFT } from './clear-space.js';

const coordinate = fc.double({ min: -60, max: 200, noNaN: true });
const point = fc.record({ x: coordinate, y: coordinate });

describe('ClearSpace', () => {
  it('finds a line that crosses a box without an end in it', () => {
    const space = new ClearSpace();
    space.addLine(0, 0, 100, 100, NO_OWNER);
    expect(space.isClear({ x0: 40, y0: 45, x1: 60, y1: 55 })).toBe(false);
    expect(space.isClear({ x0: 60, y0: 10, x1: 90, y1: 40 })).toBe(true);
  });

  it('finds a curve', () => {
    const space = new ClearSpace();
    space.addContours([circleContour({ x: 50, y: 50 }, 20)], 1);
    expect(space.isClear({ x0: 45, y0: 45, x1: 55, y1: 55 })).toBe(true);
    expect(space.isClear({ x0: 60, y0: 60, x1: 66, y1: 66 })).toBe(false);
  });

  it('bars the inside of a box that is taken', () => {
    const space = new ClearSpace();
    space.addBox({ x0: 0, y0: 0, x1: 40, y1: 10 }, NO_OWNER);
    expect(space.isClear({ x0: 18, y0: 4, x1: 22, y1: 6 })).toBe(false);
  });

  it('judges boxes as points along the lines do', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(point, point), { maxLength: 12 }),
        point,
        fc.double({ min: 1, max: 30, noNaN: true }),
        fc.double({ min: 1, max: 30, noNaN: true }),
        (lines, at, w, h) => {
          const space = new ClearSpace();
          for (const [a, b] of lines) space.addLine(a.x, a.y, b.x, b.y, NO_OWNER);
          const box = { x0: at.x, y0: at.y, x1: at.x + w, y1: at.y + h };
          const inside = lines.some(([a, b]) =>
            Array.from({ length: 400 }, (_, k) => k / 399).some((t) => {
              const x = a.x + t * (b.x - a.x);
              const y = a.y + t * (b.y - a.y);
              return x > box.x0 && x < box.x1 && y > box.y0 && y < box.y1;
            }),
          );
          if (inside) expect(space.isClear(box)).toBe(false);
          // Points 1 mm apart miss a line that only grazes: a clear wider box must hold none.
          if (space.isClear(growBox(box, 1))) expect(inside).toBe(false);
          else if (!inside && space.isClear(box)) expect(space.isClear(growBox(box, -0.2))).toBe(true);
        },
      ),
    );
  });

  it('answers alike once it is sealed, for boxes level and turned', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(point, point), { maxLength: 12 }),
        point,
        fc.double({ min: 1, max: 20, noNaN: true }),
        fc.double({ min: 1, max: 20, noNaN: true }),
        fc.double({ min: -90, max: 90, noNaN: true }),
        (lines, at, halfU, halfV, turn) => {
          const [open, sealed] = [new ClearSpace(), new ClearSpace()];
          for (const space of [open, sealed]) {
            for (const [a, b] of lines) space.addLine(a.x, a.y, b.x, b.y, NO_OWNER);
          }
          sealed.seal();
          const box = { x0: at.x - halfU, y0: at.y - halfV, x1: at.x + halfU, y1: at.y + halfV };
          expect(sealed.isClear(box)).toBe(open.isClear(box));
          const turned = { at, halfU, halfV, turn };
          expect(sealed.isClearTurned(turned)).toBe(open.isClearTurned(turned));
          expect(open.isClearTurned({ ...turned, turn: 0 })).toBe(open.isClear(box));
          // A box within the turned one, level and small, is clear where the turned one is.
          const small = Math.min(halfU, halfV) / 2;
          const inner = { x0: at.x - small, y0: at.y - small, x1: at.x + small, y1: at.y + small };
          if (open.isClearTurned(turned)) expect(open.isClear(inner)).toBe(true);
        },
      ),
    );
  });

  it('bars a turned box that is taken', () => {
    const space = new ClearSpace();
    space.addTurnedBox({ at: { x: 50, y: 50 }, halfU: 20, halfV: 3, turn: 45 }, NO_OWNER);
    expect(space.isClear({ x0: 59, y0: 59, x1: 61, y1: 61 })).toBe(false);
    expect(space.isClear({ x0: 59, y0: 39, x1: 61, y1: 41 })).toBe(true);
  });

  it('lets a leader cross its own outline and soft lines, no others', () => {
    const space = new ClearSpace();
    space.addLine(0, 10, 50, 10, 7);
    space.addLine(0, 20, 50, 20, SOFT);
    const from = { x: 20, y: 0 };
    expect(space.crossesOthers(from, { x: 22, y: 30 }, 7)).toBe(false);
    expect(space.crossesOthers(from, { x: 22, y: 30 }, 8)).toBe(true);
    expect(space.crossesOthers(from, { x: 22, y: 8 }, 8)).toBe(false);
  });
});
