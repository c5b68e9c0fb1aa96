import type { Box, Contour, Point } from '../geometry/types.js';
import { cutAway } from '../strength/cut-away.js';
import { openingWork, totalWork } from '../strength/cutting-work.js';
import { islandStates } from '../strength/island-states.js';
import { longOpenings } from '../strength/long-openings.js';
import { findNecks, findSlits } from '../strength/narrow.js';
import { isSevere } from '../strength/severe.js';
import { findTongues } from '../strength/tongues.js';
import type { NarrowPlace, Pace, PaperReport, PaperRules, SheetOutline } from '../strength/types.js';

/** Above this share of the field cut away, the ground itself is cut (common practice, no published source). */
export const GROUND_SHARE = 0.55;

/** A place this near to the line of the trim lies on it, mm: rounding to the grid. */
const TRIM_MM = 1e-3;
/** Less paper than this where the trim meets an outline in a point is no place to care for, mm². */
const CRUMB_MM2 = 1;

/** What is cut of one opening of the sheet, sheet mm. */
export interface OpeningOutlines {
  readonly first: readonly Contour[];
  /** When everything is cut: first and second cut as one. */
  readonly whole: readonly Contour[];
}

/** What the paper of a sheet is judged by. Sheet mm. */
export interface SheetPaperInput {
  readonly edge: Box;
  readonly field: Box;
  /** The openings are trimmed along its sides: the field, and the lap past its lead sides. */
  readonly trim: Box;
  readonly openings: readonly OpeningOutlines[];
  /** What is cut when the release ties are gone; null where there are none. */
  readonly released: readonly SheetOutline[] | null;
  /** An opening runs on both ways. */
  readonly net: boolean;
}

/** Necks narrower than `neckMm`; openings are named by their place in `openings`. */
export function sheetNecks({ edge, trim, openings }: SheetPaperInput, neckMm: number): NarrowPlace[] {
  const onTrim = trimTest(trim);
  const whole = { edge, outlines: outlinesOf(openings.map((o) => o.whole)) };
  return findNecks(whole, { limitMm: neckMm }).filter((neck) => !(onTrim(neck) && neck.hangsMm2 < CRUMB_MM2));
}

/** What is known of the paper of a sheet, its `necks` among it; openings are named by their place in `openings`. */
export function sheetPaper(
  input: SheetPaperInput,
  { necks, rules, pace }: { necks: readonly NarrowPlace[]; rules: PaperRules; pace: Pace },
): PaperReport {
  const { edge, field, openings, released } = input;
  const first = outlinesOf(openings.map((o) => o.first));
  const outlines = outlinesOf(openings.map((o) => o.whole));
  const whole = { edge, outlines };
  const cut = cutAway(
    outlines.map((o) => o.contour),
    field,
  );
  const onTrim = trimTest(input.trim);
  const workOf = openings.map((o, opening) => openingWork(opening, o.whole, { pace, turnMm: rules.turnMm }));
  return {
    rules,
    groundCut: input.net || cut.share > GROUND_SHARE,
    islands: islandStates({ edge, outlines: first }, whole, released && { edge, outlines: released }),
    necks,
    slits: findSlits(whole, { limitMm: rules.slitMm }).filter((slit) => !onTrim(slit)),
    tongues: findTongues(whole, { ratio: rules.tongueRatio }),
    longOpenings: longOpenings(outlines, { spanMm: rules.spanMm }),
    cutAway: cut,
    work: totalWork(workOf),
    pace,
    workOf,
  };
}

/** Whether a narrow place ends on a line along which the sheet's openings are trimmed: there the neighbouring placement goes on. */
function trimTest({ x0, y0, x1, y1 }: Box): (place: NarrowPlace) => boolean {
  const on = ({ x, y }: Point): boolean =>
    Math.min(Math.abs(x - x0), Math.abs(x - x1), Math.abs(y - y0), Math.abs(y - y1)) < TRIM_MM;
  return ({ from, to }) => on(from) || on(to);
}

function outlinesOf(openings: readonly (readonly Contour[])[]): SheetOutline[] {
  return openings.flatMap((contours, opening) => contours.map((contour) => ({ contour, opening })));
}

/** The openings beside a weak place that has to be treated with care: what they free comes last. */
export function besideWeakPlaces(necks: readonly NarrowPlace[]): Set<number> {
  return new Set(necks.filter((neck) => neck.weak && isSevere(neck)).flatMap((neck) => neck.openings));
}

/** The report with openings named by their numbers on the sheet, and their work in the order of the numbers. */
export function numberedReport(report: PaperReport, numbers: readonly number[]): PaperReport {
  const named = (opening: number): number => (opening < 0 ? opening : numbers[opening]);
  const renamed = <T extends { readonly opening: number }>(list: readonly T[]): T[] =>
    list.map((one) => ({ ...one, opening: named(one.opening) }));
  const both = (list: readonly NarrowPlace[]): NarrowPlace[] =>
    list.map((one) => ({ ...one, openings: [named(one.openings[0]), named(one.openings[1])] as const }));
  return {
    ...report,
    islands: renamed(report.islands),
    necks: both(report.necks),
    slits: both(report.slits),
    tongues: renamed(report.tongues),
    longOpenings: renamed(report.longOpenings),
    workOf: renamed(report.workOf).sort((a, b) => a.opening - b.opening),
  };
}
