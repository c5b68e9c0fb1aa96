import type { Contour, Matrix } from '../geometry/types.js';
import type { Job } from '../job-file/types.js';
import type { Motif } from '../motif/types.js';
import type { Lattice } from '../repeat/types.js';
import type { Sheet } from '../stencil/types.js';
import { mapped } from './cubic.js';
import type { Artwork, TieStrip, Verification, VerifyOptions } from './types.js';
import { verifyCuts } from './verify-cuts.js';

/** Ends this deep, too narrow for a blade, may be cut past the edge of the design, in place of the other side of their seam, mm. */
const PAST_MM = 0.3;

/** What is taken of a job's result: the artwork as it was read and sized, and every decision about it. */
export interface JudgedJob {
  readonly job: Pick<Job, 'drawn' | 'method' | 'paperColour' | 'cut'>;
  readonly motif: Pick<Motif, 'shapes'>;
  readonly lattice: Lattice;
  /** Which shapes were carried over the seams, and which were left out; all others are trimmed at the unit. */
  readonly cell: { readonly carried: ReadonlySet<number>; readonly leftOut: ReadonlySet<number> };
  readonly sheets: readonly Sheet[];
  /** For each sheet the strips of its ties, unit mm. */
  readonly strips: readonly (readonly TieStrip[])[];
}

export interface VerifySheetOptions extends VerifyOptions {
  /** The lines are drawn mirrored across the sheet. */
  readonly mirrored?: boolean;
}

/**
 * Holds the lines drawn for the sheet of an index against the job's artwork (see `verifyCuts`). `cuts`: closed outlines as `drawnCuts` takes them from a drawing, in
 * mm of the sheet as it is drawn, dry where its paper moves. Throws `RangeError` for an index without a sheet, for one of two sheets
 * that print an ink together, and for a sheet whose second cut follows a proof: their lines are not those of the artwork.
 */
export function verifySheet(
  judged: JudgedJob,
  index: number,
  cuts: readonly Contour[],
  { mirrored = false, ...options }: VerifySheetOptions = {},
): Verification {
  const sheet = judged.sheets[index];
  if (!sheet) throw new RangeError(`got sheet ${index}, expected one of ${judged.sheets.length}`);
  if (sheet.part !== null) throw new RangeError(`got sheet ${sheet.part} of two, expected one that prints alone`);
  if (sheet.secondCutFrom === 'proof') throw new RangeError('got a sheet cut after a proof, expected one as planned');
  const movement = sheet.register.movement;
  const across = 1 + (movement?.widthPercent ?? 0) / 100;
  const down = 1 + (movement?.heightPercent ?? 0) / 100;
  // From the drawing to the soaked sheet, and from that to its first unit.
  const { x0, y0, x1, y1 } = sheet.field;
  const toUnit: Matrix = [mirrored ? -across : across, 0, 0, down, mirrored ? sheet.widthMm - x0 : -x0, -y0];
  const moved = ({ closed, coords }: Contour, m: Matrix): Contour => ({ closed, coords: mapped(coords, m) });
  const onUnit = (p: { readonly x: number; readonly y: number }) => ({ x: p.x - x0, y: p.y - y0 });
  const { job, motif, lattice, cell, strips } = judged;
  const past = Math.max(sheet.lapMm, PAST_MM);
  const artwork: Artwork = {
    shapes: motif.shapes,
    lattice,
    reading: (k) => (cell.leftOut.has(k) ? 'leave-out' : cell.carried.has(k) ? 'carry' : 'trim'),
    cut: {
      ink: sheet.ink,
      light: job.drawn === 'cloth' && job.method === 'resist',
      chosen: job.cut,
      paperColour: job.paperColour,
    },
    ties: strips[index] ?? [],
    reach: { x0: -sheet.lapMm, y0: -sheet.lapMm, x1: x1 - x0, y1: y1 - y0 },
    stops: sheet.stops.map(({ from, to }) => ({ from: onUnit(from), to: onUnit(to) })),
    farthest: { x0: -past, y0: -past, x1: x1 - x0 + past, y1: y1 - y0 + past },
    dropped: sheet.dropped.flatMap(({ contours }) => contours.map((one) => moved(one, [1, 0, 0, 1, -x0, -y0]))),
  };
  return verifyCuts(
    artwork,
    cuts.map((cut) => moved(cut, toUnit)),
    options,
  );
}
