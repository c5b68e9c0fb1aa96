import { describe, expect, it } from 'vitest';
import { spillFindings } from '../findings/spill.js';
import { circleContour, polyline } from '../geometry/contour.js';
import type { Shape } from '../motif/types.js';
import { makeLattice } from './lattice.js';
import { layRepeat } from './lay-repeat.js';
import { findOpenings } from './openings.js';

const lattice = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, 100, 100);

function disc(id: string, x: number, y: number, r: number, ink = '#000000'): Shape {
  return { id, ink, contours: [circleContour({ x, y }, r)], rule: 'nonzero', clips: [] };
}

function half(id: string, x0: number, x1: number, y: number): Shape {
  const contour = polyline(
    [
      { x: x0, y },
      { x: x1, y: y + 2 },
      { x: x1, y: y + 12 },
      { x: x0, y: y + 10 },
    ],
    { closed: true },
  );
  return { id, ink: '#000000', contours: [contour], rule: 'nonzero', clips: [] };
}

function lay(shapes: readonly Shape[], spill: 'auto' | 'carry' | 'trim' = 'auto') {
  const { cell, spill: report } = layRepeat(shapes, lattice, {
    spill,
    drawn: 'cut',
    method: 'resist',
    paperColour: '#ffffff',
    cut: null,
    reachMm: 3,
  });
  const findings = spillFindings(report);
  return { openings: findOpenings(cell), codes: findings.map((f) => f.code) };
}

describe('artwork that pokes out of the unit', () => {
  it('is carried where its other half is not drawn', () => {
    const { openings, codes } = lay([disc('leaf', 98, 50, 10)]);
    expect(openings).toHaveLength(1);
    expect(openings[0].areaMm2).toBeCloseTo(Math.PI * 100, 1);
    expect(codes).toEqual(['spill-carried']);
  });

  it('is trimmed where both halves are drawn, so that a fault between them stays', () => {
    const { codes } = lay([half('left', -10, 20, 40), half('right', 80, 110, 40.3)]);
    expect(codes).toContain('spill-trimmed');
    expect(codes).not.toContain('spill-carried');
  });

  it('leaves exact copies out, and scrap, and says so', () => {
    const { openings, codes } = lay([disc('leaf', 98, 50, 10), disc('copy', -2, 50, 10), disc('scrap', 160, 50, 5)]);
    expect(openings[0].areaMm2).toBeCloseTo(Math.PI * 100, 1);
    expect(codes).toEqual(expect.arrayContaining(['copies-left-out', 'outside-left-out']));
  });

  it('brings along what lies outside but belongs to it: a vein on a leaf, the petals of a flower', () => {
    const vein = disc('vein', 106, 50, 1, '#ffffff');
    const petals = [disc('petal 1', 112, 50, 2), disc('petal 2', 118, 50, 2)];
    const { openings, codes } = lay([disc('leaf', 99, 50, 10), vein, ...petals]);
    const total = openings.reduce((sum, o) => sum + o.areaMm2, 0);
    expect(total).toBeCloseTo(Math.PI * (100 - 1 + 4 + 4), 1);
    expect(codes).toContain('outside-carried-along');
  });

  it('keeps drawn copies where all is trimmed: each shows its own half', () => {
    const { openings } = lay([disc('leaf', 98, 50, 10), disc('copy', -2, 50, 10)], 'trim');
    expect(openings).toHaveLength(1);
    expect(openings[0].areaMm2).toBeCloseTo(Math.PI * 100, 1);
  });

  it('trims copies that meet other artwork beside the exact place: carried, they would hide the fault', () => {
    // The half leaf at the left is drawn twice one step apart; what it meets at the right stands 1 mm lower.
    const shapes = [half('left', -10, 20, 40), half('left again', 90, 120, 40), half('right', 70, 112, 41.5)];
    const { codes } = lay(shapes);
    expect(codes).not.toContain('spill-carried');
  });

  it('does what the job says instead', () => {
    expect(lay([disc('leaf', 98, 50, 10)], 'trim').openings[0].areaMm2).toBeLessThan(Math.PI * 100 - 50);
    expect(lay([half('left', -10, 20, 40), half('right', 80, 110, 40.3)], 'carry').codes).toContain('spill-carried');
  });
});
