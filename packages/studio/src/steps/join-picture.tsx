import type { Join } from '@okuri/core';
import { useEffect, useMemo, useRef } from 'preact/hooks';
import { keptPicture } from '../canvas/unit-picture';
import type { CheckedReply } from '../engine/protocol';
import { useThreads } from '../engine/use-engine';
import { drawJoin } from '../marks/draw-join';
import { joinEnds, joinScale } from '../marks/join-ends';

/** Size of the picture, px of the page. */
const WINDOW = { width: 320, height: 220 } as const;
/** Cloth enough around the join, mm. */
const AROUND_MM = 100;

export interface JoinPictureProps {
  readonly checked: CheckedReply;
  readonly join: Join;
  /** What is to be seen, for those who hear the page. */
  readonly label: string;
}

/** A join enlarged, both sides as they come together on the cloth, with its seam, its offset and its kink. */
export function JoinPicture({ checked, join, label }: JoinPictureProps) {
  const { painter } = useThreads();
  const canvas = useRef<HTMLCanvasElement>(null);
  const { lattice } = checked;
  const ends = useMemo(() => joinEnds(join, lattice), [join, lattice]);
  const ratio = devicePixelRatio;
  useEffect(() => {
    const context = canvas.current?.getContext('2d', { alpha: false }) ?? null;
    if (context === null) return;
    let gone = false;
    const camera = { at: ends.at, pxPerMm: joinScale(join) };
    const area = { widthMm: ends.at.x + AROUND_MM, lengthMm: ends.at.y + AROUND_MM };
    const around = checked.job.cloth.colour;
    void painter
      .cloth(
        keptPicture(checked),
        area,
      )({ camera, window: WINDOW, ratio, resting: true, outlines: true, around })
      .then((image) => {
        if (!gone) {
          context.setTransform(1, 0, 0, 1, 0, 0);
          context.drawImage(image, 0, 0);
          context.setTransform(ratio, 0, 0, ratio, 0, 0);
          drawJoin(context, { join, ends, lattice }, { camera, window: WINDOW });
        }
        image.close();
      });
    return () => {
      gone = true;
    };
  }, [checked, join, ends, lattice, painter, ratio]);
  return (
    <canvas
      ref={canvas}
      class="join-picture"
      role="img"
      aria-label={label}
      width={Math.round(WINDOW.width * ratio)}
      height={Math.round(WINDOW.height * ratio)}
    />
  );
}
