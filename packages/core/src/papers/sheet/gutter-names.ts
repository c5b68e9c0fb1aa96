import { emOfCap, wordItem, wordTurnedBox } from '../../draw/label-box.js';
import { COLOURS, GREY } from '../../draw/palette.js';
import type { FontMetrics, Item } from '../../draw/types.js';
import { polyline } from '../../geometry/contour.js';
import type { Box, Contour, Point } from '../../geometry/types.js';
import type { NamedPlace } from './cut-strip.js';

/** Heights of capitals and digits to try, mm on the page, the largest first. */
const CAPS_MM = [3, 2.6, 2.2] as const;
/** Free paper between two names, as a share of their height. */
const APART_SHARE = 0.4;
/** Before a name, mm. */
const GAP_MM = 0.8;
/** A leader runs straight away from its place by this before it bends, mm. */
const STRAIGHT_MM = 2.5;

/** A bare margin beside a picture in which names stand one after the other, page mm. */
export interface Gutter {
  readonly box: Box;
  /** On which side of the picture it lies. */
  readonly side: 'left' | 'right' | 'top' | 'bottom';
}

/**
 * Names in a gutter, in the order of their places and as near to them as they can stand without touching, each with a leader that begins `aroundMm` from its place. Leaders do not
 * cross. Beside a picture names are level, above and below it they read upwards. Where they are too many for the gutter's length they stand closer than they should.
 */
export function gutterNames(
  places: readonly NamedPlace[],
  { box, side }: Gutter,
  { font, aroundMm }: { font: FontMetrics; aroundMm: number },
): Item[] {
  const upright = side === 'left' || side === 'right';
  const of = (p: Point): number => (upright ? p.y : p.x);
  const sorted = places.toSorted((a, b) => of(a.at) - of(b.at));
  const [low, high] = upright ? [box.y0, box.y1] : [box.x0, box.x1];
  const fits = (mm: number): boolean => sorted.length * mm * (1 + APART_SHARE) <= high - low;
  const cap = CAPS_MM.find(fits) ?? CAPS_MM[CAPS_MM.length - 1];
  const em = emOfCap(cap, font);
  const step = Math.min(cap * (1 + APART_SHARE), (high - low) / Math.max(1, sorted.length));
  const seats = spread(
    sorted.map(({ at }) => of(at)),
    { step, low: low + cap / 2, high: high - cap / 2 },
  );
  const away = side === 'left' || side === 'top' ? -1 : 1;
  const near = upright ? (away > 0 ? box.x0 : box.x1) : away > 0 ? box.y0 : box.y1;
  const leaders: Contour[] = [];
  const names = sorted.map(({ name, at }, k): Item => {
    const wording = { text: name, em, bold: true, ...(upright ? {} : { turn: -90 }) };
    const { halfU } = wordTurnedBox({ x: 0, y: 0 }, wording, font);
    const place = (across: number, along: number): Point =>
      upright ? { x: across, y: along } : { x: along, y: across };
    const across = upright ? at.x : at.y;
    const end = near + away * (GAP_MM - 0.2);
    const bend = away * (end - across) > STRAIGHT_MM ? end - away * STRAIGHT_MM : end;
    const from = place(across + away * aroundMm, of(at));
    leaders.push(polyline([from, place(bend, of(at)), place(end, seats[k])], { closed: false }));
    return wordItem(place(near + away * (GAP_MM + halfU), seats[k]), wording, { font, colour: COLOURS.black });
  });
  if (names.length === 0) return [];
  return [{ kind: 'path', contours: leaders, line: { colour: GREY, widthMm: 0.15 } }, ...names];
}

/**
 * Rising places moved as little as can be (least squares) until neighbours are `step` apart, within `low … high` as far as there is room: what stands too close is drawn together
 * to one block around its mean, block by block (pooling of adjacent violators; Ayer, Brunk, Ewing, Reid and Silverman, 1955).
 */
export function spread(
  wanted: readonly number[],
  { step, low, high }: { step: number; low: number; high: number },
): number[] {
  const blocks: { sum: number; count: number }[] = [];
  wanted.forEach((value, k) => {
    let block = { sum: value - k * step, count: 1 };
    let last = blocks[blocks.length - 1];
    while (last !== undefined && last.sum / last.count > block.sum / block.count) {
      block = { sum: block.sum + last.sum, count: block.count + last.count };
      blocks.pop();
      last = blocks[blocks.length - 1];
    }
    blocks.push(block);
  });
  const base = blocks.flatMap(({ sum, count }) => Array.from({ length: count }, () => sum / count));
  const most = high - (wanted.length - 1) * step;
  return base.map((value, k) => Math.max(low, Math.min(most, value)) + k * step);
}
