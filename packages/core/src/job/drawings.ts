import { cartoonItems } from '../drawing/cartoon.js';
import { type ClothDrawingInput, clothDrawing } from '../drawing/cloth.js';
import { guideDrawing } from '../drawing/guide.js';
import { printSheets } from '../drawing/print-sheets.js';
import { stencilDrawing } from '../drawing/stencil-drawing.js';
import type { Drawing, FontMetrics } from '../drawing/types.js';
import { makeLattice } from '../repeat/lattice.js';
import { clothTile } from '../repeat/pattern.js';
import { sheetChanges } from '../stencil/changes.js';
import { sheetRepeat } from '../stencil/dots.js';
import { drySheet } from '../stencil/dry-sheet.js';
import type { SheetChanges } from '../stencil/types.js';
import { findPaper, isAmericanPaper, type Paper } from '../units/paper-sizes.js';
import { worstFirst } from './check-document.js';
import { joinViews } from './join-views.js';
import type { JobResult } from './result.js';

/** The picture of the job's cloth, with seams, dots and findings as the job shows them. */
export function clothPicture(result: JobResult): Drawing {
  const { job, cell, lattice, sheets } = result;
  const { widthMm, lengthMm, colour, dye, seams } = job.cloth;
  const input: ClothDrawingInput = {
    tile: clothTile(cell),
    lattice,
    widthMm,
    lengthMm,
    method: job.method,
    clothColour: colour,
    // Several inks printed directly keep the colours they were drawn in.
    dyeColours: job.method === 'direct' && result.inks.length > 1 ? {} : dye,
    seams,
    dots: null,
    findings: job.cloth.findings ? worstFirst(result.findings) : null,
    title: job.title,
    date: job.date,
  };
  const sheet = sheets[0];
  if (!job.cloth.dots || sheet === undefined) return clothDrawing(input);
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

/** The print sheets of every stencil, in the order of the job's sheets. */
export function printSheetDrawings({ job, sheets, statements }: JobResult, font: FontMetrics): Drawing[] {
  const paper = findPaper(job.pages.paper);
  return sheets.map((printed) => {
    // What is joined is dry; the paper grows or shrinks to the print when it is soaked.
    const sheet = drySheet(printed);
    // Words fit the printed cartoon as they fit the cutting drawing: both are seen at full size.
    const cartoon = cartoonItems(sheet, { font });
    return printSheets(sheet, { job, cartoon, font, paper, statements }).drawing;
  });
}

/** The cutting drawing of every stencil, in the order of the job's sheets. */
export function stencilDrawings({ job, sheets, statements }: JobResult, font: FontMetrics): Drawing[] {
  return sheets.map((sheet) => stencilDrawing(sheet, { title: job.title, date: job.date, statements, font }));
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
    sheets,
    joins,
    findings,
    font,
    paper: guidePaper(job.pages.paper),
    joinViews: joinViews(result),
    method: job.method,
    transferMirrored: job.pages.mirror,
    ...(changes === undefined ? {} : { changes }),
  });
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
