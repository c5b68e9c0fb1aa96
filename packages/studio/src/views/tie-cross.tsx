import type { Point } from '@okuri/core';
import { useLayoutEffect, useRef } from 'preact/hooks';
import { movedByKey } from './moved-by-keys';

export interface TieCrossProps {
  readonly label: string;
  /** px of the window. */
  readonly place: Point;
  /** The same place, mm on the pattern. */
  readonly at: Point;
  readonly onMove: (at: Point) => void;
  readonly onSet: (at: Point) => void;
  readonly onGiveUp: () => void;
}

/** A cross over the picture while a tie is drawn: it is moved by keys, and Enter sets an end where it is. */
export function TieCross({ label, place, at, onMove, onSet, onGiveUp }: TieCrossProps) {
  const button = useRef<HTMLButtonElement>(null);
  useLayoutEffect(() => {
    const own = button.current;
    own?.focus({ preventScroll: true });
    return () => {
      // The picture takes the focus back: the handles of a tie come right after it.
      if (document.activeElement !== own) return;
      own?.closest('.stage-frame')?.querySelector('canvas')?.focus({ preventScroll: true });
    };
  }, []);
  return (
    <button
      ref={button}
      type="button"
      class="tie-cross"
      style={{ left: `${place.x}px`, top: `${place.y}px` }}
      aria-label={label}
      onClick={() => onSet(at)}
      onKeyDown={(event) => {
        if (event.key === 'Escape') {
          onGiveUp();
          return;
        }
        const to = movedByKey(at, event);
        if (to === null || event.ctrlKey || event.metaKey || event.altKey) return;
        event.preventDefault();
        onMove(to);
      }}
    />
  );
}
