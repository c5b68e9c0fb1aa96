import { rounded } from '../units/round.js';
import type { Plan } from './plan-types.js';

/** Digits after the point of a length in a table, mm: a thousandth is far finer than any mark on cloth. */
const DECIMALS = 3;

const COLUMNS = [
  'id',
  'column',
  'row',
  'pass',
  'order',
  'whole',
  'x_mm',
  'y_mm',
  'visible_left_mm',
  'visible_top_mm',
  'visible_right_mm',
  'visible_bottom_mm',
  'share',
] as const;

/**
 * The placements as a table: a header row, then one row a placement in the order of printing; commas, points in numbers, CRLF at the end of every row
 * (RFC 4180). `x_mm` and `y_mm` are the place of the first dot; `whole` is 1 or 0.
 */
export function planCsv(plan: Plan): string {
  const rows = [...plan.placements]
    .sort((a, b) => a.pass - b.pass || a.order - b.order)
    .map((p) => [
      p.id,
      p.column,
      p.row,
      p.pass,
      p.order,
      p.whole ? 1 : 0,
      ...[p.at.x, p.at.y, p.visible.x0, p.visible.y0, p.visible.x1, p.visible.y1].map(shortNumber),
      shortNumber(p.share),
    ]);
  return [COLUMNS, ...rows].map(csvRecord).join('');
}

/** One record of a table with its end: what has a comma, a quote or a line break stands in quotes, quotes within doubled (RFC 4180, 2). */
export function csvRecord(fields: readonly (string | number)[]): string {
  const written = fields.map((field) => {
    const text = String(field);
    return /[",\r\n]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
  });
  return `${written.join(',')}\r\n`;
}

/** A number to a thousandth, never with an exponent, never `-0`. */
export function shortNumber(value: number): number {
  return rounded(value, DECIMALS);
}
