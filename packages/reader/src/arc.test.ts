import { contourArea } from '@okuri/core/inside';
import { describe, expect, it } from 'vitest';
import { arcCentre, arcToCubics } from './arc.js';
import { contourLength } from './outline.js';
import { parsePathData } from './path-data.js';

const DEG = 180 / Math.PI;
const from = { x: 0, y: 0 };

// Values computed independently from SVG 1.1 appendix F.6.5 and F.6.6.
describe('the centre of an arc', () => {
  it.each([
    [false, true, 15, 20, 73.739795],
    [true, true, 15, -20, 286.260205],
    [false, false, 15, -20, -73.739795],
    [true, false, 15, 20, -286.260205],
  ])('large %s, sweep %s', (large, sweep, x, y, delta) => {
    const arc = arcCentre(from, { x: 30, y: 0 }, { rx: 25, ry: 25, turn: 0, large, sweep });
    expect(arc?.centre.x).toBeCloseTo(x, 6);
    expect(arc?.centre.y).toBeCloseTo(y, 6);
    expect((arc?.delta ?? 0) * DEG).toBeCloseTo(delta, 5);
  });

  it('grows radii that are too small', () => {
    const a = arcCentre(from, { x: 40, y: 0 }, { rx: 10, ry: 10, turn: 0, large: false, sweep: true });
    expect([a?.rx, a?.centre.x]).toEqual([20, 20]);
    expect(a?.centre.y).toBeCloseTo(0, 9);
    const b = arcCentre(
      { x: 10, y: 315 },
      { x: 162.55, y: 162.45 },
      { rx: 30, ry: 50, turn: 0, large: false, sweep: true },
    );
    expect(b?.rx).toBeCloseTo(88.951171, 5);
    expect(b?.ry).toBeCloseTo(148.251952, 5);
    expect(b?.centre.x).toBeCloseTo(86.275, 6);
    expect(b?.centre.y).toBeCloseTo(238.725, 6);
    expect((b?.delta ?? 0) * DEG).toBeCloseTo(180, 5);
  });

  it('turned ellipses', () => {
    const a = arcCentre(from, { x: 50, y: -25 }, { rx: 50, ry: 25, turn: -30, large: false, sweep: true });
    expect(a?.centre.x).toBeCloseTo(30.996482, 5);
    expect(a?.centre.y).toBeCloseTo(7.744741, 5);
    expect((a?.delta ?? 0) * DEG).toBeCloseTo(68.391095, 5);
    const b = arcCentre(from, { x: 20, y: 10 }, { rx: 30, ry: 20, turn: 45, large: true, sweep: false });
    expect(b?.centre.x).toBeCloseTo(7.095262, 5);
    expect(b?.centre.y).toBeCloseTo(25.333163, 5);
    expect((b?.delta ?? 0) * DEG).toBeCloseTo(-313.432536, 5);
  });

  it('is nothing where ends coincide or a radius is 0', () => {
    expect(arcToCubics(from, from, { rx: 5, ry: 5, turn: 0, large: true, sweep: true })).toBeNull();
    expect(arcToCubics(from, { x: 1, y: 0 }, { rx: 0, ry: 5, turn: 0, large: true, sweep: true })).toBeNull();
  });
});

describe('arcs as cubics', () => {
  it('keeps to pieces of 45° and ends exactly', () => {
    const to = { x: 30, y: 0 };
    const pieces = arcToCubics(from, to, { rx: 25, ry: 25, turn: 0, large: true, sweep: true });
    expect(pieces).toHaveLength(7);
    expect(pieces?.at(-1)?.[2]).toEqual(to);
  });

  // The pie of SVG 1.1, 8.3.8: area and length computed independently.
  it('the pie of the specification', () => {
    const read = parsePathData('M300,200 h-150 a150,150 0 1,0 150,-150 z', { maxSegments: 100 });
    expect(Math.abs(contourArea(read.contours[0])) / 53014.376029).toBeCloseTo(1, 5);
    expect(contourLength(read.contours[0]) / 1006.858347).toBeCloseTo(1, 5);
  });
});
