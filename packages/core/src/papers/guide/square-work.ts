import type { Box, Point } from '../../geometry/types.js';
import type { Dot } from '../../register/dots.js';
import { cornerDots, dotFrame } from '../../register/dots.js';
import { type PunchOrder, punchOrder } from '../../register/punch-order.js';
import { CORNERS, forCorners } from '../../register/spans.js';
import type { Corner, SheetMovement, SquareTargets } from '../../register/types.js';
import { drySheet } from '../../stencil/dry-sheet.js';
import type { Sheet } from '../../stencil/types.js';

/** Frames of dots from this to that size are squared with a ruler, mm: those that `punchOrder` takes. */
const SIDE_MM = { min: 10, max: 20_000 } as const;

/** What the guide's pages about punching and squaring are made from. */
export interface SquareWork {
  /** As it prints. */
  readonly sheet: Sheet;
  /** As it lies on the table when it is punched: dry, or soaked. */
  readonly inHand: Sheet;
  readonly punch: 'dry' | 'wet';
  readonly movement: SheetMovement | null;
  /** Letters of the corner dots. */
  readonly names: Readonly<Record<Corner, string>>;
  /** Dots between the corners, as in hand. */
  readonly extra: readonly Dot[];
  /** The frame of the dots in hand, sheet mm. */
  readonly frame: Box;
  /** From dot to dot, as it prints and in hand. */
  readonly printed: SquareTargets;
  readonly targets: SquareTargets;
  readonly order: PunchOrder;
}

/** How a sheet is punched and squared; null for one without dots, or too small or large for a ruler. */
export function squareWork(sheet: Sheet): SquareWork | null {
  if (sheet.dots.length === 0) return null;
  const { punch, movement } = sheet.register;
  const inHand = punch === 'dry' ? drySheet(sheet) : sheet;
  const printedFrame = dotFrame(sheet.dots);
  const frame = dotFrame(inHand.dots);
  const [printed, targets] = [sizeOf(printedFrame), sizeOf(frame)];
  const sides = [printed.widthMm, printed.heightMm];
  if (!sides.every((mm) => mm >= SIDE_MM.min && mm <= SIDE_MM.max)) return null;
  const { corners, extra } = cornerDots(sheet.dots);
  const names = forCorners((corner) => corners[corner].name);
  const between = new Set(extra.map(({ name }) => name));
  return {
    sheet,
    inHand,
    punch,
    movement,
    names,
    extra: inHand.dots.filter(({ name }) => between.has(name)),
    frame,
    printed,
    targets,
    order: punchOrder({
      ...printed,
      extra: extra.map(({ name, at }) => ({ name, at: { x: at.x - printedFrame.x0, y: at.y - printedFrame.y0 } })),
      movement: punch === 'dry' ? movement : null,
      names,
    }),
  };
}

/** The letter of a hole: that of a corner, or an extra dot's own. */
export function holeLetter(hole: string, names: Readonly<Record<Corner, string>>): string {
  return CORNERS.includes(hole as Corner) ? names[hole as Corner] : hole;
}

/** Where a hole is in hand, sheet mm. */
export function holeAt(hole: string, { inHand, names }: Pick<SquareWork, 'inHand' | 'names'>): Point {
  const letter = holeLetter(hole, names);
  const dot = inHand.dots.find(({ name }) => name === letter);
  if (dot === undefined) throw new RangeError(`got no dot ${letter}, expected one of the sheet's`);
  return dot.at;
}

function sizeOf({ x0, y0, x1, y1 }: Box): SquareTargets {
  return { widthMm: x1 - x0, heightMm: y1 - y0 };
}
