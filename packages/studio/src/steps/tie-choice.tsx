import { InputError, inVoice, type Job, type Sheet, type TieKind } from '@okuri/core';
import { distance, namedTies, segmentLength, segmentMiddle } from '@okuri/core/inside';
import { useMemo, useState } from 'preact/hooks';
import { InParts } from '../controls/in-parts';
import type { TiesReply } from '../engine/protocol';
import { clothPlane, firstShown, sheetPlane } from '../marks/plane';
import { isSameTie, placeKey, type ShownTie, shownTies } from '../marks/ties-shown';
import { acceptEdit, dropEdit, type JobEdit, refuseUnreadable } from '../state/tie-edits';
import { areTiesMoving } from '../state/unit-size';
import { useStudio } from '../state/use-studio';
import { stencilIndex } from '../words/stencils';
import { TieRow } from './tie-row';

/** How much is seen around a tie, mm. */
const AROUND_MM = 40;

export interface TieChoiceProps {
  readonly ties: TiesReply;
  /** As it is now. */
  readonly job: Job;
}

/** The ties that stand and those that are suggested: accepted, left out, taken out, given their kind, one by one or several in one go. */
export function TieChoice({ ties, job }: TieChoiceProps) {
  const { studio, state } = useStudio();
  const { leftOut, tie: chosen, drawnTie, checked } = state;
  const [ticked, setTicked] = useState<ReadonlySet<string>>(new Set());
  const [fault, setFault] = useState<string | null>(null);
  const shown = useMemo(() => shownTies(job, ties, { leftOut }), [job, ties, leftOut]);
  const onSheet = useMemo(() => namesOnSheets(checked?.sheets ?? []), [checked]);
  const open = shown.filter(({ stands }) => !stands);
  const standing = shown.filter(({ stands }) => stands);
  const mayRelease = job.practice.gauze && !job.double.on;
  const marked = shown.filter((tie) => ticked.has(keyOf(tie)));

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
    if (on) next.add(keyOf(tie));
    else next.delete(keyOf(tie));
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

  const row = (tie: ShownTie) => (
    <TieRow
      key={keyOf(tie)}
      tie={tie}
      words={wordsOf(tie, ties, state.stale ? undefined : onSheet.get(`${tie.ink} ${tie.id}`))}
      astray={isAstray(tie)}
      chosen={isSameTie(tie, chosen)}
      ticked={ticked.has(keyOf(tie))}
      mayRelease={mayRelease}
      onTick={(on) => tick(tie, on)}
      onGo={() => go(tie)}
      onKind={(kind) => accept([tie], kind)}
      onAccept={() => accept([tie])}
      onLeaveOut={() => leaveOut([tie])}
      onTakeOut={() => drop([tie])}
    />
  );
  return (
    <>
      {fault !== null && <p role="alert">{fault}</p>}
      <p class="fact">
        {standing.length} stand in the job, {open.length} more are suggested.
      </p>
      <div class="tie-tools">
        {open.length > 1 && (
          <button type="button" onClick={() => accept(open)}>
            Accept all {open.length} suggested ties
          </button>
        )}
        {leftOut.size > 0 && (
          <button type="button" onClick={() => studio.set({ leftOut: new Set() })}>
            Show those left out again
          </button>
        )}
        <button
          type="button"
          aria-pressed={drawnTie !== null}
          onClick={() =>
            studio.set({
              drawnTie: drawnTie === null ? { from: null } : null,
              tie: null,
              ...(state.view === 'pages' ? { view: 'sheet' as const } : {}),
            })
          }
        >
          Draw a tie
        </button>
      </div>
      {drawnTie !== null && (
        <p class="fact" role="status">
          {drawnTie.from === null
            ? 'Press on the paper where the tie begins, on one bank of the opening.'
            : 'Now press on the other bank, where it ends.'}{' '}
          Escape, or Draw a tie once more, gives up.
        </p>
      )}
      {shown.length > 0 && (
        <fieldset class="tie-ticked">
          <legend>
            {marked.length === 0 ? 'Tick ties to change several in one go.' : `The ${marked.length} that are ticked:`}
          </legend>
          <button
            type="button"
            onClick={() => setTicked(new Set(marked.length === shown.length ? [] : shown.map(keyOf)))}
          >
            {marked.length === shown.length ? 'Tick none' : 'Tick all'}
          </button>
          {marked.length > 0 && (
            <>
              {marked.some(({ stands }) => !stands) && (
                <>
                  <button type="button" onClick={() => accept(marked)}>
                    Accept
                  </button>
                  <button type="button" onClick={() => leaveOut(marked)}>
                    Leave out
                  </button>
                </>
              )}
              <button type="button" onClick={() => accept(marked, 'printed')}>
                Stand as printed ties
              </button>
              <button type="button" disabled={!mayRelease} onClick={() => accept(marked, 'release')}>
                Stand as release ties
              </button>
              {marked.some(({ stands }) => stands) && (
                <button type="button" onClick={() => drop(marked)}>
                  Take out
                </button>
              )}
            </>
          )}
        </fieldset>
      )}
      {shown.length > 0 && !mayRelease && (
        <p class="field-hint">
          {job.double.on ? 'With two sheets for an ink all ties stay.' : 'Release ties need gauze over the sheet.'}
        </p>
      )}
      <InParts class="ties" things={open} what="suggested ties" shown={open.findIndex((tie) => isSameTie(tie, chosen))}>
        {row}
      </InParts>
      <InParts class="ties" things={standing} what="ties" shown={standing.findIndex((tie) => isSameTie(tie, chosen))}>
        {row}
      </InParts>
      {ties.list.impossible.map(({ island, reason }) => (
        <p key={island} class="fact">
          No tie can hold {island}: {reason}.
        </p>
      ))}
    </>
  );

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
}

/** What is to be said of a tie, beside its id. */
function wordsOf(tie: ShownTie, { list }: TiesReply, onSheet: readonly string[] | undefined): string {
  const long = segmentLength(tie).toFixed(1);
  const told = list.ties.find(({ id, ink, accepted }) => id === tie.id && ink === tie.ink && accepted === tie.stands);
  const holds = tie.stands
    ? ''
    : told?.island
      ? `, holds island ${told.island.replace(/^island /, '')}`
      : ', stiffens a long opening';
  // The sheet numbers its ties anew, in the order in which they are met.
  const others = (onSheet ?? []).filter((name) => name !== tie.id);
  const named = tie.stands && others.length > 0 ? `, ${(onSheet ?? []).join(' and ')} on the sheet` : '';
  return `${tie.kind}, ${long} mm long${holds}${named}`;
}

/** By ink and id of a tie, its names on the sheet that has it. */
function namesOnSheets(sheets: readonly Sheet[]): ReadonlyMap<string, readonly string[]> {
  const names = new Map<string, readonly string[]>();
  for (const sheet of sheets) {
    for (const { name, tie } of namedTies(sheet)) {
      const key = `${sheet.ink} ${tie.id}`;
      const known = names.get(key) ?? [];
      if (!known.includes(name)) names.set(key, [...known, name]);
    }
  }
  return names;
}

/** A tie of the list, told from all others. */
function keyOf({ ink, id, stands }: ShownTie): string {
  return `${ink} ${id} ${stands}`;
}
