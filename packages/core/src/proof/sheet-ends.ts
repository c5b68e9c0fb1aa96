import { boxIndex } from '../geometry/cluster.js';
import type { Point } from '../geometry/types.js';
import { JOIN_DEFAULTS } from '../joins/options.js';
import { sheetRepeat } from '../register/dots.js';
import { latticePoint, makeLattice } from '../repeat/lattice.js';
import type { Lattice } from '../repeat/types.js';
import type { CutSheet } from '../stencil/types.js';
import { cutLines, cutRuns, type RunEnd } from './cut-runs.js';
import { type LeadEnd, leadEnds } from './lead-ends.js';
import type { FirstCutEnd, SheetEnds, SheetJoin } from './types.js';

/** Places that differ by less are one, mm: rounding. */
const SAME_MM = 1e-6;

type Nameless<T> = Omit<T, 'name'>;

/**
 * The places of a planned sheet at which a proof is measured: where second cuts come to the right and the bottom seam, with the lead place that has to meet
 * each under the sheet's lattice, and where first cuts stop at the hold line, which the second cut has to meet too. `lattice` is that of the unit. Names run down
 * the right side, then along the bottom, then through the stops. What only touches a seam or
 * runs along it is no join, nor is a stretch that meets no lead edge at all.
 */
export function sheetEnds(sheet: CutSheet, lattice: Pick<Lattice, 'repeat'>): SheetEnds {
  const lines = cutLines(sheet);
  const find = leadFinder(sheet, lattice);
  const joins: Nameless<SheetJoin>[] = [];
  const firstCutEnds: Nameless<FirstCutEnd>[] = [];
  for (const { number, secondCut } of sheet.openings) {
    for (const contour of secondCut) {
      const { runs, chains } = cutRuns(contour, number, lines);
      const ends = runs.flatMap(({ from, to }) => [from, to]);
      for (const end of ends) if (end.line === 'stop') firstCutEnds.push(firstCutEnd(end, number));
      chains.forEach(({ touch }, k) => {
        if (touch) return;
        const found = ends.filter((end) => end.chain === k).flatMap((end) => find(end, number) ?? []);
        if (found.some(({ partner }) => partner !== null)) joins.push(...found);
      });
    }
  }
  const named = <T>(list: readonly T[], from: number): (T & { name: string })[] =>
    list.map((one, k) => ({ name: `J${from + k + 1}`, ...one }));
  return {
    joins: named(joins.toSorted(downThenAlong), 0),
    firstCutEnds: named(firstCutEnds.toSorted(besideThenBelow(sheet)), joins.length),
  };
}

/** Makes joins of ends on the held seams; null for ends elsewhere, also for those that lie in the lap, past the seam's own end. */
function leadFinder(
  sheet: CutSheet,
  { repeat }: Pick<Lattice, 'repeat'>,
): (end: RunEnd, own: number) => Nameless<SheetJoin> | null {
  const { field } = sheet;
  const own = makeLattice(sheetRepeat(repeat, sheet.across, sheet.down), field.x1 - field.x0, field.y1 - field.y0);
  const leads = leadEnds(sheet);
  const nearest = nearestOf(leads);
  return ({ at: node, line, onward }, number) => {
    if (line !== 'right' && line !== 'bottom') return null;
    if (line === 'right' && sheet.heldRight === null) return null;
    const right = line === 'right';
    const [key, low, high] = right ? (['y', field.y0, field.y1] as const) : (['x', field.x0, field.x1] as const);
    if (node[key] < low - SAME_MM || node[key] > high + SAME_MM) return null;
    const at = right ? { x: field.x1, y: node.y } : { x: node.x, y: field.y1 };
    const edge = onward[key] > node[key] ? 'begins' : 'ends';
    let best: { step: Point; lead: Point; partner: LeadEnd | null; away: number } | null = null;
    for (const k of [-1, 0, 1, -2, 2]) {
      const step = latticePoint(own, right ? { i: 1, j: k } : { i: k, j: 1 });
      const lead = { x: at.x - step.x, y: at.y - step.y };
      // Past the end of the lead seam by how much: more than nothing only beside a point where seams meet.
      const past = Math.max(0, low - lead[key], lead[key] - high);
      if (past > JOIN_DEFAULTS.reachMm) continue;
      const found = nearest(lead, right ? 'left' : 'top', edge);
      const away = found === null ? JOIN_DEFAULTS.reachMm * 2 + past : Math.abs(found.at[key] - lead[key]);
      // Of places that are as good the one on the seam itself.
      if (best === null || away + past < best.away - SAME_MM) best = { step, lead, partner: found, away: away + past };
    }
    if (best === null) return null;
    const { step, lead, partner } = best;
    const held = partner?.cut === 'second' ? { leadCut: 'second' as const } : {};
    return { seam: line, at, lead, step, own: number, partner: partner?.number ?? null, edge, ...held };
  };
}

function nearestOf(
  leads: readonly LeadEnd[],
): (at: Point, side: LeadEnd['side'], edge: LeadEnd['edge']) => LeadEnd | null {
  if (leads.length === 0) return () => null;
  const index = boxIndex(leads.map(({ at }) => ({ x0: at.x, y0: at.y, x1: at.x, y1: at.y })));
  const reach = JOIN_DEFAULTS.reachMm;
  return (at, side, edge) => {
    let best: LeadEnd | null = null;
    let least = Infinity;
    for (const k of index.search(at.x - reach, at.y - reach, at.x + reach, at.y + reach)) {
      const lead = leads[k];
      const away = Math.abs(lead.at.x - at.x) + Math.abs(lead.at.y - at.y);
      if (lead.side === side && lead.edge === edge && away < least) {
        best = lead;
        least = away;
      }
    }
    return best;
  };
}

function firstCutEnd({ at, onward }: RunEnd, opening: number): Nameless<FirstCutEnd> {
  const [dx, dy] = [onward.x - at.x, onward.y - at.y];
  const length = Math.hypot(dx, dy) || 1;
  // Down or to the right: the larger part tells which.
  const sign = Math.abs(dy) >= Math.abs(dx) ? Math.sign(dy) : Math.sign(dx);
  return { at, along: { x: (sign * dx) / length + 0, y: (sign * dy) / length + 0 }, opening };
}

function downThenAlong(a: Nameless<SheetJoin>, b: Nameless<SheetJoin>): number {
  if (a.seam !== b.seam) return a.seam === 'right' ? -1 : 1;
  return (
    (a.seam === 'right' ? a.at.y - b.at.y : a.at.x - b.at.x) || (a.edge === b.edge ? 0 : a.edge === 'ends' ? -1 : 1)
  );
}

/** Ends beside the right held margin by their height, then those above the bottom one from left to right. */
function besideThenBelow({ field, heldRight, heldBottom }: CutSheet): (a: { at: Point }, b: { at: Point }) => number {
  const beside = ({ x, y }: Point): boolean =>
    heldRight !== null && heldRight.x0 - x <= (heldBottom?.y0 ?? field.y1) - y;
  return (a, b) => {
    const [first, second] = [beside(a.at), beside(b.at)];
    if (first !== second) return first ? -1 : 1;
    return first ? a.at.y - b.at.y || a.at.x - b.at.x : a.at.x - b.at.x || a.at.y - b.at.y;
  };
}
