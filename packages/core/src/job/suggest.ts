import { segmentMiddle } from '../geometry/segments.js';
import type { Box, Point } from '../geometry/types.js';
import { autoPaper } from '../job-file/auto-paper.js';
import type { Job } from '../job-file/types.js';
import { latticePoint, stepsOnto, unitOf } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import { seamLines } from '../stencil/seam-lines.js';
import type { Sheet } from '../stencil/types.js';
import { findIslands } from '../strength/islands.js';
import { longOpenings } from '../strength/long-openings.js';
import type { Island } from '../strength/types.js';
import { suggestPaperTies } from '../ties/suggest-ties.js';
import type { ImpossibleIsland, SuggestedTies } from '../ties/suggested.js';
import { tieNumber } from '../ties/tie-names.js';
import type { TieEnds } from '../ties/tie-shape.js';
import { formatMm } from '../units/format.js';
import { InputError } from '../units/input-error.js';
import { said } from '../units/voice.js';
import type { JobResult } from './result.js';

/** What suggestions are made from. */
export interface TiedJob extends Pick<JobResult, 'lattice' | 'inks' | 'cutOut'> {
  readonly job: Pick<Job, 'ties' | 'paper' | 'method'> & { readonly practice: Pick<Job['practice'], 'gauze'> };
  readonly sheets: readonly Pick<
    Sheet,
    'ink' | 'part' | 'field' | 'widthMm' | 'heightMm' | 'across' | 'down' | 'ties' | 'heldRight' | 'heldBottom'
  >[];
}

/** Places of copies that differ by less are the same place of the unit, mm: far above rounding, far below any two islands. */
const SAME_MM = 0.01;

/**
 * The ties of every ink: those of the job, and those that would hold what is still loose and cut what is too long. Suggested ones are looked for on
 * the sheet as it is cut in the end, and told in mm on the unit: each then stands in every unit of the sheet. Throws an `InputError` where the job
 * asks for ties that are broader than every island.
 */
export function suggestTies(result: TiedJob): SuggestedTies[] {
  const { job, lattice, sheets, cutOut } = result;
  return result.inks.map((ink) => {
    const accepted = job.ties[ink] ?? [];
    // Of two sheets the first has the ties.
    const k = sheets.findIndex((sheet) => sheet.ink === ink && sheet.part !== 'B');
    const sheet = sheets[k];
    const origin = { x: sheet.field.x0, y: sheet.field.y0 };
    const paper = { edge: { x0: 0, y0: 0, x1: sheet.widthMm, y1: sheet.heightMm }, outlines: cutOut[k] };
    const islands = findIslands(paper);
    if (accepted.length === 0) refuseBroadTies(job, islands);
    const { ties, impossible, once } = suggestPaperTies(paper, {
      islands,
      tie: job.paper.tie,
      rules: job.paper.rules,
      keepOff: seamLines(sheet, lattice),
      same: (at) => samePlace(onUnit(at, at, origin, lattice)),
      ...(sheet.across * sheet.down === 1 ? {} : { copies: (tie: TieEnds) => copiesOn(sheet.field, tie, lattice) }),
      long: longOpenings(cutOut[k], { spanMm: job.paper.rules.spanMm }),
      existing: sheet.ties.map((tie) => ({ from: tie.from, to: tie.to })),
      firstId: 1 + Math.max(0, ...accepted.map(({ id }) => tieNumber(id))),
    });
    const home = (one: ImpossibleIsland): ImpossibleIsland => ({
      ...one,
      atMm: onUnit(one.atMm, one.atMm, origin, lattice),
    });
    return {
      ink,
      accepted,
      suggested: ties.map((tie) => {
        const middle = segmentMiddle(tie);
        return {
          ...tie,
          from: onUnit(tie.from, middle, origin, lattice),
          to: onUnit(tie.to, middle, origin, lattice),
        };
      }),
      impossible: impossible.map(home),
      once: once.map(home),
    };
  });
}

/** A width of ties that the job sets itself, and that no island is broad enough for, is a slip. */
function refuseBroadTies({ paper, practice, method }: TiedJob['job'], islands: readonly Island[]): void {
  const { widthMm } = paper.tie;
  const auto = autoPaper({ kind: paper.kind, gauze: practice.gauze, method });
  if (islands.length === 0 || widthMm === Math.max(auto.tieWidthMm, paper.rules.neckMm)) return;
  const broadest = Math.max(...islands.map(({ box }) => Math.max(box.x1 - box.x0, box.y1 - box.y0)));
  if (widthMm <= broadest) return;
  throw new InputError(
    said((voice) => {
      const than = `${formatMm(widthMm)}, wider than every island of paper there is (the largest is ${formatMm(broadest)} across)`;
      return voice === 'command'
        ? `"paper.tieWidth" is ${than}: make it smaller, or say "auto".`
        : `The width of ties is ${than}: make it smaller.`;
    }),
  );
}

/** A place of the sheet moved by whole steps, so that `by` comes to lie in the unit; unit mm. */
function onUnit(p: Point, by: Point, origin: Point, lattice: Lattice): Point {
  const v = latticePoint(lattice, unitOf(lattice, { x: by.x - origin.x, y: by.y - origin.y }));
  return { x: p.x - origin.x - v.x, y: p.y - origin.y - v.y };
}

/** The other places on a field of several units where a tie stands as well, sheet mm: all of it, as ties keep off the seams. */
function copiesOn(field: Box, { from, to }: TieEnds, lattice: Lattice): TieEnds[] {
  const at = segmentMiddle({ from, to });
  return stepsOnto(lattice, { x0: at.x, y0: at.y, x1: at.x, y1: at.y }, field)
    .filter(({ i, j }) => i !== 0 || j !== 0)
    .map((step) => {
      const v = latticePoint(lattice, step);
      const move = (p: Point): Point => ({ x: p.x + v.x, y: p.y + v.y });
      return { from: move(from), to: move(to) };
    });
}

function samePlace({ x, y }: Point): string {
  return `${Math.round(x / SAME_MM)} ${Math.round(y / SAME_MM)}`;
}
