import { cutGuideDrawing, type JobResult } from '@okuri/core';
import { fontMetrics } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { box, disc, runShapes } from './whole-job/support.js';

// What the guide says of tools, of pieces that fall out and of time, on small jobs whose answer is known.

const FONT = fontMetrics();

/** All words of the guide, in the order in which they are written. */
function guideWords(result: JobResult): string {
  return cutGuideDrawing(result, FONT)
    .pages.flatMap(({ items }) => items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])))
    .join(' ');
}

describe('punches', () => {
  const HOLES = [
    ...[20, 40, 60].map((x, k) => disc(`fine-${k}`, { x, y: 30 }, 1.2)),
    ...[20, 40].map((x, k) => disc(`round-${k}`, { x, y: 60 }, 1.5)),
  ];
  const toolsOf = ({ sheets }: JobResult) => sheets[0].openings.map(({ tool, punchMm }) => `${tool} ${punchMm ?? ''}`);

  it('are the nearest within the tolerance, and what is drawn is said', () => {
    const result = runShapes(HOLES, [100, 100]);
    expect(toolsOf(result).sort()).toEqual(['punch 2.5', 'punch 2.5', 'punch 2.5', 'punch 3', 'punch 3']);
    const words = guideWords(result);
    expect(words).toMatch(/punched[^:]*: 3 of 2\.5 mm \(drawn 2\.4\), 2 of 3 mm/);
    expect(words).toContain('at most 0.3 mm off what is drawn');
    expect(words).toMatch(/punch 2\.5 mm \(drawn 2\.4\) 1 2 3 punch 3 mm 4 5/);
  });

  it('are those that the job owns', () => {
    expect(toolsOf(runShapes(HOLES, [100, 100], { punches: ['2mm', '3mm'] })).sort()).toEqual([
      'knife ',
      'knife ',
      'knife ',
      'punch 3',
      'punch 3',
    ]);
    const none = runShapes(HOLES, [100, 100], { punches: [] });
    expect(toolsOf(none)).toEqual(Array(5).fill('knife '));
    expect(guideWords(none)).not.toMatch(/punched:|punch \d/);
  });

  it('of a set in inches are written to a hundredth', () => {
    const result = runShapes([disc('hole', { x: 30, y: 30 }, 2)], [100, 100], { punches: ['5/32in'] });
    expect(guideWords(result)).toContain('1 of 3.97 mm');
    expect(guideWords(runShapes([box('bar', 20, 20, 30, 24)], [100, 100]))).not.toContain('of 3.97 mm');
  });
});
