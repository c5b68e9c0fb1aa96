import type { Contour } from '../geometry/types.js';
import { alongCubic, alongLine, chordsOf } from './cubic.js';
import { NearLines } from './near-lines.js';
import { TorusInk } from './torus-ink.js';
import type { Artwork, ExemptReason, JudgedLengths, Miss, MissKind, Verification, VerifyOptions } from './types.js';
import { CHORD_MM, Windings } from './winding.js';

/** Default distance of samples along a line, mm. */
const STEP_MM = 0.25;
/** Default distance that a line may lie from its edge, mm: a knife is good to some four times that. */
const TOLERANCE_MM = 0.05;
/** Where things are thinner than the tolerance, places beside a line are looked at ever nearer to it, down to this share of the tolerance. */
const SHARES = [1, 1 / 2, 1 / 4, 1 / 8, 1 / 16, 1 / 32];
/** Steps across a line in search of an edge, as shares of the tolerance: 1 µm. */
const ACROSS = 50;
/** A piece of line shorter than this, mm, has no direction that can be trusted: rounding turns it. */
const PIECE_MM = 0.02;
/** An edge of the artwork is seen where the ink changes within this of it, mm. */
const SEEN_MM = 0.005;
/** How far is looked for the next line or edge of a miss, mm. */
const LOOK_MM = 5;
/** Most of the length that may be exempt. */
const EXEMPT_MOST = 0.005;
/** Side of the squares in which lines are found, mm. */
const CELL_MM = 1;

/**
 * Holds the lines of a sheet against its artwork, in both directions. Every cut line: within the tolerance of an edge of the ink, ink on one side and none on
 * the other, and the lines together turn just once around what is cut. Every edge of ink that is seen on the sheet: a cut line within the tolerance.
 * Everything here is worked out from the artwork's own curves; nothing is shared with what drew the lines. `cuts`: closed outlines in
 * unit mm, of both cuts, in any order. No lines and no ink agree.
 */
export function verifyCuts(artwork: Artwork, cuts: readonly Contour[], options: VerifyOptions = {}): Verification {
  const look = new Look(artwork, cuts, options);
  for (const cut of cuts) look.alongCut(cut);
  look.alongEdges();
  return look.result();
}

class Look {
  private readonly ink: TorusInk;
  private readonly turns: Windings;
  private readonly lines = new NearLines(CELL_MM);
  private readonly bars = new NearLines(CELL_MM);
  private readonly dropped = new NearLines(CELL_MM);
  private readonly step: number;
  private readonly near: number;
  private readonly misses: Miss[] = [];
  private readonly judged: Record<keyof JudgedLengths, number> = { outline: 0, stop: 0, tie: 0, edge: 0 };
  private readonly exempt: Record<ExemptReason, number> = { stop: 0, tie: 0, edge: 0, dropped: 0 };
  private samples = 0;
  private lengthMm = 0;
  private edgeMm = 0;

  constructor(
    private readonly artwork: Artwork,
    cuts: readonly Contour[],
    { stepMm = STEP_MM, toleranceMm = TOLERANCE_MM }: VerifyOptions,
  ) {
    this.ink = new TorusInk(artwork);
    this.turns = new Windings(cuts);
    this.step = stepMm;
    this.near = toleranceMm;
    for (const cut of cuts) this.lines.addChords(closedChords(cut));
    for (const { from, to } of artwork.stops) this.bars.add(from.x, from.y, to.x, to.y);
    for (const one of artwork.dropped) this.dropped.addChords(closedChords(one));
  }

  alongCut({ coords }: Contour): void {
    const visit =
      (pieceMm: number) =>
      (x: number, y: number, nx: number, ny: number, lengthMm: number): void => {
        this.samples++;
        this.lengthMm += lengthMm;
        const found = this.judgeCut(x, y, nx, ny, pieceMm);
        if (found === 'invented' || found === 'wrong-side') this.miss(x, y, found, this.edgeNear(x, y));
        else this.judged[found] += lengthMm;
      };
    for (let o = 0; o + 7 < coords.length; o += 6) {
      const pieceMm = Math.hypot(coords[o + 6] - coords[o], coords[o + 7] - coords[o + 1]);
      alongCubic(coords, o, this.step, visit(pieceMm));
    }
    const n = coords.length;
    if (n < 8) return;
    const [x0, y0, x1, y1] = [coords[n - 2], coords[n - 1], coords[0], coords[1]];
    alongLine(x0, y0, x1, y1, this.step, visit(Math.hypot(x1 - x0, y1 - y0)));
  }

  alongEdges(): void {
    const { reach } = this.artwork;
    const { x0, y0, x1, y1 } = reach;
    const visit = (x: number, y: number, nx: number, ny: number, lengthMm: number): void => {
      const [dx, dy] = [SEEN_MM * nx, SEEN_MM * ny];
      this.samples++;
      if (this.isCut(x + dx, y + dy) === this.isCut(x - dx, y - dy)) return;
      this.edgeMm += lengthMm;
      if (this.lines.distance(x, y, this.near * 1.001) <= this.near) return;
      if (this.dropped.distance(x, y, this.near * 1.001) <= this.near) this.exempt.dropped += lengthMm;
      else this.miss(x, y, 'lost', this.lines.distance(x, y, LOOK_MM));
    };
    this.ink.edges(this.step, reach, visit);
    alongLine(x0, y0, x1, y0, this.step, visit);
    alongLine(x1, y0, x1, y1, this.step, visit);
    alongLine(x1, y1, x0, y1, this.step, visit);
    alongLine(x0, y1, x0, y0, this.step, visit);
  }

  result(): Verification {
    const { samples, misses, lengthMm, edgeMm, judged, exempt } = this;
    const left = Object.values(exempt).reduce((sum, mm) => sum + mm, 0);
    const exemptShare = lengthMm > 0 ? left / lengthMm : 0;
    const ok = misses.length === 0 && exemptShare <= EXEMPT_MOST;
    return { samples, misses, lengthMm, edgeMm, judged, exempt, exemptShare, ok };
  }

  private judgeCut(
    x: number,
    y: number,
    nx: number,
    ny: number,
    pieceMm: number,
  ): keyof JudgedLengths | 'invented' | 'wrong-side' {
    let [sides, onBar] = [false, false];
    for (const share of SHARES) {
      const d = share * this.near;
      const [ax, ay, bx, by] = [x + d * nx, y + d * ny, x - d * nx, y - d * ny];
      const [a, b] = [this.isCut(ax, ay), this.isCut(bx, by)];
      const turned = this.turnsOnce(ax, ay, a) && this.turnsOnce(bx, by, b);
      if (a !== b && turned) return this.edgeKind(ax, ay, bx, by);
      if (a !== b) sides = true;
      if (a && b && turned && this.bars.distance(x, y, this.near * 1.001) <= this.near) onBar = true;
    }
    if (onBar) return 'stop';
    if (sides) return 'wrong-side';
    // Thinner still than the nearest places beside it, or too short to have sides.
    if (this.changesAcross(x, y, nx, ny)) return 'outline';
    return pieceMm < PIECE_MM && this.changesAcross(x, y, -ny, nx) ? 'outline' : 'invented';
  }

  /** The lines go around a place just once where it is cut, and not at all where it is not. */
  private turnsOnce(x: number, y: number, cut: boolean): boolean {
    return Math.abs(this.turns.at(x, y)) === (cut ? 1 : 0);
  }

  private edgeKind(ax: number, ay: number, bx: number, by: number): keyof JudgedLengths {
    if (this.isWithin(ax, ay) !== this.isWithin(bx, by)) return 'edge';
    return this.artwork.ties.length > 0 && this.ink.isCut(ax, ay, true) && this.ink.isCut(bx, by, true)
      ? 'tie'
      : 'outline';
  }

  private isCut(x: number, y: number): boolean {
    return this.isWithin(x, y) && this.ink.isCut(x, y);
  }

  private isWithin(x: number, y: number): boolean {
    const { x0, y0, x1, y1 } = this.artwork.reach;
    return x > x0 && x < x1 && y > y0 && y < y1;
  }

  private changesAcross(x: number, y: number, nx: number, ny: number): boolean {
    const first = this.isCut(x, y);
    for (let k = 1; k <= ACROSS; k++) {
      const d = (k * this.near) / ACROSS;
      if (this.isCut(x + d * nx, y + d * ny) !== first || this.isCut(x - d * nx, y - d * ny) !== first) return true;
    }
    return false;
  }

  /** How far the next edge of ink is from a place, mm, by growing rings: a measure to report, not to judge by. */
  private edgeNear(x: number, y: number): number {
    const here = this.isCut(x, y);
    for (let r = this.near; r < LOOK_MM; r *= 1.25) {
      for (let k = 0; k < 24; k++) {
        const angle = (k * Math.PI) / 12;
        if (this.isCut(x + r * Math.cos(angle), y + r * Math.sin(angle)) !== here) return r;
      }
    }
    return LOOK_MM;
  }

  private miss(x: number, y: number, what: MissKind, by: number): void {
    this.misses.push({ x, y, what, by });
  }
}

function closedChords(contour: Contour): number[] {
  const points = chordsOf(contour, CHORD_MM);
  return points.length > 2 ? [...points, points[0], points[1]] : points;
}
