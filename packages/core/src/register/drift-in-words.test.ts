import { describe, expect, it } from 'vitest';
import { driftFindings } from '../findings/drift.js';
import type { Repeat } from '../repeat/types.js';
import { formatMm } from '../units/format.js';
import { driftOf } from './drift.js';
import { driftDocument } from './drift-document.js';
import { groundLineRestarts } from './drift-restarts.js';
import type { Drift } from './drift-types.js';
import { holesAt } from './sheets.test-help.js';

const STRAIGHT: Repeat = { kind: 'straight', step: { p: 0, q: 1 } };
type Corners = readonly (readonly [number, number])[];

const drift = (
  corners: Corners,
  cloth: { down: number; across: number; toleranceMm?: number },
  repeat = STRAIGHT,
): Drift => driftOf(holesAt(...corners), { widthMm: 600, heightMm: 450, repeat }, { toleranceMm: 0.5, ...cloth });
const find = (of: Drift, code: string, about = '') =>
  driftFindings(of).find((one) => one.code === code && one.message.includes(about));
const leaning = (mm: number): Corners => [
  [0, 0],
  [600, 0],
  [600 + mm, 450],
  [mm, 450],
];
/** The right side lower or higher than the left one by so much: rows lean. */
const rising = (mm: number): Corners => [
  [0, 0],
  [600, mm],
  [600, 450 + mm],
  [0, 450],
];
const sized = (w: number, h: number): Corners => [
  [0, 0],
  [w, 0],
  [w, h],
  [0, h],
];

describe('a lean in words', () => {
  it('goes to the side of the cloth to which the last placement strays', () => {
    const cloth = { down: 11, across: 11 };
    const [right, left, below, above] = [
      find(drift(leaning(0.9), cloth), 'drift-lean', 'down a column'),
      find(drift(leaning(-0.9), cloth), 'drift-lean', 'down a column'),
      find(drift(rising(0.9), cloth), 'drift-lean', 'from column to column'),
      find(drift(rising(-0.9), cloth), 'drift-lean', 'from column to column'),
    ];
    // 0.9 on 450 are 2 mm a metre; 0.9 on 600 are 1.5.
    expect(right?.message).toContain('lean by 2 mm a metre: after 10 steps the last is 9 mm off to the right');
    expect(left?.message).toContain('off to the left');
    expect(below?.message).toContain('lean by 1.5 mm a metre: after 10 steps the last is 9 mm off to the bottom');
    expect(above?.message).toContain('off to the top');
    expect(right?.measure?.sidewaysMm).toBeCloseTo(-9, 9);
    expect(right?.measure?.leanMmPerM).toBeCloseTo(-2, 9);
    expect(right?.measure?.leanDeg).toBeCloseTo((-Math.atan(0.002) * 180) / Math.PI, 9);
  });

  it('is worth a word from half a mm at the end of the line on', () => {
    expect(find(drift(leaning(0.051), { down: 11, across: 1 }), 'drift-lean')).toBeDefined();
    expect(find(drift(leaning(0.049), { down: 11, across: 1 }), 'drift-lean')).toBeUndefined();
    expect(find(drift(leaning(-0.051), { down: 11, across: 1 }), 'drift-lean')).toBeDefined();
    expect(find(drift(leaning(1), { down: 2, across: 1 }), 'drift-lean')?.message).toContain('after step the last');
  });
});

describe('growth in words', () => {
  it('says too far or too short, and what all steps together are', () => {
    const [far] = driftFindings(drift(sized(600, 450.3), { down: 11, across: 1 }));
    expect(far).toMatchObject({ code: 'drift-growth', severity: 'look' });
    expect(far.message).toContain('step 0.3 mm too far each time, 3 mm in 10 steps');
    expect(far.measure?.overMm).toBeCloseTo(3, 9);
    const [short] = driftFindings(drift(sized(599.8, 450), { down: 1, across: 11 }));
    expect(short.message).toContain('from column to column step 0.2 mm too short each time, 2 mm in 10 steps');
    expect(short.measure?.overMm).toBeCloseTo(-2, 9);
    expect(find(drift(sized(600, 450.051), { down: 11, across: 1 }), 'drift-growth')).toBeDefined();
    expect(find(drift(sized(600, 450.049), { down: 11, across: 1 }), 'drift-growth')).toBeUndefined();
  });
});

describe('a bend in words', () => {
  // The right side shorter by d: a column turns about the apex, 600 · 450 / d to the right; each placement by d / 600.
  const taper = (d: number): Corners => [
    [0, 0],
    [600, d / 2],
    [600, 450 - d / 2],
    [0, 450],
  ];

  it('says the turn of one step and of all, which way, and the circle', () => {
    const d = 0.06;
    const found = find(drift(taper(d), { down: 31, across: 1 }), 'drift-curve');
    const deg = (d / 600) * (180 / Math.PI);
    expect(found?.severity).toBe('look');
    expect(found?.measure?.turnDeg).toBeCloseTo(-deg, 9);
    expect((found?.measure?.radiusMm as number) / ((600 * 450) / d)).toBeCloseTo(1, 4);
    // Half the turns of the 29 steps after the first, over the whole length.
    expect(found?.measure?.bendMm).toBeCloseTo(30 * 450 * Math.sin((29 * d) / 600 / 2), 4);
    expect(found?.measure?.sidewaysMm).toBeCloseTo(-(d / 600) * 450 * ((30 * 29) / 2), 2);
    expect(found?.message).toContain(`turns by ${Number(deg.toPrecision(2))}° anticlockwise`);
    expect(found?.message).toContain('on a circle of 4500 m');
    expect(found?.message).toContain(
      `turned by ${Number((30 * deg).toPrecision(2))}° and ${formatMm((d / 600) * 450 * 435, 1)} off to the right`,
    );
    const other = find(drift(taper(-d), { down: 31, across: 1 }), 'drift-curve');
    expect(other?.message).toContain('° clockwise');
    expect(other?.message).toContain('off to the left');
    // With joins that miss it has to be mended.
    expect(find(drift(taper(d), { down: 31, across: 31 }), 'drift-curve')?.severity).toBe('fix');
  });

  it('is told in metres from a metre on', () => {
    const small = drift(taper(300), { down: 3, across: 1, toleranceMm: 1000 });
    const found = find(small, 'drift-curve');
    const radius = found?.measure?.radiusMm as number;
    expect(radius).toBeLessThan(1000);
    expect(found?.message).toContain(`on a circle of ${Math.round(radius)} mm`);
  });
});

describe('joins in words', () => {
  const spoilt: Corners = [
    [0, 0],
    [600, 0],
    [598.8, 450],
    [0, 450],
  ];

  it('names the first that misses, the last, and how to start afresh', () => {
    const bending: Corners = [
      [0, 0],
      [600, 0.04],
      [600, 449.96],
      [0, 450],
    ];
    const of = drift(bending, { down: 25, across: 12 });
    const { firstOver, last, worst } = of;
    const found = find(of, 'drift-joins');
    expect(found?.measure).toEqual({
      column: (firstOver?.column ?? 0) + 1,
      row: (firstOver?.row ?? 0) + 1,
      mm: firstOver?.mm,
      toleranceMm: 0.5,
      lastMm: last?.mm,
      worstMm: worst?.mm,
    });
    expect(found?.message).toContain(
      `at column ${(firstOver?.column ?? 0) + 1}, row ${(firstOver?.row ?? 0) + 1} (by ${formatMm(firstOver?.mm ?? 0)} against column ${(firstOver?.with.column ?? 0) + 1}, row ${(firstOver?.with.row ?? 0) + 1})`,
    );
    expect(found?.message).toContain(`at the last placement by ${formatMm(last?.mm ?? 0, 1)}`);
    const { placementsEvery, linesEvery } = groundLineRestarts(of);
    const said = [
      ...(found?.message ?? '').matchAll(/every (?:(\d+)(?:st|nd|rd|th) )?(placement of a column|column)/g),
    ];
    expect(said.map(([, n, what]) => [n === undefined ? 1 : Number(n), what])).toEqual(
      [
        [placementsEvery, 'placement of a column'],
        [linesEvery, 'column'],
      ].filter(([n]) => n !== null),
    );
    const quiet = { ...of, last: last && { ...last, mm: 0.4 } };
    expect(find(quiet, 'drift-joins')?.message).toContain('at the last placement only by 0.4 mm');
    expect(find({ ...of, last: firstOver }, 'drift-joins')?.message).not.toContain('last placement');
  });

  it('writes every kind of count as it is spoken', () => {
    const seen = new Map<number, string>();
    for (let k = 4; k <= 28; k++) {
      const d = 0.01 * k;
      const of = drift(
        [
          [0, 0],
          [600, d / 2],
          [600, 450 - d / 2],
          [0, 450],
        ],
        { down: 40, across: 12 },
      );
      const text = find(of, 'drift-joins')?.message ?? '';
      const found = /every (?:(\d+)(st|nd|rd|th) )?placement/.exec(text);
      if (found) seen.set(Number(found[1] ?? 1), found[2] ?? '');
    }
    for (const [n, end] of seen) {
      const ends = n === 1 ? '' : [11, 12, 13].includes(n % 100) ? 'th' : (['th', 'st', 'nd', 'rd'][n % 10] ?? 'th');
      expect(`${n}${end}`).toBe(`${n}${ends}`);
    }
    expect(seen.size).toBeGreaterThan(4);
  });

  it('says that joins meet, or by how much they miss at most', () => {
    const [none] = driftFindings(drift(sized(600, 450), { down: 7, across: 4 }));
    expect(none.message).toBe('Stepped dot on dot, 7 down and 4 across, the sheet stays in place: every join meets.');
    const little: Corners = [
      [0, 0],
      [600, 0],
      [599.97, 450],
      [0, 450],
    ];
    const [worst] = driftFindings(drift(little, { down: 2, across: 1 }));
    expect(worst.message).toContain('no join is off by more than 0.03 mm');
    expect(worst.measure?.worstMm).toBeCloseTo(0.03, 9);
  });

  it('names the dots that were assumed, one or several', () => {
    const half = drift(sized(600, 450), { down: 3, across: 3 }, { kind: 'drop', step: { p: 1, q: 2 } });
    expect(find(half, 'drift-assumed')).toMatchObject({ measure: { dots: 'C, F' } });
    expect(find(half, 'drift-assumed')?.message).toMatch(
      /^Dots C, F .* were not measured: .* they divided their sides .* measure them/,
    );
    const [first] = half.model.dots.filter(({ known }) => known === 'interpolated');
    const one = { ...half, model: { ...half.model, dots: [first] } };
    expect(find(one, 'drift-assumed')?.message).toMatch(
      /^Dot C .* was not measured: .* it divided its side .* measure it/,
    );
  });

  it('are the same as data, line by line', () => {
    const of = drift(
      [
        [0, 0],
        [600.4, 0.2],
        [600.1, 450.5],
        [-0.3, 449.8],
      ],
      { down: 6, across: 5 },
    );
    const document = driftDocument(of);
    for (const [line, own] of [
      [document.alongLine, of.within],
      [document.lineToLine, of.between],
    ] as const) {
      const { over, step: _step, ...rest } = own ?? { over: null, step: null };
      expect(line).toMatchObject(rest);
      expect({ steps: line?.steps, ...line?.over }).toEqual(over);
    }
    expect(document.alongLine?.steps).toBe(5);
    expect(document.lineToLine?.steps).toBe(4);
    for (const [join, own] of [
      [document.firstOver, of.firstOver],
      [document.last, of.last],
      [document.worst, of.worst],
    ] as const) {
      if (own === null || join === null) throw new Error('every join is there');
      expect([join.column - own.column, join.row - own.row]).toEqual([1, 1]);
      expect([join.withColumn - own.with.column, join.withRow - own.with.row]).toEqual([1, 1]);
      expect(join.mm).toBe(own.mm);
    }
    const { placementsEvery, linesEvery, worstJoinMm, within } = groundLineRestarts(of);
    expect(document.freshStart).toEqual({ placementsEvery, linesEvery, worstJoinMm, within });
    expect(find(drift(spoilt, { down: 3, across: 1 }), 'drift-joins')?.message).toContain('so punch the sheet again');
  });
});
