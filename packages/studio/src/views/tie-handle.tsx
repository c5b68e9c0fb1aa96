import type { Point } from '@okuri/core';
import { useEffect, useRef } from 'preact/hooks';
import { movedByKey } from './moved-by-keys';

export interface TieHandleProps {
  /** What it is and where, for those who hear the page. */
  readonly label: string;
  /** Id of the words that say how it is moved. */
  readonly describedBy: string;
  /** Where the handle is laid, px of the window. */
  readonly place: Point;
  /** The end that it holds, mm on the unit. */
  readonly end: Point;
  /** px to a mm, across and down. */
  readonly pxPerMm: Point;
  /** While it moves, and null when that is given up. */
  readonly onMove: (end: Point | null) => void;
  /** It was let go; `joins`: what follows at once is one step of undo with it. */
  readonly onDone: (end: Point, joins: boolean) => void;
}

/** Moves by keys are taken in when none followed for so long, ms: each is worked out anew. */
const KEYS_PAUSE_MS = 350;

/** A handle on one end of a tie: dragged, or moved by arrow keys when it has the focus. */
export function TieHandle({ label, describedBy, place, end, pxPerMm, onMove, onDone }: TieHandleProps) {
  const now = useRef({ place, end, pxPerMm, onMove, onDone });
  now.current = { place, end, pxPerMm, onMove, onDone };
  const drag = useRef<{ id: number; x: number; y: number; end: Point } | null>(null);
  const keyed = useRef<{ end: Point; timer: number } | null>(null);
  const takeKeys = useRef(() => {
    const waiting = keyed.current;
    if (waiting === null) return;
    clearTimeout(waiting.timer);
    keyed.current = null;
    now.current.onDone(waiting.end, true);
  });
  // What was moved by keys is not lost when the handle goes.
  useEffect(() => () => takeKeys.current(), []);

  const dragged = (event: PointerEvent): Point | null => {
    const start = drag.current;
    if (start === null || start.id !== event.pointerId) return null;
    return {
      x: start.end.x + (event.clientX - start.x) / pxPerMm.x,
      y: start.end.y + (event.clientY - start.y) / pxPerMm.y,
    };
  };
  const giveUp = (): void => {
    drag.current = null;
    onMove(null);
  };
  return (
    <button
      type="button"
      class="tie-handle"
      style={{ left: `${place.x}px`, top: `${place.y}px` }}
      aria-label={label}
      aria-describedby={describedBy}
      onPointerDown={(event) => {
        if (event.button !== 0 || drag.current !== null) return;
        takeKeys.current();
        event.currentTarget.setPointerCapture(event.pointerId);
        event.currentTarget.focus();
        drag.current = { id: event.pointerId, x: event.clientX, y: event.clientY, end: now.current.end };
      }}
      onPointerMove={(event) => {
        const to = dragged(event);
        if (to !== null) onMove(to);
      }}
      onPointerUp={(event) => {
        const to = dragged(event);
        const start = drag.current;
        if (to === null || start === null) return;
        drag.current = null;
        if (event.clientX === start.x && event.clientY === start.y) onMove(null);
        else onDone(to, false);
      }}
      onPointerCancel={giveUp}
      onKeyDown={(event) => {
        if (event.key === 'Escape' && drag.current !== null) {
          giveUp();
          return;
        }
        const to = movedByKey(keyed.current?.end ?? end, event);
        if (to === null || event.ctrlKey || event.metaKey || event.altKey) return;
        event.preventDefault();
        if (keyed.current !== null) clearTimeout(keyed.current.timer);
        keyed.current = { end: to, timer: setTimeout(takeKeys.current, KEYS_PAUSE_MS) as unknown as number };
        onMove(to);
      }}
      onBlur={() => takeKeys.current()}
    />
  );
}
