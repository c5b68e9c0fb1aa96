import { boxContour, contourArea, reverseContour } from '../geometry/contour.js';
import { distance, middle } from '../geometry/points.js';
import { closedCoords } from '../geometry/settle.js';
import type { Contour, Point } from '../geometry/types.js';
import { type Across, localWidth } from './across.js';
import { nearestNear, placeAt } from './closest.js';
import { type Samples, sampleAfter, sampleBefore, sampleOutlines } from './samples.js';
import { FACING } from './stretches.js';
import { narrowestFirst, startStrips, stripWidths } from './strips.js';
import type { CutPaper, Stroke, Tongue } from './types.js';

/** Tongues wider than this at their root hold by themselves, mm. */
const WIDEST_ROOT_MM = 20;
/** Places along the outlines, mm. */
const SPACING_MM = 0.25;
/** Roots are tried in steps of a twentieth of their width from the first one on; it is no round number, so that even strips fall between two steps. */
const FIRST_ROOT_MM = 0.0973;
const ROOT_STEP = 1.05;
/** Of roots for which a tongue is as long (to 2 %), the widest is taken: an even taper has its root where it ends. */
const AS_LONG = 0.98;

export interface TongueOptions {
  /** Reported are tongues longer than this many widths of their root. */
  readonly ratio: number;
}

/**
 * The tongues of the paper: strips with one free end that are longer than `ratio` times the width of their root (roots up to 20 mm). The root is taken where
 * length is most in proportion to width; the length runs along the middle line from there to the tip, to about 0.1 mm. A tongue with several tips is one with its
 * farthest; prongs that are long for themselves on a stem that is not are several. Islands have no tongues: they fall out as a whole. Samples are put
 * together into strips from the narrowest on, and those with one exit are measured. Cost: n log n at most.
 */
export function findTongues(paper: CutPaper, { ratio }: TongueOptions): Tongue[] {
  const edge = reverseContour(boxContour(paper.edge));
  const contours = [...paper.outlines.map((o) => o.contour), edge].map(closed);
  const openings = [...paper.outlines.map((o) => o.opening), -1];
  const rim = contours.map((c, k) => openings[k] >= 0 && contourArea(c) < 0);
  const samples = sampleOutlines(contours, { spacingMm: SPACING_MM, between: 'paper' });
  const across = localWidth(samples, { reachMm: WIDEST_ROOT_MM, leastCosine: 0 });
  const tongues = longestEnds(samples, across, ratio)
    .filter(({ a }) => !rim[samples.outline[a]])
    .map((end) => ({ ...measureTongue(contours, samples, across, end), opening: openings[samples.outline[end.a]] }))
    .filter((t) => t.lengthMm > ratio * t.rootMm)
    .sort((p, q) => q.lengthMm * p.rootMm - p.lengthMm * q.rootMm);
  const seen = new Set<string>();
  return tongues.filter(({ tip }) => {
    const key = `${tip.x.toFixed(3)} ${tip.y.toFixed(3)}`;
    const first = !seen.has(key);
    seen.add(key);
    return first;
  });
}

/** The way of the spatula over the sheet. */
const WAYS: Readonly<Record<Stroke, Point>> = {
  down: { x: 0, y: 1 },
  up: { x: 0, y: -1 },
  left: { x: -1, y: 0 },
  right: { x: 1, y: 0 },
};

/** The tongues whose tips point towards the oncoming spatula, within 45°: it can catch and lift them. */
export function tonguesAgainst(tongues: readonly Tongue[], stroke: Stroke): Tongue[] {
  const way = WAYS[stroke];
  return tongues.filter(({ root, tip }) => {
    const dx = tip.x - root.x;
    const dy = tip.y - root.y;
    return dx * way.x + dy * way.y <= -Math.SQRT1_2 * Math.hypot(dx, dy) + 1e-9;
  });
}

/** The stroke with the least length of tongues against it; of equal ones the first of down, up, left, right. */
export function betterStroke(tongues: readonly Tongue[]): Stroke {
  const against = (stroke: Stroke): number => tonguesAgainst(tongues, stroke).reduce((sum, t) => sum + t.lengthMm, 0);
  let best: Stroke = 'down';
  for (const stroke of ['up', 'left', 'right'] as const) if (against(stroke) < against(best)) best = stroke;
  return best;
}

/** A stretch of outline around one free end, from sample `a` on to sample `b`. */
interface FreeEnd {
  readonly a: number;
  readonly b: number;
}

/** Free ends about as long as asked for, by half the outline around them. */
function longestEnds(samples: Samples, across: Across, ratio: number): FreeEnd[] {
  const { count, x, y } = samples;
  const widths = stripWidths(samples, across);
  const order = narrowestFirst(widths, { under: WIDEST_ROOT_MM });
  const strips = startStrips(samples, across);
  const along = lengthsAlong(samples);
  const runs = startRuns(samples, strips.has);
  const found: FreeEnd[] = [];
  // The best so far of each strip, for the sample that stands for it.
  const best = new Float64Array(count);
  const bestA = new Int32Array(count).fill(-1);
  const bestB = new Int32Array(count).fill(-1);
  const joined = (kept: number, lost: number): void => {
    if (best[lost] <= ratio && best[kept] <= ratio && best[lost] <= best[kept]) return;
    const better = best[lost] > best[kept] ? lost : kept;
    const other = better === lost ? kept : lost;
    if (best[other] > ratio) found.push({ a: bestA[other], b: bestB[other] });
    [best[kept], bestA[kept], bestB[kept]] = [best[better], bestA[better], bestB[better]];
  };
  let from = 0;
  for (let level = FIRST_ROOT_MM; from < order.length; level *= ROOT_STEP) {
    let to = from;
    for (; to < order.length && widths[order[to]] < level; to++) {
      strips.add(order[to], joined);
      runs.add(order[to]);
    }
    for (let k = from; k < to; k++) {
      const run = runs.endingAt(order[k]);
      const strip = strips.find(order[k]);
      // One run that is open: one exit.
      if (!run || strips.ends[strip] !== 2) continue;
      const [a, b] = run;
      const root = Math.hypot(x[a] - x[b], y[a] - y[b]);
      const part = along.between(a, b) / 2 / Math.max(root, level / ROOT_STEP);
      if (part <= best[strip] * AS_LONG) continue;
      best[strip] = Math.max(best[strip], part);
      bestA[strip] = a;
      bestB[strip] = b;
    }
    from = to;
  }
  for (let k = 0; k < order.length; k++) {
    const i = order[k];
    if (strips.find(i) === i && best[i] > ratio) found.push({ a: bestA[i], b: bestB[i] });
  }
  return found;
}

/** Runs of neighbouring samples along the outlines. */
function startRuns(samples: Samples, has: (i: number) => boolean) {
  const other = new Int32Array(samples.count).fill(-1);
  return {
    add(i: number): void {
      const before = sampleBefore(samples, i);
      const after = sampleAfter(samples, i);
      const a = before !== i && other[before] >= 0 ? other[before] : i;
      const b = after !== i && other[after] >= 0 ? other[after] : i;
      other[i] = i;
      other[a] = b;
      other[b] = a;
    },
    /** The run of which a sample is an end, from its first to its last sample; null within runs and for closed ones. */
    endingAt(i: number): [number, number] | null {
      const first = !has(sampleBefore(samples, i));
      const last = !has(sampleAfter(samples, i));
      if (first) return [i, other[i]];
      return last ? [other[i], i] : null;
    },
  };
}

/** Lengths of outline by chords. */
function lengthsAlong(samples: Samples) {
  const { count, x, y, start, outline } = samples;
  const sum = new Float64Array(count);
  const whole = new Float64Array(start.length);
  for (let i = 0; i < count; i++) {
    const k = outline[i];
    const next = sampleAfter(samples, i);
    const d = Math.hypot(x[next] - x[i], y[next] - y[i]);
    if (i + 1 < start[k + 1]) sum[i + 1] = sum[i] + d;
    whole[k] = sum[i] + d;
  }
  return {
    /** From one sample on to another of the same outline. */
    between: (a: number, b: number): number => (b >= a ? sum[b] - sum[a] : whole[outline[a]] - sum[a] + sum[b]),
  };
}

/** The middle line of a free end: from its root to the farthest tip. */
function measureTongue(
  contours: readonly Contour[],
  samples: Samples,
  across: Across,
  { a, b }: FreeEnd,
): Omit<Tongue, 'opening'> {
  const { x, y, nx, mx, start, outline } = samples;
  const { mate, facing, cx, cy } = across;
  // At corners the way across itself: centres of wider discs that touch two corners lie beside it.
  const midX = (i: number): number => (nx[i] === mx[i] ? cx[i] : (x[i] + x[mate[i]]) / 2);
  const midY = (i: number): number => (nx[i] === mx[i] ? cy[i] : (y[i] + y[mate[i]]) / 2);
  const first = start[outline[a]];
  const n = start[outline[a] + 1] - first;
  const place = (i: number): number => (outline[i] === outline[a] ? (i - a + n) % n : -1);
  const length = place(b);
  const { rootMm, root } = rootOf(contours[outline[a]], samples, { a, b });
  // Discs that touch both sides, each within those nearer to the root: as they branch, so does the tongue.
  const stack = [{ to: length, x: root.x, y: root.y, far: 0 }];
  let best = { from: 0, to: length, x: root.x, y: root.y, far: 0 };
  for (let p = 0; p <= length; p++) {
    const i = first + ((a - first + p) % n);
    if (mate[i] < 0 || facing[i] < FACING) continue;
    const to = place(mate[i]);
    if (to <= p || to > length) continue;
    while (stack.length > 1 && stack[stack.length - 1].to < p) stack.pop();
    const below = stack[stack.length - 1];
    const [atX, atY] = [midX(i), midY(i)];
    const far = below.far + Math.hypot(atX - below.x, atY - below.y);
    stack.push({ to, x: atX, y: atY, far });
    if (far > best.far) best = { from: p, to, x: atX, y: atY, far };
  }
  let tip = { x: best.x, y: best.y };
  let rest = 0;
  for (let p = best.from; p <= best.to; p++) {
    const i = first + ((a - first + p) % n);
    const d = Math.hypot(x[i] - best.x, y[i] - best.y);
    if (d > rest) {
      rest = d;
      tip = { x: x[i], y: y[i] };
    }
  }
  return { rootMm, lengthMm: best.far + rest, root, tip };
}

/** The root straight across: from the one of its two ends that is nearer to the other bank. */
function rootOf(contour: Contour, { u, x, y }: Samples, { a, b }: FreeEnd): { rootMm: number; root: Point } {
  const windowMm = Math.hypot(x[a] - x[b], y[a] - y[b]) / 2;
  const spans = [
    [a, b],
    [b, a],
  ].map(([from, to]) => {
    const p = { x: x[from], y: y[from] };
    const q = placeAt(contour, nearestNear(contour, u[to], p, windowMm));
    return { rootMm: distance(q, p), root: middle(p, q) };
  });
  return spans[0].rootMm <= spans[1].rootMm ? spans[0] : spans[1];
}

function closed(contour: Contour): Contour {
  return { closed: true, coords: closedCoords(contour.coords) };
}
