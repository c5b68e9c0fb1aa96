import type { Grid } from '../geometry/grid.js';
import type { Box } from '../geometry/types.js';
import type { Finding } from '../motif/finding.js';
import type { Ink, Shape } from '../motif/types.js';
import { rounded } from '../units/round.js';
import { said, type Voice } from '../units/voice.js';
import { shareText } from '../units/words.js';
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

/** What was decided for every shape, and what a person should know of it. */
export interface SpillDecision {
  readonly readings: (index: number) => SpillReading;
  readonly findings: readonly Finding[];
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
  const findings = [
    ...alongFindings(along, shapes),
    ...spillFindings(poking, readings, evidence, spill),
    ...leftOutFindings(
      [...copies].filter((k) => readings.get(k) === 'leave-out'),
      outside.filter((k) => readings.get(k) === 'leave-out'),
      shapes,
    ),
    ...otherRepeatFindings(ends, lattice, reachMm),
  ];
  return { readings: (index) => readings.get(index) ?? 'trim', findings };
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

function spillFindings(
  poking: readonly number[],
  readings: ReadonlyMap<number, SpillReading>,
  evidence: ReadonlyMap<number, { ends: number; partners: number }>,
  spill: Spill,
): Finding[] {
  const carried = poking.filter((k) => readings.get(k) === 'carry');
  const trimmed = poking.filter((k) => readings.get(k) === 'trim');
  const count = (list: readonly number[], key: 'ends' | 'partners'): number =>
    list.reduce((sum, k) => sum + (evidence.get(k)?.[key] ?? 0), 0);
  const out: Finding[] = [];
  const why = (list: readonly number[], voice: Voice): string =>
    spill === 'auto'
      ? `of their ${count(list, 'ends')} ends at the seams ${count(list, 'partners')} have a partner opposite`
      : voice === 'command'
        ? `as the job's spill "${spill}" says`
        : 'as was chosen for shapes that poke out';
  if (carried.length > 0) {
    out.push({
      code: 'spill-carried',
      topic: 'repeat',
      severity: 'note',
      ...said(
        (voice) =>
          `${shapesThat(carried.length, 'pokes', 'poke')} out of the unit and ${carried.length === 1 ? 'is' : 'are'} carried over to the other side (${why(carried, voice)}).`,
      ),
      atMm: null,
      measure: { shapes: carried.length, ends: count(carried, 'ends'), partners: count(carried, 'partners') },
    });
  }
  if (trimmed.length > 0) {
    out.push({
      code: 'spill-trimmed',
      topic: 'repeat',
      severity: 'note',
      ...said(
        (voice) =>
          `${shapesThat(trimmed.length, 'pokes', 'poke')} out of the unit and ${trimmed.length === 1 ? 'is' : 'are'} trimmed at the seam, because both halves are drawn (${why(trimmed, voice)}).`,
      ),
      atMm: null,
      measure: { shapes: trimmed.length, ends: count(trimmed, 'ends'), partners: count(trimmed, 'partners') },
    });
  }
  return out;
}

function alongFindings(along: readonly number[], shapes: readonly Shape[]): Finding[] {
  if (along.length === 0) return [];
  const [lies, is] = along.length === 1 ? ['lies', 'is'] : ['lie', 'are'];
  return [
    {
      code: 'outside-carried-along',
      topic: 'repeat',
      severity: 'note',
      message: `${shapesThat(along.length, lies, lies)} outside the unit beside a shape that is carried over, and ${is} carried along with it (${names(along, shapes)}).`,
      atMm: null,
      measure: { shapes: along.length },
    },
  ];
}

function leftOutFindings(copies: readonly number[], outside: readonly number[], shapes: readonly Shape[]): Finding[] {
  const out: Finding[] = [];
  if (copies.length > 0) {
    out.push({
      code: 'copies-left-out',
      topic: 'repeat',
      severity: 'note',
      message: `${copies.length === 1 ? 'One shape repeats' : `${copies.length} shapes repeat`} another exactly a whole number of steps away and ${copies.length === 1 ? 'is' : 'are'} left out (${names(copies, shapes)}).`,
      atMm: null,
      measure: { shapes: copies.length },
    });
  }
  if (outside.length > 0) {
    out.push({
      code: 'outside-left-out',
      topic: 'repeat',
      severity: 'look',
      message: `${outside.length === 1 ? 'One shape lies' : `${outside.length} shapes lie`} wholly outside the unit and ${outside.length === 1 ? 'is' : 'are'} left out (${names(outside, shapes)}).`,
      atMm: null,
      measure: { shapes: outside.length },
    });
  }
  return out;
}

function otherRepeatFindings(ends: readonly SideEnd[], lattice: Lattice, reachMm: number): Finding[] {
  if (ends.length < CLEARLY.ends) return [];
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
  if (!(best.score >= CLEARLY.other && chosen < CLEARLY.chosen)) return [];
  return [
    {
      code: 'drawn-for-other-repeat',
      topic: 'repeat',
      severity: 'look',
      message: `The artwork looks drawn for a ${best.name} repeat: ${shareText(best.score)} of its ends at the seams find a partner there, ${shareText(chosen)} in the chosen one; check the job's repeat.`,
      atMm: null,
      measure: {
        best: best.name,
        bestShare: rounded(best.score, 3),
        chosenShare: rounded(chosen, 3),
        ends: ends.length,
      },
    },
  ];
}

function names(indices: readonly number[], shapes: readonly Shape[]): string {
  const listed = indices.slice(0, 3).map((k) => shapes[k].id);
  return indices.length > 3 ? `${listed.join(', ')}, …` : listed.join(', ');
}

function shapesThat(n: number, one: string, many: string): string {
  return n === 1 ? `One shape ${one}` : `${n} shapes ${many}`;
}
