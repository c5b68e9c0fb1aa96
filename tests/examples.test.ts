import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { expect, it } from 'vitest';
import { sheetsOf } from './examples/from-svg-to-pdf.js';
import { readPdfPage } from './support/pdf.js';

it('a program of its own goes from a drawing to findings and a PDF', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'okuri-example-'));
  try {
    const pdf = join(folder, 'sheets.pdf');
    const drawing = fileURLToPath(new URL('../fixtures/motifs/stroke-vine.svg', import.meta.url));
    const { ready, sentences } = await sheetsOf(drawing, pdf);
    expect(sentences.length).toBeGreaterThan(0);
    expect(ready).toBe(!sentences.some((sentence) => /^(?:stop|fix):/.test(sentence)));
    const page = await readPdfPage(new Uint8Array(readFileSync(pdf)));
    // A4, ISO 216: 210 × 297 mm, one way or the other.
    const sides = [page.widthPt, page.heightPt].map((pt) => Math.round((pt * 25.4) / 72)).sort();
    expect(sides).toEqual([210, 297]);
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});
