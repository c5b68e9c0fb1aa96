import { describe, expect, it } from 'vitest';
import type { Finding } from './finding.js';
import { foldFindings } from './fold-findings.js';

function finding(code: string, gapMm: number, severity: Finding['severity'] = 'look'): Finding {
  return {
    code,
    topic: 'paper',
    severity,
    message: `off by ${gapMm}`,
    atMm: { x: gapMm, y: 0 },
    measure: { gapMm, ink: '#000000' },
  };
}

describe('foldFindings', () => {
  it('leaves up to the limit as they are', () => {
    const eight = Array.from({ length: 8 }, (_, k) => finding('off', k));
    expect(foldFindings(eight, { limit: 8 })).toEqual(eight);
    expect(foldFindings([], { limit: 8 })).toEqual([]);
  });

  it('folds more into one line with the count, the place and the measure of the worst, where the first stood', () => {
    const nine = [3, 1, 4, 1, 5, 9, 2, 6, 5].map((gap) => finding('off', gap));
    const folded = foldFindings([finding('a', 1), nine[0], finding('b', 1), ...nine.slice(1)], { limit: 8 });
    expect(folded.map((f) => f.code)).toEqual(['a', 'off', 'b']);
    expect(folded[1].atMm).toEqual({ x: 9, y: 0 });
    expect(folded[1].measure).toEqual({ gapMm: 9, ink: '#000000', alike: 9 });
    expect(folded[1].message).toMatch(/^9 places .*off by 9$/);
    expect(foldFindings(folded, { limit: 8 })).toEqual(folded);
  });

  it('keeps what must be fixed apart from what is only to be looked at', () => {
    const looks = Array.from({ length: 20 }, (_, k) => finding('off', k));
    const folded = foldFindings([...looks, finding('off', 50, 'fix')], { limit: 8 });
    expect(folded.map((f) => [f.severity, f.measure?.gapMm])).toEqual([
      ['look', 19],
      ['fix', 50],
    ]);
  });

  it('takes another order of badness, and findings without measures', () => {
    const necks = [3, 1, 2].map((gap) => finding('neck', gap));
    const worse = (p: Finding, q: Finding) => Number(p.measure?.gapMm) - Number(q.measure?.gapMm);
    expect(foldFindings(necks, { limit: 2, worse })[0].measure).toMatchObject({ gapMm: 1, alike: 3 });
    const bare = necks.map((f) => ({ ...f, measure: null }));
    expect(foldFindings(bare, { limit: 2 })[0].measure).toEqual({ alike: 3 });
  });
});
