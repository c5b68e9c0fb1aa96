import { InputError, inVoice, type Job, type TieKind } from '@okuri/core';
import { distance, segmentMiddle } from '@okuri/core/inside';
import { useMemo, useState } from 'preact/hooks';
import type { TiesReply } from '../engine/protocol';
import { clothPlane, firstShown, sheetPlane } from '../marks/plane';
import { isSameTie, placeKey, type ShownTie, shownTies } from '../marks/ties-shown';
import { acceptEdit, dropEdit, type JobEdit, refuseUnreadable } from '../state/tie-edits';
import { areTiesMoving } from '../state/unit-size';
import { useStudio } from '../state/use-studio';
import { stencilIndex } from '../words/stencils';

/** How much is seen around a tie, mm. */
const AROUND_MM = 40;

/** A tie of the list, told from all others. */
export function tieKey({ ink, id, stands }: ShownTie): string {
  return `${ink} ${id} ${stands}`;
}

/** The ties of a job with those that are ticked, and what can be done with them. */
export function useTieChoice(ties: TiesReply, job: Job) {
  const { studio, state } = useStudio();
  const { leftOut, tie: chosen, checked } = state;
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set());
  const [fault, setFault] = useState<string | null>(null);
  const shown = useMemo(() => shownTies(job, ties, { leftOut }), [job, ties, leftOut]);
  const take = (edit: () => JobEdit): void => {
    if (areTiesMoving(studio.state)) {
      setFault('The ties are on their way to the new size of the unit: try again in a moment.');
      return;
    }
    try {
      const made = edit();
      refuseUnreadable(studio.project.jobText, made);
      studio.edit(made.path, made.value);
      setFault(null);
      setTicked(new Set());
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      setFault(inVoice(error, 'window'));
    }
  };
  const accept = (list: readonly ShownTie[], kind: TieKind | null = null): void => {
    take(() => acceptEdit(job, ties.suggested, list, kind));
    if (list.some((tie) => isSameTie(tie, chosen)) && chosen !== null) studio.set({ tie: { ...chosen, stands: true } });
  };
  const drop = (list: readonly ShownTie[]): void =>
    take(() =>
      dropEdit(
        job,
        ties.suggested,
        list.filter(({ stands }) => stands),
      ),
    );
  const leaveOut = (list: readonly ShownTie[]): void => {
    studio.set({ leftOut: new Set([...leftOut, ...list.filter(({ stands }) => !stands).map(placeKey)]) });
    setTicked(new Set());
  };
  const tick = (tie: ShownTie, on: boolean): void => {
    const next = new Set(ticked);
    if (on) next.add(tieKey(tie));
    else next.delete(tieKey(tie));
    setTicked(next);
  };
  const go = (tie: ShownTie): void => {
    const view = state.view === 'cloth' ? 'cloth' : 'sheet';
    const chosenTie = { ink: tie.ink, id: tie.id, stands: tie.stands, step: null };
    const change = { tie: chosenTie, place: null, finding: null, join: null, view } as const;
    if (checked === null) return;
    const { lattice, sheets } = checked;
    const own = sheets.findIndex(({ ink, part }) => ink === tie.ink && part !== 'B');
    const stencil = view === 'sheet' && own >= 0 ? own : stencilIndex(sheets, state.stencil);
    const sheet = sheets[stencil];
    const plane =
      view === 'cloth' ? clothPlane(lattice, job.cloth) : sheet === undefined ? null : sheetPlane(sheet, lattice);
    const at = plane && firstShown(plane, segmentMiddle(tie));
    studio.set({ ...change, stencil, ...(at === null ? {} : { goTo: { view, at, widthMm: AROUND_MM } }) });
  };

  /** The engine found no two banks for it where it is now. */
  function isAstray(tie: ShownTie): boolean {
    if (!tie.stands || checked === null || state.stale) return false;
    const middle = segmentMiddle(tie);
    return checked.findings.some(
      ({ code, atMm, measure }) =>
        (code === 'tie-astray' || code === 'tie-broad') &&
        measure?.tie === tie.id &&
        atMm !== null &&
        distance(atMm, middle) < 1e-6,
    );
  }
  const tickAll = (list: readonly ShownTie[]): void => setTicked(new Set(list.map(tieKey)));
  return { shown, ticked, fault, accept, drop, leaveOut, tick, tickAll, go, isAstray };
}
