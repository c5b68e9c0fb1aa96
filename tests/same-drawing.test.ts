import { type Contour, type Finding, type JobResult, type Matrix, runJob, transformContour } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { farthestApart } from './support/lines-apart.js';
import { filledPaths, mappedPath, type PathForm, PLAIN_FORM, pathData, pathForms } from './support/path-forms.js';
import { jobOf } from './whole-job/support.js';

const [WIDTH, HEIGHT] = [100, 80];
/** As far apart may lines and measures lie that are the same: what rounded numbers may add up to, and the flattening of two runs. */
const SAME_MM = 0.02;
/** Drawings a property, each in four to seven forms. */
const RUNS = 6;

const rules = fc.constantFrom('nonzero', 'evenodd');
const repeats = fc.constantFrom('straight', 'half-drop', 'brick');
/** A quarter turn makes rows of columns: a half-drop becomes a brick. */
const TURNED_REPEAT = { straight: 'straight', 'half-drop': 'brick', brick: 'half-drop' } as const;
type RepeatName = keyof typeof TURNED_REPEAT;

interface Way {
  readonly width?: number;
  readonly height?: number;
  readonly repeat: RepeatName;
  /** Attributes of the path but its data. */
  readonly paint: string;
}

/** The whole job of one path on a unit; null where nothing is left to cut. */
function run(data: string, { width = WIDTH, height = HEIGHT, repeat, paint }: Way): JobResult | null {
  const page = `width="${width}mm" height="${height}mm" viewBox="0 0 ${width} ${height}"`;
  const svg = `<svg xmlns="http://www.w3.org/2000/svg" ${page}><path ${paint} d="${data}"/></svg>`;
  try {
    return runJob(readSvg(svg), jobOf({ repeat }));
  } catch (error) {
    if ((error as Error).name !== 'InputError') throw error;
    return null;
  }
}

function cutLines(result: JobResult): Contour[] {
  return result.sheets.flatMap(({ openings }) => openings.flatMap((o) => [...o.firstCut, ...o.secondCut]));
}

describe('the same drawing', () => {
  it('gives the same outlines and findings however its path is written', () => {
    const forms = fc.array(pathForms, { minLength: 3, maxLength: 3 });
    fc.assert(
      fc.property(filledPaths(WIDTH, HEIGHT), rules, repeats, forms, (subpaths, rule, repeat, others) => {
        const way: Way = { repeat, paint: `fill-rule="${rule}"` };
        const plain = run(pathData(subpaths, PLAIN_FORM), way);
        for (const form of others) expectSame(plain, run(pathData(subpaths, form), way));
      }),
      { numRuns: RUNS },
    );
  });

  // The ends of a line show, and where they are: only a line that is closed by the letter may start elsewhere, or miss its start by a rounding.
  it('gives the same outlines and findings however its line is written', () => {
    const pens = fc.record({
      width: fc.integer({ min: 8, max: 60 }),
      join: fc.constantFrom('miter', 'round', 'bevel'),
      cap: fc.constantFrom('butt', 'round', 'square'),
    });
    const forms = fc.array(pathForms, { minLength: 2, maxLength: 2 });
    fc.assert(
      fc.property(
        filledPaths(WIDTH, HEIGHT),
        pens,
        repeats,
        forms,
        (subpaths, { width, join, cap }, repeat, others) => {
          const paint = `fill="none" stroke="#000" stroke-width="${width / 10}" stroke-linejoin="${join}" stroke-linecap="${cap}"`;
          const [closed, open] = (['exact-z', 'exact'] as const).map((closing) =>
            run(pathData(subpaths, { ...PLAIN_FORM, closing }), { repeat, paint }),
          );
          for (const form of others) {
            const closing = form.closing.endsWith('z') ? form.closing : 'z';
            expectSame(closed, run(pathData(subpaths, { ...form, closing }), { repeat, paint }));
            const opened: PathForm = { ...form, closing: 'exact', first: 0 };
            expectSame(open, run(pathData(subpaths, opened), { repeat, paint }));
          }
        },
      ),
      { numRuns: Math.ceil(RUNS / 2) },
    );
  });

  it('gives the same outlines and findings turned and mirrored', () => {
    fc.assert(
      fc.property(filledPaths(WIDTH - 60, HEIGHT - 40), rules, repeats, (drawn, rule, repeat) => {
        // Clear of the seams: the lap and the uncut margin are on two sides of the sheet only.
        const subpaths = mappedPath(drawn, ([x, y]) => [x + 30, y + 20]);
        const way: Way = { repeat, paint: `fill-rule="${rule}"` };
        const turnedWay: Way = { ...way, width: HEIGHT, height: WIDTH, repeat: TURNED_REPEAT[repeat] };
        const plain = run(pathData(subpaths, PLAIN_FORM), way);
        const mirrored = run(
          pathData(
            mappedPath(subpaths, ([x, y]) => [WIDTH - x, y]),
            PLAIN_FORM,
          ),
          way,
        );
        const turned = run(
          pathData(
            mappedPath(subpaths, ([x, y]) => [HEIGHT - y, x]),
            PLAIN_FORM,
          ),
          turnedWay,
        );
        const [a, b] = [plain, turned].map((result) => result?.sheets[0].field ?? { x0: 0, y0: 0, x1: 0, y1: 0 });
        expectSame(plain, mirrored, [-1, 0, 0, 1, a.x0 + a.x1, 0]);
        expectSame(plain, turned, [0, -1, 1, 0, a.x0 - b.y0, a.y0 + b.x1]);
      }),
      { numRuns: RUNS },
    );
  });
});

/** Findings that name a direction of the sheet: a tongue points into the tool's stroke or not, a band lies across the sheet. */
const DIRECTED = new Set(['tongue', 'cut-away-band']);

/** Holds two results against each other; `back` maps places of the other sheet onto those of the plain one. */
function expectSame(plain: JobResult | null, other: JobResult | null, back?: Matrix): void {
  expect(other === null).toBe(plain === null);
  if (plain === null || other === null) return;
  const lines = cutLines(other).map((line) => (back ? transformContour(line, back) : line));
  expect(farthestApart(cutLines(plain), lines)).toBeLessThan(SAME_MM);
  const counted = ({ code }: Finding): boolean => !(back && DIRECTED.has(code));
  const [mine, theirs] = [plain, other].map(({ findings }) => findings.filter(counted));
  expect(unmatched(mine, theirs)).toEqual([]);
  expect(unmatched(theirs, mine)).toEqual([]);
}

/** What the one list says and the other does not, by code, severity and count; without what lies just beside its limit. */
function unmatched(findings: readonly Finding[], others: readonly Finding[]): string[] {
  const word = ({ code, severity, measure }: Finding): string => `${severity} ${code} ${measure?.alike ?? 1}`;
  const left = others.map(word);
  return findings.flatMap((finding) => {
    const at = left.indexOf(word(finding));
    if (at >= 0) left.splice(at, 1);
    return at >= 0 || isAtLimit(finding) ? [] : [word(finding)];
  });
}

function isAtLimit({ measure }: Finding): boolean {
  const value = Number(measure?.widthMm ?? measure?.lengthMm ?? measure?.gapMm);
  const limit = Number(measure?.limitMm ?? measure?.spanMm ?? measure?.gapLimitMm);
  return Math.abs(value - limit) <= SAME_MM;
}
