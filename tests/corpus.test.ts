import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Contour, Drawing, Finding } from '@okuri/core';
import { contourArea, JOIN_DEFAULTS } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { toPdf, toSvg } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { perimeter } from './support/flatten.js';
import { HALF_DROP, INK, layMotif, openArea, type Pattern, STRAIGHT, tileOf } from './support/pattern.js';
import { readPdfPage } from './support/pdf.js';
import { inkCoverage } from './support/render.js';

// Icons of open sets go the whole way: reader, repeat, openings, joins, writers. `corpus.json` names the sets (package, version,
// licence, every how many-th file) and holds the counts and allowed errors, which may only get better.
//
// How near an independent renderer can come: resvg's rasteriser takes 4 × 4 samples a pixel, that is, it moves every edge by at most
// 1/8 px. The area it shows is then off by at most (length of all outlines) / 8 px². At 6 px a mm that is 0.02 mm along the
// outlines; what is really found is the ratchet `worstEdgeShiftPx`.

const WIDTH_MM = 120;
const PX_PER_MM = 6;
/** See above: half of a quarter pixel. */
const EDGE_SHIFT_LIMIT_PX = 1 / 8;
/** Every how many-th icon is also written as a PDF and read back by pdf.js. */
const PDF_EVERY = 8;
const MM_PER_PT = 25.4 / 72;
/** Allowed difference of the area in the PDF, as a share: rounding of coordinates only. */
const PDF_AREA_SHARE = 1e-5;

/** One open set of icons, what it must give, and what is allowed at most. */
interface IconSet {
  readonly package: string;
  readonly version: string;
  readonly licence: string;
  readonly folder: string;
  readonly every: number;
  readonly expect: { readonly icons: number; readonly openings: number; readonly joins: number };
  readonly allow: { readonly fixes: number; readonly worstEdgeShiftPx: number; readonly meanEdgeShiftPx: number };
}

interface Icon {
  readonly name: string;
  readonly svg: string;
}

interface Tally {
  icons: number;
  openings: number;
  joins: number;
  fixes: string[];
  edgeShifts: number[];
}

const require = createRequire(import.meta.url);
const corpus: { readonly sets: readonly IconSet[] } = JSON.parse(
  readFileSync(new URL('corpus.json', import.meta.url), 'utf8'),
);

function iconsOf(set: IconSet): Icon[] {
  const root = dirname(require.resolve(`${set.package}/package.json`));
  const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  expect(version).toBe(set.version);
  const folder = join(root, set.folder);
  const files = readdirSync(folder)
    .filter((f) => f.endsWith('.svg'))
    .sort();
  return files
    .filter((_, k) => k % set.every === 0)
    .map((name) => ({ name, svg: readFileSync(join(folder, name), 'utf8') }));
}

/** A page that shows the openings of one unit. */
function unitDrawing(name: string, pattern: Pattern, contours: readonly Contour[]): Drawing {
  const { widthMm, heightMm } = pattern.lattice;
  const corners = [0, 0, widthMm, 0, widthMm, heightMm, 0, heightMm, 0, 0];
  const coords = [corners[0], corners[1]];
  for (let k = 2; k < corners.length; k += 2) {
    const [x0, y0, x1, y1] = corners.slice(k - 2, k + 2);
    coords.push((2 * x0 + x1) / 3, (2 * y0 + y1) / 3, (x0 + 2 * x1) / 3, (y0 + 2 * y1) / 3, x1, y1);
  }
  return {
    title: name,
    date: '2026-01-01',
    groups: {},
    pages: [
      {
        name: '',
        widthMm,
        heightMm,
        items: [
          {
            kind: 'clip',
            contours: [{ closed: true, coords: Float64Array.from(coords) }],
            items: [{ kind: 'path', contours, rule: 'nonzero', fill: INK }],
          },
        ],
      },
    ],
  };
}

function fixesOf(pattern: Pattern): Finding[] {
  return pattern.findings.filter((f) => f.severity === 'fix' || f.severity === 'stop');
}

async function checkIcon({ name, svg }: Icon, k: number, tally: Tally): Promise<void> {
  const motif = readSvg(svg, { widthMm: WIDTH_MM });
  expect(motif.frame.widthMm).toBeCloseTo(WIDTH_MM, 9);
  expect(
    motif.notices.map((n) => n.code),
    name,
  ).toEqual([]);

  const pattern = layMotif(motif, { repeat: STRAIGHT, spill: 'trim' });
  const area = openArea(pattern.openings);
  const { inks } = tileOf(pattern);
  const contours = inks.flatMap((i) => i.contours);
  const lengthPx = perimeter(contours) * PX_PER_MM;
  const limitPx2 = lengthPx * EDGE_SHIFT_LIMIT_PX;

  // The area of the icon as the independent renderer draws it.
  const drawn = inkCoverage(svg, WIDTH_MM * PX_PER_MM);
  expect(drawn.widthPx).toBe(WIDTH_MM * PX_PER_MM);
  const off = Math.abs(area * PX_PER_MM * PX_PER_MM - drawn.inkPx2);
  expect(off, `${name}: area ${area} mm², drawn ${drawn.inkPx2 / PX_PER_MM ** 2} mm²`).toBeLessThan(limitPx2);
  tally.edgeShifts.push(off / lengthPx);

  // What the SVG writer wrote, drawn by the same renderer.
  const page = unitDrawing(name, pattern, contours);
  const written = inkCoverage(toSvg(page, 0), WIDTH_MM * PX_PER_MM);
  expect(Math.abs(area * PX_PER_MM * PX_PER_MM - written.inkPx2), `${name} as SVG`).toBeLessThan(limitPx2);
  if (k % PDF_EVERY === 0) await checkPdf(name, pattern, contours);

  // On its repeats: no ink comes or goes where nothing reaches a side.
  const patterns = [STRAIGHT, HALF_DROP].map((repeat) => layMotif(motif, { repeat }));
  if (pattern.stretches.length === 0) {
    for (const laid of patterns) {
      expect(openArea(laid.openings), name).toBeCloseTo(area, 3);
      expect(laid.openings.length, name).toBe(pattern.openings.length);
      expect(laid.joins, name).toEqual([]);
    }
  }
  tally.icons++;
  tally.openings += pattern.openings.length;
  for (const laid of patterns) {
    tally.joins += laid.joins.length;
    // An icon is no repeat: outlines that end at its edge may miss each other, by a gap that anyone sees. Nothing else is wrong with one.
    for (const { code, measure } of fixesOf(laid)) {
      expect(code, name).toBe('join-off');
      expect(Number(measure?.gapMm), name).toBeGreaterThanOrEqual(JOIN_DEFAULTS.gapMaxMm);
    }
    tally.fixes.push(...fixesOf(laid).map((f) => `${name}, ${laid.lattice.repeat.kind}: ${f.message}`));
  }
}

/** The PDF's page has the unit's size and the openings' area, curves and all. */
async function checkPdf(name: string, pattern: Pattern, contours: readonly Contour[]): Promise<void> {
  const page = unitDrawing(name, pattern, contours);
  const read = await readPdfPage(await toPdf(page));
  expect(read.widthPt * MM_PER_PT, name).toBeCloseTo(pattern.lattice.widthMm, 3);
  expect(read.heightPt * MM_PER_PT, name).toBeCloseTo(pattern.lattice.heightMm, 3);
  // What was handed to the writer runs a little past the unit's sides, so it is measured itself. Coordinates are written to 0.1 µm and read
  // back as 32-bit floats (about 8 µm at 120 mm, without a bias).
  const area = contours.reduce((sum, c) => sum + contourArea(c), 0);
  expect(Math.abs(read.filledPt2 * MM_PER_PT ** 2 - area) / area, `${name} as PDF`).toBeLessThan(PDF_AREA_SHARE);
}

describe.each(corpus.sets)('$package $version ($licence)', (set) => {
  it(`${set.expect.icons} icons go through reader, repeat, joins and writers`, async () => {
    const tally: Tally = { icons: 0, openings: 0, joins: 0, fixes: [], edgeShifts: [] };
    const icons = iconsOf(set);
    for (const [k, icon] of icons.entries()) await checkIcon(icon, k, tally);
    const worst = Math.max(...tally.edgeShifts);
    const mean = tally.edgeShifts.reduce((a, b) => a + b, 0) / tally.edgeShifts.length;
    console.log(
      `${set.package}: ${tally.icons} icons, ${tally.openings} openings, ${tally.joins} joins, ${tally.fixes.length} fixes; ` +
        `edge shift worst ${worst.toFixed(4)} px, mean ${mean.toFixed(5)} px`,
    );
    const { icons: count, openings, joins } = set.expect;
    expect({ icons: tally.icons, openings: tally.openings, joins: tally.joins }).toEqual({
      icons: count,
      openings,
      joins,
    });
    expect(tally.fixes.length, tally.fixes.join('\n')).toBeLessThanOrEqual(set.allow.fixes);
    expect(worst).toBeLessThanOrEqual(set.allow.worstEdgeShiftPx);
    expect(mean).toBeLessThanOrEqual(set.allow.meanEdgeShiftPx);
  });
});

it('counts at least 500 icons', () => {
  expect(corpus.sets.reduce((sum, set) => sum + set.expect.icons, 0)).toBeGreaterThanOrEqual(500);
});
