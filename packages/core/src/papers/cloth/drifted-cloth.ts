import { COLOURS, lineStyle, PAPER } from '../../draw/palette.js';
import { roundDrawing } from '../../draw/round.js';
import { textWidthMm } from '../../draw/text.js';
import type { Colour, Drawing, FontMetrics, Item } from '../../draw/types.js';
import { boxContour, circleContour } from '../../geometry/contour.js';
import type { Box, Contour, Matrix, Point } from '../../geometry/types.js';
import type { Ink } from '../../motif/types.js';
import { placementsUnderDrift } from '../../register/drift.js';
import { motionMatrix } from '../../register/drift-motion.js';
import type { Drift, DriftJoin, DriftModel } from '../../register/drift-types.js';
import { makeLattice } from '../../repeat/lattice.js';
import { formatMm } from '../../units/format.js';
import { InputError } from '../../units/input-error.js';
import { clothPlacements } from './cloth-placements.js';

export interface DriftedClothInput {
  /** All that is cut out of each sheet, and the ink that it prints: mm from the upper left of the dots' rectangle. */
  readonly sheets: readonly { readonly ink: Ink; readonly contours: readonly Contour[] }[];
  /** The field in the same frame. */
  readonly field: Box;
  readonly widthMm: number;
  readonly lengthMm: number;
  readonly method: 'resist' | 'direct';
  readonly clothColour: Colour;
  /** One colour for all, or one an ink (its own where it has none). */
  readonly dyeColours: Readonly<Record<Ink, Colour>> | Colour;
  readonly font: FontMetrics;
  readonly title: string;
  /** `YYYY-MM-DD`. */
  readonly date: string;
}

/** More placements make no picture that can be opened. */
export const DRIFTED_PLACEMENTS_MAX = 5_000;

/** Rings around joins that are off, on a metre of cloth, mm; on more of it they are larger. */
const RING_MM = 9;

/**
 * The picture of a cloth that is printed with a sheet that is not square: everything that is cut out of it, moved as its holes were, at every place where
 * stepping dot on dot lays it. The first join that is off by more than the tolerance and the worst one are ringed. One page as large as
 * the cloth. Throws an `InputError` for more than `DRIFTED_PLACEMENTS_MAX` placements, and where the drift was worked out for one column and the cloth has more.
 */
export function driftedCloth(drift: Drift, input: DriftedClothInput): Drawing {
  const { field, widthMm, lengthMm, method, clothColour, title, date } = input;
  const { model } = drift;
  const [w, h] = [field.x1 - field.x0, field.y1 - field.y0];
  const needed = (Math.ceil(widthMm / w) + 1) * (Math.ceil(lengthMm / h) + 1);
  if (needed > DRIFTED_PLACEMENTS_MAX) {
    throw new InputError(
      `A picture of ${formatMm(widthMm)} × ${formatMm(lengthMm)} of cloth would hold more than ${DRIFTED_PLACEMENTS_MAX} placements: ask for a shorter or narrower cloth.`,
    );
  }
  const lattice = makeLattice(model.sheet.repeat, w, h);
  const steps = clothPlacements(lattice, widthMm, lengthMm).map(({ i, j }) => ({ i, j }));
  // The field's upper left, not the dot's, lies on the cloth's.
  const corner = moved(model, { x: field.x0, y: field.y0 });
  const shift = { x: -corner.x, y: -corner.y };
  const at = placementsUnderDrift(drift, steps).map(({ motion }): Matrix => {
    const [a, b, c, d, e, f] = motionMatrix(motion);
    return [a, b, c, d, e + shift.x, f + shift.y];
  });
  const colour = (ink: Ink | undefined): Colour =>
    typeof input.dyeColours === 'string'
      ? input.dyeColours
      : ((ink !== undefined ? input.dyeColours[ink] : undefined) ?? ink ?? clothColour);
  const ground = method === 'resist' ? colour(input.sheets[0]?.ink) : clothColour;
  const cloth = boxContour({ x0: 0, y0: 0, x1: widthMm, y1: lengthMm });
  const printed = input.sheets.filter(({ contours }) => contours.length > 0);
  const groups = printed.map(({ ink, contours }, k): readonly [string, readonly Item[]] => [
    `sheet-${k + 1}`,
    [
      {
        kind: 'path',
        contours: contours.map((contour) => movedContour(model, contour)),
        fill: method === 'resist' ? clothColour : colour(ink),
      },
    ],
  ]);
  return roundDrawing({
    title,
    date,
    groups: Object.fromEntries(groups),
    pages: [
      {
        name: title,
        widthMm,
        heightMm: lengthMm,
        items: [
          {
            kind: 'clip',
            contours: [cloth],
            items: [
              { kind: 'path', contours: [cloth], fill: ground },
              ...groups.map(([group]): Item => ({ kind: 'place', group, at })),
              ...joinLayer(drift, shift, input),
            ],
          },
        ],
      },
    ],
  });
}

/** The pattern moved as the holes were: between them in proportion. Exact at the corners and along the sides, where joins are. */
function moved({ holes, sheet }: DriftModel, { x, y }: Point): Point {
  const [u, v] = [x / sheet.widthMm, y / sheet.heightMm];
  const { upperLeft: a, upperRight: b, lowerRight: c, lowerLeft: d } = holes;
  const mix = (of: (p: Point) => number): number =>
    (1 - v) * ((1 - u) * of(a) + u * of(b)) + v * ((1 - u) * of(d) + u * of(c));
  return { x: mix((p) => p.x), y: mix((p) => p.y) };
}

function movedContour(model: DriftModel, { closed, coords }: Contour): Contour {
  const out = Float64Array.from(coords);
  for (let k = 0; k < coords.length; k += 2) {
    const { x, y } = moved(model, { x: coords[k], y: coords[k + 1] });
    out[k] = x;
    out[k + 1] = y;
  }
  return { closed, coords: out };
}

function joinLayer({ firstOver, worst, toleranceMm }: Drift, shift: Point, input: DriftedClothInput): Item[] {
  const same = firstOver !== null && worst !== null && firstOver.at.x === worst.at.x && firstOver.at.y === worst.at.y;
  const rings: [DriftJoin, string][] = [
    ...(firstOver === null
      ? []
      : [[firstOver, `first over ${formatMm(toleranceMm)}: ${formatMm(firstOver.mm, 1)}`] as [DriftJoin, string]]),
    ...(worst === null || same || worst.mm < 0.05
      ? []
      : [[worst, `worst: ${formatMm(worst.mm, 1)}`] as [DriftJoin, string]]),
  ];
  return rings.flatMap(([join, text]) => ringItems({ x: join.at.x + shift.x, y: join.at.y + shift.y }, text, input));
}

function ringItems(at: Point, text: string, { widthMm, lengthMm, font }: DriftedClothInput): Item[] {
  if (at.x < 0 || at.y < 0 || at.x > widthMm || at.y > lengthMm) return [];
  const r = RING_MM * Math.min(4, Math.max(1, Math.max(widthMm, lengthMm) / 1_000));
  const em = 1.3 * r;
  const width = textWidthMm(text, { sizeMm: em, bold: true }, font) + 0.8 * em;
  // Beside the ring on the side away from the cloth's edge, and never beyond it.
  const x0 = at.x > widthMm / 2 ? at.x - r - width : at.x + r;
  const top = Math.min(Math.max(at.y - 0.65 * em, 0), lengthMm - 1.3 * em);
  const plate = { x0, y0: top, x1: x0 + width, y1: top + 1.3 * em };
  const line = { ...lineStyle('finding'), widthMm: r / 6, dashMm: [r / 2, r / 4] };
  const ring = [circleContour(at, r)];
  return [
    { kind: 'path', contours: ring, line: { colour: PAPER, widthMm: 2 * line.widthMm } },
    { kind: 'path', contours: ring, line },
    { kind: 'path', contours: [boxContour(plate)], fill: PAPER, line: { colour: line.colour, widthMm: r / 10 } },
    {
      kind: 'text',
      text,
      x: x0 + width / 2,
      y: top + 0.98 * em,
      sizeMm: em,
      colour: COLOURS.black,
      bold: true,
      anchor: 'middle',
    },
  ];
}
