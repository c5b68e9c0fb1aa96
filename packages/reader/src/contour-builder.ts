import type { Contour, Point } from '@okuri/core';

/**
 * Collects subpaths as contours. Pieces without any length are left out, so that every curve has a direction, except
 * that a subpath that is nothing but a point (drawn to itself or closed) is one curve without length: caps make it a dot.
 */
export class ContourBuilder {
  segments = 0;
  private readonly done: Contour[] = [];
  private coords: number[] = [];
  private stayed = false;

  move(p: Point): void {
    this.end(false);
    this.coords = [p.x, p.y];
  }

  line(p: Point): void {
    const [x, y] = this.last();
    if (x === p.x && y === p.y) {
      this.stayed = true;
      return;
    }
    const dx = (p.x - x) / 3;
    const dy = (p.y - y) / 3;
    this.push(x + dx, y + dy, p.x - dx, p.y - dy, p.x, p.y);
  }

  quadratic(c: Point, p: Point): void {
    const [x, y] = this.last();
    const a = { x: x + (2 / 3) * (c.x - x), y: y + (2 / 3) * (c.y - y) };
    const b = { x: p.x + (2 / 3) * (c.x - p.x), y: p.y + (2 / 3) * (c.y - p.y) };
    this.cubic(a, b, p);
  }

  cubic(a: Point, b: Point, p: Point): void {
    const [x, y] = this.last();
    if (same(a, x, y) && same(b, x, y) && same(p, x, y)) {
      this.stayed = true;
      return;
    }
    this.push(a.x, a.y, b.x, b.y, p.x, p.y);
  }

  close(): void {
    if (this.coords.length < 2) return;
    this.line({ x: this.coords[0], y: this.coords[1] });
    this.stayed = true;
    this.end(true);
  }

  finish(): readonly Contour[] {
    this.end(false);
    return this.done;
  }

  private push(...values: number[]): void {
    for (const value of values) this.coords.push(value);
    this.segments++;
  }

  private end(closed: boolean): void {
    const { coords } = this;
    this.coords = [];
    if (coords.length === 2 && this.stayed) {
      const [x, y] = coords;
      this.done.push({ closed, coords: Float64Array.of(x, y, x, y, x, y, x, y) });
      this.segments++;
    } else if (coords.length > 2) this.done.push({ closed, coords: Float64Array.from(coords) });
    this.stayed = false;
  }

  private last(): [number, number] {
    const { coords } = this;
    return [coords[coords.length - 2], coords[coords.length - 1]];
  }
}

function same(p: Point, x: number, y: number): boolean {
  return p.x === x && p.y === y;
}
