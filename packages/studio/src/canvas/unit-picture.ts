import {
  type Box,
  type Clip,
  type ClothTile,
  type Contour,
  contoursBox,
  type FillRule,
  type Job,
  type Lattice,
  type Motif,
  makeLattice,
  type Stroke,
} from '@okuri/core';

/** Outlines of one colour, painted in order. mm on the unit. */
export interface UnitLayer {
  readonly fill: string;
  readonly contours: readonly Contour[];
  readonly boxes: readonly Box[];
  readonly rule: FillRule;
  readonly stroke: Stroke | null;
  readonly clips: readonly Clip[];
}

/** What is laid again and again over the cloth. */
export interface UnitPicture {
  /** By which it is laid. */
  readonly lattice: Lattice;
  /** What its outlines cover about its own corner, mm. */
  readonly box: Box;
  readonly ground: string;
  readonly layers: readonly UnitLayer[];
  /** By how much its outlines are enlarged about its corner. */
  readonly scale: number;
}

/** The pattern as it was worked out: joins, spill, ties and all. */
export function pictureOfTile(tile: ClothTile, job: Job): UnitPicture {
  const { method, cloth } = job;
  const inks = tile.inks.length;
  const dyeOf = (ink: string): string => (method === 'direct' && inks > 1 ? ink : cloth.dye);
  const bleed = tile.bleedMm;
  return {
    lattice: makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, tile.widthMm, tile.heightMm),
    box: { x0: -bleed, y0: -bleed, x1: tile.widthMm + bleed, y1: tile.heightMm + bleed },
    scale: 1,
    ground: method === 'resist' ? cloth.dye : cloth.colour,
    layers: tile.inks.map(({ ink, contours }) =>
      layer(method === 'resist' ? cloth.colour : dyeOf(ink), contours, { rule: 'nonzero', stroke: null, clips: [] }),
    ),
  };
}

/** `pictureOfTile`, the same picture for the same tile and job. */
export function keptPicture({ tile, job }: { readonly tile: ClothTile; readonly job: Job }): UnitPicture {
  const known = kept.get(tile);
  if (known?.job === job) return known.picture;
  const picture = pictureOfTile(tile, job);
  kept.set(tile, { job, picture });
  return picture;
}

const kept = new WeakMap<ClothTile, { readonly job: Job; readonly picture: UnitPicture }>();

/** A first look at a motif that was only just read: its shapes as drawn, laid over the cloth. What pokes out of the unit shows, whatever is decided on it later. */
export function pictureOfMotif(motif: Motif, job: Job, lattice: Lattice): UnitPicture {
  const { method, drawn, cloth, paperColour } = job;
  const pale = method === 'resist' && drawn === 'cut';
  const [ground, shapes] = pale ? [cloth.dye, cloth.colour] : [cloth.colour, cloth.dye];
  const all = contoursBox(motif.shapes.flatMap(({ contours }) => contours));
  return {
    lattice,
    box: {
      x0: Math.min(0, all?.x0 ?? 0),
      y0: Math.min(0, all?.y0 ?? 0),
      x1: Math.max(lattice.widthMm, all?.x1 ?? 0),
      y1: Math.max(lattice.heightMm, all?.y1 ?? 0),
    },
    scale: 1,
    ground,
    layers: motif.shapes.map(({ ink, contours, rule, stroke, clips }) =>
      layer(ink === paperColour ? ground : shapes, contours, { rule, stroke: stroke ?? null, clips }),
    ),
  };
}

function layer(
  fill: string,
  contours: readonly Contour[],
  rest: Pick<UnitLayer, 'rule' | 'stroke' | 'clips'>,
): UnitLayer {
  return { fill, contours, boxes: contours.map((one) => contoursBox([one]) ?? NOWHERE), ...rest };
}

const NOWHERE: Box = { x0: 0, y0: 0, x1: 0, y1: 0 };

/** What a unit's outlines cover at the size they are painted, mm. */
export function coveredBox({ box, scale }: UnitPicture): Box {
  return { x0: box.x0 * scale, y0: box.y0 * scale, x1: box.x1 * scale, y1: box.y1 * scale };
}
