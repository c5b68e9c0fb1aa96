import type { Point } from '../geometry/types.js';
import { LONGEST_TIE_MM } from './tie-candidates.js';
import { barCost, IN_LINE_MM } from './tie-hiding.js';

/** Side of the cells in which ties are found, mm. */
const CELL_MM = 5;
/** Rows of cells are told apart by more columns than any sheet has. */
const ROW = 1_048_576;

type Ends = { readonly from: Point; readonly to: Point };

/** Ties that stand or are about to, found along a line. */
export class StandingTies {
  private readonly cells = new Map<number, Ends[]>();

  constructor(private readonly widthMm: number) {}

  add(tie: Ends): void {
    const key = keyOf(middleOf(tie));
    const list = this.cells.get(key);
    if (list) list.push(tie);
    else this.cells.set(key, [tie]);
  }

  remove(tie: Ends): void {
    const list = this.cells.get(keyOf(middleOf(tie)));
    const k = list?.indexOf(tie) ?? -1;
    if (k >= 0) list?.splice(k, 1);
  }

  /** What a tie costs besides for the bars that it would make with those that stand. */
  barsOf(tie: Ends): number {
    const length = Math.hypot(tie.to.x - tie.from.x, tie.to.y - tie.from.y);
    const [ux, uy] = [(tie.to.x - tie.from.x) / length, (tie.to.y - tie.from.y) / length];
    const at = middleOf(tie);
    // Middles of ties in line lie on the axis, to a width.
    const reach = IN_LINE_MM + length / 2 + LONGEST_TIE_MM / 2;
    const seen = new Set<number>();
    let cost = 0;
    for (let along = -reach; along < reach + CELL_MM; along += CELL_MM) {
      for (const aside of [-this.widthMm, 0, this.widthMm]) {
        const key = keyOf({ x: at.x + along * ux - aside * uy, y: at.y + along * uy + aside * ux });
        if (seen.has(key)) continue;
        seen.add(key);
        for (const other of this.cells.get(key) ?? []) cost += barCost(tie, other, this.widthMm);
      }
    }
    return cost;
  }
}

function middleOf({ from, to }: Ends): Point {
  return { x: (from.x + to.x) / 2, y: (from.y + to.y) / 2 };
}

function keyOf({ x, y }: Point): number {
  return Math.floor(y / CELL_MM) * ROW + Math.floor(x / CELL_MM);
}
