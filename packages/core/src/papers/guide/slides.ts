import type { Point } from '../../geometry/types.js';
import { sheetRepeat } from '../../register/dots.js';
import type { Lattice } from '../../repeat/types.js';
import type { Sheet } from '../../stencil/types.js';

/** Two dots nearer than this fall together, mm: rounding, far below the point of any punch. */
const SAME_PLACE_MM = 1e-3;

/** A slide of the proof from one placement to a neighbour, and which dot lands on which. */
export interface ProofSlide {
  /** mm: x to the right, y down. */
  readonly vector: Point;
  /** Names of dots: the first, moved by the vector, lands on the second. */
  readonly pairs: readonly { readonly from: string; readonly to: string }[];
}

/**
 * The slides that show a sheet against all of its neighbours (those of the opposite side are the same slides backward). W and H are the field's sides: straight (W, 0), (0, H),
 * (W, H); drop f (0, H), (W, fH), (W, (f−1)H); brick f (W, 0), (fW, H), ((f−1)W, H).
 */
export function proofSlides(sheet: Sheet, lattice: Lattice): ProofSlide[] {
  const { field, dots } = sheet;
  const { kind, step } = sheetRepeat(lattice.repeat, sheet.across, sheet.down);
  const f = step.p / step.q;
  const [w, h] = [field.x1 - field.x0, field.y1 - field.y0];
  const vectors: Readonly<Record<typeof kind, readonly Point[]>> = {
    straight: [
      { x: w, y: 0 },
      { x: 0, y: h },
      { x: w, y: h },
    ],
    drop: [
      { x: 0, y: h },
      { x: w, y: f * h },
      { x: w, y: (f - 1) * h },
    ],
    brick: [
      { x: w, y: 0 },
      { x: f * w, y: h },
      { x: (f - 1) * w, y: h },
    ],
  };
  return vectors[kind].map((vector) => ({
    vector,
    pairs: dots.flatMap((from) =>
      dots
        .filter((to) => Math.hypot(to.at.x - from.at.x - vector.x, to.at.y - from.at.y - vector.y) < SAME_PLACE_MM)
        .map((to) => ({ from: from.name, to: to.name })),
    ),
  }));
}

/** `300.0 mm to the right, 210.0 mm down`. */
export function vectorWords({ x, y }: Point): string {
  const part = (mm: number, more: string, less: string) =>
    Math.abs(mm) < SAME_PLACE_MM ? [] : [`${Math.abs(mm).toFixed(1)} mm ${mm > 0 ? more : less}`];
  return [...part(x, 'to the right', 'to the left'), ...part(y, 'down', 'up')].join(', ');
}
