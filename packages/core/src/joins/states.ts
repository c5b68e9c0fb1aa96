import type { Join, JoinState } from './types.js';

/** Whether the two ends of a join come together: with a bend, too. */
export function comesTogether({ state }: Pick<Join, 'state'>): boolean {
  return state === 'meets' || state === 'bends';
}

/** How many joins there are of each state. */
export function countStates(joins: readonly Pick<Join, 'state'>[]): Record<JoinState, number> {
  const counts = { meets: 0, bends: 0, off: 0, open: 0 };
  for (const { state } of joins) counts[state]++;
  return counts;
}
