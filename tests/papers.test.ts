import { clothPicture, cutGuideDrawing, type Drawing, type Job, type JobFile, type JobResult, placementMapDrawing, planOf, printSheetDrawings, proofFormDrawings, proofMapDrawing, runJob, secondCutStripDrawings, stencilDrawings, textFaults } from '@okuri/core';
import { fontMetrics } from '@okuri/writer';
import { it } from 'vitest';
import { disc, jobOf, runShapes, box as rect, stroke } from './whole-job/support.js';
import { circleContour } from '@okuri/core';
import { appendFileSync, readdirSync, readFileSync } from 'node:fs';
import { readSvg } from '@okuri/reader';

const FONT = fontMetrics();
const PAPERS = ['A4', 'A3', 'Letter', 'Legal', 'Tabloid'];

function onPaper(result: JobResult, pages: Partial<Job['pages']>): JobResult {
  return { ...result, job: { ...result.job, pages: { ...result.job.pages, ...pages } } };
}
const log = (s: string) => appendFileSync('/tmp/letters/f.txt', `${s}\n`);
function all(result: JobResult): [string, Drawing, number][] {
  const m = result.job.pages.marginMm;
  const docs: [string, () => Drawing[], number][] = [
    ['sheets', () => printSheetDrawings(result, FONT), m],
    ['guide', () => [cutGuideDrawing(result, FONT)], m],
    ['map', () => [placementMapDrawing(result, planOf(result), FONT)], m],
    ['strips', () => secondCutStripDrawings(result, FONT), m],
    ['proof map', () => [proofMapDrawing(result, FONT)], m],
    ['form', () => proofFormDrawings(result, FONT), m],
    ['stencil', () => stencilDrawings(result, FONT), 0],
    ['cloth', () => [clothPicture(result)], 0],
  ];
  return docs.flatMap(([name, make, m]) => { const t = performance.now(); try { const d = make().map((d) => [name, d, m] as [string, Drawing, number]); const ms = performance.now()-t; if (ms > 1000) log(`   ${name} ${ms.toFixed(0)} ms`); return d; } catch (e) { log(`   ${name} THROWS ${(e as Error).message}`); return []; } });
}
function report(label: string, result: JobResult) {
  const t = performance.now();
  for (const paper of PAPERS) for (const orientation of (['portrait', 'landscape']) as Job['pages']['orientation'][]) {
    for (const [name, drawing, m] of all(onPaper(result, { paper, orientation }))) {
      const faults = textFaults(drawing, { font: FONT, marginMm: m });
      for (const f of faults) log(`${label} ${paper} ${orientation} ${name} p${f.page} ${f.kind} @${f.at.x.toFixed(0)},${f.at.y.toFixed(0)} ${JSON.stringify(f.text.slice(0,100))} | ${f.other}`);
    }
  }
  log(`${label}: ${(performance.now() - t).toFixed(0)} ms`);
}
const LONG = 'Weir vine with marsh marigolds, curtain lengths for the drying loft over the old mill race, second of three, to be printed again in the autumn when the paste is ready and the two long tables are free again'.slice(0, 200);
const many = (nx: number, ny: number, step: number, r: number) => Array.from({ length: nx * ny }, (_, k) => disc(`d${k}`, { x: step * (0.5 + (k % nx)), y: step * (0.5 + Math.floor(k / nx)) }, r));
const ring = (k: number, x: number, y: number) => stroke(`r${k}`, [circleContour({ x, y }, 9)], 3);
const CASES: Record<string, () => JobResult> = {
  title: () => runShapes([disc('a', { x: 2, y: 30 }, 12), ring(1, 50, 50), disc('b', { x: 99, y: 80 }, 8), rect('c', 20, 90, 80, 99)], [100, 100], { title: LONG, revision: `the second, with the ${LONG.slice(0, 60)}`, repeat: 'half-drop' }),
  wide: () => runShapes(many(40, 3, 30, 6), [1200, 90], { across: 1, repeat: 'brick' }),
  narrow: () => runShapes(many(2, 40, 30, 6), [60, 1200], { repeat: 'half-drop' }),
  tiny: () => runShapes([disc('a', { x: 8, y: 8 }, 4)], [16, 16], {}),
  inch: () => runShapes(many(6, 6, 25.4, 8), [152.4, 152.4], { cloth: { width: '44in', length: '5yd' as never } as never, hand: 'left' as never }),
  cloth12: () => runShapes([...many(5, 5, 20, 7), ring(1, 0, 50)], [100, 100], { cloth: { width: '1400mm', length: '12m' }, repeat: 'half-drop' }),
  cloth12straight: () => runShapes([...many(5, 5, 20, 7), ring(1, 0, 50)], [100, 100], { cloth: { width: '1400mm', length: '12m' } }),
  inks: () => runShapes(['#000000', '#c0392b', '#27ae60', '#2980b9', '#8e44ad', '#e67e22', '#16a085'].flatMap((ink, k) => [disc(`i${k}`, { x: 10 + 14 * k, y: 30 + k }, 6, ink)]), [110, 70], { method: 'direct' }),
};
for (const [name, make] of Object.entries(CASES)) it(name, { timeout: 600000 }, () => {
  const t = performance.now();
  let r; try { r = make(); } catch (e) { log(`${name} RUN THROWS ${(e as Error).message}`); return; }
  log(`${name} run ${(performance.now()-t).toFixed(0)} ms, openings ${r.sheets.map((s) => s.openings.length)}`);
  report(name, r);
});
for (const f of readdirSync(new URL('../fixtures/motifs/', import.meta.url)).filter((n) => n.endsWith('.svg'))) it(f, { timeout: 600000 }, () => {
  report(f, runJob(readSvg(readFileSync(new URL(`../fixtures/motifs/${f}`, import.meta.url))), jobOf({ width: '240mm' } as Partial<JobFile>)));
});
