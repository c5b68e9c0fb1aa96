import type { Point } from '../geometry/types.js';
import type { Dot } from '../register/dots.js';
import { latticePoint } from '../repeat/lattice.js';
import type { Lattice, LatticeStep } from '../repeat/types.js';
import type { ProofMap, ProofMapJoin, ProofMeeting, ProofPencil, ProofPlacement } from './types.js';

/** Dots or sides nearer than this fall together, mm: rounding, far below the point of any punch. */
const SAME_PLACE_MM = 1e-6;

/** What of a dot the map goes by. */
type MapDot = Pick<Dot, 'name' | 'at' | 'lead'>;

export interface ProofMapOptions {
  /** Nothing is ever printed beside the right side: the cloth is one sheet wide. */
  readonly sideMeetsNothing?: boolean;
}

/**
 * The fewest placements that show every kind of join of a sheet, in printing order. `lattice` is the sheet's own (see `sheetRepeat`), `dots` are its, sheet mm.
 * Straight: four, since four sheets meet in a point. A drop or brick of any fraction: three, each of which meets the other two, so that both parts of the shifted side are
 * seen; three sheets meet in one point there, and the other point of that kind takes a fourth placement (`further`). Where nothing meets the right side: two,
 * one below the other; a brick still takes three, as the sheet below lies under two. Dots on the trailing sides do not print: those
 * on which a later placement is laid are to be marked (`pencil`).
 */
export function proofMap(
  lattice: Lattice,
  dots: readonly MapDot[],
  { sideMeetsNothing = false }: ProofMapOptions = {},
): ProofMap {
  const { kind } = lattice.repeat;
  const place = (step: LatticeStep, order: number): ProofPlacement => ({
    ...step,
    order,
    at: latticePoint(lattice, step),
  });
  const [first, right, below, both] = [
    { i: 0, j: 0 },
    { i: 1, j: 0 },
    { i: 0, j: 1 },
    { i: 1, j: 1 },
  ];
  const steps: readonly LatticeStep[] =
    sideMeetsNothing && kind !== 'brick'
      ? [first, below]
      : kind === 'straight'
        ? [first, right, below, both]
        : kind === 'drop'
          ? [first, below, right]
          : [first, right, below];
  const placements = steps.map((step, k) => place(step, k + 1));
  const whole = kind === 'straight' || sideMeetsNothing;
  const meetings = meetingsOf(lattice, placements);
  const joins = joinsOf(lattice, placements, dots);
  return {
    placements,
    joins,
    pencil: pencilOf(joins, dots),
    meetings,
    further: whole ? null : place(both, placements.length + 1),
  };
}

/** Every two placements that share a side or a part of one, the later of them first. */
function joinsOf(lattice: Lattice, placements: readonly ProofPlacement[], dots: readonly MapDot[]): ProofMapJoin[] {
  return placements.flatMap((to, k) =>
    placements.slice(k + 1).flatMap((from): ProofMapJoin[] => {
      const v = { x: from.at.x - to.at.x, y: from.at.y - to.at.y };
      const side = sharedSide(lattice, v);
      if (side === null) return [];
      const pairs = dots.flatMap((own) =>
        dots
          .filter(({ at }) => near(at.x, own.at.x + v.x) && near(at.y, own.at.y + v.y))
          .map((other) => ({ from: own.name, to: other.name })),
      );
      return [{ from: from.order, to: to.order, dots: pairs, words: side }];
    }),
  );
}

/** The dots that do not print and on which later placements are laid, by the placement that they are of. */
function pencilOf(joins: readonly ProofMapJoin[], dots: readonly MapDot[]): ProofPencil[] {
  const orders = [...new Set(joins.map(({ to }) => to))].sort((a, b) => a - b);
  return orders.flatMap((placement) => {
    const landed = new Set(joins.filter(({ to }) => to === placement).flatMap((join) => join.dots.map(({ to }) => to)));
    const names = dots.filter(({ name, lead }) => !lead && landed.has(name)).map(({ name }) => name);
    return names.length === 0 ? [] : [{ placement, dots: names }];
  });
}

/** Which side of a placement meets which of another that lies so from it, in words; null where they share none. */
function sharedSide({ widthMm: w, heightMm: h }: Lattice, { x, y }: Point): string | null {
  const across = w - Math.abs(x);
  const along = h - Math.abs(y);
  if (near(across, 0) && along > SAME_PLACE_MM) {
    const part = near(y, 0) ? '' : y > 0 ? 'upper part of the ' : 'lower part of the ';
    const of = near(y, 0) ? '' : y > 0 ? 'lower part of the ' : 'upper part of the ';
    return x > 0 ? `${part}left side on the ${of}right side` : `${part}right side on the ${of}left side`;
  }
  if (near(along, 0) && across > SAME_PLACE_MM) {
    const part = near(x, 0) ? '' : x > 0 ? 'left part of the ' : 'right part of the ';
    const of = near(x, 0) ? '' : x > 0 ? 'right part of the ' : 'left part of the ';
    return y > 0 ? `${part}top on the ${of}bottom` : `${part}bottom on the ${of}top`;
  }
  return null;
}

/** Points where three placements or more meet, from the first placement, mm. */
function meetingsOf({ widthMm: w, heightMm: h }: Lattice, placements: readonly ProofPlacement[]): ProofMeeting[] {
  const found: ProofMeeting[] = [];
  for (const { at } of placements) {
    for (const corner of [at, { x: at.x + w, y: at.y }, { x: at.x, y: at.y + h }, { x: at.x + w, y: at.y + h }]) {
      if (found.some((m) => near(m.at.x, corner.x) && near(m.at.y, corner.y))) continue;
      const round = placements.filter(
        ({ at: p }) =>
          corner.x > p.x - SAME_PLACE_MM &&
          corner.x < p.x + w + SAME_PLACE_MM &&
          corner.y > p.y - SAME_PLACE_MM &&
          corner.y < p.y + h + SAME_PLACE_MM,
      );
      if (round.length >= 3) found.push({ at: corner, placements: round.map(({ order }) => order) });
    }
  }
  return found;
}

function near(a: number, b: number): boolean {
  return Math.abs(a - b) <= SAME_PLACE_MM;
}
