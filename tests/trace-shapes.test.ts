import { MM_PER_INCH } from '@okuri/core/inside';
import { traceImage } from '@okuri/scan';
import { beforeAll, describe, expect, it } from 'vitest';
import { imagetracerOutlines } from './support/imagetracer.js';
import { knownShapes } from './support/known-shapes.js';
import { type OutlineError, outlineError } from './support/outline-distance.js';
import { renderFine, scaleOf, scanOf, type Wear, worn } from './support/scan-pictures.js';

// Known shapes, rendered by resvg, worn by sharp, traced, and laid against their true curves; imagetracerjs on the same pictures beside.

interface Row {
  readonly shape: string;
  readonly dpi: number;
  readonly wear: Wear;
  readonly trueNodes: number;
  readonly ours: OutlineError;
  /** At tolerances of a pixel (its default) and a tenth. */
  readonly theirs: readonly OutlineError[];
}

const THEIR_TOLERANCES_PX = [1, 0.1];
const rows: Row[] = [];

beforeAll(async () => {
  for (const shape of knownShapes()) {
    const fine = renderFine(shape.contours, shape.sideMm);
    for (const dpi of [200, 300, 600]) {
      const clean = scanOf(fine, dpi);
      for (const wear of ['clean', 'noise', 'blur', 'jpeg'] as const) {
        const picture = await worn(clean, wear);
        const trace = traceImage(picture, scaleOf(dpi));
        const pixelMm = MM_PER_INCH / dpi;
        const ours = outlineError(trace.contours, shape);
        const compare = dpi === 300;
        const theirs = compare
          ? THEIR_TOLERANCES_PX.map((tolerancePx) =>
              outlineError(imagetracerOutlines(picture, { pixelMm, tolerancePx }), shape),
            )
          : [];
        rows.push({ shape: shape.name, dpi, wear, trueNodes: shape.nodes, ours, theirs });
      }
    }
  }
  console.log(table());
});

function table(): string {
  const cell = (error: OutlineError, dpi: number): string =>
    [
      error.maxMm.toFixed(4).padStart(8),
      ((error.maxMm * dpi) / MM_PER_INCH).toFixed(2).padStart(6),
      error.meanMm.toFixed(4).padStart(8),
      error.cornerMm.toFixed(3).padStart(7),
      String(error.nodes).padStart(5),
      error.areaPercent.toFixed(3).padStart(8),
      error.width
        ? `  ${error.width.least.toFixed(3)}–${error.width.most.toFixed(3)} ±${error.width.deviation.toFixed(4)}`
        : '',
    ].join('');
  const lines = ['shape            dpi wear   tracer    max mm    px mean mm  corner nodes  area %  width mm'];
  for (const { shape, dpi, wear, ours, theirs, trueNodes } of rows) {
    const head = `${shape.padEnd(17)}${dpi} ${wear.padEnd(6)}`;
    lines.push(`${head} ours    ${cell(ours, dpi)}   (true nodes ${trueNodes})`);
    theirs.forEach((error, k) => {
      lines.push(`${' '.repeat(27)} it ${String(THEIR_TOLERANCES_PX[k]).padEnd(4)} ${cell(error, dpi)}`);
    });
  }
  return lines.join('\n');
}

const at300 = (wear: Wear): Row[] => rows.filter((row) => row.dpi === 300 && row.wear === wear);

describe('tracing of known shapes', () => {
  it('meets what is asked of it at 300 dpi', () => {
    for (const { shape, ours, trueNodes } of at300('clean')) {
      expect(ours.maxMm, shape).toBeLessThan(0.03);
      expect(ours.cornerMm, shape).toBeLessThan(0.1);
      expect(ours.nodes, shape).toBeLessThanOrEqual(2 * trueNodes);
      expect(Math.abs(ours.areaPercent), shape).toBeLessThan(0.1);
      if (/circle|ring/.test(shape)) expect(ours.meanMm, shape).toBeLessThan(0.01);
    }
  });

  it('stays within half a pixel, a tenth in the mean, at every resolution and with noise, blur and JPEG', () => {
    for (const { shape, dpi, wear, ours, trueNodes } of rows) {
      const name = `${shape}, ${dpi} dpi, ${wear}`;
      expect((ours.maxMm * dpi) / MM_PER_INCH, name).toBeLessThan(0.5);
      expect((ours.meanMm * dpi) / MM_PER_INCH, name).toBeLessThan(0.1);
      expect(ours.nodes, name).toBeLessThanOrEqual(2 * trueNodes);
    }
  });

  it('leaves a line of even width even', () => {
    for (const { dpi, wear, ours } of rows.filter((row) => row.ours.width)) {
      const { least, most, deviation } = ours.width!;
      const pixelMm = MM_PER_INCH / dpi;
      // A quarter of a pixel: a knife is good to 0.2 mm.
      expect(least, `${dpi} dpi, ${wear}`).toBeGreaterThan(0.8 - 0.25 * pixelMm);
      expect(most, `${dpi} dpi, ${wear}`).toBeLessThan(0.8 + 0.25 * pixelMm);
      expect(deviation, `${dpi} dpi, ${wear}`).toBeLessThan(0.1 * pixelMm);
    }
  });

  it('is nearer than imagetracerjs on the same pictures, at no more nodes', () => {
    let compared = 0;
    for (const { shape, wear, ours, theirs } of rows) {
      for (const their of theirs) {
        compared++;
        expect(ours.maxMm, `${shape}, ${wear}`).toBeLessThan(their.maxMm);
        expect(ours.meanMm, `${shape}, ${wear}`).toBeLessThan(their.meanMm);
        expect(ours.nodes, `${shape}, ${wear}`).toBeLessThanOrEqual(their.nodes);
      }
    }
    expect(compared).toBe(48);
  });
});
