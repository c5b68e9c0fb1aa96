import { boxHolds } from '../geometry/boxes.js';
import { contoursBox } from '../geometry/contour.js';
import { flattenCubic } from '../geometry/flatten.js';
import { sideWinding } from '../geometry/point-tests.js';
import { SquareIndex } from '../geometry/square-index.js';
import type { Box, Contour, Point } from '../geometry/types.js';
import type { SheetOpening } from '../stencil/types.js';

/** Outlines are known to this, mm: far less than the room that is kept around any word. */
const FLATTEN_WASTE_MM = 0.05;
/** Side of a grid cell, mm: about an opening. */
const CELL_MM = 12;

/** Flattened outlines of one part of an opening, and the box around them. */
interface Part {
  readonly rings: readonly Float64Array[];
  readonly box: Box;
}

/** The two parts of an opening; a part without outlines is null. */
interface Parts {
  readonly first: Part | null;
  readonly second: Part | null;
}

/** Tells quickly in which opening a place lies. Each opening is flattened once. */
export class WasteIndex {
  private readonly parts = new Map<SheetOpening, Parts>();
  private readonly squares = new SquareIndex<SheetOpening>(CELL_MM);

  constructor(openings: readonly SheetOpening[]) {
    for (const opening of openings) {
      this.parts.set(opening, { first: partOf(opening.firstCut), second: partOf(opening.secondCut) });
      this.squares.addBox(opening, opening.box);
    }
  }

  /** The opening in whose waste (first or second cut) a place lies, or null on paper. */
  at(p: Point): SheetOpening | null {
    return this.squares.at(p).find((o) => this.isIn(o, p, 'first') || this.isIn(o, p, 'second')) ?? null;
  }

  /** True where a place lies in the given part of an opening that the index was made with. */
  isIn(opening: SheetOpening, p: Point, part: 'first' | 'second'): boolean {
    const found = this.parts.get(opening)?.[part] ?? null;
    return found !== null && holds(found, p);
  }

  /** The direction in which a part of an opening runs on longest, degrees clockwise from level; 0 for a part without outlines. */
  axisDeg(opening: SheetOpening, part: 'first' | 'second'): number {
    const found = this.parts.get(opening)?.[part] ?? null;
    return found === null ? 0 : axisOf(found);
  }
}

/** The part that an opening's number stands in: the first cut, or the second where there is no first. */
export function numberedPart(opening: SheetOpening): 'first' | 'second' {
  return opening.firstCut.length > 0 ? 'first' : 'second';
}

function partOf(contours: readonly Contour[]): Part | null {
  const box = contoursBox(contours);
  if (box === null) return null;
  const rings = contours.map(({ coords }) => {
    const ring = [coords[0], coords[1]];
    for (let k = 0; k + 7 < coords.length; k += 6) flattenCubic(coords, k, FLATTEN_WASTE_MM, (x, y) => ring.push(x, y));
    return Float64Array.from(ring);
  });
  return { rings, box };
}

/** Direction of the larger principal moment of the outline, its pieces weighted by their length. */
function axisOf({ rings }: Part): number {
  let [n, sx, sy, sxx, sxy, syy] = [0, 0, 0, 0, 0, 0];
  for (const ring of rings) {
    for (let k = 2; k < ring.length; k += 2) {
      const w = Math.hypot(ring[k] - ring[k - 2], ring[k + 1] - ring[k - 1]);
      const x = (ring[k] + ring[k - 2]) / 2;
      const y = (ring[k + 1] + ring[k - 1]) / 2;
      n += w;
      sx += w * x;
      sy += w * y;
      sxx += w * x * x;
      sxy += w * x * y;
      syy += w * y * y;
    }
  }
  if (n === 0) return 0;
  const [xx, xy, yy] = [sxx - (sx * sx) / n, sxy - (sx * sy) / n, syy - (sy * sy) / n];
  return (Math.atan2(2 * xy, xx - yy) / 2) * (180 / Math.PI);
}

/** Nonzero rule. */
function holds({ rings, box }: Part, at: Point): boolean {
  if (!boxHolds(box, at)) return false;
  let winding = 0;
  for (const ring of rings) {
    let x = ring[ring.length - 2];
    let y = ring[ring.length - 1];
    for (let k = 0; k < ring.length; k += 2) {
      const nx = ring[k];
      const ny = ring[k + 1];
      winding += sideWinding(x, y, nx, ny, at);
      x = nx;
      y = ny;
    }
  }
  return winding !== 0;
}
