import type { Box, Point } from '../geometry/types.js';
import type { Shape } from '../motif/types.js';
import type { Lattice } from '../repeat/types.js';
import { alongCubic, alongLine, type EdgePlace, POINT_MM } from './cubic.js';
import { StrokeCover } from './stroke-cover.js';
import { TieCover } from './tie-cover.js';
import type { Artwork, CutInk } from './types.js';
import { Windings } from './winding.js';

/** An area that can be asked whether it holds a place, and for places along its edges. */
interface Cover {
  readonly box: Box;
  contains(x: number, y: number): boolean;
  edges(step: number, visit: EdgePlace): void;
}

/** A copy of an area on the cloth; `order`: what is painted later covers what was painted before. */
interface Copy {
  readonly cover: Cover;
  readonly order: number;
  readonly by: Point;
  readonly trimmed: boolean;
}

/** Outlines within 0.02 mm of a seam may be taken to lie on it, mm (and a little for rounding). */
const SEAM_SNAP_MM = 0.0205;
/** Squares along the longer side of the unit in which copies are found. */
const SQUARES = 96;

/** What is cut at any place of the cloth. */
export class TorusInk {
  private readonly copies: Copy[];
  private readonly across: number;
  private readonly down: number;
  private readonly squares: Int32Array[];

  constructor(private readonly artwork: Artwork) {
    const { lattice, shapes, ties } = artwork;
    const { widthMm, heightMm } = lattice;
    this.copies = [];
    shapes.forEach((shape, order) => {
      const reading = artwork.reading(order);
      if (reading === 'leave-out') return;
      this.lay(shapeCover(shape), order, reading === 'trim');
    });
    // Paper that is left standing lies over all ink.
    for (const tie of ties) this.lay(new TieCover(tie), Infinity, false);
    const side = Math.max(widthMm, heightMm) / SQUARES;
    this.across = Math.max(1, Math.ceil(widthMm / side));
    this.down = Math.max(1, Math.ceil(heightMm / side));
    const lists: number[][] = Array.from({ length: this.across * this.down }, () => []);
    this.copies.sort((a, b) => (a.order === b.order ? 0 : b.order - a.order));
    this.copies.forEach(({ cover: { box }, by }, k) => {
      const [i0, j0] = this.squareAt(box.x0 + by.x, box.y0 + by.y);
      const [i1, j1] = this.squareAt(box.x1 + by.x, box.y1 + by.y);
      for (let j = j0; j <= j1; j++) for (let i = i0; i <= i1; i++) lists[j * this.across + i].push(k);
    });
    this.squares = lists.map((list) => Int32Array.from(list));
  }

  /** Whether a place of the cloth (unit mm, in any unit) is cut; `bare`: as it were without ties; `snapped`: beside a seam as it is on the seam. */
  isCut(x: number, y: number, { bare = false, snapped = false }: { bare?: boolean; snapped?: boolean } = {}): boolean {
    const { lattice } = this.artwork;
    let { x: u, y: v } = inUnit(lattice, x, y);
    if (snapped) {
      u = Math.max(SEAM_SNAP_MM, Math.min(lattice.widthMm - SEAM_SNAP_MM, u));
      v = Math.max(SEAM_SNAP_MM, Math.min(lattice.heightMm - SEAM_SNAP_MM, v));
    }
    const [i, j] = this.squareAt(u, v);
    for (const k of this.squares[j * this.across + i]) {
      const { cover, by, order } = this.copies[k];
      const { box } = cover;
      const [px, py] = [u - by.x, v - by.y];
      if (px < box.x0 || px > box.x1 || py < box.y0 || py > box.y1) continue;
      if (order === Infinity && bare) continue;
      if (!cover.contains(px, py)) continue;
      return order !== Infinity && cuts(this.artwork.cut, this.artwork.shapes[order].ink);
    }
    return cuts(this.artwork.cut, null);
  }

  /** Places along everything that can be an edge of what is cut, in every unit that reaches into a box. */
  edges(step: number, { x0, y0, x1, y1 }: Box, visit: EdgePlace): void {
    const { lattice } = this.artwork;
    const { widthMm, heightMm } = lattice;
    const seen = new Set<Cover>();
    for (const { cover, trimmed } of this.copies) {
      if (seen.has(cover)) continue;
      seen.add(cover);
      cover.edges(step, (x, y, nx, ny, lengthMm) => {
        if (trimmed && !(x >= 0 && y >= 0 && x <= widthMm && y <= heightMm)) return;
        stepsInto(lattice, { x0: x, y0: y, x1: x, y1: y }, { x0, y0, x1, y1 }, (by) =>
          visit(x + by.x, y + by.y, nx, ny, lengthMm),
        );
      });
    }
  }

  /** Distances from a place of the cloth to the nearest upright and the nearest level side of its unit, mm. */
  seamDistances(x: number, y: number): Point {
    const { lattice } = this.artwork;
    const { x: u, y: v } = inUnit(lattice, x, y);
    return { x: Math.min(u, lattice.widthMm - u), y: Math.min(v, lattice.heightMm - v) };
  }

  private lay(cover: Cover, order: number, trimmed: boolean): void {
    const { box } = cover;
    if (!(box.x0 <= box.x1)) return;
    const { lattice } = this.artwork;
    const unit = { x0: 0, y0: 0, x1: lattice.widthMm, y1: lattice.heightMm };
    if (trimmed) this.copies.push({ cover, order, by: { x: 0, y: 0 }, trimmed });
    else stepsInto(lattice, box, unit, (by) => this.copies.push({ cover, order, by, trimmed }));
  }

  private squareAt(u: number, v: number): [number, number] {
    const { widthMm, heightMm } = this.artwork.lattice;
    const i = Math.floor((u / widthMm) * this.across);
    const j = Math.floor((v / heightMm) * this.down);
    return [Math.max(0, Math.min(this.across - 1, i)), Math.max(0, Math.min(this.down - 1, j))];
  }
}

function cuts({ ink, light, chosen, paperColour }: CutInk, seen: string | null): boolean {
  if (!light) return seen === ink;
  if (seen === null) return true;
  return chosen === null ? seen === paperColour : !chosen.includes(seen);
}

/** A place of the cloth as a place of the unit. */
function inUnit({ a, b, widthMm, heightMm, repeat }: Lattice, x: number, y: number): Point {
  if (repeat.kind === 'brick') {
    const j = Math.floor(y / heightMm);
    const i = Math.floor((x - j * b.x) / widthMm);
    return { x: x - i * a.x - j * b.x, y: y - j * b.y };
  }
  const i = Math.floor(x / widthMm);
  const j = Math.floor((y - i * a.y) / heightMm);
  return { x: x - i * a.x, y: y - i * a.y - j * b.y };
}

/** All lattice steps by which a box comes to lie in another or to touch it. */
function stepsInto(
  { a, b, widthMm, heightMm, repeat }: Lattice,
  box: Box,
  target: Box,
  visit: (by: Point) => void,
): void {
  const brick = repeat.kind === 'brick';
  // Rows of a brick and columns of all else lie level with each other.
  const [size, low, high, from, to] = brick
    ? [heightMm, box.y0, box.y1, target.y0, target.y1]
    : [widthMm, box.x0, box.x1, target.x0, target.x1];
  for (let m = Math.ceil((from - high) / size); m <= Math.floor((to - low) / size); m++) {
    const shift = m * (brick ? b.x : a.y);
    const [length, low2, high2, from2, to2] = brick
      ? [widthMm, box.x0 + shift, box.x1 + shift, target.x0, target.x1]
      : [heightMm, box.y0 + shift, box.y1 + shift, target.y0, target.y1];
    for (let n = Math.ceil((from2 - high2) / length); n <= Math.floor((to2 - low2) / length); n++) {
      visit(brick ? { x: shift + n * length, y: m * size } : { x: m * size, y: shift + n * length });
    }
  }
}

/** The area of a shape: its fill or its stroke, within its clips. */
function shapeCover({ contours, rule, stroke, clips }: Shape): Cover {
  const base = stroke ? new StrokeCover(contours, stroke) : new FillCover(contours, rule);
  if (clips.length === 0) return base;
  const limits = clips.map((clip) => new FillCover(clip.contours, clip.rule));
  const all = [base, ...limits];
  return {
    box: {
      x0: Math.max(...all.map(({ box }) => box.x0)),
      y0: Math.max(...all.map(({ box }) => box.y0)),
      x1: Math.min(...all.map(({ box }) => box.x1)),
      y1: Math.min(...all.map(({ box }) => box.y1)),
    },
    contains: (x, y) => all.every((cover) => cover.contains(x, y)),
    edges: (step, visit) => {
      for (const cover of all) cover.edges(step, visit);
    },
  };
}

/** The area within outlines. */
class FillCover implements Cover {
  readonly box: Box;
  private readonly windings: Windings;

  constructor(
    private readonly contours: Shape['contours'],
    private readonly rule: Shape['rule'],
  ) {
    this.windings = new Windings(contours);
    this.box = this.windings.box;
  }

  contains(x: number, y: number): boolean {
    const turns = this.windings.at(x, y);
    return this.rule === 'evenodd' ? turns % 2 !== 0 : turns !== 0;
  }

  edges(step: number, visit: EdgePlace): void {
    for (const { coords } of this.contours) {
      for (let o = 0; o + 7 < coords.length; o += 6) alongCubic(coords, o, step, visit);
      const n = coords.length;
      if (n >= 8 && Math.hypot(coords[n - 2] - coords[0], coords[n - 1] - coords[1]) > POINT_MM)
        alongLine(coords[n - 2], coords[n - 1], coords[0], coords[1], step, visit);
    }
  }
}
