import type { Job, Sheet } from '@okuri/core';
import { namedTies, segmentLength } from '@okuri/core/inside';
import { useMemo } from 'preact/hooks';
import { InParts } from '../controls/in-parts';
import type { TiesReply } from '../engine/protocol';
import { isSameTie, type ShownTie } from '../marks/ties-shown';
import { useStudio } from '../state/use-studio';
import { TickedTies } from './ticked-ties';
import { TieRow } from './tie-row';
import { TieTools } from './tie-tools';
import { tieKey, useTieChoice } from './use-tie-choice';

export interface TieChoiceProps {
  readonly ties: TiesReply;
  /** As it is now. */
  readonly job: Job;
}

/** The ties that stand and those that are suggested: accepted, left out, taken out, given their kind, one by one or several in one go. */
export function TieChoice({ ties, job }: TieChoiceProps) {
  const { state } = useStudio();
  const { tie: chosen, checked } = state;
  const { shown, ticked, fault, accept, drop, leaveOut, tick, tickAll, go, isAstray } = useTieChoice(ties, job);
  const onSheet = useMemo(() => namesOnSheets(checked?.sheets ?? []), [checked]);
  const open = shown.filter(({ stands }) => !stands);
  const standing = shown.filter(({ stands }) => stands);
  const mayRelease = job.practice.gauze && !job.double.on;
  const marked = shown.filter((tie) => ticked.has(tieKey(tie)));
  const row = (tie: ShownTie) => (
    <TieRow
      key={tieKey(tie)}
      tie={tie}
      words={wordsOf(tie, ties, state.stale ? undefined : onSheet.get(`${tie.ink} ${tie.id}`))}
      astray={isAstray(tie)}
      chosen={isSameTie(tie, chosen)}
      ticked={ticked.has(tieKey(tie))}
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
      <TieTools open={open.length} onAcceptAll={() => accept(open)} />
      {shown.length > 0 && (
        <TickedTies
          shown={shown}
          marked={marked}
          mayRelease={mayRelease}
          onTick={tickAll}
          onAccept={(kind) => accept(marked, kind)}
          onLeaveOut={() => leaveOut(marked)}
          onTakeOut={() => drop(marked)}
        />
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
