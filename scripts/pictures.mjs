// Makes the pictures that README.md shows, from the demo job. Run it after a change that shows.
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readSvg } from '../packages/reader/dist/index.js';
import { fontMetrics, toPng } from '../packages/writer/dist/index.js';
import { core } from './core.mjs';

const { clothPicture, cutGuideDrawing, printSheetDrawings, readJob, runJob, secondCutStripDrawings, stencilDrawings } =
  core;
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
const guide = cutGuideDrawing(result, font);

/** The first page of the guide with a line that begins so. */
function pageWith(words) {
  const says = (item) =>
    (item.kind === 'text' && item.text.startsWith(words)) || ('items' in item && item.items.some(says));
  const page = guide.pages.findIndex(({ items }) => items.some(says));
  if (page < 0) throw new Error(`no page of the guide says ${words}`);
  return page;
}

/** The job as it is after a proof: every join is cut a little off, as a hand does it. */
const [sheet] = result.sheets;
const offsets = sheet.ends.joins.map(({ name }, k) => ({
  name,
  offsetMm: Math.round(50 * Math.sin(1.7 * k)) / 100,
  turnDeg: 0,
  place: null,
}));
const proved = runJob(motif, { ...job, proof: { [sheet.ink]: offsets } });

const pictures = [
  ['cloth.png', clothPicture(show({ widthMm: 1200, lengthMm: 840, seams: false })), 0, 0.9],
  ['seams.png', clothPicture(show({ widthMm: 600, lengthMm: 420, seams: true })), 0, 1.6],
  ['stencil.png', stencilDrawings(result, font)[0], 0, 2.4],
  ['print-map.png', printSheetDrawings(result, font)[0], 0, 3],
  ['print-page.png', printSheetDrawings(result, font)[0], 2, 3],
  ['guide-front.png', guide, 0, 3],
  ['guide-zone.png', guide, pageWith('Zone Z3'), 3],
  ['guide-paper.png', guide, pageWith('The paper'), 3],
  ['strip.png', secondCutStripDrawings(proved, font)[0], 1, 3],
  ['guide-release.png', guide, pageWith('Release cut: only'), 3],
];
for (const [name, drawing, page, pixelsPerMm] of pictures) {
  writeFileSync(`${out}${name}`, await toPng(drawing, page, { pixelsPerMm }));
  console.log(`docs/pictures/${name}`);
}
await import('./scan-pictures.mjs');
await import('./studio-pictures.mjs');
