import { describe, expect, it } from 'vitest';
import { driftOf } from '../register/drift.js';
import { driftDocument } from '../register/drift-document.js';
import type { Drift } from '../register/drift-types.js';
import { holesAt } from '../register/sheets.test-help.js';
import type { Holes } from '../register/types.js';
import type { Repeat } from '../repeat/types.js';
import { driftFindings } from './drift.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };

function drift(holes: Holes, repeat: Repeat = STRAIGHT, cloth = { down: 25, across: 4 }): Drift {
  return driftOf(holes, { widthMm: 600, heightMm: 450, repeat }, { ...cloth, toleranceMm: 0.5 });
}

function said(one: Drift): string[] {
  return driftFindings(one).map(({ severity, code }) => `${severity} ${code}`);
}

const RECTANGLE = holesAt([0, 0], [600, 0], [600, 450], [0, 450]);
const LEANING = holesAt([0, 0], [600, 0], [602, 450], [2, 450]);
const BENDING = holesAt([0, 0], [600, 0.04], [600, 449.96], [0, 450]);
const SPOILT = holesAt([0, 0], [600, 0], [598.8, 450], [0, 450]);

describe('what is said of drift', () => {
  it('a true sheet stays in place', () => {
    expect(said(drift(RECTANGLE))).toEqual(['note drift-none']);
  });

  it('a parallelogram leans, to the side it leans to', () => {
    const [lean, ...rest] = driftFindings(drift(LEANING));
    expect(rest).toEqual([]);
    // 2 mm a placement, 24 steps, and 2/450 of a metre.
    expect(lean).toMatchObject({ code: 'drift-lean', severity: 'look' });
    expect(lean.message).toContain('lean by 4.4 mm a metre: after 24 steps the last is 48 mm off to the right');
  });

  it('a larger sheet grows', () => {
    const larger = holesAt([0, 0], [600, 0], [600, 450.2], [0, 450.2]);
    const [growth, ...rest] = driftFindings(drift(larger));
    expect(rest).toEqual([]);
    expect(growth.message).toContain('step 0.2 mm too far each time, 4.8 mm in 24 steps');
  });

  it('a trapezoid bends, and says where joins first miss and how to go on', () => {
    const found = driftFindings(drift(BENDING, STRAIGHT, { down: 25, across: 12 }));
    const [joins, curve] = found;
    expect(joins).toMatchObject({ code: 'drift-joins', severity: 'fix' });
    expect(joins.message).toMatch(/at column \d+, row \d+ \(by 0\.\d+ mm against column \d+, row \d+\)/);
    expect(joins.message).toMatch(/start afresh from a ground line with every \d+(nd|rd|th) placement of a column/);
    expect(curve.message).toContain('anticlockwise');
    expect(curve.message).toContain('to the right');
    // The apex: 600 · 450 / 0.08 mm away.
    expect(curve.message).toContain('circle of 3380 m');
  });

  it('sides that differ more than a join may: no ground line helps', () => {
    const [joins] = driftFindings(drift(SPOILT));
    expect(joins.message).toContain('column 1, row 2');
    expect(joins.message).toContain('so punch the sheet again');
  });

  it('dots that were not measured are told as assumed', () => {
    const half: Repeat = { kind: 'drop', step: { p: 1, q: 2 } };
    expect(said(drift(RECTANGLE, half))).toEqual(['note drift-none', 'look drift-assumed']);
  });

  it('is one sentence without line breaks or numbers that are none, whatever the sheet', () => {
    for (const holes of [RECTANGLE, LEANING, BENDING, SPOILT]) {
      for (const cloth of [
        { down: 1, across: 1 },
        { down: 2, across: 1 },
        { down: 1, across: 2 },
        { down: 200, across: 30 },
      ]) {
        for (const { message } of driftFindings(drift(holes, STRAIGHT, cloth))) {
          expect(message).toMatch(/^[A-Z].*\.$/);
          expect(message).not.toMatch(/NaN|Infinity|undefined|null|-0 /);
        }
      }
    }
  });
});

describe('drift as data', () => {
  it('counts columns and rows from 1 and survives JSON', () => {
    const one = drift(SPOILT);
    const document = driftDocument(one);
    expect(document.firstOver).toMatchObject({ column: 1, row: 2, withColumn: 1, withRow: 1 });
    expect(document.firstOver?.mm).toBeCloseTo(1.2, 9);
    expect(document.last).toMatchObject({ column: 4, row: 25 });
    expect(document.freshStart.within).toBe(false);
    expect(JSON.parse(JSON.stringify(document))).toEqual(document);
  });

  it('a cloth of one placement has no lines and no joins', () => {
    const document = driftDocument(drift(SPOILT, STRAIGHT, { down: 1, across: 1 }));
    expect(document).toMatchObject({ alongLine: null, lineToLine: null, firstOver: null, last: null, worst: null });
    expect(document.freshStart).toEqual({ placementsEvery: null, linesEvery: null, worstJoinMm: 0, within: true });
  });
});
