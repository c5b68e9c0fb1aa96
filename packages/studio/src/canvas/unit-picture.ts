import type { Box, Job, Lattice } from '@okuri/core';
import { makeLattice } from '@okuri/core/inside';
import type { ReadMotif, ShownTile } from '../engine/protocol';
import type { UnitOutlines } from './unit-outlines';

/** How the outlines of a unit are laid and coloured. */
export interface Laying {
  /** By which they are laid. */
  readonly lattice: Lattice;
  /** What they cover about the unit's own corner, mm before they are enlarged. */
  readonly box: Box;
  /** By how much they are enlarged about that corner. */
  readonly scale: number;
  readonly ground: string;
  /** The colour of each ink. */
  readonly colours: readonly string[];
}

/** What is laid again and again over the cloth. */
export interface UnitPicture extends Laying {
  readonly outlines: UnitOutlines;
}

/** The pattern as it was worked out: joins, spill, ties and all. */
export function pictureOfTile({ widthMm, heightMm, bleedMm, outlines }: ShownTile, job: Job): UnitPicture {
  const { method, cloth } = job;
  const { inks } = outlines;
  const dyeOf = (ink: string): string => (method === 'direct' && inks.length > 1 ? ink : cloth.dye);
  return {
    outlines,
    lattice: makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, widthMm, heightMm),
    box: { x0: -bleedMm, y0: -bleedMm, x1: widthMm + bleedMm, y1: heightMm + bleedMm },
    scale: 1,
    ground: method === 'resist' ? cloth.dye : cloth.colour,
    colours: inks.map((ink) => (method === 'resist' ? cloth.colour : dyeOf(ink))),
  };
}

/** `pictureOfTile` of what was worked out. */
export function keptPicture({ tile, job }: { readonly tile: ShownTile; readonly job: Job }): UnitPicture {
  return pictureOfTile(tile, job);
}

/** A first look at a motif that was only just read: its shapes as drawn, laid over the cloth. What pokes out of the unit shows, whatever is decided on it later. */
export function pictureOfMotif({ outlines }: ReadMotif, job: Job, lattice: Lattice): UnitPicture {
  const { method, drawn, cloth, paperColour } = job;
  const pale = method === 'resist' && drawn === 'cut';
  const [ground, shapes] = pale ? [cloth.dye, cloth.colour] : [cloth.colour, cloth.dye];
  const { box } = outlines;
  return {
    outlines,
    lattice,
    box: {
      x0: Math.min(0, box?.x0 ?? 0),
      y0: Math.min(0, box?.y0 ?? 0),
      x1: Math.max(lattice.widthMm, box?.x1 ?? 0),
      y1: Math.max(lattice.heightMm, box?.y1 ?? 0),
    },
    scale: 1,
    ground,
    colours: outlines.inks.map((ink) => (ink === paperColour ? ground : shapes)),
  };
}

/** Laid larger or smaller as a whole, with all that lies on it. */
export function enlarged(picture: UnitPicture, by: number): UnitPicture {
  const { lattice, scale } = picture;
  return {
    ...picture,
    scale: scale * by,
    lattice: makeLattice(lattice.repeat, lattice.widthMm * by, lattice.heightMm * by),
  };
}

/** What a unit's outlines cover at the size they are painted, mm. */
export function coveredBox({ box, scale }: Laying): Box {
  return { x0: box.x0 * scale, y0: box.y0 * scale, x1: box.x1 * scale, y1: box.y1 * scale };
}
