import type { Contour, Point } from '@okuri/core';
import { arcToCubics } from './arc.js';
import { ContourBuilder } from './contour-builder.js';

/** What was read of a path's data, and where reading had to end. */
export interface PathReading {
  readonly contours: readonly Contour[];
  readonly segments: number;
  /** Null where all of it was read; else the index of the first character that could not be, and why. */
  readonly fault: { readonly at: number; readonly text: string; readonly limit: boolean } | null;
}

const COUNTS: Readonly<Record<string, number>> = { M: 2, L: 2, H: 1, V: 1, C: 6, S: 4, Q: 4, T: 2, A: 7, Z: 0 };

const LETTERS: ReadonlySet<string> = new Set('MmLlHhVvCcSsQqTtAaZz');

/**
 * The subpaths of SVG path data (SVG 2, 9.3) in user units. All commands in both cases, implied repeats, glued numbers and
 * arc flags. Quadratics are raised to cubics exactly; arcs become cubics of at most 45°. A subpath ended by `Z` is
 * closed and ends where it starts. As the specification asks, what comes before a fault is kept, and the fault reported.
 * More than `maxSegments` curves and moves end the reading too (`limit`).
 *
 * Long because it has one case a command of the grammar, all of which share the point and the handle before.
 */
export function parsePathData(data: string, options: { maxSegments: number }): PathReading {
  const reader = new Numbers(data);
  const out = new ContourBuilder();
  let current: Point = { x: 0, y: 0 };
  let start: Point = { x: 0, y: 0 };
  let handle: Point | null = null;
  let previous = '';
  let drawing = false;
  let moves = 0;
  let command = '';

  const done = (fault: PathReading['fault']): PathReading => ({
    contours: out.finish(),
    segments: out.segments,
    fault,
  });
  const fault = (limit = false) => done({ at: reader.at, text: data.slice(reader.at, reader.at + 12), limit });

  for (;;) {
    reader.blanks();
    if (reader.at >= data.length) return done(null);
    const letter = data[reader.at];
    if (letter >= 'A') {
      if (!LETTERS.has(letter) || (previous === '' && letter !== 'M' && letter !== 'm')) return fault();
      command = letter;
      reader.at++;
    } else if (command === '' || command === 'Z' || command === 'z' || !reader.separator(previous !== '')) {
      return fault();
    } else if (command === 'M') command = 'L';
    else if (command === 'm') command = 'l';

    const kind = command.toUpperCase();
    const values = reader.take(kind);
    if (values === null) return fault();
    if (out.segments + moves > options.maxSegments) return fault(true);

    if (kind === 'Z') {
      out.close();
      current = start;
      drawing = false;
      previous = kind;
      continue;
    }
    const relative = command !== kind;
    const ox = relative ? current.x : 0;
    const oy = relative ? current.y : 0;
    const at = (k: number): Point => ({ x: values[k] + ox, y: values[k + 1] + oy });
    if (kind === 'M') {
      current = at(0);
      start = current;
      out.move(current);
      moves++;
      drawing = true;
      previous = kind;
      continue;
    }
    // After `Z` the next command draws on from where the closed subpath began.
    if (!drawing) {
      out.move(start);
      drawing = true;
    }
    let end: Point;
    let next: Point | null = null;
    if (kind === 'L') {
      end = at(0);
      out.line(end);
    } else if (kind === 'H') {
      end = { x: values[0] + ox, y: current.y };
      out.line(end);
    } else if (kind === 'V') {
      end = { x: current.x, y: values[0] + oy };
      out.line(end);
    } else if (kind === 'C') {
      next = at(2);
      end = at(4);
      out.cubic(at(0), next, end);
    } else if (kind === 'S') {
      const first = handle !== null && (previous === 'C' || previous === 'S') ? mirror(handle, current) : current;
      next = at(0);
      end = at(2);
      out.cubic(first, next, end);
    } else if (kind === 'Q' || kind === 'T') {
      const smooth: Point =
        handle !== null && (previous === 'Q' || previous === 'T') ? mirror(handle, current) : current;
      const through = kind === 'Q' ? at(0) : smooth;
      next = through;
      end = kind === 'Q' ? at(2) : at(0);
      out.quadratic(through, end);
    } else {
      end = at(5);
      const arc = { rx: values[0], ry: values[1], turn: values[2], large: values[3] !== 0, sweep: values[4] !== 0 };
      const cubics = arcToCubics(current, end, arc);
      if (cubics === null) out.line(end);
      else for (const [a, b, c] of cubics) out.cubic(a, b, c);
    }
    handle = next;
    current = end;
    previous = kind;
  }
}

function mirror(p: Point, about: Point): Point {
  return { x: 2 * about.x - p.x, y: 2 * about.y - p.y };
}

/** A cursor over numbers in the grammar of path data. */
class Numbers {
  at = 0;
  constructor(private readonly data: string) {}

  blanks(): void {
    while (isBlank(this.data.charCodeAt(this.at))) this.at++;
  }

  /** Skips one comma and the blanks about it. False where a comma stands that nothing precedes. */
  separator(allowComma: boolean): boolean {
    this.blanks();
    if (this.data[this.at] !== ',') return true;
    if (!allowComma) return false;
    this.at++;
    this.blanks();
    return true;
  }

  /** The arguments of one command; null at the first character that does not fit, where `at` then stands. */
  take(kind: string): number[] | null {
    const values: number[] = [];
    for (let k = 0; k < COUNTS[kind]; k++) {
      if (k === 0) this.blanks();
      else this.separator(true);
      const value = kind === 'A' && (k === 3 || k === 4) ? this.flag() : this.number();
      if (value === null) return null;
      values.push(value);
    }
    return values;
  }

  private flag(): number | null {
    const c = this.data[this.at];
    if (c !== '0' && c !== '1') return null;
    this.at++;
    return c === '1' ? 1 : 0;
  }

  private number(): number | null {
    const { data } = this;
    let k = this.at;
    if (data[k] === '+' || data[k] === '-') k++;
    const whole = k;
    while (isDigit(data.charCodeAt(k))) k++;
    let digits = k - whole;
    if (data[k] === '.') {
      const fraction = ++k;
      while (isDigit(data.charCodeAt(k))) k++;
      digits += k - fraction;
    }
    if (digits === 0) return null;
    if (data[k] === 'e' || data[k] === 'E') {
      let e = k + 1;
      if (data[e] === '+' || data[e] === '-') e++;
      if (isDigit(data.charCodeAt(e))) {
        while (isDigit(data.charCodeAt(e))) e++;
        k = e;
      }
    }
    const value = Number(data.slice(this.at, k));
    if (!Number.isFinite(value)) return null;
    this.at = k;
    return value;
  }
}

function isBlank(code: number): boolean {
  return code === 32 || (code >= 9 && code <= 13 && code !== 11);
}

function isDigit(code: number): boolean {
  return code >= 48 && code <= 57;
}
