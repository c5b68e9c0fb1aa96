import type { Job } from '../job-file/types.js';
import type { Ink } from '../motif/types.js';
import type { Tie, TieKind } from '../strength/types.js';
import type { SuggestedTies } from '../ties/suggested.js';
import { tieName, tieNumber } from '../ties/tie-names.js';
import { InputError } from '../units/input-error.js';
import { said } from '../units/voice.js';
import { counted } from '../units/words.js';
import { parseTieIds, tieIdsText } from './tie-ids.js';

/** Which ties: their ids as a person writes them, and the number of the stencil where there are several. */
export interface TieChoice {
  readonly ids: string;
  /** From 1; null: the one there is, or with `all` every one. */
  readonly stencil: number | null;
}

/** The job's ties after a choice, and what the choice did. */
export interface ChosenTies {
  readonly ties: Job['ties'];
  /** Ids of what came in, or went out, in words: `T1, T3-T5`; empty for none. */
  readonly changed: string;
  /** Those that another kind was given. */
  readonly turned: string;
  /** Those that were named and stay as they are. */
  readonly same: string;
}

/**
 * The job's ties with suggested ones added, all of the given kind or each of its own. Those of the job may be named too, to give them a kind. An id that is not
 * there, and a release tie where the job has no gauze or prints with two sheets, throw an `InputError`.
 */
export function acceptTies(
  job: Job,
  suggestions: readonly SuggestedTies[],
  { ids, stencil, kind }: TieChoice & { readonly kind: TieKind | null },
): ChosenTies {
  const changes: Changes = { ties: { ...job.ties }, changed: [], turned: [], same: [] };
  const inks = inksOf(
    ids,
    suggestions.map(({ ink }) => ink),
    stencil,
  );
  for (const { ink, accepted, suggested } of suggestions.filter((one) => inks.includes(one.ink))) {
    const known = [...accepted, ...suggested].map(({ id }) => id);
    const all = suggested.map(({ id }) => id);
    const named = new Set(parseTieIds(ids, known, 'in the job or among the suggested ones', all));
    const before = accepted.map((tie): Tie => {
      if (!named.has(tie.id)) return tie;
      const turns = kind !== null && kind !== tie.kind;
      const after = turns ? { ...tie, ...ofKind(tie, kind) } : tie;
      changes[turns ? 'turned' : 'same'].push(after.id);
      return after;
    });
    const added = suggested
      .filter(({ id }) => named.has(id))
      .map(({ from, to, ...tie }): Tie => ({ ...ofKind(tie, kind ?? tie.kind), from, to }));
    changes.changed.push(...added.map(({ id }) => id));
    // An ink without ties gets no empty list.
    if (before.length + added.length > 0) changes.ties[ink] = [...before, ...added].sort(byNumber);
  }
  refuseRelease(job, changes.ties);
  return inWords(changes);
}

/**
 * The job's ties without those that are named. `inks` are those of the job's stencils, which may have no ties; null: those that have ties. An id that is not there
 * throws an `InputError`.
 */
export function dropTies(job: Pick<Job, 'ties'>, inks: readonly Ink[] | null, { ids, stencil }: TieChoice): ChosenTies {
  const changes: Changes = { ties: { ...job.ties }, changed: [], turned: [], same: [] };
  for (const ink of inksOf(ids, inks ?? Object.keys(job.ties), stencil)) {
    const own = job.ties[ink] ?? [];
    const gone = new Set(
      parseTieIds(
        ids,
        own.map(({ id }) => id),
        'in the job',
      ),
    );
    const left = own.filter(({ id }) => !gone.has(id));
    if (left.length > 0) changes.ties[ink] = left;
    else delete changes.ties[ink];
    changes.changed.push(...gone);
  }
  // With no ties at all there is no stencil in which an id might be looked for.
  if (inks === null && Object.keys(job.ties).length === 0) parseTieIds(ids, [], 'in the job');
  return inWords(changes);
}

interface Changes {
  readonly ties: Record<Ink, readonly Tie[]>;
  readonly changed: string[];
  readonly turned: string[];
  readonly same: string[];
}

function inWords({ ties, changed, turned, same }: Changes): ChosenTies {
  return { ties, changed: tieIdsText(changed), turned: tieIdsText(turned), same: tieIdsText(same) };
}

/** Each stencil names its ties from T1 on, so that of several stencils one has to be named, unless all ties are meant. */
function inksOf(ids: string, inks: readonly Ink[], stencil: number | null): readonly Ink[] {
  const have = counted(inks.length, 'stencil');
  if (stencil !== null) {
    const ink = inks[stencil - 1];
    if (ink === undefined) throw new InputError(`There is no stencil ${stencil}: the job has ${have}.`);
    return [ink];
  }
  if (inks.length > 1 && ids.trim().toLowerCase() !== 'all') {
    throw new InputError(
      said(
        (voice) =>
          `Each stencil has a T1 of its own, and there are several stencils: say which${voice === 'command' ? ' with --stencil' : ''}.`,
      ),
    );
  }
  return inks;
}

function refuseRelease({ practice, double }: Job, ties: Job['ties']): void {
  const release = Object.values(ties)
    .flat()
    .find(({ kind }) => kind === 'release');
  if (release === undefined) return;
  if (!practice.gauze) {
    throw new InputError(
      said((voice) =>
        voice === 'command'
          ? `${release.id} is a release tie, but the job has no gauze: release ties need gauze, so say --kind printed, or put "gauze": true in the job.`
          : `${release.id} is a release tie, and there is no gauze to hold the paper when it is cut away: make it a printed one, or stick gauze over the sheet.`,
      ),
    );
  }
  if (double.on) {
    throw new InputError(
      said((voice) =>
        voice === 'command'
          ? `${release.id} is a release tie, but the job prints with two sheets ("double"): their ties stay, so say --kind printed.`
          : `With two sheets ties stay, but ${release.id} is a release tie: make it a printed one.`,
      ),
    );
  }
}

/** A tie's name and kind, when it is of this kind. */
function ofKind({ id }: Pick<Tie, 'id'>, kind: TieKind): Pick<Tie, 'id' | 'kind'> {
  return { id: tieName(tieNumber(id), kind), kind };
}

function byNumber(a: Tie, b: Tie): number {
  return tieNumber(a.id) - tieNumber(b.id);
}
