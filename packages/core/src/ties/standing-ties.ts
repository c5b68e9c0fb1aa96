import { type Segment, segmentLength, segmentMiddle } from '../geometry/segments.js';
import { SquareIndex } from '../geometry/square-index.js';
import { LONGEST_TIE_MM } from './tie-candidates.js';
import { barCost, IN_LINE_MM } from './tie-hiding.js';

/** Side of the cells in which ties are found, mm. */
const CELL_MM = 5;

/** Ties that stand or are about to, found along a line. */
export class StandingTies {
  private readonly ties = new SquareIndex<Segment>(CELL_MM);

  constructor(private readonly widthMm: number) {}

  add(tie: Segment): void {
    this.ties.add(tie, segmentMiddle(tie));
  }

  remove(tie: Segment): void {
    this.ties.remove(tie, segmentMiddle(tie));
  }

  /** What a tie costs besides for the bars that it would make with those that stand. */
  barsOf(tie: Segment): number {
    const length = segmentLength(tie);
    const [ux, uy] = [(tie.to.x - tie.from.x) / length, (tie.to.y - tie.from.y) / length];
    const at = segmentMiddle(tie);
    // Middles of ties in line lie on the axis, to a width.
    const reach = IN_LINE_MM + length / 2 + LONGEST_TIE_MM / 2;
    const seen = new Set<readonly Segment[]>();
    let cost = 0;
    for (let along = -reach; along < reach + CELL_MM; along += CELL_MM) {
      for (const aside of [-this.widthMm, 0, this.widthMm]) {
        const others = this.ties.at({ x: at.x + along * ux - aside * uy, y: at.y + along * uy + aside * ux });
        if (seen.has(others)) continue;
        seen.add(others);
        for (const other of others) cost += barCost(tie, other, this.widthMm);
      }
    }
    return cost;
  }
}
