import { joinFindings } from '../findings/joins.js';
import type { Lattice, SeamStretch } from '../repeat/types.js';
import { checkJoins as check } from './check-joins.js';
import { JOIN_DEFAULTS, type JoinOptions } from './options.js';

/** Joins, with what is told of them as findings. */
export function checkJoins(stretches: readonly SeamStretch[], lattice: Lattice, options: JoinOptions = JOIN_DEFAULTS) {
  const { joins, told } = check(stretches, lattice, options);
  return { joins, findings: joinFindings(told, lattice, options) };
}
