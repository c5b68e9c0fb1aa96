/** States to go back to and to come forward to again. */
export interface History<T> {
  readonly past: readonly T[];
  readonly present: T;
  readonly future: readonly T[];
  /** What the last change was about; a change of the same kind right after it joins it (a slider being dragged). */
  readonly about: string | null;
}

/** Most steps that can be undone. */
const STEPS_MAX = 200;

export function startHistory<T>(present: T): History<T> {
  return { past: [], present, future: [], about: null };
}

/** The history with a change made. Changes with the same `about` (not null) in a row count as one step. */
export function changed<T>(history: History<T>, next: T, about: string | null): History<T> {
  if (next === history.present) return history;
  const joins = about !== null && about === history.about && history.past.length > 0;
  const past = joins ? history.past : [...history.past, history.present].slice(-STEPS_MAX);
  return { past, present: next, future: [], about };
}

/** The history with its present state put right: no step of its own to undo. */
export function amended<T>(history: History<T>, present: T): History<T> {
  return { ...history, present };
}

/** One step back; the same history where there is none. */
export function undone<T>({ past, present, future, about }: History<T>): History<T> {
  const last = past.at(-1);
  if (last === undefined) return { past, present, future, about };
  return { past: past.slice(0, -1), present: last, future: [present, ...future], about: null };
}

/** One step forward again; the same history where there is none. */
export function redone<T>({ past, present, future, about }: History<T>): History<T> {
  const [next, ...rest] = future;
  if (next === undefined) return { past, present, future, about };
  return { past: [...past, present], present: next, future: rest, about: null };
}
