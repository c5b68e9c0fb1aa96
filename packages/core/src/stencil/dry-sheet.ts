import { transformBox } from '../geometry/boxes.js';
import { transformContour } from '../geometry/contour.js';
import { apply } from '../geometry/matrix.js';
import type { Contour, Matrix, Point } from '../geometry/types.js';
import { dotFrame } from '../register/dots.js';
import type { NarrowPlace, PaperReport } from '../strength/types.js';
import type { SheetEnds } from './end-types.js';
import { sheetMeasures } from './measures.js';
import type { CutSheet, DroppedPlace, JudgedSheet, Measure, SheetOpening } from './types.js';

/**
 * The sheet as it has to be drawn and cut on dry paper, so that it comes out true when soaked: every place of it, its edge, outlines, dots and
 * ties, over 1 + movement, across and down each by its own; its measures likewise. Sizes of holes, laps and widths, lengths of cut and
 * areas stay those of the print. The sheet itself where nothing moves or it is not known, or it is dry already.
 */
export function drySheet<S extends CutSheet & Partial<Pick<JudgedSheet, 'ends' | 'paper'>>>(sheet: S): S {
  const { movement, dry } = sheet.register;
  if (movement === null || dry) return sheet;
  const m: Matrix = [1 / (1 + movement.widthPercent / 100), 0, 0, 1 / (1 + movement.heightPercent / 100), 0, 0];
  const corner = apply(m, { x: sheet.widthMm, y: sheet.heightMm });
  const dots = sheet.dots.map((dot) => ({ ...dot, at: apply(m, dot.at) }));
  return {
    ...sheet,
    widthMm: corner.x,
    heightMm: corner.y,
    field: transformBox(sheet.field, m),
    heldRight: sheet.heldRight && transformBox(sheet.heldRight, m),
    heldBottom: sheet.heldBottom && transformBox(sheet.heldBottom, m),
    dots,
    measures: sheet.measures.length === 0 ? [] : sheetMeasures(dots, dotFrame(dots)),
    openings: sheet.openings.map((opening) => dryOpening(opening, m)),
    dropped: sheet.dropped.map((place) => dryPlace(place, m)),
    zones: sheet.zones.map((zone) => ({ ...zone, box: transformBox(zone.box, m) })),
    stops: sheet.stops.map((stop) => ({ ...stop, from: apply(m, stop.from), to: apply(m, stop.to) })),
    ties: sheet.ties.map((tie) => ({ ...dryEndsOf(tie, m), outline: transformContour(tie.outline, m) })),
    register: { ...sheet.register, dry: true },
    ...(sheet.ends && { ends: dryEnds(sheet.ends, m) }),
    ...(sheet.paper && { paper: dryReport(sheet.paper, m) }),
  };
}

/** The measures by which dots are punched: of the dry paper, or of the soaked one where they are measured on that. */
export function punchMeasures(sheet: CutSheet): readonly Measure[] {
  return sheet.register.punch === 'wet' ? sheet.measures : drySheet(sheet).measures;
}

function dryOpening(opening: SheetOpening, m: Matrix): SheetOpening {
  return {
    ...opening,
    firstCut: dryContours(opening.firstCut, m),
    secondCut: dryContours(opening.secondCut, m),
    box: transformBox(opening.box, m),
    labelAt: apply(m, opening.labelAt),
  };
}

function dryPlace(place: DroppedPlace, m: Matrix): DroppedPlace {
  return { ...place, contours: dryContours(place.contours, m), box: transformBox(place.box, m) };
}

/** Also the steps: on dry paper the sheet meets itself by its dry field. */
function dryEnds({ joins, firstCutEnds }: SheetEnds, m: Matrix): SheetEnds {
  return {
    joins: joins.map((join) => ({
      ...join,
      at: apply(m, join.at),
      lead: apply(m, join.lead),
      step: apply(m, join.step),
    })),
    firstCutEnds: firstCutEnds.map((end) => {
      const along = apply(m, end.along);
      const length = Math.hypot(along.x, along.y);
      return { ...end, at: apply(m, end.at), along: { x: along.x / length, y: along.y / length } };
    }),
  };
}

function dryReport(report: PaperReport, m: Matrix): PaperReport {
  const narrow = (place: NarrowPlace): NarrowPlace => ({ ...dryEndsOf(place, m), atMm: apply(m, place.atMm) });
  const maybe = (p: Point | null): Point | null => p && apply(m, p);
  return {
    ...report,
    islands: report.islands.map((island) => ({
      ...island,
      outline: transformContour(island.outline, m),
      box: transformBox(island.box, m),
      at: apply(m, island.at),
      span: island.span && dryEndsOf(island.span, m),
    })),
    necks: report.necks.map(narrow),
    slits: report.slits.map(narrow),
    tongues: report.tongues.map((one) => ({ ...one, root: apply(m, one.root), tip: apply(m, one.tip) })),
    longOpenings: report.longOpenings.map((one) => ({ ...one, at: apply(m, one.at) })),
    cutAway: { ...report.cutAway, weakestBand: transformBox(report.cutAway.weakestBand, m) },
    workOf: report.workOf.map((one) => ({ ...one, jerkAt: maybe(one.jerkAt), tightAt: maybe(one.tightAt) })),
  };
}

/** Both ends of a line across something. */
function dryEndsOf<T extends { readonly from: Point; readonly to: Point }>(one: T, m: Matrix): T {
  return { ...one, from: apply(m, one.from), to: apply(m, one.to) };
}

function dryContours(contours: readonly Contour[], m: Matrix): Contour[] {
  return contours.map((contour) => transformContour(contour, m));
}
