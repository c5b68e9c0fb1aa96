import { reportFindings } from '../findings/proof-report.js';
import type { Point } from '../geometry/types.js';
import type { ProofSheet } from '../job/proof-sheet.js';
import { bySeverity } from '../motif/finding.js';
import type { ProofReport } from '../proof/types.js';
import { plainFinding } from './plain-finding.js';
import { roundedData } from './rounded-data.js';

/**
 * The document of `proof --json` for a scan: plain data. Lengths in mm, angles in degrees, places from the upper left of the field; `offsets` and lead edges with the spread taken
 * off, `printedMm` as they printed. `distances` and `square` are null where the picture has no scale of its own.
 */
export function proofDocument(report: ProofReport, { title, sheet, key }: ProofSheet) {
  const { laid, square } = report;
  const { x0, y0 } = sheet.field;
  const onField = ({ x, y }: Point): Point => ({ x: x - x0, y: y - y0 });
  const printed = new Map(report.printedOffsets.map(({ name, offsetMm }) => [name, offsetMm]));
  return roundedData({
    title,
    stencil: sheet.index,
    key,
    laid: {
      by: laid.by,
      frame: laid.frame,
      scale: laid.scale?.words ?? null,
      pixelsPerMm: laid.pixelsPerMm,
      agreement: laid.agreement,
      dots: laid.dots.map(({ name, at, offMm }) => ({ name, atPx: at, offMm })),
      missingDots: [...laid.missingDots],
    },
    spreadMm: report.spreadMm,
    leadEdges: report.leadEdges.map(({ number, sides, meanMm, worstMm, worstAt, shownShare, joins }) => ({
      number,
      sides: [...sides],
      meanMm,
      worstMm,
      worstAtMm: onField(worstAt),
      shownShare,
      joins: [...joins],
    })),
    offsets: report.offsets.map(({ name, offsetMm, turnDeg, place }) => ({
      name,
      offsetMm,
      printedMm: printed.get(name) ?? null,
      turnDeg,
      placeMm: place,
    })),
    unmeasured: [...report.unmeasured],
    differences: report.differences.map(({ kind, number, areaMm2, deepMm, at, box }) => ({
      kind,
      number,
      areaMm2,
      deepMm,
      atMm: onField(at),
      boxMm: { x0: box.x0 - x0, y0: box.y0 - y0, x1: box.x1 - x0, y1: box.y1 - y0 },
    })),
    heldShare: report.heldShare,
    distances: report.distances && { ...report.distances },
    square: square?.square ?? null,
    outOfSquareMm: square?.shape?.outOfSquareMm ?? null,
    findings: bySeverity(reportFindings(report)).map(plainFinding),
  });
}

/** The shape of the document. */
export type ProofDocument = ReturnType<typeof proofDocument>;
