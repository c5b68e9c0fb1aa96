import type { Point, Side } from '../geometry/types.js';
import type { TracedStretch } from './seam-stretches.js';
import type { Lattice, SeamEnd } from './types.js';

/** Outlines that differ more than this at a seam, degrees, are not two halves of one line. */
const SAME_LINE_DEG = 30;

/** An end on one side, with what a search for partners needs. */
export interface SideEnd {
  readonly side: Side;
  readonly end: SeamEnd & { readonly owner: number };
  readonly ink: string;
}

/** All ends of stretches that are the outline's own (not the unit's corners). */
export function sideEnds(stretches: readonly TracedStretch[]): SideEnd[] {
  return stretches.flatMap((s) =>
    [s.from, s.to].filter((end) => !end.corner).map((end) => ({ side: s.side, end, ink: s.ink })),
  );
}

/** Ends by side and place, ready to be asked for partners across the seam. */
export function partnerSearch(ends: readonly SideEnd[]): {
  has: (of: SideEnd, lattice: Lattice, reachMm: number) => boolean;
} {
  const bySide = new Map<string, SideEnd[]>();
  for (const e of ends) {
    const key = `${e.side} ${e.ink} ${e.end.kind}`;
    const list = bySide.get(key);
    if (list) list.push(e);
    else bySide.set(key, [e]);
  }
  for (const list of bySide.values()) list.sort((a, b) => a.end.atMm - b.end.atMm);
  const has = (of: SideEnd, lattice: Lattice, reachMm: number): boolean => {
    const list = bySide.get(`${opposite(of.side)} ${of.ink} ${of.end.kind}`);
    if (!list) return false;
    return placesAcross(of, lattice).some((place) =>
      within(list, place, reachMm).some((other) => sameLine(of.end.tangent, other.end.tangent)),
    );
  };
  return { has };
}

/** Where on the opposite side a place on a side comes to lie under the step; several where it may be the neighbour after next. */
function placesAcross(of: SideEnd, lattice: Lattice): number[] {
  const vertical = of.side === 'left' || of.side === 'right';
  const length = vertical ? lattice.heightMm : lattice.widthMm;
  const shift = vertical ? lattice.a.y : lattice.b.x;
  const sign = of.side === 'right' || of.side === 'bottom' ? -1 : 1;
  const place = of.end.atMm + sign * shift;
  return [place - length, place, place + length];
}

function opposite(side: Side): Side {
  return ({ left: 'right', right: 'left', top: 'bottom', bottom: 'top' } as const)[side];
}

function within(list: readonly SideEnd[], place: number, reachMm: number): SideEnd[] {
  let low = 0;
  let high = list.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if (list[mid].end.atMm < place - reachMm) low = mid + 1;
    else high = mid;
  }
  const out: SideEnd[] = [];
  while (low < list.length && list[low].end.atMm <= place + reachMm) out.push(list[low++]);
  return out;
}

function sameLine(a: Point, b: Point): boolean {
  return -(a.x * b.x + a.y * b.y) > Math.cos((SAME_LINE_DEG * Math.PI) / 180);
}
