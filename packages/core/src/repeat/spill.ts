import type { Grid } from '../geometry/grid.js';
import type { Box } from '../geometry/types.js';
import type { Ink, Shape } from '../motif/types.js';
import { attachedShapes } from './attached-shapes.js';
import { layCell, mmBox, SEAM_SNAP_MM, type SpillReading } from './cell.js';
import { type CopyFamily, drawnCopies } from './copies.js';
import { makeLattice } from './lattice.js';
import { partnerSearch, type SideEnd, sideEnds } from './partners.js';
import { seamStretches } from './seam-stretches.js';
import type { ShapeArea } from './shape-area.js';
import type { Lattice, Repeat } from './types.js';

/** How a shape that pokes out of the unit is read: by what the artwork shows, or always one way. */
export type Spill = 'auto' | 'carry' | 'trim';

export interface SpillOptions {
  readonly spill: Spill;
  readonly paperColour: Ink;
  /** How far apart two ends may lie along the seam and still belong together, mm. */
  readonly reachMm: number;
}

/** Shapes alike, and how many of their ends at the seams have a partner opposite. */
export interface SpillEvidence {
  readonly shapes: number;
  readonly ends: number;
  readonly partners: number;
}

/** What was decided about artwork that pokes out of the unit or lies beside it; shapes are named by their ids. */
export interface SpillReport {
  readonly spill: Spill;
  readonly carried: SpillEvidence;
  readonly trimmed: SpillEvidence;
  /** Beside a shape that is carried over, and carried along with it. */
  readonly along: readonly string[];
  /** Repeats another shape a whole number of steps away, and is left out. */
  readonly copies: readonly string[];
  /** Lies wholly outside, and is left out. */
  readonly outside: readonly string[];
  /** A repeat under which clearly more ends at the seams find a partner than under the chosen one. */
  readonly otherRepeat: {
    readonly name: string;
    readonly share: number;
    readonly chosenShare: number;
    readonly ends: number;
  } | null;
}

/** What was decided for every shape, and what of that a person should know. */
export interface SpillDecision {
  readonly readings: (index: number) => SpillReading;
  readonly report: SpillReport;
}

/** Share of a shape's ends that must have partners opposite for it to have been drawn up to the edge. */
const DRAWN_TO_EDGE_SHARE = 0.5;
/** Another repeat "clearly fits better" when it pairs this share of ends, the chosen one less than half, and there are enough. */
const CLEARLY = { other: 0.8, chosen: 0.5, ends: 4 };

/**
 * Decides shape by shape what happens to artwork that pokes out of the unit. Seen with everything trimmed at the unit: where a shape's
 * outline has partners on the opposite side under the step, both halves were drawn, and it is trimmed so that a bad join shows;
 * else its other half was left to be carried, along with what lies outside but belongs to it. Exact copies one step away, and all else that
 * lies wholly outside, are left out.
 */
export function decideSpill(
  shapes: readonly Shape[],
  areas: readonly ShapeArea[],
  lattice: Lattice,
  grid: Grid,
  { spill, paperColour, reachMm }: SpillOptions,
): SpillDecision {
  const boxes: (Box | null)[] = shapes.map(() => null);
  for (const a of areas) boxes[a.index] = mmBox(a.box, grid);
  const families = drawnCopies(shapes, boxes, lattice);
  const familyOf = new Map(families.flatMap((f) => [f.kept, ...f.copies].map((k) => [k, f] as const)));
  const copies = new Set(families.flatMap((f) => f.copies));
  const readings = new Map<number, SpillReading>();
  const outside: number[] = [];
  const poking: number[] = [];
  for (const { index } of areas) {
    const box = boxes[index];
    if (!box) continue;
    const pokes =
      box.x0 < -SEAM_SNAP_MM ||
      box.y0 < -SEAM_SNAP_MM ||
      box.x1 > lattice.widthMm + SEAM_SNAP_MM ||
      box.y1 > lattice.heightMm + SEAM_SNAP_MM;
    if (copies.has(index)) readings.set(index, reachesIn(box, lattice) ? 'trim' : 'leave-out');
    else if (!reachesIn(box, lattice)) {
      readings.set(index, 'leave-out');
      outside.push(index);
    } else if (!pokes) readings.set(index, 'trim');
    else if (familyOf.has(index)) readings.set(index, spill === 'trim' ? 'trim' : 'carry');
    else poking.push(index);
  }
  // Only what reaches a side of the unit shows there.
  const atSides = areas.filter(({ index }) => boxes[index] && touchesSide(boxes[index], lattice));
  const trimmedCell = layCell(atSides, lattice, {
    readings: (index) => (readings.get(index) === 'leave-out' ? 'leave-out' : 'trim'),
    paperColour,
  });
  const ends = sideEnds(seamStretches(trimmedCell));
  const search = partnerSearch(ends);
  const evidence = new Map<number, { ends: number; partners: number }>();
  // Families of copies that meet other artwork, near but not exactly opposite: carried, they would be laid over it and hide a bad join.
  const met = new Set<CopyFamily>();
  for (const e of ends) {
    const tally = evidence.get(e.end.owner) ?? { ends: 0, partners: 0 };
    const found = search.has(e, lattice, reachMm);
    const family = familyOf.get(e.end.owner);
    tally.ends++;
    if (found) tally.partners++;
    if (family && found && !search.has(e, lattice, SEAM_SNAP_MM)) met.add(family);
    evidence.set(e.end.owner, tally);
  }
  for (const family of families) {
    // Trimmed as drawn, all copies are needed; carried, one is enough.
    const trimmed = spill === 'trim' || (spill === 'auto' && met.has(family));
    if (trimmed) readings.set(family.kept, 'trim');
    else for (const k of family.copies) readings.set(k, 'leave-out');
  }
  for (const index of poking) {
    const tally = evidence.get(index);
    const drawn = tally !== undefined && tally.partners >= DRAWN_TO_EDGE_SHARE * tally.ends;
    readings.set(index, spill === 'auto' ? (drawn ? 'trim' : 'carry') : spill);
  }
  const carried = areas.map((a) => a.index).filter((k) => readings.get(k) === 'carry');
  const along = attachedShapes(outside, carried, { boxes, inks: shapes.map((s) => s.ink), lattice });
  for (const index of along) readings.set(index, 'carry');
  const ids = (indices: readonly number[]): string[] => indices.map((k) => shapes[k].id);
  const evidenceOf = (reading: SpillReading): SpillEvidence => {
    const own = poking.filter((k) => readings.get(k) === reading);
    const count = (key: 'ends' | 'partners'): number => own.reduce((sum, k) => sum + (evidence.get(k)?.[key] ?? 0), 0);
    return { shapes: own.length, ends: count('ends'), partners: count('partners') };
  };
  const report: SpillReport = {
    spill,
    carried: evidenceOf('carry'),
    trimmed: evidenceOf('trim'),
    along: ids(along),
    copies: ids([...copies].filter((k) => readings.get(k) === 'leave-out')),
    outside: ids(outside.filter((k) => readings.get(k) === 'leave-out')),
    otherRepeat: otherRepeat(ends, lattice, reachMm),
  };
  return { readings: (index) => readings.get(index) ?? 'trim', report };
}

function reachesIn(box: Box, lattice: Lattice): boolean {
  return (
    box.x1 > SEAM_SNAP_MM &&
    box.y1 > SEAM_SNAP_MM &&
    box.x0 < lattice.widthMm - SEAM_SNAP_MM &&
    box.y0 < lattice.heightMm - SEAM_SNAP_MM
  );
}

function touchesSide(box: Box, lattice: Lattice): boolean {
  return (
    box.x0 < SEAM_SNAP_MM ||
    box.y0 < SEAM_SNAP_MM ||
    box.x1 > lattice.widthMm - SEAM_SNAP_MM ||
    box.y1 > lattice.heightMm - SEAM_SNAP_MM
  );
}

function otherRepeat(ends: readonly SideEnd[], lattice: Lattice, reachMm: number): SpillReport['otherRepeat'] {
  if (ends.length < CLEARLY.ends) return null;
  const search = partnerSearch(ends);
  const share = (l: Lattice): number => ends.filter((e) => search.has(e, l, reachMm)).length / ends.length;
  const chosen = share(lattice);
  const half = { p: 1, q: 2 };
  const others: [string, Repeat][] = [
    ['straight', { kind: 'straight', step: { p: 0, q: 1 } }],
    ['half-drop', { kind: 'drop', step: half }],
    ['half-step brick', { kind: 'brick', step: half }],
  ];
  const scored = others.map(([name, repeat]) => ({
    name,
    score: share(makeLattice(repeat, lattice.widthMm, lattice.heightMm)),
  }));
  const best = scored.reduce((a, b) => (b.score > a.score ? b : a));
  if (!(best.score >= CLEARLY.other && chosen < CLEARLY.chosen)) return null;
  return { name: best.name, share: best.score, chosenShare: chosen, ends: ends.length };
}
