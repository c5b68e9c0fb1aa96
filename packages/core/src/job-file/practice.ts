import type { Practice, Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import type { Job } from './types.js';

/** Under this key stands what is done where the job file says it without an ink, as a job of one stencil may. */
export const ONE_STENCIL = 'all';

/**
 * Whether a transfer needs mirrored pages. None does: pages fixed on the face of the paper are cut through as they are; carbon paper
 * under the page marks the face as it is; on a light table the page lies under the paper, both face up. Whoever works from the back of the
 * paper says so in the job.
 */
export function mirroredFor(transfer: Practice['transfer']): boolean {
  const MIRRORED: Record<Practice['transfer'], boolean> = { 'cut-through': false, carbon: false, lightbox: false };
  return MIRRORED[transfer];
}

/** Under which name the numbers of a sheet stand in the job: its ink, with a B after it for the second of two sheets. */
export function stencilKey({ ink, part }: Pick<Sheet, 'ink' | 'part'>): string {
  return part === 'B' ? `${ink} B` : ink;
}

/** The numbers that are done on a stencil, by its key. One list for all throws an `InputError` where there are several stencils. */
export function doneOf({ done }: Pick<Job, 'done'>, key: string, keys: readonly string[]): readonly number[] {
  const plain = done[ONE_STENCIL];
  if (plain === undefined) return done[key] ?? [];
  if (keys.length === 1) return plain;
  throw new InputError(
    `"done" is one list, but the job has ${keys.length} stencils: give a list for each, such as {"${keys[0]}": "1-20"}.`,
  );
}
