import { boxContour, reverseContour } from '../geometry/contour.js';
import { segmentMiddle } from '../geometry/segments.js';
import { closedCoords } from '../geometry/settle.js';
import type { Contour, Point } from '../geometry/types.js';
import { type Across, localWidth } from './across.js';
import { alongOutline } from './along-outline.js';
import { closestSpan } from './closest.js';
import { discSpan } from './disc-span.js';
import { evenRuns } from './even-runs.js';
import { layRings, type Rings } from './hanging.js';
import { type Between, type Samples, sampleAfter, sampleBefore, sampleOutlines } from './samples.js';
import { FACING, measureStretches } from './stretches.js';
import { type ThroughPlaces, throughPlaces } from './through-places.js';
import type { CutPaper, NarrowPlace } from './types.js';

/** Samples to the length of the limit. */
const SAMPLES_TO_LIMIT = 8;
/** Strips are followed up to this times the limit. */
const REACH = 1.3;
/** A strip must widen by a tenth on both sides of a narrow place. */
const RISE = 1.1;
/** Two widths that differ by less are the same in an even strip, mm. */
const PLATEAU_MM = 1e-4;
/** A place that gets narrower by more than this when it is looked for on the curves (share, and mm) was on a slope and is none. */
const SLOPE_SHARE = 0.1;
const SLOPE_MM = 0.02;
/**
 * Dead-ended strips thinner and shorter than this are the curls of outlines that run a little past a tip, mm: they are not cut (a knife is good to about
 * 0.2 mm).
 */
const SPECK_WIDTH_MM = 0.02;
const SPECK_LENGTH_MM = 1;

/** Two banks that are no farther from each other along one outline are sides of a nick smaller than a knife's point, mm. */
const CORNER_MM = 0.1;

export interface NarrowOptions {
  /** What is narrower is reported. */
  readonly limitMm: number;
  /** What falls short of the limit by less is let pass. */
  readonly slackMm?: number;
  /** How much a strip must widen on both sides of a place, as a factor from 1. */
  readonly rise?: number;
}

/**
 * The necks of the paper: places where a strip of it is narrower than `limitMm`, with the exact width on the curves. The width of a strip is that of the largest
 * disc of paper that touches its bank. What counts:
 * - a strip that leads from wide paper to wide paper: its narrowest place, and every other place from which it widens by a tenth on both
 *   sides before it gets narrower again. A strip of even width is one place, in its middle. Where strips meet, each has its own.
 * - a strip with one free end, or narrow paper all by itself: only where it keeps its width (within a tenth) over more than three widths.
 * So a tip that tapers, a corner, a shallow notch, a wavy edge and the small corners of a flattened curve are no necks: no strip leads through them, or it
 * hardly widens beside them. The edge of the sheet is a bank too (opening -1). A place is weak where both its points lie on one outline: see
 * `layRings`. Outlines that touch each other are two outlines. Narrower than the slack below the limit only.
 */
export function findNecks(paper: CutPaper, options: NarrowOptions): NarrowPlace[] {
  const edge = reverseContour(boxContour(paper.edge));
  const contours = [...paper.outlines.map((o) => closed(o.contour)), edge];
  const openings = [...paper.outlines.map((o) => o.opening), -1];
  const rings = layRings(contours, { edged: true });
  return narrowPlaces(contours, rings, { ...options, between: 'paper' }).map((place) => {
    const { from, to } = place;
    const weak = from.outline === to.outline;
    return {
      ...shown(place),
      openings: [openings[from.outline], openings[to.outline]],
      weak,
      hangsMm2: weak ? rings.hanging({ outline: from.outline, fromU: from.u, toU: to.u }) : 0,
    };
  });
}

/**
 * The slits: places where an opening is narrower than `limitMm`. As `findNecks`, with the opening for the strip; and an opening that is narrow
 * everywhere and has no such place (a small hole) is one slit, as wide as the largest disc in it.
 */
export function findSlits(paper: CutPaper, options: NarrowOptions): NarrowPlace[] {
  const contours = paper.outlines.map((o) => closed(o.contour));
  return narrowPlaces(contours, layRings(contours, { edged: false }), { ...options, between: 'opening' }).map(
    (place) => {
      const { opening } = paper.outlines[place.from.outline];
      return { ...shown(place), openings: [opening, opening], weak: false, hangsMm2: 0 };
    },
  );
}

/** Whether both banks are the sides of one corner, so near along the outline that nothing but a nick lies between. */
function isCorner({ from, to }: Place, contours: readonly Contour[]): boolean {
  if (from.outline !== to.outline) return false;
  return alongOutline(contours[from.outline].coords, from.u, to.u, CORNER_MM) <= CORNER_MM;
}

interface Bank {
  readonly outline: number;
  readonly u: number;
  readonly x: number;
  readonly y: number;
}

interface Place {
  readonly from: Bank;
  readonly to: Bank;
  readonly at: Point;
  readonly widthMm: number;
  readonly lengthMm: number;
}

function shown({ from, to, at, widthMm, lengthMm }: Place) {
  return {
    widthMm,
    from: { x: from.x, y: from.y },
    to: { x: to.x, y: to.y },
    atMm: at,
    lengthMm,
  };
}

/** Narrow places of the material between banks, in the order of their outlines. */
function narrowPlaces(
  contours: readonly Contour[],
  rings: Rings,
  options: NarrowOptions & { between: Between },
): Place[] {
  const { limitMm, slackMm = 0.01, rise = RISE, between } = options;
  if (!(limitMm > 0)) return [];
  const spacingMm = limitMm / SAMPLES_TO_LIMIT;
  const reachMm = limitMm * REACH;
  const samples = sampleOutlines(contours, { spacingMm, between });
  const across = localWidth(samples, { reachMm, leastCosine: 0 });
  const found = throughPlaces(samples, across, { limitMm, reachMm, rise });
  const stretches = measureStretches(samples, across, { limitMm });
  const places: Place[] = [];
  const keep = (place: Place | null): void => {
    if (!place || place.widthMm >= limitMm - slackMm || isCorner(place, contours)) return;
    // Where an outline curls, its wrong side looks out: what lies between must be the material.
    if (place.widthMm >= SPECK_WIDTH_MM && rings.isCut(place.at) !== (between === 'opening')) return;
    places.push(place);
  };
  for (const i of found.places) {
    const middle = middleOf(samples, across, i);
    keep(exactPlace(contours, samples, across, middle, { spacingMm, lengthMm: stretches.lengthAt(middle) }));
  }
  const { runs, holes } = otherStrips(samples, across, found, between);
  for (const i of [...runs, ...holes]) {
    const place = discPlace(contours, samples, across, i, { spacingMm, lengthMm: stretches.lengthAt(i) });
    if (place.widthMm >= SPECK_WIDTH_MM || place.lengthMm >= SPECK_LENGTH_MM) keep(place);
  }
  return places.sort((p, q) => p.from.outline - q.from.outline || p.from.u - q.from.u);
}

/** Dead-ended strips of even width, and openings that are narrow everywhere and have nothing else (at their widest). */
function otherStrips(samples: Samples, across: Across, found: ThroughPlaces, between: Between) {
  const { strip, exits, places } = found;
  const told = new Set(places.map((i) => strip[i]));
  const asked = (root: number): boolean => exits[root] < 2 && !told.has(root);
  const even = evenRuns(samples, across, { strip, asked });
  const widest = new Map<number, number>();
  if (between === 'opening') {
    for (let i = 0; i < samples.count; i++) {
      const root = strip[i];
      if (root < 0 || exits[root] > 0 || !asked(root) || even.has(root)) continue;
      if (across.mate[i] < 0 || across.facing[i] < FACING) continue;
      const best = widest.get(root);
      // The longest way across: a disc that touches on the far side, not beside.
      if (best === undefined || chord(across, i) > chord(across, best)) widest.set(root, i);
    }
  }
  return { runs: [...even.values()].map((r) => r.at), holes: [...widest.values()] };
}

function chord({ width, facing }: Across, i: number): number {
  return width[i] * facing[i];
}

/** The middle of the samples around `i` that are as narrow: an even strip is marked in its middle. */
function middleOf(samples: Samples, { width, mate }: Across, i: number): number {
  const { outline, count } = samples;
  const alike = (j: number): boolean =>
    mate[j] >= 0 && Math.abs(width[j] - width[i]) <= PLATEAU_MM && outline[mate[j]] === outline[mate[i]];
  let [first, last, n] = [i, i, 0];
  while (n < count && alike(sampleBefore(samples, first)) && sampleBefore(samples, first) !== last) {
    first = sampleBefore(samples, first);
    n++;
  }
  while (n < count && alike(sampleAfter(samples, last)) && sampleAfter(samples, last) !== first) {
    last = sampleAfter(samples, last);
    n++;
  }
  let middle = first;
  for (let k = 0; k < n >> 1; k++) middle = sampleAfter(samples, middle);
  return middle;
}

interface ExactOptions {
  readonly spacingMm: number;
  readonly lengthMm: number;
}

function exactPlace(
  contours: readonly Contour[],
  { outline, u }: Samples,
  { width, mate }: Across,
  i: number,
  { spacingMm, lengthMm }: ExactOptions,
): Place | null {
  const j = mate[i];
  const [a, b] = [outline[i], outline[j]];
  const span = closestSpan(
    { contour: contours[a], u: u[i] },
    { contour: contours[b], u: u[j] },
    { windowMm: 2 * spacingMm },
  );
  if (span.lengthMm < width[i] * (1 - SLOPE_SHARE) - SLOPE_MM) return null;
  return {
    from: { outline: a, u: span.fromU, ...span.from },
    to: { outline: b, u: span.toU, ...span.to },
    at: segmentMiddle(span),
    widthMm: span.lengthMm,
    lengthMm,
  };
}

/** Places from which the strip gets narrower to one side: there is no shortest way across, so the disc itself is measured. */
function discPlace(
  contours: readonly Contour[],
  { outline, u, x, y }: Samples,
  { mate, cx, cy }: Across,
  i: number,
  { spacingMm, lengthMm }: ExactOptions,
): Place {
  const [a, b] = [outline[i], outline[mate[i]]];
  const radius = Math.hypot(cx[i] - x[i], cy[i] - y[i]) || 1;
  const normal = { x: (cx[i] - x[i]) / radius, y: (cy[i] - y[i]) / radius };
  const span = discSpan(
    { contour: contours[a], u: u[i] },
    { contour: contours[b], u: u[mate[i]] },
    { normal, windowMm: spacingMm },
  );
  return {
    from: { outline: a, u: u[i], ...span.from },
    to: { outline: b, u: span.toU, ...span.to },
    at: { x: span.from.x + (normal.x * span.lengthMm) / 2, y: span.from.y + (normal.y * span.lengthMm) / 2 },
    widthMm: span.lengthMm,
    lengthMm,
  };
}

function closed(contour: Contour): Contour {
  return { closed: true, coords: closedCoords(contour.coords) };
}
