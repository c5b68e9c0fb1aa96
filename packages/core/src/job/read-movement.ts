import { MOVEMENT_MAX_PERCENT, measuredMovement } from '../squaring/movement.js';
import type { PaperMovement } from '../squaring/types.js';
import { InputError } from '../units/input-error.js';
import { LIMITS } from './limits.js';
import type { FilledJobFile } from './schema.js';
import type { Values } from './values.js';

type Written = Exclude<FilledJobFile['movement'], 'unknown'>;

/** How far the paper moves along and across its grain, typed in or measured; null where the job says that it is not known. */
export function readMovement(written: FilledJobFile['movement'], values: Values): PaperMovement | null {
  if (written === 'unknown') return null;
  return { alongPercent: percent('along', written, values), acrossPercent: percent('across', written, values) };
}

function percent(way: 'along' | 'across', written: Written, values: Values): number {
  const own = written[way];
  const path = `movement.${way}`;
  if (typeof own === 'number') {
    return values.number(path, own, { min: -MOVEMENT_MAX_PERCENT, max: MOVEMENT_MAX_PERCENT }, ' %');
  }
  const [dryMm, wetMm] = (['dry', 'wet'] as const).map((state) =>
    values.length(`${path}.${state}`, own[state], LIMITS.stripMm),
  );
  try {
    return measuredMovement({ dryMm, wetMm }).percent;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    return values.at(path, `can't be right: ${error.message[0].toLowerCase()}${error.message.slice(1)}`);
  }
}
