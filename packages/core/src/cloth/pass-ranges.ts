import type { Plan } from './plan-types.js';

/** Groups of columns that a line names; the table of placements has the rest. */
const GROUPS_SHOWN = 6;
/** Runs of numbers in one list. */
const RUNS_SHOWN = 6;

/** For each pass, a line with the rows of its placements, column by column; columns alike are told together, and what is too long is cut short. */
export function passRanges({ passes, placements }: Pick<Plan, 'passes' | 'placements'>): string[] {
  const rows = new Map<number, Map<number, number[]>>();
  for (const { pass, column, row } of placements) {
    const columns = rows.get(pass) ?? new Map<number, number[]>();
    rows.set(pass, columns);
    const found = columns.get(column);
    if (found === undefined) columns.set(column, [row]);
    else found.push(row);
  }
  return passes.map(({ pass }) => {
    const alike = new Map<string, number[]>();
    for (const [column, own] of rows.get(pass) ?? []) {
      const text = numberRuns(own);
      alike.set(text, [...(alike.get(text) ?? []), column]);
    }
    const groups = [...alike].map(
      ([text, columns]) =>
        `${columns.length === 1 ? 'column' : 'columns'} ${numberRuns(columns)}: ${/^\d+$/.test(text) ? 'row' : 'rows'} ${text}`,
    );
    const shown = groups.slice(0, GROUPS_SHOWN).join('; ');
    return `  pass ${pass}: ${shown}${groups.length > GROUPS_SHOWN ? '; …' : ''}.`;
  });
}

/** Numbers in words: `4`, `1-9` for each of them, `1, 3 … 9` where the same step leads on; a list of many runs ends in `…`. */
export function numberRuns(numbers: readonly number[]): string {
  const sorted = [...new Set(numbers)].sort((a, b) => a - b);
  const runs: string[] = [];
  for (let k = 0; k < sorted.length; ) {
    const step = sorted[k + 1] - sorted[k];
    let end = k + 1;
    while (end + 1 < sorted.length && sorted[end + 1] - sorted[end] === step) end++;
    const [first, second, last] = [sorted[k], sorted[k + 1], sorted[end]];
    if (end - k >= 2) {
      runs.push(step === 1 ? `${first}-${last}` : `${first}, ${second} … ${last}`);
      k = end + 1;
    } else {
      runs.push(`${first}`);
      k++;
    }
  }
  return runs.length > RUNS_SHOWN ? `${runs.slice(0, RUNS_SHOWN).join(', ')}, …` : runs.join(', ');
}
