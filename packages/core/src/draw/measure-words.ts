import type { Measure } from '../stencil/types.js';

const NAMES: Readonly<Record<Measure['what'], string>> = {
  width: 'Width',
  height: 'Height',
  diagonal: 'Diagonal',
  step: 'Step',
};

/** A ruler shows half millimetres; one decimal more than that says nothing but keeps sums right. */
const DECIMALS = 1;
/** Less than this is no error on an inch ruler, mm. */
const EXACT_MM = 0.005;

/** What a measure is: `Width`, `Height`, `Diagonal`, `Step`. */
export function measureName(measure: Measure): string {
  return NAMES[measure.what];
}

/** The length on a ruler in mm, with one decimal: `420.0 mm`. */
export function measureMm(measure: Measure): string {
  return `${measure.mm.toFixed(DECIMALS)} mm`;
}

/** What is lost by measuring in inches, in words: `0.12 mm too long`, `exact`. */
export function inchErrorWords({ inchErrorMm }: Measure): string {
  if (Math.abs(inchErrorMm) < EXACT_MM) return 'exact';
  return `${Math.abs(inchErrorMm).toFixed(2)} mm too ${inchErrorMm > 0 ? 'long' : 'short'}`;
}

/** A dot measure on one short line: `Width A–B: 420.0 mm = 16 17/32 in (0.11 mm too short)`. */
export function measureWords(measure: Measure): string {
  const { from, to, inches } = measure;
  return `${measureName(measure)} ${from}–${to}: ${measureMm(measure)} = ${inches} in (${inchErrorWords(measure)})`;
}

/** Measures of one kind and length, to be read together: the two widths, the two diagonals. */
export interface MeasureGroup {
  readonly first: Measure;
  /** `A–B, E–D`. */
  readonly between: string;
}

/** Measures gathered by kind and length, in the order of the first of each. */
export function groupMeasures(measures: readonly Measure[]): MeasureGroup[] {
  const groups = new Map<string, Measure[]>();
  for (const m of measures) {
    const key = `${m.what} ${measureMm(m)} ${m.inches}`;
    groups.set(key, [...(groups.get(key) ?? []), m]);
  }
  return [...groups.values()].map((list) => ({
    first: list[0],
    between: list.map((m) => `${m.from}–${m.to}`).join(', '),
  }));
}
