import { rounded } from './round.js';
/** A number and what it counts: `1 page`, `3 pages`. */
export function counted(n: number, one: string, many = `${one}s`): string {
  return `${n} ${n === 1 ? one : many}`;
}

/** `A`, `A and B`, `A, B and C`. */
export function listText(items: readonly string[]): string {
  return items.length < 2 ? (items[0] ?? '') : `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`;
}

/** A number of per cent: `1.5 %`; at most `decimals` digits after the point, no zeros at the end. */
export function percentText(percent: number, decimals = 2): string {
  return `${rounded(percent, decimals)} %`;
}

/** A share of one in whole per cent: `37 %`. */
export function shareText(share: number): string {
  return `${Math.round(100 * share)} %`;
}
