import { describe, expect, it } from 'vitest';
import { labelFont } from '../draw/label-font.test-help.js';
import type { Drawing } from '../draw/types.js';
import { cutGuideDrawing } from './drawings.js';
import { ran } from './leaf-job.test-help.js';
import { planOf } from './plan-of.js';

const font = labelFont();

function wordsFrom(drawing: Drawing, heading: string): string {
  const pages = drawing.pages.map(({ items }) => items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])));
  const first = pages.findIndex((words) => words.includes(heading));
  return first < 0 ? '' : pages.slice(first).flat().join(' ');
}

describe('cutGuideDrawing', () => {
  it.each([
    { repeat: 'straight' },
    { repeat: 'half-drop' },
    { repeat: 'brick' },
    { repeat: 'half-drop', punch: 'wet', across: 2 },
  ])('has pages to punch and square by, and the plan of the job’s cloth: %j', (keys) => {
    const result = ran({ ...keys, cloth: { width: '500mm', length: '900mm' } });
    const drawing = cutGuideDrawing(result, font);
    const plan = planOf(result);
    const words = wordsFrom(drawing, 'Along the cloth');
    expect(words).toContain(`${plan.placements.length} (${plan.whole} whole, ${plan.cut} cut)`);
    expect(words).toContain(`Passes: ${plan.choice.count} for each sheet`);
    expect(wordsFrom(drawing, 'Punch and square')).toContain('The dots at true size');
  });

  it('tells how to cut even where the cloth can’t be planned', () => {
    const bad = ran({ cloth: { width: '500mm', length: '900mm', start: '500mm', end: '400mm' } });
    const drawing = cutGuideDrawing(bad, font);
    expect(wordsFrom(drawing, 'Along the cloth')).toContain('could not be planned: ');
    expect(wordsFrom(drawing, 'Working order')).toContain('Take care');
  });
});
