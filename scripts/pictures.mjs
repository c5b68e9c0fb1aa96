// Makes the pictures that README.md shows, from the demo job. Run it after a change that shows.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import {
  clothPicture,
  cutGuideDrawing,
  printSheetDrawings,
  readJob,
  runJob,
  stencilDrawings,
} from '../packages/core/dist/index.js';
import { readSvg } from '../packages/reader/dist/index.js';
import { fontMetrics, toPng } from '../packages/writer/dist/index.js';

const here = (path) => fileURLToPath(new URL(path, import.meta.url));
const out = here('../docs/pictures/');

const { job } = readJob(readFileSync(here('../fixtures/demo/demo.okuri.json'), 'utf8'), {
  file: 'demo.okuri.json',
  date: '2026-01-01',
});
const motif = readSvg(readFileSync(here('../fixtures/demo/motif.svg')), {});
const show = (cloth) => runJob(motif, { ...job, cloth: { ...job.cloth, ...cloth } });
const result = show({});
const font = fontMetrics();

mkdirSync(out, { recursive: true });
const pictures = [
  ['cloth.png', clothPicture(show({ widthMm: 1200, lengthMm: 840, seams: false })), 0, 0.9],
  ['seams.png', clothPicture(show({ widthMm: 600, lengthMm: 420, seams: true })), 0, 1.6],
  ['stencil.png', stencilDrawings(result, font)[0], 0, 2.4],
  ['print-map.png', printSheetDrawings(result, font)[0], 0, 3],
  ['print-page.png', printSheetDrawings(result, font)[0], 2, 3],
  ['guide-front.png', cutGuideDrawing(result, font), 0, 3],
  ['guide-zone.png', cutGuideDrawing(result, font), 4, 3],
];
for (const [name, drawing, page, pixelsPerMm] of pictures) {
  writeFileSync(`${out}${name}`, await toPng(drawing, page, { pixelsPerMm }));
  console.log(`docs/pictures/${name}`);
}
