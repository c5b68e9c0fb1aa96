import { drySize, type JudgedSquare, type SquareSheet } from '../job/square.js';
import { bySeverity } from '../motif/finding.js';
import { type DriftDocument, driftDocument } from '../register/drift-document.js';
import { squareLimits } from '../register/limits.js';
import type { PunchOrder } from '../register/punch-order.js';
import { rectangleDistances, SPANS } from '../register/spans.js';
import type { Corner, SquareTargets } from '../register/types.js';
import { provesMisjoins } from '../register/verdict-words.js';
import { plainFinding } from './plain-finding.js';
import { roundedData } from './rounded-data.js';

/**
 * The document of `square --json` for measured distances: plain data, the same from run to run. All follows from `verdict` (see `SquareCheck`); what it does not make
 * known is null: without a shape there is no `outOfSquareMm` of 0, no hole and no drift. `driftProved`: joins are off for certain, and not only as read. Lengths in
 * mm, angles in degrees; holes by their place (`upperLeft`), with the job's letter beside.
 */
export function squareDocument({ check, drift, findings, measuredWhen }: JudgedSquare, sheet: SquareSheet | null) {
  const { flat, shape, foretold } = check;
  const named = (hole: string): string | null => sheet?.names[hole as Corner] ?? (isExtra(hole, sheet) ? hole : null);
  const document = roundedData({
    verdict: check.verdict,
    mend: check.mend,
    flat: flat === null ? null : flat.verdict === 'possible' && check.verdict !== 'misreading',
    shape: shape?.kind ?? null,
    square: check.square,
    outOfSquareMm: shape?.outOfSquareMm ?? null,
    outOfSquareLeastMm: shape?.outOfSquareLeastMm ?? null,
    outOfSquareMostMm: shape?.outOfSquareMostMm ?? null,
    outOfSquareDeg: shape?.outOfSquareDeg ?? null,
    suspect: flat?.suspect?.span ?? null,
    repunch: check.repunch.map(({ hole, at, fromMm, checkMm, movedMm, patchFirst }) => ({
      hole,
      dot: named(hole),
      fromMm: fromMm.map((from) => ({ hole: from.hole, dot: named(from.hole), mm: from.mm })),
      checkMm: checkMm && { hole: checkMm.hole, dot: named(checkMm.hole), mm: checkMm.mm },
      atMm: at,
      movedMm,
      patchFirst,
    })),
    effect: check.effect,
    missing: [...check.missing],
    order: { inOrder: check.order.inOrder, exchanged: check.order.exchanged, turned: check.order.turned },
    readings: Object.fromEntries(SPANS.map((span) => [span, check.readings[span]])),
    flatness: flat && {
      verdict: flat.verdict,
      eachOffMm: flat.eachOffMm,
      diagonals: flat.diagonals,
      liftMm: flat.liftMm,
      wouldBe: flat.wouldBe.map((one) => ({ ...one })),
      suspect: flat.suspect && { ...flat.suspect },
    },
    quadrilateral: shape && { ...shape },
    holesMm: check.holes,
    // Of five distances, if they are right.
    foretold: foretold && { span: foretold.span, mm: foretold.mm, shape: foretold.shape.kind },
    extra: check.extra.map((one) => ({ ...one })),
    readingErrorMm: check.readingErrorMm,
    measuredWhen,
    sizes: check.sizes,
    limits: sheet && { ...squareLimits(sheet.targets, sheet.stepping) },
    driftProved: check.shape === null ? null : provesMisjoins(check),
    targets: check.targets && targetsDocument(check.targets),
    findings: bySeverity(findings).map(plainFinding),
  });
  // Turns of a sheet are far below the decimals that lengths are roundedData to.
  return { ...document, drift: drift === null ? null : significant(driftDocument(drift)) };
}

/** The document of `square --json` for a job without measurements: what to punch and what to measure. */
export function punchDocument(sheet: SquareSheet, order: PunchOrder) {
  return roundedData({
    title: sheet.title,
    punch: sheet.punch,
    movement: sheet.movement,
    // As they are set with the ruler, and as they print.
    targets: targetsDocument(sheet.punch === 'dry' ? drySize(sheet.targets, sheet.movement) : sheet.targets),
    printed: targetsDocument(sheet.targets),
    limits: { ...squareLimits(sheet.targets, sheet.stepping) },
    dots: sheet.names,
    extra: sheet.extra.map(({ name, at }) => ({ name, atMm: at })),
    steps: sheet.steps.map(({ to, vector, pairs }) => ({
      to,
      vectorMm: vector,
      pairs: pairs.map((pair) => ({ ...pair })),
    })),
    rulerParts: order.rulerParts,
    metricStepMm: order.metricStepMm,
    order: order.steps.map((step) => ({ ...step })),
    metricEffect: order.metricEffect,
    inchEffect: order.inchEffect,
    sentences: [...order.sentences],
    findings: bySeverity(sheet.findings).map(plainFinding),
  });
}

/** The shapes of the documents. */
export type SquareDocument = ReturnType<typeof squareDocument>;
export type PunchDocument = ReturnType<typeof punchDocument>;

function isExtra(hole: string, sheet: SquareSheet | null): boolean {
  return sheet?.extra.some(({ name }) => name === hole) ?? false;
}

function targetsDocument({ widthMm, heightMm }: SquareTargets) {
  return { ...rectangleDistances(widthMm, heightMm), widthMm, heightMm };
}

/** Digits of a figure of drift. */
const DIGITS = 9;
/** A figure below this is rounding, in mm as in degrees: drift's own floor for a turn. */
const NOTHING = 1e-10;

/** Every number to nine digits; what is not finite becomes null. */
function significant(value: DriftDocument): DriftDocument {
  const round = (one: unknown): unknown => {
    if (typeof one === 'number') {
      if (!Number.isFinite(one)) return null;
      return Math.abs(one) < NOTHING ? 0 : Number(one.toPrecision(DIGITS));
    }
    if (Array.isArray(one)) return one.map(round);
    if (typeof one === 'object' && one !== null) {
      return Object.fromEntries(Object.entries(one).map(([key, inner]) => [key, round(inner)]));
    }
    return one;
  };
  return round(value) as DriftDocument;
}
