import { writeFileSync } from 'node:fs';
import { it } from 'vitest';
import { toPdf } from '../../../writer/src/pdf/to-pdf.js';
import { fontMetrics } from '../../../writer/src/text/faces.js';
import { sheetMeasures } from '../stencil/measures.js';
import { findPaper } from '../units/paper-sizes.js';
import { cartoonItems } from './cartoon.js';
import { printSheets } from './print-sheets.js';
import { sampleSheet } from './sample-sheet.js';

const job = {
  title: 'Willow by the weir',
  date: '2026-03-01',
  revision: 'B',
  pages: {
    orientation: 'auto' as const,
    marginMm: 6.35,
    overlapMm: 10,
    mirror: false,
    skipBlank: false,
    scaleAcross: 1,
    scaleAlong: 1,
  },
};
const statements = [
  'Drawn for the cloth and printed by resist: the light of the drawing is cut, openings keep the colour of the cloth.',
  'Unit 420 × 560 mm, half-drop.',
];
it('look', async () => {
  const font = fontMetrics();
  const s0 = sampleSheet({ count: 60 });
  const sheet = { ...s0, measures: sheetMeasures(s0.dots, s0.field) };
  const cartoon = cartoonItems(sheet, { font });
  for (const [name, over, paper] of [
    ['a4', {}, 'A4'],
    ['mir', { mirror: true, scaleAcross: 1.01, orientation: 'landscape' as const }, 'A4'],
    ['a3', { orientation: 'landscape' as const }, 'A3'],
    ['a6', {}, 'A6'],
  ] as const) {
    const { drawing, plan, blank } = printSheets(sheet, {
      job: { ...job, pages: { ...job.pages, ...over } },
      cartoon,
      font,
      paper: findPaper(paper),
      statements,
    });
    console.log(name, plan.columns, plan.rows, plan.orientation, blank, drawing.pages.map((p) => p.name).join(' '));
    writeFileSync(`/tmp/ps/${name}.pdf`, await toPdf(drawing));
  }
});
