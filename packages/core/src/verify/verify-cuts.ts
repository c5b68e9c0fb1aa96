import type { Box, Contour } from '../geometry/types.js';
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
/** Steps across a line in search of an edge: parts of the tolerance on either side, 1 µm each. */
const ACROSS = 50;
/** Ways in which an edge is looked for around a piece of line that has no direction. */
const WAYS = 16;
/** How far before and past a place is looked where outlines may touch in it, as shares of the tolerance; and where round shapes may touch a straight edge. */
const BESIDE_PLACE = [0.4, 1];
const BESIDE_TOUCH = [10, 20];
/** Nearest to a line the side on which the drawn lines have their waste is looked for at these distances, mm. */
const BESIDE_MM = [0.005, 0.002, 0.0007, 0.0002];
/** A piece of line shorter than this, mm, has no direction that can be trusted: rounding turns it. */
const PIECE_MM = 0.05;
/** What is narrower than this, mm, is too narrow for any blade: two cuts, each good to some 0.2 mm, run into each other. */
const SLIGHT_MM = 0.3;
/** A disc's edge is looked at in so many places. */
const DISC_PLACES = 24;
/** Two lines nearer to each other than this, mm, that both lie as near to outlines of the artwork: between them is nothing that a blade could take out. */
const BLADE_MM = 0.005;
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

const AS_IT_IS = {};
const SNAPPED = { snapped: true };
const BARE = { bare: true };

type CutMiss = Exclude<MissKind, 'lost'>;

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
  private sources: NearLines | null = null;
  /** The part of the cloth that is looked at just now. */
  private within: Box;
  private samples = 0;
  private lengthMm = 0;
  private edgeMm = 0;
  private slightMm = 0;

  constructor(
    private readonly artwork: Artwork,
    cuts: readonly Contour[],
    { stepMm = STEP_MM, toleranceMm = TOLERANCE_MM }: VerifyOptions,
  ) {
    this.ink = new TorusInk(artwork);
    this.turns = new Windings(cuts);
    this.within = artwork.reach;
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
        const found = this.judgePlace(x, y, nx, ny, pieceMm);
        if (isLine(found)) this.judged[found] += lengthMm;
        else if (this.isForNoBlade(x, y, nx, ny)) this.exempt.dropped += lengthMm;
        else this.miss(x, y, found, this.edgeNear(x, y));
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
      const out = this.isCut(x + dx, y + dy) ? SEEN_MM : -SEEN_MM;
      // Ink past the lead edges that is not cut is the next print's; where it goes on in the design, a line along the edge would be one too many.
      if (x + out * nx < 0 || y + out * ny < 0) this.slightMm += lengthMm;
      else if (this.dropped.distance(x, y, this.near * 1.001) <= this.near) {
        if (this.isSlight(x, y, nx, ny)) this.slightMm += lengthMm;
        else this.exempt.dropped += lengthMm;
      } else if (this.isSeen(x, y, nx, ny) && !this.goesOnPast(x, y, nx, ny))
        this.miss(x, y, 'lost', this.lines.distance(x, y, LOOK_MM));
    };
    this.ink.edges(this.step, reach, visit);
    alongLine(x0, y0, x1, y0, this.step, visit);
    alongLine(x1, y0, x1, y1, this.step, visit);
    alongLine(x1, y1, x0, y1, this.step, visit);
    alongLine(x0, y1, x0, y0, this.step, visit);
  }

  /** Whether the ink beside an edge has no room there for a disc as wide as a blade's cut. */
  private isSlight(x: number, y: number, nx: number, ny: number): boolean {
    const r = SLIGHT_MM / 2;
    // What is too slight in the design may be broader in the lap: the next print has that.
    const { x1, y1 } = this.artwork.reach;
    this.within = { x0: 0, y0: 0, x1, y1 };
    const side = this.isCut(x + SEEN_MM * nx, y + SEEN_MM * ny) ? r : -r;
    return Array.from({ length: DISC_PLACES }, (_, k) => (2 * Math.PI * k) / DISC_PLACES).some(
      (angle) => !this.isCut(x + side * nx + 0.95 * r * Math.cos(angle), y + side * ny + 0.95 * r * Math.sin(angle)),
    );
  }

  /** Whether what is cut goes on past the reach here, as the ink does. */
  private goesOnPast(x: number, y: number, nx: number, ny: number): boolean {
    this.within = this.artwork.farthest ?? this.artwork.reach;
    const goesOn = [-SEEN_MM, SEEN_MM].every((d) => {
      const [px, py] = [x + d * nx, y + d * ny];
      return this.isCut(px, py) && this.turnsOnce(px, py, true);
    });
    this.within = this.artwork.reach;
    return goesOn;
  }

  /** Whether an edge of ink is one beside the seams' snap too, and a little before and past its place: other edges may end just there. */
  private isSeen(x: number, y: number, nx: number, ny: number): boolean {
    return [-1, 0, 1].every((along) => {
      const [px, py] = [x - along * SEEN_MM * ny, y + along * SEEN_MM * nx];
      return [false, true].every(
        (snapped) =>
          this.isCut(px + SEEN_MM * nx, py + SEEN_MM * ny, snapped) !==
          this.isCut(px - SEEN_MM * nx, py - SEEN_MM * ny, snapped),
      );
    });
  }

  result(): Verification {
    const { samples, misses, lengthMm, edgeMm, judged, slightMm, exempt } = this;
    const left = Object.values(exempt).reduce((sum, mm) => sum + mm, 0);
    const exemptShare = lengthMm > 0 ? left / lengthMm : 0;
    const ok = misses.length === 0 && exemptShare <= EXEMPT_MOST;
    return { samples, misses, lengthMm, edgeMm, judged, slightMm, exempt, exemptShare, ok };
  }

  /** A place and, where it does not hold, places just before and past it: outlines may touch in a point there, where nothing has two sides. */
  private judgePlace(x: number, y: number, nx: number, ny: number, pieceMm: number): keyof JudgedLengths | CutMiss {
    const found = this.judgePast(x, y, nx, ny, pieceMm);
    if (isLine(found)) return found;
    // Along the lead edges what only touches them from without stays: the next print has it.
    const shares = Math.min(Math.abs(x), Math.abs(y)) <= this.near ? [...BESIDE_PLACE, ...BESIDE_TOUCH] : BESIDE_PLACE;
    const holds = (way: number): boolean =>
      shares.some((share) => {
        const along = way * share * this.near;
        return isLine(this.judgePast(x - along * ny, y + along * nx, nx, ny, pieceMm));
      });
    return holds(-1) && holds(1) ? 'outline' : found;
  }

  /** As the sheet is cut up to its edge, or, near that, in place of the other side of a seam past it. */
  private judgePast(x: number, y: number, nx: number, ny: number, pieceMm: number): keyof JudgedLengths | CutMiss {
    const found = this.judgeCut(x, y, nx, ny, pieceMm);
    const { farthest } = this.artwork;
    if (isLine(found) || farthest === undefined) return found;
    if (this.isPastCorner(x, y, nx, farthest)) return 'edge';
    this.within = farthest;
    const again = this.judgeCut(x, y, nx, ny, pieceMm);
    this.within = this.artwork.reach;
    return isLine(again) ? again : found;
  }

  /** Past one side of the design, along a seam that meets it: there the next print's begins. */
  private isPastCorner(x: number, y: number, nx: number, farthest: Box): boolean {
    const { x0, y0, x1, y1 } = this.artwork.reach;
    if (x < farthest.x0 || x > farthest.x1 || y < farthest.y0 || y > farthest.y1) return false;
    const seams = this.ink.seamDistances(x, y);
    const upright = Math.abs(nx) > Math.SQRT1_2;
    return upright ? (y < y0 || y > y1) && seams.x <= this.near : (x < x0 || x > x1) && seams.y <= this.near;
  }

  private judgeCut(x: number, y: number, nx: number, ny: number, pieceMm: number): keyof JudgedLengths | CutMiss {
    let onBar = false;
    for (const share of SHARES) {
      const d = share * this.near;
      const [ax, ay, bx, by] = [x + d * nx, y + d * ny, x - d * nx, y - d * ny];
      const [a, b] = [this.isCut(ax, ay), this.isCut(bx, by)];
      if (a === b && !(a && b)) continue;
      if (!this.turnsOnce(ax, ay, a) || !this.turnsOnce(bx, by, b)) continue;
      if (a !== b) return this.edgeKind(ax, ay, bx, by);
      if (this.bars.distance(x, y, this.near * 1.001) <= this.near) onBar = true;
    }
    if (onBar) return 'stop';
    return this.judgeThin(x, y, nx, ny, pieceMm);
  }

  /** Where things are thinner still, or lie within the snap of a seam: an edge within the tolerance that has its ink on the side of the line's waste. */
  private judgeThin(x: number, y: number, nx: number, ny: number, pieceMm: number): 'outline' | CutMiss {
    let turned = false;
    for (const d of BESIDE_MM) {
      const a = Math.abs(this.turns.at(x + d * nx, y + d * ny));
      const b = Math.abs(this.turns.at(x - d * nx, y - d * ny));
      if (Math.min(a, b) === 0 && Math.max(a, b) === 1) {
        const side = a > b ? 1 : -1;
        for (const snapped of [false, true]) {
          if (this.edgeAcross(x, y, { nx: side * nx, ny: side * ny }, snapped)) return 'outline';
        }
      } else if (a !== b) turned = true;
    }
    if (turned) return 'wrong-side';
    // So short that rounding has turned it: it has no sides.
    if (pieceMm < PIECE_MM) {
      for (let k = 0; k < WAYS; k++) {
        const way = { nx: Math.cos((2 * Math.PI * k) / WAYS), ny: Math.sin((2 * Math.PI * k) / WAYS) };
        if (this.edgeAcross(x, y, way, false)) return 'outline';
      }
    }
    return 'invented';
  }

  /** Whether ink begins within the tolerance of a place, going in a direction from as far behind it. */
  private edgeAcross(x: number, y: number, { nx, ny }: { nx: number; ny: number }, snapped: boolean): boolean {
    let before = true;
    for (let k = -ACROSS; k <= ACROSS; k++) {
      const d = (k * this.near) / ACROSS;
      const cut = this.isCut(x + d * nx, y + d * ny, snapped);
      if (cut && !before) return true;
      before = cut;
    }
    return false;
  }

  /** A line there and back, both on outlines of the artwork: a stretch of an opening, or of paper, without width. */
  private isForNoBlade(x: number, y: number, nx: number, ny: number): boolean {
    const [dx, dy] = [2 * BLADE_MM * nx, 2 * BLADE_MM * ny];
    if (this.turns.at(x + dx, y + dy) !== this.turns.at(x - dx, y - dy)) return false;
    if (this.sources === null) {
      const sources = new NearLines(CELL_MM);
      this.ink.edges(this.near, this.artwork.reach, (ex, ey, ex1, ey1, lengthMm) => {
        const [ux, uy] = [(-ey1 * lengthMm) / 2, (ex1 * lengthMm) / 2];
        sources.add(ex - ux, ey - uy, ex + ux, ey + uy);
      });
      this.sources = sources;
    }
    return this.sources.distance(x, y, 2 * BLADE_MM) <= BLADE_MM;
  }

  /** The lines go around a place just once where it is cut, and not at all where it is not. */
  private turnsOnce(x: number, y: number, cut: boolean): boolean {
    return Math.abs(this.turns.at(x, y)) === (cut ? 1 : 0);
  }

  private edgeKind(ax: number, ay: number, bx: number, by: number): keyof JudgedLengths {
    if (this.isWithin(ax, ay) !== this.isWithin(bx, by)) return 'edge';
    return this.artwork.ties.length > 0 && this.ink.isCut(ax, ay, BARE) && this.ink.isCut(bx, by, BARE)
      ? 'tie'
      : 'outline';
  }

  private isCut(x: number, y: number, snapped = false): boolean {
    return this.isWithin(x, y) && this.ink.isCut(x, y, snapped ? SNAPPED : AS_IT_IS);
  }

  private isWithin(x: number, y: number): boolean {
    const { x0, y0, x1, y1 } = this.within;
    return x > x0 && x < x1 && y > y0 && y < y1;
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

function isLine(found: keyof JudgedLengths | CutMiss): found is keyof JudgedLengths {
  return found !== 'invented' && found !== 'wrong-side';
}
