import { type Contour, circleContour, type Point, type Sheet } from '@okuri/core';
import { type FlatRing, flatRing, growBox, type PrintDifference, pointDistance } from '@okuri/core/inside';
import { distanceField } from './distance-field.js';
import { cellGroups, cellMiddle, type MaskFrame, maskFrame, paintRings } from './mask.js';

/** Cells in which areas are compared, mm, and the most of them. */
const CELL_MM = 0.2;
const MAX_CELLS = 8e6;

/** An edge may lie so far beside its place without being a difference in kind, mm, over and above the spread of the print. */
const EDGE_BAND_MM = 0.25;

/** What nowhere reaches farther than this from the edge is told as an offset of that edge, not as a part that is missing or too much, mm. */
export const DEEP_MM = 0.6;

/** Smaller areas are crumbs of paste, mm². */
const LEAST_MM2 = 1;

/** How far past the field the print is looked at, mm: beyond that the picture shows borders, table and thumbs. */
const PAST_FIELD_MM = 3;

/** Paper around a dot on which its paste may have run, mm. */
const DOT_RIM_MM = 1.5;

export interface DifferenceOptions {
  readonly spreadMm: number;
  /** Whether the picture shows a place of the sheet. */
  readonly inPicture: (at: Point) => boolean;
}

/** What print and plan differ by, the largest first; and the share of the second cut that printed, 0 to 1. */
export interface Differences {
  readonly differences: readonly PrintDifference[];
  readonly heldShare: number;
}

/**
 * Planned openings and parts of them that did not print, and dark beside the plan, by areas. An opening may lie beside its place by a band that allows for the
 * spread; what counts reaches farther somewhere (`DEEP_MM`). Dark where the second cut, a dot or a release tie is planned counts for nothing.
 */
export function printDifferences(
  sheet: Sheet,
  {
    rings,
    printed,
  }: { readonly rings: ReadonlyMap<number, readonly FlatRing[]>; readonly printed: readonly FlatRing[] },
  { spreadMm, inPicture }: DifferenceOptions,
): Differences {
  const frame = maskFrame(growBox(sheet.field, PAST_FIELD_MM), { cellMm: CELL_MM, maxCells: MAX_CELLS });
  const count = frame.columns * frame.rows;
  const [plan, held, print] = [new Uint16Array(count), new Uint8Array(count), new Uint8Array(count)];
  // Cells hold places in the list of openings, from 1: numbers that were kept for long may be large.
  const numbers = [...rings.keys()];
  numbers.forEach((number, k) => {
    paintRings(plan, frame, { rings: rings.get(number) ?? [], value: k + 1 });
  });
  for (const { secondCut } of sheet.openings) paintRings(held, frame, { rings: flat(secondCut), value: 1 });
  paintRings(print, frame, { rings: printed, value: 1 });
  const heldShare = shareOf(held, print);
  const allowed = held;
  for (const { tie } of releaseTies(sheet)) paintRings(allowed, frame, { rings: tie, value: 1 });
  for (const { at, diameterMm } of sheet.dots) {
    const rim = circleContour(at, diameterMm / 2 + DOT_RIM_MM);
    paintRings(allowed, frame, { rings: flat([rim]), value: 1 });
  }
  const mm = (cells: number): number => Math.max(0, (cells - 0.5) * frame.cellMm);
  const shown = (cell: number): boolean => inPicture(cellMiddle(frame, cell));
  const toPlan = distanceField(frame, (cell) => plan[cell] > 0 || allowed[cell] > 0);
  const extraBand = EDGE_BAND_MM + Math.max(0, spreadMm);
  const extra = groupsOf(frame, {
    inside: (cell) => print[cell] > 0 && mm(toPlan[cell]) > extraBand && shown(cell),
    isCore: (cell) => mm(toPlan[cell]) > DEEP_MM + Math.max(0, spreadMm),
    depth: (cell) => mm(toPlan[cell]),
  }).map(
    ({ cell, ...group }): PrintDifference => ({
      kind: 'extra',
      number: nearestOpening(rings, group.at),
      ...group,
    }),
  );
  const toPrint = distanceField(frame, (cell) => print[cell] > 0);
  const fromEdge = distanceField(frame, (cell) => plan[cell] === 0);
  const missingBand = EDGE_BAND_MM + Math.max(0, -spreadMm);
  const missing = groupsOf(frame, {
    inside: (cell) => plan[cell] > 0 && print[cell] === 0 && mm(toPrint[cell]) > missingBand && shown(cell),
    isCore: (cell) => mm(toPrint[cell]) > DEEP_MM + Math.max(0, -spreadMm),
    depth: (cell) => mm(fromEdge[cell]),
    label: (cell) => plan[cell],
  }).map(({ cell, ...group }): PrintDifference => ({ kind: 'missing', number: numbers[plan[cell] - 1], ...group }));
  return { differences: [...missing, ...extra].sort((a, b) => b.areaMm2 - a.areaMm2), heldShare };
}

interface Group extends Pick<PrintDifference, 'areaMm2' | 'deepMm' | 'at' | 'box'> {
  /** The deepest. */
  readonly cell: number;
}

function groupsOf(
  frame: MaskFrame,
  {
    inside,
    isCore,
    depth,
    label,
  }: {
    inside: (cell: number) => boolean;
    isCore: (cell: number) => boolean;
    depth: (cell: number) => number;
    label?: (cell: number) => number;
  },
): Group[] {
  const { cellMm } = frame;
  return cellGroups(frame, inside, label).flatMap((cells): Group[] => {
    const areaMm2 = cells.length * cellMm ** 2;
    if (areaMm2 < LEAST_MM2 || !cells.some(isCore)) return [];
    const cell = cells.reduce((a, b) => (depth(b) > depth(a) ? b : a));
    const box = { x0: Infinity, y0: Infinity, x1: -Infinity, y1: -Infinity };
    for (const one of cells) {
      const { x, y } = cellMiddle(frame, one);
      box.x0 = Math.min(box.x0, x - cellMm / 2);
      box.y0 = Math.min(box.y0, y - cellMm / 2);
      box.x1 = Math.max(box.x1, x + cellMm / 2);
      box.y1 = Math.max(box.y1, y + cellMm / 2);
    }
    return [{ areaMm2, deepMm: depth(cell), at: cellMiddle(frame, cell), box, cell }];
  });
}

function shareOf(of: Uint8Array, held: Uint8Array): number {
  let [all, both] = [0, 0];
  for (let cell = 0; cell < of.length; cell++) {
    all += of[cell];
    both += of[cell] & held[cell];
  }
  return all === 0 ? 0 : both / all;
}

function releaseTies({ ties }: Sheet): { tie: FlatRing[] }[] {
  return ties.flatMap((tie) => (tie.kind === 'release' ? [{ tie: flat([tie.outline]) }] : []));
}

function flat(contours: readonly Contour[]): FlatRing[] {
  return contours.flatMap((contour) => flatRing(contour, 0) ?? []);
}

function nearestOpening(rings: ReadonlyMap<number, readonly FlatRing[]>, at: Point): number {
  let [best, least] = [0, Infinity];
  for (const [number, own] of rings) {
    for (const { x, y, box } of own) {
      const beside = Math.max(box.x0 - at.x, at.x - box.x1, box.y0 - at.y, at.y - box.y1, 0);
      if (beside >= least) continue;
      for (let k = 0; k < x.length; k++) {
        const n = (k + 1) % x.length;
        const away = pointDistance({ from: { x: x[k], y: y[k] }, to: { x: x[n], y: y[n] } }, at);
        if (away < least) [best, least] = [number, away];
      }
    }
  }
  return best;
}
