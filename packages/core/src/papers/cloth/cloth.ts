import { COLOURS, lineStyle, PAPER } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import type { Colour, Drawing, Item, LayerItem } from '../../draw/types.js';
import { boxContour, circleContour, polyline } from '../../geometry/contour.js';
import type { Box, Contour, Matrix, Point } from '../../geometry/types.js';
import type { Finding } from '../../motif/finding.js';
import type { Ink } from '../../motif/types.js';
import { makeLattice } from '../../repeat/lattice.js';
import type { ClothTile, Lattice } from '../../repeat/types.js';
import { type ClothPlacement, clothPlacements } from './cloth-placements.js';

export interface ClothDrawingInput {
  readonly tile: ClothTile;
  readonly lattice: Lattice;
  readonly widthMm: number;
  readonly lengthMm: number;
  /** `resist`: openings stay cloth-coloured in a dyed ground. `direct`: openings take the colour on a cloth-coloured ground. */
  readonly method: 'resist' | 'direct';
  readonly clothColour: Colour;
  /** One colour for all, or one an ink. In a resist the ground takes that of the first ink. */
  readonly dyeColours: Readonly<Record<Ink, Colour>> | Colour;
  readonly seams: boolean;
  /** Dots of every placement, mm on the unit; null for none. */
  readonly dots: readonly Point[] | null;
  /** Marked in the first whole unit by their place in this list, from 1; null for none. */
  readonly findings: readonly Finding[] | null;
  readonly title: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
}

/** Marks on a metre of cloth, mm; on more of it they are larger, as it is seen from further away. */
const SEAM_MM = 0.6;
const DOT_MM = 3;
const RING_MM = 5;
const LARGEST_FACTOR = 4;
/** Neither dots nor rings are wider than this share of the unit's smaller side. */
const MARK_SHARE = 0.05;

/** How much larger than on a metre of cloth the marks are, and their largest radius, mm. */
function markSize({ widthMm, lengthMm, lattice }: ClothDrawingInput): { factor: number; mostMm: number } {
  const factor = Math.min(LARGEST_FACTOR, Math.max(1, Math.max(widthMm, lengthMm) / 1000));
  return { factor, mostMm: MARK_SHARE * Math.min(lattice.widthMm, lattice.heightMm) };
}

/**
 * A length of printed cloth, one page as large as the cloth. The tile is a group that is placed as often as the cloth needs; seams, dots
 * and findings are layers above it. The corner of one unit lies on the cloth's upper left.
 */
export function clothDrawing(input: ClothDrawingInput): Drawing {
  const { tile, lattice, widthMm, lengthMm, title, date } = input;
  const cloth: Box = { x0: 0, y0: 0, x1: widthMm, y1: lengthMm };
  const placements = clothPlacements(lattice, widthMm, lengthMm);
  const tileBox = { x0: 0, y0: 0, x1: tile.widthMm, y1: tile.heightMm };
  const items: Item[] = [
    {
      kind: 'clip',
      contours: [boxContour(cloth)],
      items: [{ kind: 'place', group: 'tile', at: tilePlaces(tile, widthMm, lengthMm), tile: tileBox }],
    },
  ];
  const size = markSize(input);
  const over = [
    ...(input.seams ? [seamLayer(lattice, placements, size.factor)] : []),
    ...(input.dots
      ? [dotLayer(input.dots, placements, { cloth, radius: Math.min((DOT_MM / 2) * size.factor, size.mostMm) })]
      : []),
    ...(input.findings
      ? [
          findingLayer(input.findings, lattice, placements, {
            cloth,
            radius: Math.min(RING_MM * size.factor, size.mostMm),
          }),
        ]
      : []),
  ];
  if (over.length > 0) items.push({ kind: 'clip', contours: [boxContour(cloth)], items: over });
  return roundDrawing({
    title,
    date,
    groups: { tile: tileItems(input) },
    pages: [{ name: title, widthMm, heightMm: lengthMm, items }],
  });
}

/**
 * The ground and the openings of one tile. The ground runs past the tile half as far as the openings do: where a copy's ground ends on its
 * neighbour, its own openings already cover that edge, and no hairline shows in a picture with softened edges.
 */
function tileItems({ tile, method, clothColour, dyeColours }: ClothDrawingInput): Item[] {
  const bleed = tile.bleedMm / 2;
  const box = { x0: -bleed, y0: -bleed, x1: tile.widthMm + bleed, y1: tile.heightMm + bleed };
  const colour = (ink: Ink | undefined): Colour =>
    typeof dyeColours === 'string'
      ? dyeColours
      : ((ink !== undefined ? dyeColours[ink] : undefined) ?? ink ?? clothColour);
  const ground = method === 'resist' ? colour(tile.inks[0]?.ink) : clothColour;
  return [
    { kind: 'path', contours: [boxContour(box)], fill: ground },
    ...tile.inks
      .filter(({ contours }) => contours.length > 0)
      .map(({ ink, contours }): Item => {
        return { kind: 'path', contours, fill: method === 'resist' ? clothColour : colour(ink) };
      }),
  ];
}

/** Where the tile goes so that the cloth is covered. */
function tilePlaces(tile: ClothTile, widthMm: number, lengthMm: number): Matrix[] {
  const straight = makeLattice({ kind: 'straight', step: { p: 0, q: 1 } }, tile.widthMm, tile.heightMm);
  return clothPlacements(straight, widthMm, lengthMm).map(({ at }) => [1, 0, 0, 1, at.x, at.y]);
}

/** The left and upper edge of every placement: its other two are its neighbours'. */
function seamLayer(lattice: Lattice, placements: readonly ClothPlacement[], factor: number): LayerItem {
  const { widthMm, heightMm } = lattice;
  const contours = placements.map(({ at: { x, y } }): Contour => {
    const corners = [
      { x, y: y + heightMm },
      { x, y },
      { x: x + widthMm, y },
    ];
    return polyline(corners, { closed: false });
  });
  const line = { ...lineStyle('seam'), widthMm: SEAM_MM * factor, dashMm: [5 * factor, 2.5 * factor] };
  return {
    kind: 'layer',
    id: 'seams',
    label: 'Seams of the units',
    items: [
      // A light line below the dashed one, so that it is seen on dark ground too.
      { kind: 'path', contours, line: { colour: PAPER, widthMm: 2 * line.widthMm } },
      { kind: 'path', contours, line },
    ],
  };
}

function dotLayer(
  dots: readonly Point[],
  placements: readonly ClothPlacement[],
  { cloth, radius }: MarkOptions,
): LayerItem {
  // Neighbours share their dots; each place is drawn once.
  const places = new Map<string, Point>();
  for (const { at } of placements) {
    for (const dot of dots) {
      const p = { x: at.x + dot.x, y: at.y + dot.y };
      if (isNear(p, cloth, radius)) places.set(`${p.x.toFixed(2)} ${p.y.toFixed(2)}`, p);
    }
  }
  const contours = [...places.values()].map((p) => circleContour(p, radius));
  const line = { colour: PAPER, widthMm: radius / 4 };
  return {
    kind: 'layer',
    id: 'dots',
    label: 'Dots',
    items: contours.length > 0 ? [{ kind: 'path', contours, fill: COLOURS.green, line }] : [],
  };
}

function isNear(p: Point, cloth: Box, mm: number): boolean {
  return p.x > cloth.x0 - mm && p.x < cloth.x1 + mm && p.y > cloth.y0 - mm && p.y < cloth.y1 + mm;
}

interface MarkOptions {
  readonly cloth: Box;
  readonly radius: number;
}

/**
 * A dashed ring with a number at every finding that has a place, in one unit only: the first that lies wholly on the cloth, away from its
 * edges where there is such a one.
 */
function findingLayer(
  findings: readonly Finding[],
  { widthMm, heightMm }: Lattice,
  placements: readonly ClothPlacement[],
  { cloth, radius: r }: MarkOptions,
): LayerItem {
  const within = (mm: number) =>
    placements.find(
      ({ at }) =>
        at.x >= cloth.x0 + mm &&
        at.y >= cloth.y0 + mm &&
        at.x + widthMm <= cloth.x1 - mm &&
        at.y + heightMm <= cloth.y1 - mm,
    );
  const origin = (within(r) ?? within(0) ?? placements[0])?.at ?? { x: 0, y: 0 };
  const items = findings.flatMap(({ atMm }, k): Item[] => {
    if (!atMm) return [];
    const at = { x: origin.x + atMm.x, y: origin.y + atMm.y };
    const em = 1.6 * r;
    // On a plate beside the ring, on the side away from the cloth's edge.
    const left = at.x > (cloth.x0 + cloth.x1) / 2;
    const text = `${k + 1}`;
    const width = 0.65 * em * text.length + 0.4 * em;
    const x0 = left ? at.x - r - width : at.x + r;
    const plate = { x0, y0: at.y - 0.6 * em, x1: x0 + width, y1: at.y + 0.6 * em };
    const ring = [circleContour(at, r)];
    const line = { ...lineStyle('finding'), widthMm: r / 5, dashMm: [r / 2, r / 4] };
    return [
      { kind: 'path', contours: ring, line: { colour: PAPER, widthMm: 2 * line.widthMm } },
      { kind: 'path', contours: ring, line },
      { kind: 'path', contours: [boxContour(plate)], fill: PAPER, line: { colour: line.colour, widthMm: r / 8 } },
      {
        kind: 'text',
        text,
        x: x0 + width / 2,
        y: at.y + 0.36 * em,
        sizeMm: em,
        colour: COLOURS.black,
        bold: true,
        anchor: 'middle',
      },
    ];
  });
  return { kind: 'layer', id: 'findings', label: 'Findings', items };
}
