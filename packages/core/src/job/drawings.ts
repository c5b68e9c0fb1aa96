import type { Plan } from '../cloth/plan-types.js';
import type { Drawing, FontMetrics } from '../draw/types.js';
import { translateContour } from '../geometry/contour.js';
import { bySeverity } from '../motif/finding.js';
import { type PrintSheets, printSheets } from '../papers/cartoon/print-sheets.js';
import { stencilDrawing } from '../papers/cartoon/stencil-drawing.js';
import { type ClothDrawingInput, clothDrawing } from '../papers/cloth/cloth.js';
import { driftedCloth } from '../papers/cloth/drifted-cloth.js';
import { guideDrawing } from '../papers/guide/guide.js';
import { placementMap } from '../papers/map/placement-map.js';
import { cartoonItems } from '../papers/sheet/cartoon.js';
import { dotFrame, sheetRepeat } from '../register/dots.js';
import type { Drift } from '../register/drift-types.js';
import { makeLattice } from '../repeat/lattice.js';
import { clothTile } from '../repeat/pattern.js';
import { sheetChanges } from '../stencil/changes.js';
import { drySheet } from '../stencil/dry-sheet.js';
import type { SheetChanges } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { findPaper, isAmericanPaper, type Paper } from '../units/paper-sizes.js';
import { joinViews } from './join-views.js';
import { offsetsOf } from './proof-offsets.js';
import { type JobResult, judgedSheets } from './result.js';

/** The picture of the job's cloth, with seams, dots and findings as the job shows them. */
export function clothPicture(result: JobResult): Drawing {
  const { job, cell, lattice } = result;
  const { widthMm, lengthMm, colour, seams } = job.cloth;
  const input: ClothDrawingInput = {
    tile: clothTile(cell),
    lattice,
    widthMm,
    lengthMm,
    method: job.method,
    clothColour: colour,
    dyeColours: dyeColours(result),
    seams,
    dots: null,
    findings: job.cloth.findings ? bySeverity(result.findings) : null,
    title: job.title,
    date: job.date,
  };
  const sheet = job.cloth.dots ? result.sheets[0] : undefined;
  if (sheet === undefined) return clothDrawing(input);
  const printed = sheet.dots.filter(({ lead }) => lead);
  const dots = printed.map(({ at }) => ({ x: at.x - sheet.field.x0, y: at.y - sheet.field.y0 }));
  if (sheet.across * sheet.down === 1) return clothDrawing({ ...input, dots });
  // Dots belong to the sheet, seams and findings to the unit: where a sheet holds several units, the dots step by sheets.
  const steps = makeLattice(
    sheetRepeat(lattice.repeat, sheet.across, sheet.down),
    sheet.across * lattice.widthMm,
    sheet.down * lattice.heightMm,
  );
  const picture = clothDrawing(input);
  const [page] = picture.pages;
  const dotted = clothDrawing({ ...input, lattice: steps, seams: false, findings: null, dots });
  return { ...picture, pages: [{ ...page, items: [...page.items, ...dotted.pages[0].items.slice(1)] }] };
}

/** Several inks printed directly keep the colours they were drawn in. */
function dyeColours({ job, inks }: JobResult): ClothDrawingInput['dyeColours'] {
  return job.method === 'direct' && inks.length > 1 ? {} : job.cloth.dye;
}

/** The picture of the job's cloth as a sheet prints it that drifts: see `driftedCloth`. Throws as that does. */
export function driftedClothPicture(result: JobResult, drift: Drift, font: FontMetrics): Drawing {
  const { job, sheets, cutOut } = result;
  const [first] = sheets;
  const { x0, y0 } = dotFrame(first.dots);
  const { field } = first;
  return driftedCloth(drift, {
    sheets: sheets.map(({ ink }, k) => ({
      ink,
      contours: cutOut[k].map(({ contour }) => translateContour(contour, { x: -x0, y: -y0 })),
    })),
    field: { x0: field.x0 - x0, y0: field.y0 - y0, x1: field.x1 - x0, y1: field.y1 - y0 },
    widthMm: job.cloth.widthMm,
    lengthMm: job.cloth.lengthMm,
    method: job.method,
    clothColour: job.cloth.colour,
    dyeColours: dyeColours(result),
    font,
    title: job.title,
    date: job.date,
  });
}

/** The map of the plan's placements on the job's printer paper, or that of the guide where it is smaller than A5. Throws an `InputError` where margins leave no room. */
export function placementMapDrawing({ job }: Pick<JobResult, 'job'>, plan: Plan, font: FontMetrics): Drawing {
  const { title, revision, date, pages } = job;
  const { orientation, marginMm } = pages;
  const own = findPaper(pages.paper);
  // Like the guide it is read, not joined: labels and slips hold no map.
  const paper = Math.min(own.widthMm, own.heightMm) < MAP_PAPER_LEAST_MM ? guidePaper(pages.paper) : own;
  return placementMap(plan, { title, revision, date, font, paper, orientation, marginMm });
}

/** The shorter side of A5 (ISO 216). */
const MAP_PAPER_LEAST_MM = 148;

/** The print sheets of every stencil, in the order of the job's sheets. */
export function printSheetDrawings(result: JobResult, font: FontMetrics): Drawing[] {
  return printSheetPlans(result, font).map(({ drawing }) => drawing);
}

/** The same with how each sheet is split over its pages. */
export function printSheetPlans(result: JobResult, font: FontMetrics): PrintSheets[] {
  const { job, statements } = result;
  const paper = findPaper(job.pages.paper);
  return judgedSheets(result).map((printed) => {
    // What is joined is dry; the paper grows or shrinks to the print when it is soaked.
    const sheet = drySheet(printed);
    // Words fit the printed cartoon as they fit the cutting drawing: both are seen at full size.
    const cartoon = cartoonItems(sheet, { font });
    return printSheets(sheet, { job, cartoon, font, paper, statements });
  });
}

/** The cutting drawing of every stencil, in the order of the job's sheets. */
export function stencilDrawings(result: JobResult, font: FontMetrics): Drawing[] {
  const { job, statements } = result;
  return judgedSheets(result).map((sheet) =>
    stencilDrawing(sheet, { title: job.title, date: job.date, statements, font }),
  );
}

export interface CutGuideOptions {
  /** What changed since an older revision, for each sheet; null for a sheet that is new. */
  readonly changes?: readonly (SheetChanges | null)[];
}

/** The cut guide: one drawing for all stencils, on `guidePaper`. */
export function cutGuideDrawing(result: JobResult, font: FontMetrics, { changes }: CutGuideOptions = {}): Drawing {
  const { job, lattice, sheets, joins, findings, statements } = result;
  return guideDrawing({
    title: job.title,
    revision: job.revision,
    date: job.date,
    statements,
    lattice,
    sheets: judgedSheets(result),
    joins,
    findings,
    font,
    paper: guidePaper(job.pages.paper),
    joinViews: joinViews(result),
    method: job.method,
    transferMirrored: job.pages.mirror,
    plan: planOrRefusal(result),
    proofs: sheets.map((sheet) => offsetsOf(result, sheet)),
    ...(changes === undefined ? {} : { changes }),
  });
}

/** The guide tells how to cut even where the cloth can't be planned. */
function planOrRefusal(result: JobResult): Plan | { readonly refused: string } {
  try {
    return result.plan;
  } catch (error) {
    if (error instanceof InputError) return { refused: error.message };
    throw error;
  }
}

/** What changed from an older result of the job to a newer one, for each of the newer's sheets by its ink; null where the older has none. */
export function changesSince(
  old: Pick<JobResult, 'sheets'>,
  result: Pick<JobResult, 'sheets'>,
): (SheetChanges | null)[] {
  return result.sheets.map((sheet) => {
    const was =
      old.sheets.find(({ ink, part }) => ink === sheet.ink && part === sheet.part) ??
      // The only stencil stays the same one under another ink.
      (old.sheets.length === 1 && result.sheets.length === 1 ? old.sheets[0] : undefined);
    return was === undefined ? null : sheetChanges(was, sheet);
  });
}

/** The guide is read, not joined: it is on Letter where the printer's paper is an American one, and on A4 elsewhere. */
export function guidePaper(pagesPaper: string): Paper {
  return findPaper(isAmericanPaper(findPaper(pagesPaper)) ? 'Letter' : 'A4');
}
