import type { Plan } from '../../cloth/plan-types.js';
import { GuidePages } from '../../draw/layout.js';
import { roundDrawing } from '../../draw/round.js';
import type { Drawing, FontMetrics } from '../../draw/types.js';
import type { Join } from '../../joins/types.js';
import type { JoinView } from '../../joins/view-types.js';
import type { Finding } from '../../motif/finding.js';
import type { ProofOffset } from '../../proof/types.js';
import type { JudgedSheet, SheetChanges } from '../../stencil/types.js';
import { InputError } from '../../units/input-error.js';
import { paperNames } from '../sheet/paper-names.js';
import { changeMarks, revisionPage } from './changes.js';
import { dotMeasures, dotMeasuresHeight, frontPage, type GuideHead } from './front.js';
import { joinsThatMatter, toSettle, toSettleHeight } from './joins.js';
import { nameZones, overviewPage } from './overview.js';
import { paperPage } from './paper.js';
import { noPlanPage, planPages } from './plan.js';
import { releasePages } from './release.js';
import { secondCutPages } from './second-cut.js';
import { punchedWet, squarePages } from './square.js';
import { zonePages } from './zone-pages.js';

/** Narrower or lower pages than these do not hold the guide's grid, mm (A5). */
const LEAST_WIDTH_MM = 148;
const LEAST_HEIGHT_MM = 210;

export interface GuideInput extends GuideHead {
  /** One guide follows the other where there are several. */
  readonly sheets: readonly JudgedSheet[];
  readonly joins: readonly Join[];
  /** Joins to show both sides of; none by default. */
  readonly joinViews?: readonly JoinView[];
  /** What changed since an older revision, one a sheet, null where no older one is told; by default none is. */
  readonly changes?: readonly (SheetChanges | null)[];
  readonly findings: readonly Finding[];
  /** What proofs showed, one list a sheet, for sheets whose second cut follows them; by default none was measured. */
  readonly proofs?: readonly (readonly ProofOffset[])[];
  /** How the run is printed along the cloth, or why it can't be planned; by default nothing is said of it. */
  readonly plan?: Plan | { readonly refused: string };
  readonly font: FontMetrics;
}

/**
 * The cut guide, on numbered pages: for every sheet page one with all that must be known before the first cut, the overview with its zones and dot measures, what changed
 * since an older revision, how it is punched and squared (last where that is done on the soaked sheet), what its paper needs, the zones with their lists to tick off, the
 * joins to finish, the proof or the second cut by it, and the release cut. Then, once, how the run is printed along the cloth.
 * Throws an `InputError` for paper smaller than A5, which does not hold it.
 */
export function guideDrawing(input: GuideInput): Drawing {
  const { title, date, revision, sheets, font, paper, joins, joinViews = null, lattice, findings } = input;
  if (!(paper.widthMm >= LEAST_WIDTH_MM && paper.heightMm >= LEAST_HEIGHT_MM)) {
    throw new InputError(
      `The cut guide needs paper of ${LEAST_WIDTH_MM} × ${LEAST_HEIGHT_MM} mm or larger, and got ${paper.widthMm} × ${paper.heightMm} mm; choose A4 or Letter.`,
    );
  }
  const pages = new GuidePages({ widthMm: paper.widthMm, heightMm: paper.heightMm }, font);
  sheets.forEach((sheet, k) => {
    const changes = input.changes?.[k] ?? null;
    const names = paperNames(sheet);
    pages.newPage();
    frontPage(pages, input, sheet, findings);
    const overview = overviewPage(pages, sheet, {
      names,
      belowMm: dotMeasuresHeight(sheet) + toSettleHeight(sheet, findings),
    });
    dotMeasures(pages, sheet);
    toSettle(pages, sheet, findings);
    if (changes !== null) revisionPage(pages, sheet, changes, revision);
    if (!punchedWet(sheet)) squarePages(pages, sheet);
    paperPage(pages, sheet, names);
    const places = zonePages(pages, sheet, { changes: changeMarks(changes), names });
    nameZones(pages, sheet, overview, places);
    joinsThatMatter(pages, sheet, { joins, joinViews, lattice });
    secondCutPages(pages, sheet, { lattice, offsets: input.proofs?.[k] ?? [] });
    releasePages(pages, sheet, names);
    if (punchedWet(sheet)) squarePages(pages, sheet);
  });
  if (input.plan !== undefined) {
    if ('refused' in input.plan) noPlanPage(pages, input.plan.refused);
    else planPages(pages, input.plan, sheets);
  }
  const finished = pages.finish(title, ['cut guide', `revision ${revision}`, date]);
  return roundDrawing({ title: `${title} – cut guide`, date, groups: {}, pages: finished });
}
