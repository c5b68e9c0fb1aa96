import { InputError } from '../units/input-error.js';
import { paperCurve } from './paper.js';
import { subCubic } from './sub-cubic.js';
import type { Contour } from './types.js';

/** Most dashes on one outline; more is a mistake in the drawing, not a line to cut. */
const MAX_DASHES = 20_000;

/**
 * The pieces of an outline that a dash pattern leaves, as open contours. Lengths are those of the contour's own space. An odd
 * pattern is taken twice (SVG 2, "stroke-dasharray"); one without a positive sum, or with a negative length, leaves the outline whole.
 */
export function dashContour(contour: Contour, dash: readonly number[], offset: number): Contour[] {
  const pattern = dash.length % 2 === 1 ? [...dash, ...dash] : dash;
  const period = pattern.reduce((sum, d) => sum + d, 0);
  if (pattern.length === 0 || !(period > 0) || pattern.some((d) => d < 0)) return [contour];
  const pieces = (contour.coords.length - 2) / 6;
  const lengths = Array.from({ length: pieces }, (_, k) => paperCurve(contour.coords, 6 * k).length);
  const total = lengths.reduce((sum, l) => sum + l, 0);
  if (total / period > MAX_DASHES) {
    throw new InputError(
      `A dashed outline of ${Math.round(total)} mm has more than ${MAX_DASHES} dashes; make its dashes longer or draw them as shapes.`,
    );
  }
  const out: Contour[] = [];
  let index = 0;
  let phase = ((offset % period) + period) % period;
  while (phase >= pattern[index]) {
    phase -= pattern[index];
    index = (index + 1) % pattern.length;
  }
  let at = 0;
  let left = pattern[index] - phase;
  while (at < total) {
    const end = Math.min(total, at + left);
    if (index % 2 === 0) out.push(subContour(contour, lengths, at, end));
    at = end;
    index = (index + 1) % pattern.length;
    left = pattern[index];
    if (at >= total) break;
  }
  return out;
}

/** The open part of a contour between two arc lengths. */
function subContour(contour: Contour, lengths: readonly number[], from: number, to: number): Contour {
  const coords: number[] = [];
  let start = 0;
  for (let k = 0; k < lengths.length; k++) {
    const end = start + lengths[k];
    if (end >= from && start <= to && lengths[k] > 0 && (to > from ? end > from && start < to : coords.length === 0)) {
      const curve = paperCurve(contour.coords, 6 * k);
      const t0 = from <= start ? 0 : curve.getTimeAt(Math.min(lengths[k], from - start));
      const t1 = to >= end ? 1 : curve.getTimeAt(Math.max(0, to - start));
      const part = subCubic(contour.coords, 6 * k, t0, t1);
      coords.push(...(coords.length === 0 ? part : part.subarray(2)));
    }
    start = end;
  }
  return { closed: false, coords: Float64Array.from(coords) };
}
