import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { contoursBox } from '../geometry/contour.js';
import { sampleFont } from '../papers/guide/sample-font.test-help.js';
import { testBar } from './test-bar.js';
import { textWidthMm } from './text.js';
import type { PathItem, TextItem } from './types.js';

const font = sampleFont();
const lying = { at: { x: 10, y: 100 }, roomMm: 187, scale: 1, standing: false, font };

function lineOf(bar: ReturnType<typeof testBar>): PathItem {
  const found = bar.items.find((item) => item.kind === 'path');
  if (found?.kind !== 'path') throw new Error('no line');
  return found;
}

describe('testBar', () => {
  it('is as long as its room allows in whole centimetres, times the correction', () => {
    const bar = testBar(lying);
    expect(bar.nominalMm).toBe(180);
    const box = contoursBox([lineOf(bar).contours[0]]);
    expect(box).toMatchObject({ x0: 10, x1: 190, y0: 100, y1: 100 });
    const scaled = testBar({ ...lying, scale: 1.02 });
    expect(scaled.nominalMm).toBe(180);
    expect(contoursBox([lineOf(scaled).contours[0]])?.x1).toBeCloseTo(10 + 180 * 1.02, 9);
    expect(testBar({ ...lying, scale: 1.05 }).nominalMm).toBe(170);
  });

  it('stands at a right angle, upwards from its lower end', () => {
    const bar = testBar({ ...lying, standing: true, roomMm: 90 });
    expect(contoursBox([lineOf(bar).contours[0]])).toMatchObject({ x0: 10, x1: 10, y0: 10, y1: 100 });
    for (const item of bar.items) if (item.kind === 'text') expect(item.turn).toBe(-90);
  });

  it('says its length in mm and in inches, with a tick on every centimetre and inch', () => {
    const bar = testBar(lying);
    const texts = bar.items.filter((item): item is TextItem => item.kind === 'text').map(({ text }) => text);
    // 7 3/32 in are 180.18125 mm.
    expect(texts).toContain('bar 180 mm = 7 3/32 in less 0.18 mm');
    expect(texts).toContain('180 mm');
    expect(texts).toContain('7 in');
    const ticks = lineOf(bar).contours.slice(1);
    const at = ticks.map(({ coords }) => coords[0] - 10);
    expect(at.slice(0, 19)).toEqual(Array.from({ length: 19 }, (_, k) => 10 * k));
    at.slice(19).forEach((x, k) => {
      expect(x).toBeCloseTo(25.4 * k, 9);
    });
    expect(at).toHaveLength(19 + 8);
  });

  it('gives nothing where there is no room', () => {
    expect(testBar({ ...lying, roomMm: 9 })).toEqual({ nominalMm: 0, items: [] });
  });

  it('never writes one number over another, nor beyond its ends by more than half a number', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 10, max: 1200, noNaN: true }),
        fc.double({ min: 0.9, max: 1.1, noNaN: true }),
        (roomMm, scale) => {
          const bar = testBar({ ...lying, roomMm, scale });
          const spans = bar.items.flatMap((item) => {
            if (item.kind !== 'text') return [];
            const long = textWidthMm(item.text, item, font);
            const from = item.x - (item.anchor === 'end' ? long : item.anchor === 'middle' ? long / 2 : 0);
            return [{ above: item.y < 100, from, to: from + long }];
          });
          for (const [k, a] of spans.entries()) {
            for (const b of spans.slice(k + 1)) {
              if (a.above === b.above) expect(a.from < b.to && b.from < a.to).toBe(false);
            }
          }
        },
      ),
    );
  });
});
