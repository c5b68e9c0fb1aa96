import { type Contour, type Matrix, readJob, runJob, transformContour } from '@okuri/core';
import { contourArea } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { decodeScan } from '@okuri/reader/scan';
import {
  compareProof,
  composeHomography,
  type FramedPicture,
  framePicture,
  invertHomography,
  layProof,
  motifFromTrace,
  type ScaleRequest,
  scaleFromResolution,
  type Trace,
  traceImage,
} from '@okuri/scan';
import { describe, expect, it } from 'vitest';
import { cameraMap } from './support/camera.js';
import { areaOf, edgeErrors, inkArea, partsOf } from './support/drawn-edges.js';
import { ringOf } from './support/flatten.js';
import { DOT_MM, foldedInFour, PEN_WIDTHS_MM, penAndBrush, straightOnPaper } from './support/paper-drawings.js';
import { printOnPaper } from './support/paper-print.js';
import { jpegOf, type PaperScan, scanPaper } from './support/paper-scan.js';
import { photographed } from './support/proof-print.js';
import { jobOf } from './whole-job/support.js';

// Scans as a flatbed or a telephone gives them, of drawings of our own on worn paper: pencil, folds, a thumb's shadow, ink that feathers, JPEG. What was
// drawn is rendered by resvg, and what was traced is held against it. Figures are ratchets: what was measured, rounded up.
//
// A scanner codes light by a power, so halfway from ink to paper in its greys lies inside of the edge: outlines come out some 0.02 mm thin at 300 dpi.
const THIN_MM = 0.03;

/** Of the four dots a quarter each lies in the unit. */
const DOT_AREA_MM2 = Math.PI * (DOT_MM / 2) ** 2;

interface Traced {
  readonly trace: Trace;
  readonly picture: FramedPicture;
}

async function traced(file: Uint8Array, how: ScaleRequest | 'file'): Promise<Traced> {
  const { image, resolution } = await decodeScan(file, { name: 'scan.jpg' });
  const request: ScaleRequest = how === 'file' ? { from: 'file', resolution: { ...resolution!, unit: 'mm' } } : how;
  const picture = framePicture(image, request, {});
  return { trace: traceImage(image, picture.scale), picture };
}

/** Where mm of a scan's picture lie on the sheet. */
function toSheet({ toPicture, dpi }: PaperScan): Matrix {
  const [a, b, c, d, e, f] = composeHomography(invertHomography(toPicture)!, [
    dpi / 25.4,
    0,
    0,
    0,
    dpi / 25.4,
    0,
    0,
    0,
    1,
  ]);
  return [a, d, b, e, c, f];
}

describe('pen and brush on a sheet that was folded in four, 300 dpi, JPEG', () => {
  const drawing = penAndBrush();

  it('gives what was drawn and nothing else: no pencil, no holes from dust and folds, lines of their width', async () => {
    const scan = scanPaper(drawing, { dpi: 300, seed: 1, wear: foldedInFour(120, 90), turnDeg: 0.4 });
    const { trace } = await traced(await jpegOf(scan, 80), 'file');
    const contours = trace.contours.map((contour) => transformContour(contour, toSheet(scan)));
    // Resvg's own pixels say how many pieces there are: no pencil is one, no fold parts one in two, no dust makes a hole.
    const holes = contours.filter((contour) => contourArea(contour) < 0);
    const { ink, paper } = partsOf(drawing, 0.5);
    expect([contours.length - holes.length, holes.length]).toEqual([ink, paper - 1]);
    expect(trace.specks.areaMm2).toBeLessThan(0.5);
    const { medianMm, p95Mm, p99Mm, falseShare } = edgeErrors(contours, drawing, (p) => p);
    expect(Math.abs(medianMm)).toBeLessThan(THIN_MM);
    expect(p95Mm).toBeLessThan(0.04);
    // Where pencil touches ink the edge bulges by some 0.1 mm.
    expect(p99Mm).toBeLessThan(0.08);
    expect(falseShare).toBeLessThan(0.003);
    PEN_WIDTHS_MM.forEach((width, k) => {
      const found = widthsAcross(contours, 8 + 5 * k);
      const mean = found.reduce((sum, w) => sum + w, 0) / found.length;
      expect(mean).toBeGreaterThan(width - 2 * THIN_MM);
      expect(mean).toBeLessThan(width + 0.02);
      // Even along its length, but for where pencil crosses.
      const off = found.map((w) => Math.abs(w - mean)).sort((a, b) => a - b);
      expect(off[Math.floor(0.9 * off.length)]).toBeLessThan(0.04);
    });
  });
});

/** Widths, along x, of the upright line at `x` (sheet mm) from y = 10 to 26. */
function widthsAcross(contours: readonly Contour[], x: number): number[] {
  const widths: number[] = [];
  for (let y = 10; y < 26; y += 0.25) {
    const crossings = contours
      .flatMap((contour) => {
        const ring = ringOf(contour, 8);
        return ring.flatMap(([px, py], k) => {
          const [qx, qy] = ring[(k + 1) % ring.length];
          return py > y === qy > y ? [] : [px + ((y - py) / (qy - py)) * (qx - px)];
        });
      })
      .filter((at) => Math.abs(at - x) < 1.2);
    expect(crossings).toHaveLength(2);
    widths.push(Math.abs(crossings[0] - crossings[1]));
  }
  return widths;
}

describe('a straight repeat, drawn on round its unit with a dot at each corner', () => {
  const drawing = straightOnPaper();
  const dots: ScaleRequest = { from: 'dots', widthMm: 120, heightMm: 90 };

  /** Runs the job on what was traced and looks at every join. */
  function expectJoins({ trace, picture }: Traced): void {
    const { openings, joins } = runJob(motifFromTrace(trace, picture), jobOf({ repeat: 'straight' }));
    // As of `fixtures/motifs/straight.svg`: leaf and wave meet themselves over the side, a leaf over the top.
    expect([openings.length, joins.length]).toEqual([6, 6]);
    expect(joins.map(({ state }) => state)).toEqual(Array.from({ length: 6 }, () => 'meets'));
    for (const { offsetMm } of joins) expect(Math.abs(offsetMm ?? Number.NaN)).toBeLessThan(0.05);
  }

  it('joins after a flatbed scan, turned and folded, whether it is trimmed or kept by its border', async () => {
    const scan = scanPaper(drawing, { dpi: 300, seed: 2, wear: foldedInFour(144, 114), turnDeg: 0.4 });
    const file = await jpegOf(scan, 80);
    const whole = await traced(file, dots);
    expectJoins(whole);
    const { image } = await decodeScan(file, { name: 'scan.jpg' });
    const keep = { x0: 0, y0: 0, x1: 120, y1: 90 };
    const picture = framePicture(image, dots, { keep });
    const trace = traceImage(image, picture.scale, { region: keep });
    expectJoins({ trace, picture });
    const { medianMm, p95Mm, maxMm, falseShare } = edgeErrors(
      whole.trace.contours.filter((contour) => contourArea(contour) > 0),
      drawing,
      (p) => ({ x: p.x + drawing.unit.x, y: p.y + drawing.unit.y }),
    );
    expect(Math.abs(medianMm)).toBeLessThan(THIN_MM);
    expect(p95Mm).toBeLessThan(0.04);
    expect(maxMm).toBeLessThan(0.3);
    expect(falseShare).toBe(0);
    const unit = { x0: drawing.unit.x, y0: drawing.unit.y, x1: drawing.unit.x + 120, y1: drawing.unit.y + 90 };
    const share =
      areaOf(motifFromTrace(trace, picture).shapes.flatMap(({ contours }) => contours)) /
      (inkArea(drawing, unit) - DOT_AREA_MM2);
    expect(share).toBeGreaterThan(0.985);
    expect(share).toBeLessThan(1.005);
  });

  it('joins after a photograph from the side, under light from one window', async () => {
    const flat = scanPaper(drawing, {
      dpi: 300,
      seed: 6,
      wear: { folds: foldedInFour(144, 114).folds ?? [] },
      noise: 0,
      blurPx: 0.4,
    });
    const [width, height] = [2200, 1800];
    const camera = { tiltDeg: 28, towardsDeg: 70, turnDeg: 8, distanceMm: 320, focalPx: 3900, width, height };
    const toPhoto = composeHomography(cameraMap(camera, drawing), invertHomography(flat.toPicture)!);
    const image = photographed(flat.image, toPhoto, {
      width,
      height,
      table: 235,
      light: (x, y) => 1.02 - 0.3 * x - 0.15 * y,
      noise: 4,
    });
    expectJoins(await traced(await jpegOf({ image }, 82), dots));
  });
});

describe('a printed proof', () => {
  it('gives back the plan through paste that spread, spots it missed, a smear, folds and a shadow', async () => {
    const job = readJob(JSON.stringify({ okuri: 1, motif: 'reed.svg', title: 'Reed screen', date: '2026-05-04' }), {
      file: 'reed.okuri.json',
    });
    const result = runJob(readSvg(new TextEncoder().encode(REED)), job.job);
    const [sheet] = result.sheets;
    const spreadMm = 0.12;
    const print = printOnPaper(sheet, { seed: 2, spreadMm, missed: 5, smears: 2 });
    const wear = { ...foldedInFour(print.widthMm, print.heightMm), smudges: [] };
    const part = { x0: -3, y0: -4, x1: print.widthMm + 5, y1: print.heightMm + 4 };
    const file = await jpegOf(scanPaper(print, { dpi: 150, seed: 12, wear, turnDeg: 1.7, part }), 78);
    const { image } = await decodeScan(file, { name: 'proof.jpg' });
    const laid = layProof(image, sheet, {
      scale: scaleFromResolution({ across: 150, down: 150, unit: 'inch' }, 'file'),
    });
    expect([laid.by, laid.frame, laid.missingDots]).toEqual(['dots', 'rigid', []]);
    const report = compareProof(image, sheet, sheet.ends, { laid });
    expect(Math.abs(report.spreadMm - spreadMm)).toBeLessThan(0.05);
    expect(report.unmeasured).toEqual([]);
    for (const { offsetMm } of report.offsets) expect(Math.abs(offsetMm)).toBeLessThan(0.05);
    expect(report.square?.square).toBe(true);
    for (const [name, planned] of [
      ['top', 120],
      ['right', 90],
      ['falling', 150],
      ['rising', 150],
    ] as const) {
      expect(Math.abs((report.distances?.[name] ?? 0) - planned)).toBeLessThan(0.05);
    }
  });
});

/** Two leaves that meet across each seam, and berries. */
const REED = `<svg xmlns="http://www.w3.org/2000/svg" width="120mm" height="90mm" viewBox="0 0 120 90">
<path d="M0 20C20 22 30 26 40 40C30 38 16 34 0 32Z"/><path d="M120 20C100 17 88 20 80 30C92 36 104 34 120 32Z"/>
<path d="M50 0C54 12 60 20 66 24C64 14 62 6 60 0Z"/><path d="M50 90C46 80 46 76 52 68C58 74 60 82 60 90Z"/>
<circle cx="20" cy="60" r="5"/><circle cx="34" cy="70" r="3"/><circle cx="88" cy="55" r="7"/><circle cx="60" cy="50" r="4"/></svg>`;
