import type { Point } from '../../geometry/types.js';
import type { FirstCutEnd, SheetJoin } from '../../proof/types.js';
import type { Dot } from '../../register/dots.js';
import type { Sheet } from '../../stencil/types.js';

/** Less than this is not told by a scale, mm. */
const READABLE_MM = 0.05;

/** How far a place lies along a side from a dot of that side, in words: `132.0 mm below dot B`. */
export interface FromDot {
  readonly dot: string;
  readonly mm: number;
  readonly words: string;
}

/** The dots of a held side, from the top down or from the left to the right. */
export function sideDots({ dots, field }: Pick<Sheet, 'dots' | 'field'>, seam: 'right' | 'bottom'): Dot[] {
  const right = seam === 'right';
  const middle = right ? (field.x0 + field.x1) / 2 : (field.y0 + field.y1) / 2;
  const depth = (d: Dot): number => (right ? d.at.x : d.at.y);
  const far = dots.filter((d) => depth(d) > middle);
  const most = Math.max(...far.map(depth));
  // Dots between the corners of the other side lie nearer to the middle.
  return far.filter((d) => most - depth(d) < 1).sort((a, b) => (right ? a.at.y - b.at.y : a.at.x - b.at.x));
}

/** The last dot of the side before a place, or the first one where none is before it; null for a side without dots. */
export function fromDot(sheet: Pick<Sheet, 'dots' | 'field'>, seam: 'right' | 'bottom', at: Point): FromDot | null {
  const right = seam === 'right';
  const dots = sideDots(sheet, seam);
  const place = right ? at.y : at.x;
  const of = (d: Dot): number => (right ? d.at.y : d.at.x);
  const dot = dots.findLast((d) => of(d) <= place + READABLE_MM) ?? dots[0];
  if (dot === undefined) return null;
  const mm = place - of(dot);
  if (Math.abs(mm) < READABLE_MM) return { dot: dot.name, mm, words: `at dot ${dot.name}` };
  const way = right ? (mm > 0 ? 'below' : 'above') : mm > 0 ? 'right of' : 'left of';
  return { dot: dot.name, mm, words: `${Math.abs(mm).toFixed(1)} mm ${way} dot ${dot.name}` };
}

/** Which edge of an opening a join is: `upper edge`, `right edge`. */
export function edgeWords({ seam, edge }: Pick<SheetJoin, 'seam' | 'edge'>): string {
  if (seam === 'right') return edge === 'begins' ? 'upper edge' : 'lower edge';
  return edge === 'begins' ? 'left edge' : 'right edge';
}

/** An offset along a seam, in words: `0.4 mm down`, `as planned`. */
export function offsetWords(seam: 'right' | 'bottom', mm: number): string {
  if (Math.abs(mm) < READABLE_MM) return 'as planned';
  const way = seam === 'right' ? (mm > 0 ? 'down' : 'up') : mm > 0 ? 'right' : 'left';
  return `${Math.abs(mm).toFixed(1)} mm ${way}`;
}

/** An offset of a first cut's end along its stop, in words. */
export function endOffsetWords({ along }: Pick<FirstCutEnd, 'along'>, mm: number): string {
  return offsetWords(Math.abs(along.y) >= Math.abs(along.x) ? 'right' : 'bottom', mm);
}

/** Names with a letter and a number, runs of three and more drawn together: `J1–J4, J9`. */
export function nameRanges(names: readonly string[]): string {
  const parts: string[] = [];
  for (let k = 0; k < names.length; ) {
    let end = k;
    while (end + 1 < names.length && follows(names[end], names[end + 1])) end++;
    if (end - k >= 2) parts.push(`${names[k]}–${names[end]}`);
    else parts.push(...names.slice(k, end + 1));
    k = end + 1;
  }
  return parts.join(', ');
}

function follows(a: string, b: string): boolean {
  return a[0] === b[0] && Number(b.slice(1)) === Number(a.slice(1)) + 1;
}
