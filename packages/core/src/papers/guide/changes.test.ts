import { describe, expect, it } from 'vitest';
import { changeMarks, changeWords, hasChanges } from './changes.js';

describe('changes', () => {
  const changes = { cutAgain: [14, 15], patch: [31, 15], fresh: [58] };

  it('are said in one sentence', () => {
    expect(changeWords(changes)).toBe('In short: patch 31, 15; cut again 14, 15; new 58.');
  });

  it('are marked by number; one that is patched and cut again says both', () => {
    const marks = changeMarks(changes);
    expect([...marks].map(([n, m]) => [n, m.short])).toEqual([
      [58, 'new'],
      [14, 'again'],
      [15, 'patch, again'],
      [31, 'patch'],
    ]);
    expect(changeMarks(null).size).toBe(0);
  });

  it('may be none', () => {
    expect(hasChanges(changes)).toBe(true);
    expect(hasChanges({ cutAgain: [], patch: [], fresh: [] })).toBe(false);
    expect(hasChanges(null)).toBe(false);
  });
});
