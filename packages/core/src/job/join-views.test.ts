import { describe, expect, it } from 'vitest';
import { boxContour, contourArea, contoursBox } from '../geometry/contour.js';
import type { JobFile } from '../job-file/keys.js';
import { readJob } from '../job-file/read.js';
import type { Shape } from '../motif/types.js';
import { JOIN_VIEWS_MAX, joinViews } from './join-views.js';
import { runJob } from './run.js';

const [WIDTH, HEIGHT] = [120, 100];
const bar = (x0: number, y0: number, x1: number, y1: number, ink = '#000000'): Shape => ({
  id: 'bar',
  ink,
  contours: [boxContour({ x0, y0, x1, y1 })],
  rule: 'nonzero',
  clips: [],
});
function run(shapes: readonly Shape[], says: Partial<JobFile> = {}) {
  const { job } = readJob(JSON.stringify({ okuri: 1, motif: 'm.svg', ...says }), { file: 'm' });
  const frame = { widthMm: WIDTH, heightMm: HEIGHT, from: 'page' as const, assumedPpi: null };
  return runJob({ frame, shapes, notices: [] }, job);
}

describe('the joins to finish', () => {
  it.each([
    [{ repeat: 'straight' as const }, 0],
    [{ repeat: 'half-drop' as const }, 50],
    [{ repeat: 'drop' as const, step: '1/4' }, 25],
  ])('names both sides in a %j', (says, drop) => {
    // Two bars over the side seam, as a carried shape draws them; one over the bottom seam.
    const result = run([bar(110, 60, 130, 64), bar(112, 84, 128, 90), bar(40, 92, 46, 106)], says);
    const views = joinViews(result);
    const [sheet] = result.sheets;
    const opening = (n: number | null) => sheet.openings.find(({ number }) => number === n);
    // One view a shape: both of its edges are in it.
    expect(views.map(({ join }) => join.seam)).toEqual(['right', 'right', 'bottom']);
    for (const { join, own, partner } of views) {
      const [a, b] = [opening(own), opening(partner)];
      if (!a || !b) throw new Error('a side has no number');
      expect(a.number).not.toBe(b.number);
      if (join.seam === 'right') {
        expect(a.box.x1).toBeCloseTo(sheet.field.x1, 3);
        expect(b.box.x0).toBeLessThan(sheet.field.x0);
        const level = (join.atMm - drop + HEIGHT) % HEIGHT;
        expect(b.box.y0 - sheet.field.y0).toBeLessThanOrEqual(level + 0.001);
        expect(b.box.y1 - sheet.field.y0).toBeGreaterThanOrEqual(level - 0.001);
      } else {
        expect(a.box.y1).toBeCloseTo(sheet.field.y1, 3);
        expect(b.box.y0).toBeLessThan(sheet.field.y0);
      }
    }
  });

  it('shows the cloth around the join, all inks', () => {
    const { box, contours } = joinViews(run([bar(110, 60, 130, 64), bar(100, 70, 115, 74, '#0072b2')]))[0];
    expect(box).toEqual({ x0: 100, y0: expect.any(Number), x1: 140, y1: expect.any(Number) });
    expect(box.y1 - box.y0).toBe(26);
    // Known areas: the bar of 20 × 4 mm lies in view whole, and so does the other of 15 × 4 mm.
    const area = contours.reduce((sum, c) => sum + contourArea(c), 0);
    const inView = Math.min(74, box.y1) - 70;
    expect(area).toBeCloseTo(80 + 15 * Math.max(0, inView), 3);
    const around = contoursBox(contours);
    expect(around?.x1).toBeCloseTo(130, 3);
  });

  it('shows what does not meet first, each end of it', () => {
    // Drawn to the edge with a step of 1.5 mm, and another that meets.
    const shapes = [bar(110, 20, 120, 26), bar(0, 21.5, 10, 27.5), bar(110, 60, 130, 64)];
    const views = joinViews(run(shapes));
    expect(views.map(({ join }) => join.state)).toEqual(['off', 'off', 'meets']);
    expect(views[0].own).not.toBeNull();
    expect(views[0].partner).not.toBeNull();
  });

  it('has no partner for an end that meets nothing', () => {
    const views = joinViews(run([bar(100, 20, 125, 26), bar(30, 40, 40, 50)], { spill: 'trim' }));
    expect(views).toHaveLength(2);
    for (const { own, partner, join } of views) {
      expect(join.state).toBe('open');
      expect(own).not.toBeNull();
      expect(partner).toBeNull();
    }
  });

  it('names openings of a sheet of several units, and none for a seam within it', () => {
    const shapes = [bar(110, 60, 130, 64), bar(40, 92, 46, 106)];
    for (const says of [{ across: 2 }, { down: 2 }, { across: 3, down: 2, repeat: 'half-drop' as const }]) {
      const result = run(shapes, { ...says, cloth: { width: '2m' } });
      const [sheet] = result.sheets;
      for (const { own, partner, join } of joinViews(result)) {
        const a = sheet.openings.find(({ number }) => number === own);
        const b = sheet.openings.find(({ number }) => number === partner);
        if (join.seam === 'right') expect(a?.box.x1).toBeCloseTo(sheet.field.x1, 3);
        else expect(a?.box.y1).toBeCloseTo(sheet.field.y1, 3);
        if (join.seam === 'right') expect(b?.box.x0).toBeLessThan(sheet.field.x0);
        else expect(b?.box.y0).toBeLessThan(sheet.field.y0);
      }
    }
  });

  it('leaves out the side join of cloth that is one sheet wide', () => {
    const views = joinViews(run([bar(110, 60, 130, 64), bar(40, 92, 46, 106)], { cloth: { width: '12cm' } }));
    expect(views.map(({ join }) => join.seam)).toEqual(['bottom']);
  });

  it('stops at sixty', () => {
    const combs = Array.from({ length: 45 }, (_, k) => bar(112, 1 + 2.2 * k, 128, 2.2 + 2.2 * k));
    const many = [...combs, ...Array.from({ length: 45 }, (_, k) => bar(2 + 2.2 * k, 92, 3.2 + 2.2 * k, 108))];
    expect(joinViews(run(many))).toHaveLength(JOIN_VIEWS_MAX);
  });
});
