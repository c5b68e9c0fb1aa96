import { expect, it } from 'vitest';
import { boxContour, circleContour, transformContour } from '../geometry/contour.js';
import type { Contour, Matrix, Point } from '../geometry/types.js';
import { doneText, writtenNumbers, writtenTies } from '../job-file/kept-fields.js';
import { readJob } from '../job-file/read.js';
import { newJobText } from '../job-file/write.js';
import type { Motif, Shape } from '../motif/types.js';
import type { JobResult } from './result.js';
import { runJob } from './run.js';
import { refuseStrandedTies } from './stranded-ties.js';

/** Two square rings of 4 mm around islands, and five round openings, on a unit of 200 × 160 mm: nothing comes near a seam. */
const RINGS: readonly Point[] = [
  { x: 60, y: 50 },
  { x: 140, y: 110 },
];
const ROUNDS: readonly (readonly [x: number, y: number, radius: number])[] = [
  [25, 20, 3],
  [110, 30, 4],
  [170, 60, 5],
  [30, 100, 6],
  [90, 120, 7],
];
const SIZE = { widthMm: 200, heightMm: 160 };
const INK = '#000000';

function square({ x, y }: Point, half: number): Contour {
  return boxContour({ x0: x - half, y0: y - half, x1: x + half, y1: y + half });
}

/** The drawing, stretched by its program, on a page of a size. */
function drawing(
  by: Point = { x: 1, y: 1 },
  page = { widthMm: by.x * SIZE.widthMm, heightMm: by.y * SIZE.heightMm },
): Motif {
  const m: Matrix = [by.x, 0, 0, by.y, 0, 0];
  const shape = (contours: Shape['contours'], k: number): Shape => ({
    id: `s${k}`,
    ink: INK,
    contours: contours.map((contour) => transformContour(contour, m)),
    rule: 'evenodd',
    clips: [],
  });
  return {
    frame: { ...page, from: 'page', assumedPpi: null },
    shapes: [
      ...RINGS.map((at) => [square(at, 14), square(at, 10)]),
      ...ROUNDS.map(([x, y, radius]) => [circleContour({ x, y }, radius)]),
    ].map(shape),
    notices: [],
  };
}

/** Ties over the rings to the right of their islands; the second is named by where it stands a unit lower. */
const TIES = {
  [INK]: [
    { id: 'T1', kind: 'printed', from: [70, 50], to: [74, 50] },
    { id: 'T4', kind: 'release', from: [150, 270], to: [154, 270] },
  ],
};

function ran(keys: object, motif = drawing()): JobResult {
  const text = JSON.stringify({ okuri: 1, motif: 'm.svg', width: '200mm', ...keys });
  return runJob(motif, readJob(text, { file: 'm.okuri.json' }).job);
}

const endsOf = ({ job }: JobResult) => job.ties[INK].map(({ from, to }) => [from.x, from.y, to.x, to.y]);

it.each([
  ['wider', { width: '210mm' }, drawing(), [1.05, 1.05], 168],
  ['narrower', { width: '150mm' }, drawing(), [0.75, 0.75], 120],
  ['higher, which stretches nothing', { height: '190mm' }, drawing(), [1, 1], 190],
  ['wider and lower', { width: '220mm', height: '150mm' }, drawing(), [1.1, 1.1], 150],
  ['drawn larger', { width: 'auto' }, drawing({ x: 1.2, y: 1.2 }), [1.2, 1.2], 192],
  ['stretched by its program', { width: 'auto' }, drawing({ x: 1.2, y: 1 }), [1.2, 1], 160],
  ['stretched, at the old width', { width: '200mm' }, drawing({ x: 1, y: 1.3 }), [1, 1.3], 208],
  ['on a wider page', { width: 'auto' }, drawing({ x: 1, y: 1 }, { widthMm: 230, heightMm: 160 }), [1, 1], 160],
  ['on a larger page', { width: 'auto' }, drawing({ x: 1, y: 1 }, { widthMm: 230, heightMm: 171 }), [1, 1], 171],
  ['on a wider page, at the old width', {}, drawing({ x: 1, y: 1 }, { widthMm: 250, heightMm: 160 }), [0.8, 0.8], 128],
])('ties stay on their banks in a unit %s', (_how, keys, motif, [x, y], heightMm) => {
  const result = ran({ ...keys, ties: TIES, takenAt: { ties: '200x160mm' } }, motif);
  expect(result.lattice.heightMm).toBeCloseTo(heightMm, 9);
  expect(result.strandedTies).toEqual([]);
  expect(result.tiesFrom).toEqual(SIZE);
  // The lower unit moves with the repeat; within it, places go as the artwork does.
  const [first, second] = [
    [70 * x, 50 * y, 74 * x, 50 * y],
    [150 * x, 110 * y + heightMm, 154 * x, 110 * y + heightMm],
  ];
  for (const [k, expected] of [first, second].entries()) {
    for (const [n, mm] of endsOf(result)[k].entries()) expect(mm).toBeCloseTo(expected[n], 3);
  }
  expect(result.job.ties[INK].map(({ id, kind }) => [id, kind])).toEqual([
    ['T1', 'printed'],
    ['R4', 'release'],
  ]);
  expect(result.sheets[0].ties.map(({ id }) => id).sort()).toEqual(['R4', 'T1']);
  expect(result.strength[0].islands.filter(({ dropsAt }) => dropsAt === 'first')).toEqual([]);
  expect(result.findings.filter(({ code }) => code.startsWith('tie-'))).toEqual([]);
});

it('reads a file of the old form as taken at the present size', () => {
  const same = ran({ ties: TIES });
  expect(same.tiesFrom).toBeNull();
  expect(same.strandedTies).toEqual([]);
  // Nobody can know at which size these were taken: they stay where the file puts them, and it is said that they find no banks.
  const other = ran({ width: '210mm', ties: TIES });
  expect(endsOf(other)[0]).toEqual([70, 50, 74, 50]);
  expect(other.tiesFrom).toBeNull();
  expect(other.strandedTies.map(({ id, why }) => [id, why])).toEqual([
    ['T1', 'astray'],
    ['R4', 'astray'],
  ]);
  expect(() => refuseStrandedTies(other)).not.toThrow();
});

it('tells the ties that find no banks at another size, and which size they are of', () => {
  // 2 mm from the corner of its island; at 60 mm that is 0.6 mm, and the tie is 2 mm wide as ever.
  const corner = { id: 'T9', kind: 'printed', from: [150, 102], to: [154, 102] };
  const keys = { ties: { [INK]: [...TIES[INK], corner] }, takenAt: { ties: '200x160mm' } };
  expect(ran(keys).strandedTies).toEqual([]);
  const small = ran({ ...keys, width: '60mm' });
  expect(small.strandedTies.map(({ id }) => id)).toEqual(['T9']);
  expect(small.findings.filter(({ code }) => code.startsWith('tie-'))).toMatchObject([
    { severity: 'fix', measure: { tie: 'T9', widthMm: 2, takenWidthMm: 200, takenHeightMm: 160 } },
  ]);
  expect(() => refuseStrandedTies(small)).toThrow(
    'Tie T9 finds no two banks of paper now that the unit is 60 × 48 mm, not 200 × 160 mm as when it was set: take it out with okuri ties JOB --drop T9, or give the unit its old size back.',
  );
});

it('keeps numbers with their shapes, and counts done marks and proofs of a sheet of their size alone', () => {
  const first = ran({});
  const places = (result: JobResult): (readonly [number, number, number])[] =>
    result.sheets[0].openings.map(({ number, box, areaMm2 }) => {
      const { field } = result.sheets[0];
      const by = 200 / result.lattice.widthMm;
      return [number, Math.round(((box.x0 + box.x1) / 2 - field.x0) * by), Math.round(areaMm2 * by * by)];
    });
  // Numbers turned round, so that they are not those of the order by chance.
  const count = first.kept[INK].length;
  const numbers = { [INK]: writtenNumbers(first.kept)[INK].map(([n, ...rest]) => [count + 1 - n, ...rest]) };
  const proof = { [INK]: [{ at: 'X1', offset: '0.3mm' }] };
  const kept = {
    numbers,
    done: '1-3',
    proof,
    takenAt: { numbers: '200x160mm', done: '200x160mm', proof: '200x160mm' },
  };
  const codes = (result: JobResult) =>
    result.findings.filter(({ code }) => code.endsWith('other-sheet')).map(({ code }) => code);
  const doneOn = ({ sheets }: JobResult) => sheets[0].openings.filter(({ done }) => done).map(({ number }) => number);
  const withoutProof = { ...kept, proof: undefined };
  const before = ran(withoutProof);
  expect(doneOn(before)).toEqual([1, 2, 3]);
  expect(codes(before)).toEqual([]);
  for (const width of ['320mm', '90mm']) {
    const other = ran({ ...kept, width });
    expect(places(other)).toEqual(places(before));
    // A sheet of another size is another sheet of paper.
    expect(doneOn(other)).toEqual([]);
    expect(codes(other)).toEqual(['done-other-sheet', 'proof-other-sheet']);
    expect(other.sheets[0].secondCutFrom).toBe('plan');
    expect(other.job.done).toEqual(before.job.done);
  }
  // On a larger page the drawing itself did not move.
  const page = ran({ ...withoutProof, width: 'auto' }, drawing({ x: 1, y: 1 }, { widthMm: 260, heightMm: 160 }));
  const still = (result: JobResult) => places({ ...result, lattice: before.lattice });
  expect(still(page)).toEqual(still(before));
});

it('writes what it reads, with the sizes of what there is', () => {
  const text = JSON.stringify({
    okuri: 1,
    motif: 'm.svg',
    ties: TIES,
    done: '2',
    takenAt: { ties: '7.5in x 160 mm', numbers: '10x10mm', done: '200x160mm' },
  });
  const { job } = readJob(text, { file: 'm' });
  expect(job.takenAt.ties).toEqual({ widthMm: 190.5, heightMm: 160 });
  const written = JSON.parse(newJobText(job));
  expect(written.takenAt).toEqual({ ties: '190.5x160mm', done: '200x160mm' });
  expect(written.ties).toEqual(writtenTies(job.ties));
  expect(written.done).toBe(doneText(job.done));
  const again = readJob(newJobText(job), { file: 'm' }).job;
  expect(again).toEqual({ ...job, takenAt: { ...job.takenAt, numbers: null } });
});

it.each([
  ['200mm', /"takenAt\.ties" is "200mm": write the unit's width and height, such as "300x420mm"\.$/],
  ['200xmm', /"takenAt\.ties": /],
  ['0x20mm', /"takenAt\.ties" is 0 mm: it must be from 0\.01 to 1000000 mm\.$/],
])('refuses the size %s in one sentence', (size, sentence) => {
  expect(() => ran({ ties: TIES, takenAt: { ties: size } })).toThrow(sentence);
});

it('brings a job back to where it was when the size goes back', () => {
  const there = ran({ width: '317mm', ties: TIES, takenAt: { ties: '200x160mm' } });
  const file = JSON.parse(newJobText(there.job));
  const back = ran({ ties: file.ties, takenAt: file.takenAt });
  for (const [k, ends] of endsOf(back).entries()) {
    const { from, to } = TIES[INK][k];
    for (const [n, mm] of ends.entries()) expect(Math.abs(mm - [...from, ...to][n])).toBeLessThan(2e-4);
  }
  expect(back.strandedTies).toEqual([]);
});
