import {
  checkReport,
  type Drawing,
  type JobFile,
  type JobResult,
  jobPlanReport,
  judgeSquare,
  squareReport,
  squareSheet,
} from '@okuri/core';
import {
  cutGuideDrawing,
  planOf,
  printSheetDrawings,
  punchReport,
  squarePunchOrder,
  stencilDrawings,
} from '@okuri/core/inside';
import { fontMetrics } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { box, disc, runShapes } from './whole-job/support.js';

// Every length that stands in mm and in inches, on every page and in every text of a job, is read back from the words alone.

const FONT = fontMetrics();

/** A length as a person reads it: what it says in mm, and beside it in inches. */
interface Said {
  readonly where: string;
  readonly mm: number;
  readonly inches: string;
}

const INCHES = String.raw`(\d+ \d+\/\d+|\d+\/\d+|\d+)`;
/** `300 mm (11 13/16 in`, `bar 180 mm = 7 3/32 in`, `516 mm (−0.14) 20 5/16 in`, `300 mm or 11 13/16 in`: mm, how far those are rounded, inches. */
const BESIDE = new RegExp(String.raw`([\d.]+) mm (?:\(([+−])([\d.]+)(?: mm)?\) )?(?:or |= |\()?${INCHES} in\b`, 'g');
/** `365 × 485 mm (14 3/8 × 19 3/32 in)`. */
const SIZES = new RegExp(String.raw`([\d.]+) × ([\d.]+) mm \(${INCHES} × ${INCHES} in\)`, 'g');
/** A row of the print sheets: `A–B width 300.0 11 13/16 +0.04`. */
const ROWS = new RegExp(String.raw`(?:width|height|diagonal|dot) ([\d.]+) ${INCHES} [+−±0]`, 'g');

function readBack(where: string, text: string): Said[] {
  const beside = [...text.matchAll(BESIDE)].map(([, mm, sign, off, inches]) => ({
    where,
    mm: Number(mm) - (off === undefined ? 0 : Number(off) * (sign === '+' ? 1 : -1)),
    inches,
  }));
  const sizes = [...text.matchAll(SIZES)].flatMap(([, w, h, across, down]) => [
    { where, mm: Number(w), inches: across },
    { where, mm: Number(h), inches: down },
  ]);
  return [
    ...beside,
    ...sizes,
    ...[...text.matchAll(ROWS)].map(([, mm, inches]) => ({ where, mm: Number(mm), inches })),
  ];
}

function pagesOf(what: string, drawings: readonly Drawing[]): (readonly [string, string])[] {
  return drawings.flatMap(({ pages }) =>
    pages.map(({ items }, k) => {
      const words = items.flatMap((item) => (item.kind === 'text' ? [item.text] : []));
      return [`${what}, page ${k + 1}`, words.join(' ')] as const;
    }),
  );
}

/** All pages and texts of a job in which lengths may stand. */
function textsOf(result: JobResult): (readonly [string, string])[] {
  const square = squareSheet(result);
  const { widthMm, heightMm } = square.targets;
  // The lower right hole sits 3 mm out: the report tells where to punch it again.
  const measured = {
    top: [widthMm],
    left: [heightMm],
    bottom: [widthMm + 3],
    right: [heightMm],
    rising: [Math.hypot(widthMm, heightMm)],
    falling: [Math.hypot(widthMm + 3, heightMm)],
  };
  return [
    ...pagesOf('guide', [cutGuideDrawing(result, FONT)]),
    ...pagesOf('print sheets', printSheetDrawings(result, FONT)),
    ...pagesOf('cutting drawing', stencilDrawings(result, FONT)),
    ['check', checkReport(result)],
    ['plan', jobPlanReport(result, planOf(result))],
    ['square', punchReport(square, squarePunchOrder(square), { ruler: 'both' })],
    ['square, measured', squareReport(judgeSquare(measured, { sheet: square }), square)],
  ];
}

const SHAPES = [box('bar', 40, 20, 90, 32), disc('dot', { x: 30, y: 60 }, 9)];

const JOBS: readonly (readonly [string, readonly [number, number], Partial<JobFile>])[] = [
  ['half-drop of 300 × 420', [300, 420], { repeat: 'half-drop', cloth: { width: '1m', length: '6m' } }],
  ['brick of 187.5 × 133.3', [187.5, 133.3], { repeat: 'brick', cloth: { width: '900mm', length: '3m' } }],
  [
    'straight of 241.3 × 180',
    [241.3, 180],
    { cloth: { width: '1.1m', length: '4m', selvedge: '12mm', start: '55mm' } },
  ],
  [
    'soaked, of 210 × 260',
    [210, 260],
    { repeat: 'drop', step: '1/3', movement: { along: 0.2, across: 1.5 }, grain: 'upright', punch: 'wet' },
  ],
];

describe('a length in inches', () => {
  it.each(JOBS)('reads the same wherever it stands: %s', (_, size, says) => {
    const said = textsOf(runShapes(SHAPES, size, says)).flatMap(([where, text]) => readBack(where, text));
    const figures = new Map<string, Map<string, string>>();
    for (const { where, mm, inches } of said) {
      // An inch is 25.4 mm (24 FR 5348, 1 July 1959); mm are written to a tenth at worst.
      const [n, d] = (/\d+\/\d+/.exec(inches)?.[0] ?? '0/1').split('/').map(Number);
      const whole = /^\d+(?!\/|\d)/.exec(inches)?.[0] ?? '0';
      expect(Math.abs((Number(whole) + n / d) * 25.4 - mm), `${where}: ${mm} mm, ${inches} in`).toBeLessThan(0.25);
      const key = mm.toFixed(1);
      const own = figures.get(key) ?? new Map<string, string>();
      figures.set(key, own.set(inches, where));
    }
    const twofold = [...figures].filter(([, own]) => own.size > 1).map(([mm, own]) => [mm, ...own]);
    expect(twofold).toEqual([]);
    // What is read is what stands there: guide, print sheets and texts have lengths, and the sides of the unit stand on several of them.
    const places = (mm: number) =>
      new Set(said.filter((one) => Math.abs(one.mm - mm) < 0.06).map(({ where }) => where));
    expect(places(size[0]).size).toBeGreaterThan(3);
    expect(new Set(said.map(({ where }) => where.split(',')[0]))).toEqual(
      new Set(['guide', 'print sheets', 'check', 'square']),
    );
    expect(said.length).toBeGreaterThan(60);
  });
});
