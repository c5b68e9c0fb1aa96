import type { TakenAt, TakenGroup, UnitSize } from '../job-file/taken-at.js';
import type { Job } from '../job-file/types.js';

/** A job as its file has it, and what it came out as. */
interface TakenIn {
  readonly job: Pick<Job, TakenGroup | 'takenAt'>;
  readonly now: UnitSize;
  /** Whether all ties stand: of ties that do not, nobody knows at which size they were taken, where the file does not say. */
  readonly tiesStand: boolean;
}

/**
 * The sizes to keep along with a change of a job file: `changed` groups are of the sizes that are given (null for those that are gone), others stay as they are,
 * and what the file gives no size was read as taken now, and says so from now on.
 */
export function takenAtAfter(
  { job, now, tiesStand }: TakenIn,
  changed: Readonly<Partial<Record<TakenGroup, UnitSize | null>>>,
): TakenAt {
  const size = (group: TakenGroup): UnitSize | null => {
    const given = changed[group];
    if (given !== undefined) return given && { widthMm: given.widthMm, heightMm: given.heightMm };
    if (Object.keys(job[group]).length === 0) return null;
    const own = job.takenAt[group];
    if (own !== null || (group === 'ties' && !tiesStand)) return own;
    return { widthMm: now.widthMm, heightMm: now.heightMm };
  };
  return { ties: size('ties'), numbers: size('numbers'), done: size('done'), proof: size('proof') };
}
