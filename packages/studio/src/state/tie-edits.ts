import {
  acceptTies,
  dropTies,
  InputError,
  type Job,
  type Point,
  readJob,
  type SuggestedTies,
  type Tie,
  type TieKind,
} from '@okuri/core';
import { tieName, tieNumber, writtenTies } from '@okuri/core/inside';
import type { ShownTie, TieEndName, TieName } from '../marks/ties-shown';
import { type KeyPath, keyOf, withKey } from './job-keys';

/** One value of the job file that changes. */
export interface JobEdit {
  readonly path: KeyPath;
  readonly value: unknown;
}

/** Places set by hand are kept to this, mm. */
const PLACE_MM = 1e-3;

/**
 * One end of a tie in another place of the unit. Of a tie of the job only that end changes in the file; a suggested one comes to stand in
 * the job as it was moved.
 */
export function endEdit(jobText: string, job: Job, tie: ShownTie, end: TieEndName, at: Point): JobEdit {
  const place = { x: rounded(at.x), y: rounded(at.y) };
  if (!tie.stands) return standEdit(job, { ...bare(tie), [end]: place }, tie.ink);
  const list = job.ties[tie.ink] ?? [];
  const index = list.findIndex(({ id }) => id === tie.id);
  const key = inkKey(jobText, job, tie.ink);
  if (index < 0 || key === null) throw new RangeError(`got the tie ${tie.id} of ${tie.ink}, expected one of the job`);
  return { path: ['ties', key, index, end], value: [place.x, place.y] };
}

/** A new tie in the job, with the next free id (also free of those that are suggested). */
export function newTieEdit(
  job: Job,
  shown: readonly ShownTie[],
  { ink, kind, from, to }: Pick<ShownTie, 'ink' | 'kind' | 'from' | 'to'>,
): JobEdit & TieName {
  const numbers = shown.filter((tie) => tie.ink === ink).map(({ id }) => tieNumber(id));
  const id = tieName(1 + Math.max(0, ...numbers), kind);
  const tie = {
    id,
    kind,
    from: { x: rounded(from.x), y: rounded(from.y) },
    to: { x: rounded(to.x), y: rounded(to.y) },
  };
  return { ...standEdit(job, tie, ink), ink, id, stands: true };
}

/** Of which kind a tie is that is drawn by hand: what the gauze will hold is cut away again. */
export function drawnKind({ practice, double }: Pick<Job, 'practice' | 'double'>): TieKind {
  return practice.gauze && !double.on ? 'release' : 'printed';
}

/** Suggested ties taken into the job; those of the job among them are given the kind, where one is given. */
export function acceptEdit(
  job: Job,
  suggestions: readonly SuggestedTies[],
  ties: readonly TieName[],
  kind: TieKind | null,
): JobEdit {
  // What was suggested for an older state of the job still has that state's own ties in it.
  const fresh = suggestions.map((one) => {
    const accepted = job.ties[one.ink] ?? [];
    return {
      ...one,
      accepted,
      suggested: one.suggested.filter(({ id }) => !accepted.some((own) => tieNumber(own.id) === tieNumber(id))),
    };
  });
  let now = job;
  for (const { ids, stencil, ink } of byInk(ties, fresh)) {
    const all = fresh.map((one) => (one.ink === ink ? { ...one, accepted: now.ties[ink] ?? [] } : one));
    now = { ...now, ties: acceptTies(now, all, { ids, stencil, kind }).ties };
  }
  return { path: ['ties'], value: writtenTies(now.ties) };
}

/** Ties taken out of the job. */
export function dropEdit(job: Job, suggestions: readonly SuggestedTies[], ties: readonly TieName[]): JobEdit {
  const inks = suggestions.map(({ ink }) => ink);
  let now = job;
  for (const { ids, stencil } of byInk(ties, suggestions)) {
    now = { ...now, ties: dropTies(now, inks, { ids, stencil }).ties };
  }
  const left = writtenTies(now.ties);
  return { path: ['ties'], value: Object.keys(left).length > 0 ? left : undefined };
}

/** Throws an `InputError` where the job could not be read any more with the change. */
export function refuseUnreadable(jobText: string, { path, value }: JobEdit): void {
  readJob(withKey(jobText, path, value), { file: 'the job' });
}

function byInk(
  ties: readonly TieName[],
  suggestions: readonly SuggestedTies[],
): { readonly ink: string; readonly stencil: number; readonly ids: string }[] {
  return suggestions.flatMap(({ ink }, k) => {
    const ids = ties.filter((tie) => tie.ink === ink).map(({ id }) => id);
    return ids.length === 0 ? [] : [{ ink, stencil: k + 1, ids: ids.join(' ') }];
  });
}

function standEdit(job: Job, tie: Tie, ink: string): JobEdit {
  const own = job.ties[ink] ?? [];
  if (own.some(({ id }) => id === tie.id)) throw new InputError(`There is a tie ${tie.id} in the job already.`);
  return { path: ['ties'], value: writtenTies({ ...job.ties, [ink]: [...own, tie] }) };
}

function bare({ id, kind, from, to }: ShownTie): Tie {
  return { id, kind, from, to };
}

/** The key under which a job file keeps the ties of an ink, spelled as it is there; null where it keeps none. */
function inkKey(jobText: string, job: Job, ink: string): string | null {
  const raw = keyOf(jobText, ['ties']);
  if (typeof raw !== 'object' || raw === null) return null;
  // Inks are read in the order of the file.
  return Object.keys(raw)[Object.keys(job.ties).indexOf(ink)] ?? null;
}

function rounded(mm: number): number {
  return Math.round(mm / PLACE_MM) / Math.round(1 / PLACE_MM) + 0;
}
