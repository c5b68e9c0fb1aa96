import type { Point } from '../geometry/types.js';
import type { Job } from '../job-file/types.js';
import { rounded } from '../units/round.js';
import type { ListedImpossible, ListedTie, TieList } from './tie-list.js';

const HEADS = ['id', 'kind', 'for', 'opening', 'length', 'from left', 'from top', ''];

/** Columns that hold figures, which stand under one another by their last digit. */
const FIGURES = [3, 4, 5, 6];

/** The ties of a job and the suggested ones as lists that a person reads at a table; then what no tie can hold. */
export function tiesReport(
  { ties, impossible, once = [] }: TieList,
  job: Pick<Job, 'across' | 'down' | 'paper'>,
): string {
  const inJob = ties.filter(({ accepted }) => accepted);
  const suggested = ties.filter(({ accepted }) => !accepted);
  const several = new Set([...ties, ...impossible].map(({ stencil }) => stencil)).size > 1;
  const units = job.across * job.down;
  const lines: string[] = [];
  if (ties.length > 0) {
    const each = units > 1 ? `; each stands in all ${units} units of the sheet` : '';
    lines.push(
      `ties ${rounded(job.paper.tie.widthMm, 2)} mm wide; lengths and places in mm, the middle of each from the left and the top of the field${each}`,
    );
  } else if (impossible.length === 0) lines.push('No tie is in the job, and none is needed.');
  for (const [title, list] of [
    [`in the job: ${inJob.length}`, inJob],
    [`suggested: ${suggested.length}`, suggested],
  ] as const) {
    if (list.length > 0) lines.push('', title, ...table(list, several));
  }
  if (impossible.length > 0) {
    lines.push('', `no tie can hold: ${impossible.length}`, ...impossible.map((one) => hopelessLine(one, several)));
  }
  if (once.length > 0) {
    lines.push('', `large, but held by one tie: ${once.length}`, ...once.map((one) => hopelessLine(one, several)));
  }
  return `${lines.join('\n').replace(/^\n/, '')}\n`;
}

function table(ties: readonly ListedTie[], several: boolean): string[] {
  const rows = ties.map((tie) => [
    several ? `stencil ${tie.stencil}: ${tie.id}` : tie.id,
    tie.kind,
    purpose(tie),
    tie.opening === null ? '-' : String(tie.opening),
    tie.lengthMm.toFixed(2),
    tie.atMm.x.toFixed(1),
    tie.atMm.y.toFixed(1),
    tie.hidden ? 'hidden where the drawing breaks' : '',
  ]);
  const widths = HEADS.map((head, c) =>
    [head, ...rows.map((row) => row[c])].reduce((w, t) => Math.max(w, t.length), 0),
  );
  return [HEADS, ...rows].map((row) => {
    const cells = row.map((text, c) => (FIGURES.includes(c) ? text.padStart(widths[c]) : text.padEnd(widths[c])));
    return `  ${cells.join('  ')}`.trimEnd();
  });
}

function purpose({ accepted, island }: ListedTie): string {
  if (accepted) return '-';
  return island === null ? 'long opening' : `island ${island}`;
}

function hopelessLine({ stencil, island, areaMm2, atMm, reason }: ListedImpossible, several: boolean): string {
  const name = `${several ? `stencil ${stencil}: ` : ''}island ${island}`;
  return `  ${name}, ${rounded(areaMm2, 2)} mm² at ${placeText(atMm)} mm: ${reason}`;
}

function placeText({ x, y }: Point): string {
  return `${rounded(x, 2)}, ${rounded(y, 2)}`;
}
