import { polyline } from './contour.js';
import { type Curve, evaluateCurve } from './curve.js';
import { type Grid, type GridPath, toMm } from './grid.js';
import type { CurveMarks, CurveRef } from './marks.js';
import type { Point, Stroke } from './types.js';

/** A pen with what its outline needs. */
export interface Pen extends Stroke {
  readonly half: number;
  /** Flattening tolerance in pen space. */
  readonly tolerance: number;
  readonly grid: Grid;
  readonly book: CurveMarks;
  readonly owner: number;
}

/** Collects rings in pen space, maps them to the grid and marks their corners. */
export class StrokeOutline {
  private readonly rings: { readonly ring: GridPath; readonly refs: CurveRef[][] }[] = [];
  private ring: GridPath = [];
  private places: CurveRef[][] = [];

  constructor(readonly pen: Pen) {}

  plain(p: Point): void {
    const m = this.pen.pen;
    this.corner(m[0] * p.x + m[2] * p.y + m[4], m[1] * p.x + m[3] * p.y + m[5], null);
  }

  /** Adds the corners of a curve at its flattened parameters, in order or backwards. */
  curve(curve: Curve, backward = false): void {
    const count = curve.s.length;
    for (let i = 0; i < count; i++) {
      const k = backward ? count - 1 - i : i;
      const p = evaluateCurve(curve, curve.s[k]);
      this.corner(p.x, p.y, { curve, dx: 0, dy: 0, k });
    }
  }

  /** A ring of its own with straight sides, beside the one that is under way. */
  apart(points: readonly Point[]): void {
    const { ring, places } = this;
    this.ring = [];
    this.places = [];
    for (const p of points) this.plain(p);
    this.endRing();
    this.ring = ring;
    this.places = places;
  }

  /** Ends a ring: every corner knows its curve, and its place on the ring itself, by which straight sides are traced. */
  endRing(): void {
    const { ring, places } = this;
    this.ring = [];
    this.places = [];
    if (ring.length < 3) return;
    const { grid, owner } = this.pen;
    const { coords } = polyline(
      ring.map((p) => toMm(p, grid)),
      { closed: true },
    );
    const s = ring.map((_, k) => k);
    const around: Curve = { kind: 'cubic', coords, owner, s, closed: true, sEnd: ring.length };
    const refs = ring.map((_, k) => [...places[k], { curve: around, dx: 0, dy: 0, k }]);
    this.rings.push({ ring, refs });
  }

  /**
   * The rings with their corners marked. Of corners at one place the union keeps one: where a curve ends, that one has to know the curve
   * that goes on from there too, or the side beyond it could be traced to neither.
   */
  marked(): GridPath[] {
    const ends = new Map<string, CurveRef[]>();
    const isEnd = ({ curve, k }: CurveRef): boolean => curve.kind !== 'cubic' && (k === 0 || k === curve.s.length - 1);
    for (const { ring, refs } of this.rings) {
      ring.forEach((p, k) => {
        const here = refs[k].filter(isEnd);
        if (here.length === 0) return;
        const key = `${p.x} ${p.y}`;
        const known = ends.get(key);
        if (known) known.push(...here);
        else ends.set(key, here);
      });
    }
    for (const { ring, refs } of this.rings) {
      ring.forEach((p, k) => {
        const shared = refs[k].some(isEnd) ? (ends.get(`${p.x} ${p.y}`) ?? []) : [];
        p.z = this.pen.book.add([
          ...new Set([...refs[k].filter((r) => r.curve.kind !== 'cubic'), ...shared, ...refs[k]]),
        ]);
      });
    }
    return this.rings.map(({ ring }) => ring);
  }

  private corner(x: number, y: number, place: CurveRef | null): void {
    const gx = Math.round(x * this.pen.grid.sx);
    const gy = Math.round(y * this.pen.grid.sy);
    const last = this.ring.length - 1;
    if (last >= 0 && this.ring[last].x === gx && this.ring[last].y === gy) {
      if (place) this.places[last].push(place);
      return;
    }
    this.ring.push({ x: gx, y: gy });
    this.places.push(place ? [place] : []);
  }
}
