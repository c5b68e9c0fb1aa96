import { createRequire } from 'node:module';
import type { Point } from '@okuri/core';
import { contourArea, findNecks, findSlits, type NarrowPlace, type SheetOutline } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { describe, expect, it } from 'vitest';
import { distanceTo, type InkPicture, inkPicture, type Pass, thinPasses } from './support/distance.js';
import { type Ring, ringOf } from './support/flatten.js';
import { layMotif, STRAIGHT, tileOf } from './support/pattern.js';

// Necks and slits of real motifs against a picture that knows nothing of outlines: an independent renderer (resvg 2.6.2) draws the motif, and the exact
// Euclidean distance of every pixel to the other bank says how wide paper and openings are. Both ways: every place reported has that width in the
// picture; and with every place reported closed by a wall, no two thick parts of the picture still meet through something thin. Where the two
// differ, the reason is measured; the count of differences without a reason is 0.

const require = createRequire(import.meta.url);

const SIZE_MM = 48;
/** A tenth of a millimetre to the pixel. */
const PX_PER_MM = 10;
const PX = SIZE_MM * PX_PER_MM;
/** For paper and openings alike, so that there is much to find. */
const LIMIT_MM = 2;
const LIMIT_PX = LIMIT_MM * PX_PER_MM;
const EDGE = { x0: 0, y0: 0, x1: SIZE_MM, y1: SIZE_MM };

/** Widths of the picture and of the outlines differ by no more, px: each bank is drawn to half a pixel, and to an eighth for resvg's 4 × 4 samples. */
const WIDTH_PX = 1.25;
/** How clearly thick or thin a part of the picture must be to count, px: three quarters of a pixel on either bank. */
const CLEAR_PX = 1.5;

interface Drawing {
  readonly name: string;
  readonly svg: string;
}

/** Every `every`-th silhouette of the set of game icons, with a margin of an eighth all around. */
function silhouettes(every: number): Drawing[] {
  const name = '@iconify-json/game-icons';
  expect(require(`${name}/package.json`).version).toBe('1.2.4');
  const { icons } = require(`${name}/icons.json`) as { icons: Record<string, { body: string }> };
  return Object.keys(icons)
    .sort()
    .filter((_, k) => k % every === 3)
    .map((key) => ({
      name: key,
      svg: `<svg xmlns="http://www.w3.org/2000/svg" viewBox="-64 -64 640 640">${icons[key].body}</svg>`,
    }));
}

/** The outlines of a drawing's openings as they are cut. */
function outlinesOf(svg: string): SheetOutline[] {
  const motif = readSvg(svg, { widthMm: SIZE_MM });
  const pattern = layMotif(motif, { repeat: STRAIGHT, spill: 'trim' });
  let opening = -1;
  return tileOf(pattern)
    .inks.flatMap((ink) => ink.contours)
    .map((contour) => {
      // Each opening's outside comes first, its rims after it.
      if (contourArea(contour) > 0) opening++;
      return { contour, opening };
    });
}

/** Where a place of the drawing lies in the picture, counted in middles of pixels. */
function pixelOf(p: Point): Point {
  return { x: p.x * PX_PER_MM - 0.5, y: p.y * PX_PER_MM - 0.5 };
}

/** A span in the picture. */
type Span = ReturnType<typeof spanOf>;

/** A span in the picture: its ends, its direction and its length, px. */
function spanOf(place: NarrowPlace) {
  const [from, to, middle] = [place.from, place.to, place.atMm].map(pixelOf);
  const lengthPx = Math.hypot(to.x - from.x, to.y - from.y);
  const [ux, uy] = lengthPx > 0 ? [(to.x - from.x) / lengthPx, (to.y - from.y) / lengthPx] : [1, 0];
  return { from, to, middle, ux, uy, lengthPx };
}

/**
 * The width of the picture along a span, px: from half a pixel before its middle to the one bank, from half a pixel behind it to the other, and what lies
 * between; less one, for distances run from the middle of a pixel to the middle of another.
 */
function pictureWidth(distances: Float64Array, widthPx: number, { middle, ux, uy }: Span): number {
  const p = { x: Math.round(middle.x - ux / 2), y: Math.round(middle.y - uy / 2) };
  const q = { x: Math.round(middle.x + ux / 2), y: Math.round(middle.y + uy / 2) };
  const apart = Math.abs((q.x - p.x) * ux + (q.y - p.y) * uy);
  return distances[p.y * widthPx + p.x] + distances[q.y * widthPx + q.x] + apart - 1;
}

/** How many times finer the renderer draws once more around a place where it differs, and how far beyond the place's banks, px. */
const FINER = 16;
const AROUND_PX = 8;

/** The same in a picture of the place alone, drawn `FINER` times finer, in the coarse picture's px. */
function finerWidth(svg: string, value: 0 | 1, span: Span): number {
  const half = Math.ceil(span.lengthPx / 2) + AROUND_PX;
  const x0 = Math.round(span.middle.x) - half;
  const y0 = Math.round(span.middle.y) - half;
  const side = 2 * half;
  const unit = 640 / PX;
  const window = [-64 + x0 * unit, -64 + y0 * unit, side * unit, side * unit].join(' ');
  const picture = inkPicture(svg.replace(/viewBox="[^"]*"/, `viewBox="${window}"`), side * FINER);
  const middle = {
    x: (span.middle.x + 0.5 - x0) * FINER - 0.5,
    y: (span.middle.y + 0.5 - y0) * FINER - 0.5,
  };
  return pictureWidth(distanceTo(picture, value), picture.widthPx, { ...span, middle }) / FINER;
}

/**
 * Walls one pixel to either side of each span; from its ends on until they have met `solid.px` of the other bank in the picture, at most `solid.reachPx`
 * far. Places narrower than a pixel have no direction: their walls run all around, as far as the picture shows no bank.
 */
function wallsOf(
  places: readonly NarrowPlace[],
  distances: Float64Array,
  solid: { readonly px: number; readonly reachPx: number },
): Uint8Array {
  const walls = new Uint8Array(distances.length);
  for (const span of places.map(spanOf)) {
    const { from, to, lengthPx } = span;
    const turns = lengthPx < 1 ? 12 : 1;
    for (let turn = 0; turn < turns; turn++) {
      const [c, n] = [Math.cos((Math.PI * turn) / turns), Math.sin((Math.PI * turn) / turns)];
      const ux = c * span.ux - n * span.uy;
      const uy = n * span.ux + c * span.uy;
      const reachPx = turns > 1 ? LIMIT_PX : solid.reachPx;
      const before = gapBehind(distances, from, -ux, -uy, { ...solid, reachPx });
      const behind = gapBehind(distances, to, ux, uy, { ...solid, reachPx });
      // All around a touch, the ways to wide material stay open.
      if (turns > 1 && before + behind >= reachPx) continue;
      for (let a = -before - 1; a <= lengthPx + behind + 1; a += 0.25) {
        for (let b = -1; b <= 1; b += 0.25) {
          const x = Math.round(from.x + a * ux - b * uy);
          const y = Math.round(from.y + a * uy + b * ux);
          if (x >= 0 && y >= 0 && x < PX && y < PX) walls[y * PX + x] = 1;
        }
      }
    }
  }
  return walls;
}

/** How far behind the end of a span the picture has a bank of `px` at least, px: single pixels are what is left of a thin tip. */
function gapBehind(
  distances: Float64Array,
  end: Point,
  ux: number,
  uy: number,
  { px, reachPx }: { readonly px: number; readonly reachPx: number },
): number {
  let met = 0;
  for (let k = 0; k < reachPx; k += 0.25) {
    const x = Math.round(end.x + k * ux);
    const y = Math.round(end.y + k * uy);
    const bank = x < 0 || y < 0 || x >= PX || y >= PX || distances[y * PX + x] === 0;
    met = bank ? met + 0.25 : 0;
    if (met >= px) return k;
  }
  return reachPx;
}

/** Two stretches of outline nearer than this are one line to a knife, mm. */
const CURL_MM = 0.03;

/** Whether within two limits of a pass an outline runs out and back along itself, across the strip: places more than 0.3 mm apart along it and nearer than `CURL_MM`. */
function curlsNear(rings: readonly Ring[], { x, y }: Pass): boolean {
  return rings.some((ring) => {
    let s = 0;
    const near: { x: number; y: number; s: number }[] = [];
    ring.forEach(([px, py], k) => {
      const [ox, oy] = ring[(k + ring.length - 1) % ring.length];
      const length = Math.hypot(px - ox, py - oy);
      const parts = Math.ceil(length / CURL_MM);
      for (let j = 1; j <= parts; j++) {
        const at = { x: ox + ((px - ox) * j) / parts, y: oy + ((py - oy) * j) / parts, s: s + (length * j) / parts };
        if (Math.hypot(at.x - x / PX_PER_MM, at.y - y / PX_PER_MM) < 2 * LIMIT_MM) near.push(at);
      }
      s += length;
    });
    return near.some((p) =>
      near.some((q) => q.s - p.s > 0.3 && s - (q.s - p.s) > 0.3 && Math.hypot(p.x - q.x, p.y - q.y) < CURL_MM),
    );
  });
}

/** Whether a span ends on a tip: no pixel of the bank within 2 px of its end is more than 1.5 px from the span's own material. */
function endsInTip(end: Point, other: Float64Array): boolean {
  let most = 0;
  for (let y = Math.ceil(end.y - 2); y <= end.y + 2; y++) {
    for (let x = Math.ceil(end.x - 2); x <= end.x + 2; x++) {
      if (Math.hypot(x - end.x, y - end.y) <= 2) most = Math.max(most, other[y * PX + x]);
    }
  }
  return most <= 1.5;
}

/** Whether a pass leads around the end of a span that lies on a tip. */
function aroundTip(pass: Pass, places: readonly NarrowPlace[], other: Float64Array): boolean {
  return places
    .flatMap((p) => [pixelOf(p.from), pixelOf(p.to)])
    .some((end) => Math.hypot(end.x + 0.5 - pass.x, end.y + 0.5 - pass.y) <= LIMIT_PX / 2 && endsInTip(end, other));
}

/** Whether a pass leads through a reported strip of the other kind that is thinner than a pixel. */
function throughThin(pass: Pass, others: readonly NarrowPlace[]): boolean {
  return others.some((p) => {
    const { x, y } = pixelOf(p.atMm);
    return p.widthMm * PX_PER_MM < 1 && Math.hypot(x + 0.5 - pass.x, y + 0.5 - pass.y) <= 2;
  });
}

/** A difference and what was measured there. */
interface Difference {
  readonly what: string;
  readonly reason:
    | 'finer than a pixel'
    | 'tip thinner than a pixel'
    | 'other strip thinner than a pixel'
    | 'outline back along itself'
    | null;
}

interface Sum {
  drawings: number;
  places: number;
  widths: Difference[];
  passes: Difference[];
  worstPx: number;
}

/** Compares the narrow places of paper (`value` 1: distances to ink) or of openings (0) with the picture. */
function compare(
  drawing: Drawing,
  picture: InkPicture,
  value: 0 | 1,
  [places, others]: readonly (readonly NarrowPlace[])[],
  sum: Sum,
): void {
  const distances = distanceTo(picture, value);
  for (const place of places) {
    const span = spanOf(place);
    const seen = pictureWidth(distances, PX, span);
    const widthPx = place.widthMm * PX_PER_MM;
    sum.places++;
    if (Math.abs(seen - widthPx) <= WIDTH_PX) {
      sum.worstPx = Math.max(sum.worstPx, Math.abs(seen - widthPx));
      continue;
    }
    // Corners, tips and touches are blunted by pixels: less by half in pixels a sixteenth as large.
    const finer = finerWidth(drawing.svg, value, span);
    const shrinks = Math.abs(finer - widthPx) < Math.abs(seen - widthPx) / 2;
    const where = `${place.atMm.x.toFixed(2)}, ${place.atMm.y.toFixed(2)}`;
    sum.widths.push({
      what: `${drawing.name} ${value} at ${where}: ${widthPx.toFixed(2)} px, picture ${seen.toFixed(2)}, finer ${finer.toFixed(2)}`,
      reason: shrinks ? 'finer than a pixel' : null,
    });
  }
  const thick = { widthPx: PX, thickPx: LIMIT_PX / 2 + CLEAR_PX, thinPx: LIMIT_PX / 2 - CLEAR_PX };
  const other = distanceTo(picture, value === 1 ? 0 : 1);
  const left = thinPasses(distances, { ...thick, walls: wallsOf(places, distances, { px: 0.25, reachPx: 2 }) });
  if (left.length === 0) return;
  const rings = outlinesOf(drawing.svg).map((o) => ringOf(o.contour, 8));
  // Where a bank ends in a tip thinner than a pixel, the picture's bank lies behind it: walls from tips run on to it, others stay.
  const walls = wallsOf(places, distances, { px: 0.25, reachPx: 2 });
  const tipped = places.filter((p) => [p.from, p.to].some((end) => endsInTip(pixelOf(end), other)));
  wallsOf(tipped, distances, { px: 3, reachPx: LIMIT_PX }).forEach((wall, k) => {
    if (wall) walls[k] = 1;
  });
  const open = thinPasses(distances, { ...thick, walls });
  for (const pass of left) {
    const closed = !open.some((o) => Math.hypot(o.x - pass.x, o.y - pass.y) < LIMIT_PX / 2);
    let reason: Difference['reason'] = null;
    if (closed || aroundTip(pass, places, other)) reason = 'tip thinner than a pixel';
    else if (throughThin(pass, others)) reason = 'other strip thinner than a pixel';
    else if (curlsNear(rings, pass)) reason = 'outline back along itself';
    const widthPx = (2 * pass.distancePx - 1).toFixed(2);
    const where = `${(pass.x / PX_PER_MM).toFixed(2)}, ${(pass.y / PX_PER_MM).toFixed(2)}`;
    sum.passes.push({ what: `${drawing.name} ${value} at ${where}: ${widthPx} px`, reason });
  }
}

describe('game-icons by way of @iconify-json/game-icons 1.2.4 (CC BY 3.0)', () => {
  it('have necks and slits where the distances in their pictures say so', () => {
    const sum: Sum = { drawings: 0, places: 0, widths: [], passes: [], worstPx: 0 };
    for (const drawing of silhouettes(60)) {
      const outlines = outlinesOf(drawing.svg);
      const picture = inkPicture(drawing.svg, PX);
      const paper = { edge: EDGE, outlines };
      const necks = findNecks(paper, { limitMm: LIMIT_MM });
      const slits = findSlits(paper, { limitMm: LIMIT_MM });
      compare(drawing, picture, 1, [necks, slits], sum);
      compare(drawing, picture, 0, [slits, necks], sum);
      sum.drawings++;
    }
    const counts = (list: readonly Difference[]): string => {
      const reasons = new Map<string, number>();
      for (const { reason } of list) reasons.set(String(reason), (reasons.get(String(reason)) ?? 0) + 1);
      return JSON.stringify(Object.fromEntries(reasons));
    };
    console.log(
      `${sum.drawings} drawings, ${sum.places} places; widths ${counts(sum.widths)}, passes ${counts(sum.passes)}; ` +
        `the others differ by ${sum.worstPx.toFixed(2)} px at most`,
    );
    expect([...sum.widths, ...sum.passes].filter((d) => d.reason === null)).toEqual([]);
    expect(sum.drawings).toBeGreaterThanOrEqual(60);
    expect(sum.places).toBeGreaterThanOrEqual(1000);
    // Ratchets: may only go down.
    expect(sum.widths.length).toBeLessThanOrEqual(30);
    expect(sum.passes.length).toBeLessThanOrEqual(7);
  });
});
