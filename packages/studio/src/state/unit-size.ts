import type { Job } from '@okuri/core';
import {
  isSameSize,
  type StrandedTie,
  type TakenGroup,
  type UnitSize,
  writtenTakenAt,
  writtenTies,
} from '@okuri/core/inside';
import type { CheckedReply, ReadReply } from '../engine/protocol';
import type { History } from './history';
import { type KeyPath, keyOf, withKey } from './job-keys';
import { presentJob } from './present-job';
import type { Project } from './project';

const GROUPS: readonly TakenGroup[] = ['ties', 'numbers', 'done', 'proof'];

/** A change of size that left ties without their banks: what the person is asked about. */
export interface SizeQuestion {
  readonly stranded: readonly StrandedTie[];
  /** The size at which the ties were taken, and the present one. */
  readonly from: UnitSize;
  readonly now: UnitSize;
}

/** The unit as it was read last, and what of the project gave it that size. */
export interface KnownUnit extends UnitSize {
  readonly asked: Job['size'];
  readonly motif: Project['motif'];
  readonly scan: Project['scan'];
}

/** The project, and what was worked out of it last. */
interface WorkedOut {
  readonly history: Pick<History<Project>, 'present'>;
  readonly checked: Pick<CheckedReply, 'job' | 'lattice'> | null;
}

/** The unit of a project as it was read. */
export function unitOf({ motif, scan }: Project, { job, lattice }: Pick<ReadReply, 'job' | 'lattice'>): KnownUnit {
  return { widthMm: lattice.widthMm, heightMm: lattice.heightMm, asked: job.size, motif, scan };
}

/** The unit's size in the present state of the project; null where it was not read at that size yet. */
export function knownSize(unit: KnownUnit | null, { jobText, motif, scan }: Project): UnitSize | null {
  const job = presentJob(jobText);
  if (unit === null || job === null || unit.motif !== motif || unit.scan !== scan) return null;
  return isSameAsked(job.size, unit.asked) ? unit : null;
}

/** Whether ties are not yet where the present size of the unit puts them: until then none is shown or changed. */
export function areTiesMoving({ checked, history }: WorkedOut): boolean {
  const job = presentJob(history.present.jobText);
  if (checked === null || job === null || Object.keys(job.ties).length === 0) return false;
  const at = job.takenAt.ties;
  return !isSameAsked(job.size, checked.job.size) || (at !== null && !isSameSize(at, checked.lattice));
}

function isSameAsked(a: Job['size'], b: Job['size']): boolean {
  return a.widthMm === b.widthMm && a.heightMm === b.heightMm;
}

export interface KeptSizes {
  /** The unit's size before the change; null where it is not known. */
  readonly now: UnitSize | null;
  /** The key of the job that changed. */
  readonly changed: KeyPath[number];
  /** Whether all ties stand: of ties that do not, nobody knows at which size they were taken, where the file does not say. */
  readonly tiesStand: boolean;
}

/**
 * The job file's text with the sizes at which places were taken, after one of its keys changed: what was written now is of the present size, what had no
 * size was read as taken now and says so before the unit gets another, and what is gone has none.
 */
export function withSizes(jobText: string, { now, changed, tiesStand }: KeptSizes): string {
  const own = keyOf(jobText, ['takenAt']);
  const known: Readonly<Record<string, unknown>> = typeof own === 'object' && own !== null ? { ...own } : {};
  const written = now === null ? undefined : writtenTakenAt({ ties: now, numbers: now, done: now, proof: now })?.ties;
  let text = jobText;
  for (const group of GROUPS) {
    const has = keyOf(jobText, [group]) !== undefined;
    const mayTell = group === changed || ((group !== 'ties' || tiesStand) && known[group] === undefined);
    const size = has ? (mayTell ? (written ?? known[group]) : known[group]) : undefined;
    if (size !== known[group]) text = withKey(text, ['takenAt', group], size);
  }
  const left = keyOf(text, ['takenAt']);
  const isEmpty = typeof left === 'object' && left !== null && Object.keys(left).length === 0;
  return isEmpty ? withKey(text, ['takenAt'], undefined) : text;
}

/** The job file's text with its ties where the unit's present size puts them, but for those that are named. */
export function settledText(
  jobText: string,
  { ties, lattice }: Pick<CheckedReply, 'ties' | 'lattice'>,
  without: readonly Pick<StrandedTie, 'ink' | 'id'>[] = [],
): string {
  const stays = Object.entries(ties)
    .map(
      ([ink, list]) =>
        [ink, list.filter(({ id }) => !without.some((one) => one.ink === ink && one.id === id))] as const,
    )
    .filter(([, list]) => list.length > 0);
  const written = writtenTies(Object.fromEntries(stays));
  const text = withKey(jobText, ['ties'], stays.length > 0 ? written : undefined);
  return withSizes(text, { now: lattice, changed: 'ties', tiesStand: true });
}
