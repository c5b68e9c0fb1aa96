import { describe, expect, it } from 'vitest';
import { boxContour } from '../geometry/contour.js';
import type { DropsAt, LooseIsland } from '../strength/types.js';
import { islandFindings } from './islands.js';

const BOX = { x0: 10, y0: 20, x1: 14, y1: 23 };

function island(dropsAt: DropsAt, change: Partial<LooseIsland> = {}): LooseIsland {
  return {
    id: '1',
    opening: 4,
    outline: boxContour(BOX),
    box: BOX,
    areaMm2: 12,
    at: { x: 12, y: 21 },
    within: null,
    depth: 0,
    span: { from: { x: 10, y: 21 }, to: { x: 6.5, y: 21 }, lengthMm: 3.5 },
    dropsAt,
    ...change,
  };
}

const options = {
  gauze: false,
  name: (opening: number) => String(opening + 1),
  place: ({ x, y }: { x: number; y: number }) => ({ x: x - 5, y: y - 5 }),
};

describe('what is said about islands', () => {
  it('loose at the first cut', () => {
    const [finding] = islandFindings([island('first')], options);
    expect(finding).toEqual({
      code: 'island-first',
      topic: 'paper',
      severity: 'fix',
      message:
        'Island 1 (12 mm²) in opening 5 falls out at the first cut, 3.5 mm from the paper around it: ' +
        'leave a tie there, hold it by gauze and release ties, or cut two sheets.',
      atMm: { x: 7, y: 16 },
      measure: { island: '1', opening: '5', dropsAt: 'first', areaMm2: 12, depth: 0, spanMm: 3.5 },
    });
  });

  it('held by the held margin only', () => {
    const [finding] = islandFindings([island('second', { areaMm2: 0.04 })], options);
    expect(finding.code).toBe('island-second');
    expect(finding.severity).toBe('fix');
    expect(finding.message).toBe(
      'Only the uncut held margin holds island 1 (under 0.1 mm²) in opening 5; it drops at the second cut, 3.5 mm from the paper around it: ' +
        'leave a tie there, hold it by gauze and release ties, or cut two sheets.',
    );
  });

  it('held by release ties: a note where gauze takes over, else to mend', () => {
    const [without] = islandFindings([island('release')], options);
    expect(without).toMatchObject({ code: 'island-release', severity: 'fix' });
    expect(without.message).toContain('falls out when its release ties are cut away');
    const [held] = islandFindings([island('release')], { ...options, gauze: true });
    expect(held).toMatchObject({ code: 'island-release', severity: 'note' });
    expect(held.message).toContain(
      'Only the gauze holds island 1 (12 mm²) in opening 5 once its release ties are cut away',
    );
    // Gauze is put on after the first cut: what falls before has to be held all the same.
    expect(islandFindings([island('first')], { ...options, gauze: true })[0].severity).toBe('fix');
    // What the job has already is not asked for.
    const asked = (more: object) => islandFindings([island('first')], { ...options, ...more })[0].message;
    expect(asked({ gauze: true })).toMatch(
      /: leave a tie there, a release tie that holds it until the gauze is on, or cut two sheets\.$/,
    );
    expect(asked({ gauze: true, twoSheets: true })).toMatch(/: leave a tie there\.$/);
  });

  it('on another island, touching, and without a span', () => {
    const [inner] = islandFindings([island('first', { id: '7', within: '2', depth: 1 })], options);
    expect(inner.message).toContain(', and island 2 around it has to be held first: ');
    expect(inner.measure).toMatchObject({ within: '2', depth: 1 });
    const touching = { from: { x: 1, y: 1 }, to: { x: 1, y: 1 }, lengthMm: 0.01 };
    const [point] = islandFindings([island('first', { span: touching })], options);
    expect(point.message).toContain('touches the paper around it in a point only');
    const [none] = islandFindings([island('first', { span: null })], options);
    expect(none.message).toContain('falls out at the first cut: leave a tie');
    expect(none.measure).not.toHaveProperty('spanMm');
  });
});
