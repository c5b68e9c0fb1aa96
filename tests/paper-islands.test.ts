import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Contour } from '@okuri/core';
import { contourArea, findIslands, type Island, type SheetOutline } from '@okuri/core/inside';
import { type FontFile, readSvg } from '@okuri/reader';
import opentype from 'opentype.js';
import { describe, expect, it } from 'vitest';
import { type PaperPicture, type PaperPiece, paperPieces } from './support/components.js';
import { perimeter, type Ring, ringOf } from './support/flatten.js';
import { layMotif, STRAIGHT, tileOf } from './support/pattern.js';

// Islands of real motifs against a count that knows nothing of outlines: an independent renderer (resvg 2.6.2) draws the motif, and the
// pieces of paper in its picture are followed from pixel to pixel. Where the two differ, the reason is measured; the count of
// differences without a reason is 0.

const require = createRequire(import.meta.url);

/** The drawing lies in an empty margin, so that nothing touches the seams and the paper around it is one. */
const SIZE_MM = 120;
const PX = 600;
const PX_PER_MM = PX / SIZE_MM;

interface Drawing {
  readonly name: string;
  readonly svg: string;
}

const EDGE = { x0: 0, y0: 0, x1: SIZE_MM, y1: SIZE_MM };

/** The outlines of a drawing's openings as they are cut. */
function outlinesOf(svg: string, fonts: readonly FontFile[] = []): SheetOutline[] {
  const motif = readSvg(svg, { widthMm: SIZE_MM, fonts });
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

/** Every `every`-th file of a set's folder, with a margin of an eighth all around. */
function filesOf(set: { package: string; version: string; folder: string; every: number; side: number }): Drawing[] {
  const root = dirname(require.resolve(`${set.package}/package.json`));
  expect(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).version).toBe(set.version);
  const files = readdirSync(join(root, set.folder)).filter((f) => f.endsWith('.svg'));
  files.sort();
  return files
    .filter((_, k) => k % set.every === 3)
    .map((name) => {
      const text = readFileSync(join(root, set.folder, name), 'utf8');
      const box = `0 0 ${set.side} ${set.side}`;
      expect(text, name).toContain(`viewBox="${box}"`);
      const m = set.side / 8;
      return { name, svg: text.replace(box, `${-m} ${-m} ${set.side + 2 * m} ${set.side + 2 * m}`) };
    });
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

/** Islands below this many px² may have no pixel that is less than half inked. */
const SMALL_PX2 = 4;

/** A difference between the two counts and what was measured there. */
interface Difference {
  readonly name: string;
  readonly reason: 'small island' | 'thin island' | 'narrow gap' | 'narrow neck' | null;
  readonly measured: string;
}

function polygonOf(contour: Contour): Ring {
  // A half turn in one cubic lies within a fiftieth of a pixel of so many chords.
  return ringOf(contour, 64);
}

function holds(ring: Ring, x: number, y: number): boolean {
  let inside = false;
  let [ox, oy] = ring[ring.length - 1];
  for (const [cx, cy] of ring) {
    if (oy > y !== cy > y && ox + ((y - oy) * (cx - ox)) / (cy - oy) > x) inside = !inside;
    [ox, oy] = [cx, cy];
  }
  return inside;
}

/** The island on which a piece of paper of the picture lies: the innermost around its palest pixel; null where none is. */
function islandUnder(piece: PaperPiece, islands: readonly Island[], rings: readonly Ring[]): number | null {
  let found: number | null = null;
  islands.forEach((island, k) => {
    if (!holds(rings[k], piece.at.x / PX_PER_MM, piece.at.y / PX_PER_MM)) return;
    if (found === null || contourArea(island.outline) < contourArea(islands[found].outline)) found = k;
  });
  return found;
}

function lengthOf(ring: Ring): number {
  return ring.reduce((sum, [x, y], k) => {
    const [ox, oy] = ring[(k + ring.length - 1) % ring.length];
    return sum + Math.hypot(x - ox, y - oy);
  }, 0);
}

/** Nearest distance of two outlines, by their corners and sides. */
function distanceOf(a: Ring, b: Ring): number {
  const toSides = (from: Ring, to: Ring): number => {
    let best = Infinity;
    for (const [px, py] of from) {
      for (let k = 0; k < to.length; k++) {
        const [x0, y0] = to[k];
        const [x1, y1] = to[(k + 1) % to.length];
        const [dx, dy] = [x1 - x0, y1 - y0];
        const t = Math.min(1, Math.max(0, ((px - x0) * dx + (py - y0) * dy) / (dx * dx + dy * dy || 1)));
        best = Math.min(best, Math.hypot(x0 + t * dx - px, y0 + t * dy - py));
      }
    }
    return best;
  };
  return Math.min(toSides(a, b), toSides(b, a));
}

/** How many times finer the renderer draws once more around paper that it shows as cut off and the outlines do not, and how far around, px. */
const FINER = 16;
const AROUND_PX = 12;

/** How the picture and the outlines differ, island by island. */
function differences(
  { name, svg }: Drawing,
  islands: readonly Island[],
  picture: PaperPicture,
): { seen: number; found: Difference[] } {
  const { loose } = picture;
  const rings = islands.map((i) => polygonOf(i.outline));
  const owners = new Map<number, number | null>();
  const seenOn = new Map<number, PaperPiece[]>();
  const found: Difference[] = [];
  for (const piece of loose) {
    const k = islandUnder(piece, islands, rings);
    owners.set(piece.label, k);
    if (k !== null) seenOn.set(k, [...(seenOn.get(k) ?? []), piece]);
  }
  // Of an island in several pieces, the largest is taken for it.
  const whole = new Set<number>();
  islands.forEach((island, k) => {
    const pieces = seenOn.get(k) ?? [];
    if (pieces.length > 0) {
      whole.add(pieces.reduce((most, p) => (p.areaPx2 > most.areaPx2 ? p : most)).label);
      return;
    }
    const areaPx2 = island.areaMm2 * PX_PER_MM ** 2;
    const gaps = [island.span?.lengthMm ?? Infinity];
    rings.forEach((other, n) => {
      if (n !== k && islands[n].opening === island.opening) gaps.push(distanceOf(rings[k], other));
    });
    const gapPx = Math.min(...gaps) * PX_PER_MM;
    const thickPx = (2 * areaPx2) / (lengthOf(rings[k]) * PX_PER_MM);
    const measured = `area ${areaPx2.toFixed(2)} px², thickness ${thickPx.toFixed(2)} px, gap ${gapPx.toFixed(3)} px`;
    const reason = areaPx2 < SMALL_PX2 ? 'small island' : gapPx < 1 ? 'narrow gap' : thickPx < 1 ? 'thin island' : null;
    found.push({ name, reason, measured });
  });
  for (const piece of loose)
    if (!whole.has(piece.label)) found.push(neckOf(name, svg, piece, { coarse: picture, owners }));
  return { seen: loose.length, found };
}

/**
 * Paper that the picture shows as cut off, and the outlines do not: whether the same renderer, drawing the place `FINER` times finer, connects it to
 * the paper of the coarse picture on which it hangs by the outlines (that of its island, or the paper around all). Then the paper between is narrower than a
 * pixel.
 */
function neckOf(
  name: string,
  svg: string,
  piece: PaperPiece,
  { coarse, owners }: { coarse: PaperPicture; owners: ReadonlyMap<number, number | null> },
): Difference {
  const [x0, y0] = [Math.floor(piece.at.x) - AROUND_PX, Math.floor(piece.at.y) - AROUND_PX];
  const side = 2 * AROUND_PX + 1;
  const [x, y, width] = viewBoxOf(svg);
  const unit = width / PX;
  const window = [x + x0 * unit, y + y0 * unit, side * unit, side * unit].join(' ');
  const { labels, widthPx } = paperPieces(withoutSize(svg).replace(VIEW_BOX, `viewBox="${window}"`), side * FINER);
  const coarseAt = (k: number): number => {
    const cx = x0 + Math.floor((k % widthPx) / FINER);
    const cy = y0 + Math.floor(k / widthPx / FINER);
    return coarse.labels[cy * coarse.widthPx + cx];
  };
  const own = new Set<number>();
  labels.forEach((label, k) => {
    if (label !== 0 && coarseAt(k) === piece.label) own.add(label);
  });
  const home = owners.get(piece.label) ?? null;
  const joined = labels.some((label, k) => {
    const other = coarseAt(k);
    return own.has(label) && other !== 0 && other !== piece.label && (owners.get(other) ?? null) === home;
  });
  const measured = `a piece of ${piece.areaPx2} px² at ${piece.at.x}, ${piece.at.y}`;
  return { name, reason: joined ? 'narrow neck' : null, measured };
}

const VIEW_BOX = /viewBox="([^"]*)"/;

function viewBoxOf(svg: string): number[] {
  return (VIEW_BOX.exec(svg)?.[1] ?? '').split(' ').map(Number);
}

/** The `width` and `height` of the outermost element taken off: the window has its own. */
function withoutSize(svg: string): string {
  return svg.replace(/<svg[^>]*>/, (tag) => tag.replace(/ (?:width|height)="[^"]*"/g, ''));
}

interface Sum {
  drawings: number;
  ours: number;
  seen: number;
  found: Difference[];
  /** Drawings whose openings have another area than the picture: their outlines are not the drawing's, so islands are not compared. */
  misdrawn: string[];
}

/** resvg takes 4 × 4 samples a pixel: it moves edges by at most 1/8 px. */
const EDGE_SHIFT_PX = 1 / 8;

function compare(drawings: readonly Drawing[]): Sum {
  const sum: Sum = { drawings: 0, ours: 0, seen: 0, found: [], misdrawn: [] };
  for (const drawing of drawings) {
    const picture = paperPieces(drawing.svg, PX);
    const outlines = outlinesOf(drawing.svg);
    const contours = outlines.map((o) => o.contour);
    const areaPx2 = contours.reduce((all, c) => all + contourArea(c), 0) * PX_PER_MM ** 2;
    const off = Math.abs(areaPx2 - picture.inkPx2);
    if (off > perimeter(contours) * PX_PER_MM * EDGE_SHIFT_PX) {
      sum.misdrawn.push(drawing.name);
      continue;
    }
    const islands = findIslands({ edge: EDGE, outlines });
    const { seen, found } = differences(drawing, islands, picture);
    sum.drawings++;
    sum.ours += islands.length;
    sum.seen += seen;
    sum.found.push(...found);
  }
  return sum;
}

describe('islands of open icon sets against connected components (paper by sides) of another renderer', () => {
  it.each([
    {
      set: '@mdi/svg 7.4.47 (Apache-2.0)',
      read: () => filesOf({ package: '@mdi/svg', version: '7.4.47', folder: 'svg', every: 32, side: 24 }),
      least: 232,
      most: 0,
    },
    {
      set: 'bootstrap-icons 1.13.2 (MIT)',
      read: () => filesOf({ package: 'bootstrap-icons', version: '1.13.2', folder: 'icons', every: 14, side: 16 }),
      least: 149,
      most: 3,
    },
    {
      set: 'game-icons by way of @iconify-json/game-icons 1.2.4 (CC BY 3.0)',
      read: () => silhouettes(30),
      least: 138,
      most: 43,
    },
  ])('$set', ({ set, read, least, most }) => {
    const { drawings, ours, seen, found, misdrawn } = compare(read());
    const reasons: Record<string, number> = {};
    for (const { reason } of found) reasons[String(reason)] = (reasons[String(reason)] ?? 0) + 1;
    console.log(`${set}: ${drawings} drawings, ${ours} islands, ${seen} on the picture; ${JSON.stringify(reasons)}`);
    expect(misdrawn).toEqual([]);
    expect(found.filter((d) => d.reason === null)).toEqual([]);
    // 519 drawings in all.
    expect(drawings).toBeGreaterThanOrEqual(least);
    expect(ours).toBeGreaterThan(drawings);
    // A ratchet: may only go down.
    expect(found.length).toBeLessThanOrEqual(most);
  });
});

/** One weight of a typeface as its package has it. */
function typeface(name: string, family: string) {
  const root = dirname(require.resolve(`@fontsource/${name}/package.json`));
  expect(JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'))).toMatchObject({
    version: '5.3.0',
    license: 'OFL-1.1',
  });
  const data = readFileSync(join(root, 'files', `${name}-latin-400-normal.woff`));
  const bytes = data.buffer.slice(data.byteOffset, data.byteOffset + data.byteLength) as ArrayBuffer;
  return { family, files: [{ family, data: new Uint8Array(data) }], font: opentype.parse(bytes) };
}

/** Islands of a letter as it is cut. */
function letterIslands(letter: string, { family, files }: ReturnType<typeof typeface>): number {
  const svg =
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="-40 -120 200 200">' +
    `<text font-family="${family}" font-size="100">${letter}</text></svg>`;
  return findIslands({ edge: EDGE, outlines: outlinesOf(svg, files) }).length;
}

/** Counters of a letter by the font's own outlines: contours that turn against the one with the largest area. */
function counters(letter: string, { font }: ReturnType<typeof typeface>): number {
  const areas: number[] = [];
  let points: [number, number][] = [];
  const end = (): void => {
    if (points.length > 2) {
      const [[x0, y0]] = points;
      areas.push(
        points.reduce((sum, [x, y], k) => {
          const [nx, ny] = points[(k + 1) % points.length];
          return sum + (x - x0) * (ny - y0) - (nx - x0) * (y - y0);
        }, 0),
      );
    }
    points = [];
  };
  for (const step of font.charToGlyph(letter).getPath(0, 0, 1000).commands) {
    if (step.type === 'Z') end();
    else {
      if (step.type === 'M') end();
      // Control points will do for the sense in which a counter turns.
      if (step.type === 'C') points.push([step.x1, step.y1], [step.x2, step.y2]);
      if (step.type === 'Q') points.push([step.x1, step.y1]);
      points.push([step.x, step.y]);
    }
  }
  end();
  const most = areas.reduce((a, b) => (Math.abs(b) > Math.abs(a) ? b : a), 0);
  return areas.filter((a) => Math.sign(a) === -Math.sign(most)).length;
}

const LETTERS = [...'ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789'];

/** Letters with one closed counter, and with two, in a sans with a one-storey g (from memory). */
const ONE = 'ADOPQRabdegopq0469';
const TWO = 'B8';

function lettersWith(count: (letter: string) => number): string[] {
  return LETTERS.map((letter) => `${letter}${count(letter)}`);
}

describe('letters', () => {
  it('Saira Stencil One 5.3.0 (OFL-1.1): its letters hold together', () => {
    const face = typeface('saira-stencil-one', 'Saira Stencil One');
    expect(LETTERS.filter((letter) => letterIslands(letter, face) > 0)).toEqual([]);
  });

  it('Inter 5.3.0 (OFL-1.1): an island for every counter, as many as one knows', () => {
    const face = typeface('inter', 'Inter');
    const cut = lettersWith((letter) => letterIslands(letter, face));
    expect(cut).toEqual(lettersWith((letter) => counters(letter, face)));
    expect(cut).toEqual(lettersWith((letter) => (ONE.includes(letter) ? 1 : TWO.includes(letter) ? 2 : 0)));
  });

  it('EB Garamond 5.3.0 (OFL-1.1): an island for every counter of its own, whose P, 4, 6 and 9 are open', () => {
    const face = typeface('eb-garamond', 'EB Garamond');
    const cut = lettersWith((letter) => letterIslands(letter, face));
    expect(cut).toEqual(lettersWith((letter) => counters(letter, face)));
    expect(cut).toEqual(expect.arrayContaining(['P0', '40', '60', '90', 'g2', 'B2', '82', 'A1', 'Q1', 'e1']));
  });
});
