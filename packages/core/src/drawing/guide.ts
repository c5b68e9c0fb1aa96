import type { Join } from '../joins/types.js';
import type { Finding } from '../motif/finding.js';
import type { Sheet } from '../stencil/types.js';
import { InputError } from '../units/input-error.js';
import { frontMatter, type GuideHead } from './guide-front.js';
import { joinsThatMatter } from './guide-joins.js';
import { GuidePages, type PaperSize } from './guide-layout.js';
import { openingLists } from './guide-openings.js';
import { partPages } from './guide-part-pages.js';
import { sheetPicture } from './guide-picture.js';
import { roundDrawing } from './round.js';
import type { Drawing, FontMetrics, Item, Page } from './types.js';

/** Narrower or lower pages than these do not hold the guide's grid, mm (A5). */
const LEAST_WIDTH_MM = 148;
const LEAST_HEIGHT_MM = 210;

export interface GuideInput extends GuideHead {
  /** One guide follows the other where there are several. */
  readonly sheets: readonly Sheet[];
  readonly joins: readonly Join[];
  readonly findings: readonly Finding[];
  readonly font: FontMetrics;
  /** The guide's own paper, upright: A4 or Letter as a rule. */
  readonly paper: PaperSize;
}

/**
 * The cut guide: for every sheet its head, the picture of the whole (and of its parts, where the numbers are many), the lists to tick off and the joins that matter, on numbered pages.
 * Throws an `InputError` for paper smaller than A5, which does not hold it.
 */
export function guideDrawing(input: GuideInput): Drawing {
  const { title, date, revision, sheets, font, paper } = input;
  if (!(paper.widthMm >= LEAST_WIDTH_MM && paper.heightMm >= LEAST_HEIGHT_MM)) {
    throw new InputError(
      `The cut guide needs paper of ${LEAST_WIDTH_MM} × ${LEAST_HEIGHT_MM} mm or larger, and got ${paper.widthMm} × ${paper.heightMm} mm; choose A4 or Letter.`,
    );
  }
  const pages = new GuidePages(paper, font);
  const groups: Record<string, readonly Item[]> = {};
  sheets.forEach((sheet, k) => {
    const group = `sheet-${k + 1}`;
    pages.newPage();
    frontMatter(pages, input, sheet);
    const { items, parts } = sheetPicture(pages, sheet, { font, group });
    groups[group] = items;
    const larger = `${group}-parts`;
    if (parts) groups[larger] = partPages(pages, sheet, parts, { font, group: larger });
    openingLists(pages, sheet, font);
    joinsThatMatter(pages, sheet, input);
  });
  const finished: Page[] = pages.finish(title, ` · cut guide · revision ${revision} · ${date}`);
  return roundDrawing({ title: `${title} – cut guide`, date, groups, pages: finished });
}
