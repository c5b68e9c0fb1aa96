import { type ProofOffset, runJob } from '@okuri/core';
import { secondCutStripDrawings } from '@okuri/core/inside';
import { fontMetrics, toPdf } from '@okuri/writer';
import { describe, expect, it } from 'vitest';
import { paintedPages } from './support/pdf-lines.js';
import { box, disc, jobOf, motifOf } from './whole-job/support.js';

// Strips for the second cut are read back from their PDF by pdf.js 5.4.296, a reader that is not the project's.

const FONT = fontMetrics();
const BLUE = '#0072b2';
/** Coordinates in a PDF are rounded to 1e-4 pt or so; round dashes and curves add nothing to a box. */
const ROUNDING_MM = 0.01;

describe('strips for the second cut, as a PDF', () => {
  it('are true to scale, and name every join on the pages', async () => {
    const motif = motifOf(
      [
        ...[60, 300, 520].map((y, k) => box(`bar${k}`, 360, y, 450, y + 17)),
        disc('held', { x: 390, y: 200 }, 8),
        box('foot', 100, 560, 123, 640),
      ],
      400,
      600,
    );
    const plan = runJob(motif, jobOf({ repeat: 'half-drop', spill: 'carry' }));
    const joins = plan.sheets[0].ends.joins;
    expect(joins.length).toBeGreaterThanOrEqual(8);
    const offsets = joins
      .filter(({ leadCut }) => leadCut !== 'second')
      .map(({ name }, k): ProofOffset => ({ name, offsetMm: k % 2 ? 0.5 : -0.25, turnDeg: 0, place: null }));
    const job = { ...jobOf({ repeat: 'half-drop', spill: 'carry' }), proof: { '#000000': offsets } };
    const [drawing] = secondCutStripDrawings(runJob(motif, job), FONT);
    const pages = await paintedPages(await toPdf(drawing));
    expect(pages).toHaveLength(drawing.pages.length);
    const cuts = pages.flatMap(({ paths }) => paths.filter(({ stroke, lineMm }) => stroke === BLUE && lineMm !== null));
    const has = (width: number, height: number): boolean =>
      cuts.some(({ sizeMm: [w, h] }) => Math.abs(w - width) < ROUNDING_MM && Math.abs(h - height) < ROUNDING_MM);
    expect(has(16, 16)).toBe(true);
    // The bar's second cut: from the hold line, one inch before the seam, to the seam, as high as both its moved edges make it.
    const high = cuts.filter(({ sizeMm: [w] }) => Math.abs(w - 25.4) < ROUNDING_MM).map(({ sizeMm: [, h] }) => h);
    expect(high.length).toBeGreaterThan(0);
    for (const h of high) expect(Math.abs(h - 17)).toBeLessThanOrEqual(0.75 + ROUNDING_MM);
    for (const { dashMm, lineMm } of cuts) {
      // Round dots, 1 mm apart: the second cut as everywhere.
      expect((dashMm[0] ?? 0) + (dashMm[1] ?? 0)).toBeCloseTo(1, 2);
      expect(lineMm).toBeCloseTo(0.45, 2);
    }
    const words = pages.slice(1).flatMap(({ words: list }) => list.flatMap(({ text }) => text.split(/\s+/)));
    for (const { name } of joins) expect(words, name).toContain(name);
    for (const { words: list } of pages) for (const { emMm } of list) expect(emMm).toBeGreaterThanOrEqual(2.9);
  });
});
