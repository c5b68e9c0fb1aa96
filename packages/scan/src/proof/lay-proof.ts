import { type GreyImage, InputError, type Point, type Sheet } from '@okuri/core';
import { cornerDots, type Dot, distance, dotFrame, type Homography, type LaidProof } from '@okuri/core/inside';
import { dotCentres } from '../scale/dot-centres.js';
import { DOT_PX_MIN, findDots } from '../scale/find-dots.js';
import { homographyFrom } from '../scale/fit-homography.js';
import { applyHomography, invertHomography, localAreaScale } from '../scale/homography.js';
import type { FoundDot, PictureScale } from '../types.js';
import { type Agreement, agreementOf, mayAgree } from './agreement.js';
import { type CheckPoints, checkPoints } from './check-points.js';
import { type CoarseLook, coarseLook, mirroredLook, negative } from './coarse-look.js';
import type { DotMatch, Mark } from './dot-matches.js';
import { pairMatches } from './dot-pairs.js';
import { dotQuads, type QuadWay, visitQuads, visitTriples } from './dot-quads.js';
import { fitLaying, mapOf, matchAll } from './fit-laying.js';
import { notLaid, notLaidByPoints, seenFromBehind, tooCoarse } from './lay-words.js';
import { outerMarks } from './outer-marks.js';
import { plannedRings } from './planned-edges.js';

export interface LayProofOptions {
  /** How the picture lies on the paper, from something else than the dots: a flatbed's resolution, or four places of known distance. Null in a photograph. */
  readonly scale?: PictureScale | null;
  /** Where the corner dots lie, as a person gives it, px: upper left, upper right, lower right, lower left of the printed sheet. */
  readonly corners?: readonly Point[] | null;
  /** The light parts are the print: a discharge, or a resist on dark cloth. */
  readonly light?: boolean;
}

/** Least agreement above chance: 1 is a print of the plan, 0 one of something else. */
export const AGREES = 0.5;

/** The same where a slanting view could not be set right. */
const AGREES_ABOUT = 0.35;

/** Diameters that printed dots may have, as multiples of the smallest and the largest hole. */
const DIAMETERS = { least: 0.6, most: 2.6 } as const;

/** A dot of fewer px across is a speck, however much its paste spread. */
const SEEN_PX = DOT_PX_MIN + 1;

/** In a photograph the dots' frame takes at least this share of the picture's diagonal. */
const FRAME_SHARE = 0.25;

/** At most so many marks are tried as dots: the roundest ones of a scan, those farthest out in a photograph. */
const MARKS_MAX = { pairs: 500, quads: 60, thrice: 30 } as const;

/** Other dots than the corners are tried in a photograph where they take at least this share of the corners' area. */
const QUAD_SHARE = 0.45;

/** Ways that pass the quick test are looked at closer with so many places of either kind; the best of them with all. */
const CLOSER = 150;
const BEST = 12;

/** Places that a person points out are good to about this, mm: a printed dot within it is taken. */
const POINTED_MM = 3;

/** A way of laying the print that was looked at. */
interface LaidTry {
  readonly matches: readonly DotMatch[];
  /** Sheet mm → px. */
  readonly toPicture: Homography;
  readonly agreement: Agreement;
}

/**
 * Lays a picture of a printed proof over its sheet: finds the printed dots, matches them to the sheet's, and holds every likely way against the planned first cut, so
 * that neither turns by 180° nor round berries of the motif mislead. With a scale of its own the print is only turned and shifted, and differences in size show
 * (where the dots lie farther from their places than a hole can be off, all of them carry the print: see `fitLaying`); without, the dots
 * themselves take away scale and slant. Throws an `InputError` where nothing agrees.
 */
export function layProof(picture: GreyImage, sheet: Sheet, options: LayProofOptions = {}): LaidProof {
  const { scale = null, corners = null, light = false } = options;
  const image = light ? negative(picture) : picture;
  const points = checkPoints(sheet, plannedRings(sheet));
  const look = coarseLook(image);
  const found = findDots(image, diametersIn(image, sheet, scale));
  const search: Search = { sheet, scale, found, points, look, width: image.width };
  if (corners !== null) return layByCorners(search, corners);
  const way = bestWay(search, scale);
  if (way !== null && way.agreement.aboveChance >= AGREES) return laidBy(way, search, scale);
  // A stated resolution may be none: then the picture is taken for a photograph.
  const free =
    scale === null ? null : bestWay({ ...search, found: findDots(image, diametersIn(image, sheet, null)) }, null);
  if (free !== null && free.agreement.aboveChance >= AGREES) return laidBy(free, search, null);
  const mirrored =
    bestWay(mirroredSearch(search), scale) ?? (scale === null ? null : bestWay(mirroredSearch(search), null));
  if (mirrored !== null && mirrored.agreement.aboveChance >= AGREES) throw seenFromBehind();
  const some = scale === null ? partOfDots(search) : null;
  throw notLaid(sheet.dots, { marks: found.length, best: best(way, free)?.agreement ?? null, some });
}

interface Search {
  readonly sheet: Sheet;
  readonly scale: PictureScale | null;
  readonly found: readonly FoundDot[];
  readonly points: CheckPoints;
  readonly look: CoarseLook;
  /** Of the picture, px. */
  readonly width: number;
}

/** The picture seen from behind; its scale is no longer that of its places, so only what is even all over is kept of it. */
function mirroredSearch(search: Search): Search {
  const { width, found, look, scale } = search;
  const mirror: Homography = [-1, 0, width, 0, 1, 0, 0, 0, 1];
  return {
    ...search,
    found: found.map((dot) => ({ ...dot, at: applyHomography(mirror, dot.at) })),
    look: mirroredLook(look),
    scale:
      scale === null
        ? null
        : { ...scale, toMm: [1 / scale.pixelsPerMm, 0, 0, 0, 1 / scale.pixelsPerMm, 0, 0, 0, 1] as const },
  };
}

/** Diameters in which the dots' prints are looked for, px. */
function diametersIn(image: GreyImage, sheet: Sheet, scale: PictureScale | null) {
  const sizes = sheet.dots.map(({ diameterMm }) => diameterMm);
  const px = scale === null ? scaleIn(image, sheet.dots) : { min: scale.pixelsPerMm, max: scale.pixelsPerMm };
  const maxDiameterPx = DIAMETERS.most * Math.max(...sizes) * px.max;
  const minDiameterPx = Math.max(DOT_PX_MIN, DIAMETERS.least * Math.min(...sizes) * px.min);
  if (Math.max(...sizes) * px.max < SEEN_PX) throw tooCoarse(Math.max(...sizes) * px.max);
  return { minDiameterPx, maxDiameterPx };
}

/** The px that a mm may have in a photograph of the whole sheet. */
function scaleIn({ width, height }: Pick<GreyImage, 'width' | 'height'>, dots: readonly Dot[]) {
  const frame = dotFrame(dots);
  const max = (1.2 * Math.hypot(width, height)) / Math.hypot(frame.x1 - frame.x0, frame.y1 - frame.y0);
  return { min: (FRAME_SHARE / 1.2) * max, max };
}

function bestWay(search: Search, scale: PictureScale | null): LaidTry | null {
  const likely = scale === null ? photographWays(search) : scannedWays(search);
  const few = likely.sort((a, b) => rank(b) - rank(a)).slice(0, BEST);
  return few
    .map((way): LaidTry => ({ ...way, agreement: agreementOf(way.toPicture, search.points, { look: search.look }) }))
    .reduce<LaidTry | null>(best, null);
}

function best(a: LaidTry | null, b: LaidTry | null): LaidTry | null {
  return a === null || (b !== null && rank(b) > rank(a)) ? b : a;
}

/** Agreement first; of ways that agree alike the one that finds more dots. */
function rank({ agreement, matches }: LaidTry): number {
  return agreement.aboveChance + 0.02 * matches.length;
}

function lookAt(search: Search, way: Omit<LaidTry, 'agreement'>, into: LaidTry[]): void {
  const { points, look } = search;
  if (!mayAgree(way.toPicture, points, look)) return;
  into.push({ ...way, agreement: agreementOf(way.toPicture, points, { look, most: CLOSER }) });
}

function scannedWays(search: Search): LaidTry[] {
  const { found, scale, sheet } = search;
  if (scale === null) throw new RangeError('got no scale, expected that of a scan');
  const marks = roundest(found, MARKS_MAX.pairs).map((dot): Mark => {
    const size = Math.sqrt(Math.abs(localAreaScale(scale.toMm, dot.at)));
    return { dot, at: applyHomography(scale.toMm, dot.at), diameter: dot.diameter * size };
  });
  const ways: LaidTry[] = [];
  const all = pairMatches(sheet.dots, marks);
  for (const matches of all) {
    const toPicture = mapOf(matches);
    if (toPicture !== null) lookAt(search, { matches, toPicture }, ways);
  }
  if (ways.length > 0) return ways;
  // Where all dots are there but the print is another: told by how little of it agrees.
  const whole = all.find((matches) => matches.length === sheet.dots.length);
  const toPicture = whole === undefined ? null : mapOf(whole);
  return whole === undefined || toPicture === null
    ? []
    : [{ matches: whole, toPicture, agreement: agreementOf(toPicture, search.points, { look: search.look }) }];
}

function photographWays(search: Search): LaidTry[] {
  const marks = outerMarks(search.found, MARKS_MAX.quads).map(inPx);
  for (const quad of dotQuads(search.sheet.dots, QUAD_SHARE)) {
    const ways: LaidTry[] = [];
    visitQuads(quad, marks, { scale: photographScale(search), visit: looking(search, ways) });
    // Four other dots are tried only where these four were not found.
    if (ways.some(({ agreement }) => agreement.aboveChance >= AGREES)) return ways;
  }
  return [];
}

/** Three dots that are there where four are not; null where not even three agree. */
function partOfDots(search: Search): readonly Dot[] | null {
  const ways: LaidTry[] = [];
  visitTriples(dotQuads(search.sheet.dots, QUAD_SHARE), outerMarks(search.found, MARKS_MAX.thrice).map(inPx), {
    scale: photographScale(search),
    visit: looking(search, ways),
  });
  const way = ways.reduce<LaidTry | null>(best, null);
  return way !== null && way.agreement.aboveChance >= AGREES_ABOUT ? way.matches.map(({ dot }) => dot) : null;
}

function looking(search: Search, ways: LaidTry[]): (way: QuadWay) => void {
  return ({ dots, marks, toPicture }) =>
    lookAt(search, { matches: dots.map((dot, k) => ({ dot, mark: marks[k] })), toPicture }, ways);
}

function photographScale({ look, sheet }: Search) {
  return scaleIn({ width: look.width * look.factor, height: look.height * look.factor }, sheet.dots);
}

function inPx(dot: FoundDot): Mark {
  return { dot, at: dot.at, diameter: dot.diameter };
}

function roundest(found: readonly FoundDot[], most: number): readonly FoundDot[] {
  return found.length <= most ? found : found.toSorted((a, b) => b.roundness - a.roundness).slice(0, most);
}

function layByCorners(search: Search, corners: readonly Point[]): LaidProof {
  const { sheet, found, points, look } = search;
  if (corners.length !== 4) throw new RangeError(`got ${corners.length} places, expected those of four dots`);
  const own = cornerDots(sheet.dots).corners;
  const dots = [own.upperLeft, own.upperRight, own.lowerRight, own.lowerLeft];
  const toPicture = homographyFrom(dots.map((dot, k) => ({ from: dot.at, to: corners[k] })));
  const back = toPicture === null ? null : invertHomography(toPicture);
  if (toPicture === null || back === null) throw notLaidByPoints(dots, null);
  // Where a dot printed near the place, its middle is better than a hand.
  const matches = dots.map((dot, k): DotMatch => {
    const near = found
      .map((mark) => ({ mark, away: distance(applyHomography(back, mark.at), dot.at) }))
      .filter(({ away }) => away <= POINTED_MM)
      .sort((a, b) => a.away - b.away)[0]?.mark;
    const mark = near ?? { at: corners[k], diameter: 0, roundness: 1 };
    return { dot, mark: { dot: mark, at: mark.at, diameter: mark.diameter } };
  });
  const better = mapOf(matches) ?? toPicture;
  const agreement = agreementOf(better, points, { look });
  if (agreement.aboveChance < AGREES) throw notLaidByPoints(dots, agreement);
  return { ...laidBy({ matches, toPicture: better, agreement }, search, search.scale), by: 'points' };
}

function laidBy(way: LaidTry, search: Search, scale: PictureScale | null): LaidProof {
  const { sheet, found, points, look } = search;
  const matches = matchAll(sheet.dots, found, way);
  const centred = withCentres(matches, mapOf(matches) ?? way.toPicture);
  const { toSheet, frame } = fitLaying(centred, scale);
  const toPicture = invertHomography(toSheet);
  if (toPicture === null)
    throw new InputError('The dots in the picture lie on one line and fix no place: take the picture from above.');
  const dots = centred.map(({ dot, mark }) => ({
    name: dot.name,
    at: mark.at,
    offMm: distance(applyHomography(toSheet, mark.at), dot.at),
  }));
  const middle = { x: (look.width * look.factor) / 2, y: (look.height * look.factor) / 2 };
  const carrying = mapOf(centred) ?? toPicture;
  return {
    toSheet,
    by: 'dots',
    frame,
    scale: scale === null ? null : { toMm: scale.toMm, words: scale.words },
    dots,
    missingDots: sheet.dots.filter((dot) => !matches.some((match) => match.dot === dot)).map(({ name }) => name),
    pixelsPerMm: 1 / Math.sqrt(Math.abs(localAreaScale(toSheet, middle))),
    agreement: agreementOf(carrying, points, { look }).share,
  };
}

/** The true middles of dots that are seen at a slant. */
function withCentres(matches: readonly DotMatch[], toPicture: Homography): DotMatch[] {
  const toMm = invertHomography(toPicture);
  if (toMm === null) return [...matches];
  const centres = dotCentres(
    matches.map(({ mark }) => mark.dot),
    { toMm, toPicture },
  );
  return matches.map(({ dot, mark }, k) => ({
    dot,
    mark: { ...mark, at: centres[k], dot: { ...mark.dot, at: centres[k] } },
  }));
}
