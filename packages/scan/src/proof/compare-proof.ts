import type { Box, GreyImage, Point, ProofOffset, ProofReport, Sheet } from '@okuri/core';
import {
  checkSquare,
  cornerDots,
  dotFrame,
  ENDS,
  forCorners,
  forSpans,
  growBox,
  joinBoxes,
  type LaidProof,
  type SheetEnds,
  type SixDistances,
  type SquareCheck,
} from '@okuri/core/inside';
import { applyHomography, invertHomography } from '../scale/homography.js';
import { traceImage } from '../trace/trace-image.js';
import { leadEdgesOf, spreadOf } from './lead-edges.js';
import { type EndReading, measureEnds } from './measure-ends.js';
import { edgeSamples, plannedRings } from './planned-edges.js';
import { printDifferences } from './print-differences.js';
import { printedEdges, printedOffset } from './printed-edges.js';

/** An edge that lies farther than this from its place is another one, or none, mm; what is that far off is told as missing or too much. */
export const REACH_MM = 2;

/** How far past its field a sheet is traced, mm: the dots, the laps, and what ran beside them. */
const PAST_FIELD_MM = 6;

export interface CompareProofOptions {
  /** The light parts are the print: a discharge, or a resist on dark cloth. */
  readonly light?: boolean;
  /** How far a distance between printed dots may be off, mm; that of a ruler by default. */
  readonly readingErrorMm?: number;
  readonly progress?: (done: number) => void;
}

/**
 * What a laid proof tells of its sheet. The print is traced in sheet mm. Its **spread** is the middle offset of all edges of the first cut: paste (and a knife that keeps to
 * one side of the line) makes all openings larger or smaller alike. Lead edges and ends are told with the spread taken off. For a join to meet, two *prints* have to meet: that of the
 * lead edge and that of the second cut. Both spread alike, so the knife's edges have to meet, and the knife's edge is the printed one less the spread;
 * a second cut drawn to the printed edge itself would spread once more and overlap. It holds for the knife's habit too, as far as the same hand makes the second cut.
 */
export function compareProof(
  image: GreyImage,
  sheet: Sheet,
  ends: SheetEnds,
  { laid, ...options }: CompareProofOptions & { readonly laid: LaidProof },
): ProofReport {
  const { light = false, progress } = options;
  const scale = {
    toMm: laid.toSheet,
    pixelsPerMm: laid.pixelsPerMm,
    from: 'dots',
    perspective: laid.frame === 'perspective',
    words: '',
  } as const;
  const region = lookedAt(sheet);
  const { contours } = traceImage(image, scale, { light, region, ...(progress === undefined ? {} : { progress }) });
  const printed = printedEdges(contours);
  const rings = plannedRings(sheet);
  const off = laid.frame === 'rigid' ? Math.max(0, ...laid.dots.map(({ offMm }) => offMm)) : 0;
  const reachMm = REACH_MM + off;
  const samples = edgeSamples(sheet, rings).map((sample) => ({
    ...sample,
    offsetMm: printedOffset(printed, sample, reachMm),
  }));
  const spreadMm = spreadOf(samples);
  const readings = measureEnds(sheet, ends, { rings, printed, spreadMm, reachMm });
  const { differences, heldShare } = printDifferences(
    sheet,
    { rings, printed: printed.rings },
    { spreadMm, inPicture: insidePicture(image, laid) },
  );
  const distances = distancesOf(sheet, laid);
  return {
    laid,
    spreadMm,
    leadEdges: leadEdgesOf(sheet, samples, { ends, spreadMm }),
    offsets: readings.flatMap((reading) => offsetOf(reading, sheet.field)),
    printedOffsets: readings.flatMap(({ end, measured }) =>
      measured === null ? [] : [{ name: end.name, offsetMm: measured.printedMm }],
    ),
    unmeasured: readings.flatMap(({ end, measured }) => (measured === null ? [end.name] : [])),
    differences,
    heldShare,
    distances,
    square: distances === null ? null : squareOf(sheet, distances, options.readingErrorMm),
    printed: contours,
  };
}

/** What of the sheet is traced: the field and its dots with some paper round them. */
function lookedAt({ field, dots }: Sheet): Box {
  return growBox(joinBoxes(field, dotFrame(dots)), PAST_FIELD_MM);
}

/** An end's offset as a job keeps it: of the knife's edge. Places are those of the field. */
function offsetOf({ end, measured }: EndReading, field: Box): ProofOffset[] {
  if (measured === null) return [];
  return [
    {
      name: end.name,
      offsetMm: measured.cutMm,
      turnDeg: 'seam' in end ? measured.turnDeg : 0,
      place: { x: end.at.x - field.x0, y: end.at.y - field.y0 },
    },
  ];
}

function insidePicture({ width, height }: GreyImage, { toSheet }: LaidProof): (at: Point) => boolean {
  const toPicture = invertHomography(toSheet);
  if (toPicture === null)
    throw new RangeError('got a laid proof that maps the picture to a line, expected one that can be undone');
  return (at) => {
    const { x, y } = applyHomography(toPicture, at);
    return x >= 0 && y >= 0 && x <= width && y <= height;
  };
}

/** The six distances between the corner dots as they printed, mm; null where the picture has no scale but the dots, or a corner's dot was not found. */
function distancesOf({ dots }: Sheet, { scale, dots: printed }: LaidProof): SixDistances | null {
  if (scale === null) return null;
  const { corners } = cornerDots(dots);
  const places = forCorners((corner) => {
    const dot = printed.find(({ name }) => name === corners[corner].name);
    return dot === undefined ? null : applyHomography(scale.toMm, dot.at);
  });
  if (Object.values(places).includes(null)) return null;
  return forSpans((span) => {
    const [a, b] = ENDS[span].map((corner) => places[corner] as Point);
    return Math.hypot(a.x - b.x, a.y - b.y);
  });
}

/** What the distances prove, as readings of a ruler would. */
function squareOf({ dots }: Sheet, distances: SixDistances, readingErrorMm?: number): SquareCheck {
  const frame = dotFrame(dots);
  const { corners } = cornerDots(dots);
  return checkSquare(
    forSpans((span) => [distances[span]]),
    {
      targets: { widthMm: frame.x1 - frame.x0, heightMm: frame.y1 - frame.y0 },
      names: forCorners((corner) => corners[corner].name),
      ...(readingErrorMm === undefined ? {} : { readingErrorMm }),
    },
  );
}
