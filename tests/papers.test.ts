import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Box, circleContour, type Drawing, type Job, type JobResult, type Page, runJob } from '@okuri/core';
import {
  clothPicture,
  cutGuideDrawing,
  findPaper,
  placementMapDrawing,
  planOf,
  printSheetDrawings,
  proofFormDrawings,
  proofMapDrawing,
  secondCutStripDrawings,
  stencilDrawings,
  textFaults,
} from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { fontMetrics, toPdf } from '@okuri/writer';
import { expect, it } from 'vitest';
import { disc, jobOf, box as rectangle, runShapes, stroke } from './whole-job/support.js';

// No text of any document is cut off, runs over another or leaves the paper, on paper of several sizes, for jobs that are made to be awkward. Sizes: ISO 216 and ASME Y14.1.

const FONT = fontMetrics();
const PAPERS = ['A4', 'A3', 'Letter', 'Legal', 'Tabloid'];
const ORIENTATIONS = ['portrait', 'landscape'] as const;

const LONG_TITLE =
  'Weir vine with marsh marigolds, curtain lengths for the drying loft over the old mill race, second of three, to be printed again in the autumn when the paste is ready and the two long tables are free to use';

const grid = (across: number, down: number, stepMm: number, radius: number) =>
  Array.from({ length: across * down }, (_, k) =>
    disc(`d${k}`, { x: stepMm * (0.5 + (k % across)), y: stepMm * (0.5 + Math.floor(k / across)) }, radius),
  );
const ring = (x: number, y: number) => stroke(`ring${x}`, [circleContour({ x, y }, 9)], 3);
const INKS = ['#000000', '#c0392b', '#27ae60', '#2980b9', '#8e44ad'];

const JOBS: readonly (readonly [string, () => JobResult])[] = [
  [
    'a title of 200 letters and a long revision',
    () =>
      runShapes(
        [disc('a', { x: 2, y: 30 }, 12), ring(50, 50), disc('b', { x: 99, y: 80 }, 8), rectangle('c', 20, 90, 80, 99)],
        [100, 100],
        { title: LONG_TITLE, revision: `the second, with the ${LONG_TITLE.slice(0, 60)}`, repeat: 'half-drop' },
      ),
  ],
  ['a wide brick', () => runShapes(grid(20, 2, 60, 6), [1200, 120], { repeat: 'brick' })],
  ['a narrow half-drop', () => runShapes(grid(1, 20, 60, 6), [60, 1200], { repeat: 'half-drop' })],
  ['a tiny unit', () => runShapes([disc('a', { x: 8, y: 8 }, 4)], [16, 16])],
  [
    'inches, left hand',
    () =>
      runShapes(grid(4, 4, 38.1, 14), [152.4, 152.4], {
        cloth: { width: '44in', length: '180in' },
        hand: 'left',
      }),
  ],
  [
    'cloth of 12 m',
    () =>
      runShapes([...grid(3, 3, 33, 9), ring(0, 50)], [100, 100], {
        cloth: { width: '1400mm', length: '12m' },
        repeat: 'half-drop',
      }),
  ],
  [
    'five inks',
    () =>
      runShapes(
        INKS.map((ink, k) => disc(`i${k}`, { x: 14 + 20 * k, y: 30 + k }, 6, ink)),
        [110, 70],
        { method: 'direct' },
      ),
  ],
  ...['stroke-vine.svg'].map((name): readonly [string, () => JobResult] => [
    name,
    () =>
      runJob(readSvg(readFileSync(new URL(`../fixtures/motifs/${name}`, import.meta.url))), jobOf({ width: '240mm' })),
  ]),
];

function onPaper(result: JobResult, pages: Partial<Job['pages']>): JobResult {
  return { ...result, job: { ...result.job, pages: { ...result.job.pages, ...pages } } };
}

/** Documents on the printer's own paper; the guide and what belongs to it know A4 and Letter alone. */
function documents(result: JobResult, { guides }: { guides: boolean }): Drawing[] {
  return [
    ...printSheetDrawings(result, FONT),
    placementMapDrawing(result, planOf(result), FONT),
    ...secondCutStripDrawings(result, FONT),
    ...(guides
      ? [cutGuideDrawing(result, FONT), proofMapDrawing(result, FONT), ...proofFormDrawings(result, FONT)]
      : []),
  ];
}

it.each(JOBS)('%s: every text is whole, on its page and on no other, on any paper', (_, make) => {
  const result = make();
  for (const drawing of [...stencilDrawings(result, FONT), clothPicture(result)]) {
    expect(textFaults(drawing, { font: FONT }), drawing.title).toEqual([]);
  }
  let texts = 0;
  for (const paper of PAPERS) {
    const isGuidePaper = paper === 'A4' || paper === 'Letter';
    for (const orientation of paper === 'Letter' ? ORIENTATIONS : ORIENTATIONS.slice(0, 1)) {
      const own = onPaper(result, { paper, orientation });
      const { marginMm } = own.job.pages;
      for (const drawing of documents(own, { guides: isGuidePaper && orientation === 'portrait' })) {
        expect(textFaults(drawing, { font: FONT, marginMm }), `${drawing.title} on ${paper} ${orientation}`).toEqual(
          [],
        );
        texts += drawing.pages.reduce((sum, { items }) => sum + items.filter(({ kind }) => kind === 'text').length, 0);
      }
    }
  }
  expect(texts).toBeGreaterThan(500);
});

it('the check finds texts off the page, over each other, cut by a clip and shortened', () => {
  const text = (said: string, x: number, y = 20) =>
    ({ kind: 'text', text: said, x, y, sizeMm: 4, colour: '#000000' }) as const;
  const frame = (x1: number): Box => ({ x0: 0, y0: 0, x1, y1: 50 });
  const { widthMm, heightMm } = findPaper('A4');
  const kinds = (...items: Page['items']) => {
    const drawing: Drawing = {
      title: '',
      date: '2026-01-01',
      groups: { words: [text('a long line of words', 0)] },
      pages: [{ name: '1', widthMm, heightMm, items }],
    };
    return textFaults(drawing, { font: FONT, marginMm: 6 }).map(({ kind }) => kind);
  };
  const clip = (x1: number, item: Page['items'][number]) => {
    const { x0, y0, y1 } = frame(x1);
    const corners = [x0, y0, x1, y0, x1, y1, x0, y1, x0, y0];
    const coords = new Float64Array(26);
    for (let k = 0; k < 5; k++) {
      const at = 6 * k;
      coords[at] = corners[2 * k];
      coords[at + 1] = corners[2 * k + 1];
      if (k === 4) break;
      const next = [corners[2 * k + 2], corners[2 * k + 3]];
      coords.set([corners[2 * k], corners[2 * k + 1], ...next], at + 2);
    }
    return { kind: 'clip', contours: [{ coords, closed: true }], items: [item] } as const;
  };
  expect(kinds(text('whole', 10))).toEqual([]);
  expect(kinds(text('too far left', 5))).toEqual(['off-paper']);
  expect(kinds(text('too far right', 195))).toEqual(['off-paper']);
  expect(kinds(text('one', 20), text('other', 22))).toEqual(['on-label']);
  expect(kinds(text('one', 20), text('below', 20, 26))).toEqual([]);
  expect(kinds(clip(25, text('cut by its frame', 10)))).toEqual(['cut-off']);
  expect(kinds(clip(80, text('in its frame', 10)))).toEqual([]);
  expect(kinds(text('short…', 20))).toEqual(['shortened']);
  expect(kinds(text('short…', 20), text('shortened not', 20, 40))).toEqual([]);
  const place = { kind: 'place', group: 'words', at: [[1, 0, 0, 1, 10, 20]] } as const;
  expect(kinds(clip(30, place))).toEqual(['cut-off']);
  expect(kinds(clip(90, place))).toEqual([]);
});

const hasPoppler = (() => {
  try {
    execFileSync('pdftotext', ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
})();

it.skipIf(!hasPoppler)('words of a PDF, as poppler finds them, lie within the margins of their pages', async () => {
  const [, make] = JOBS[0];
  const result = onPaper(make(), { paper: 'Letter', orientation: 'landscape' });
  const folder = mkdtempSync(join(tmpdir(), 'okuri-papers-'));
  try {
    let words = 0;
    for (const drawing of [
      printSheetDrawings(result, FONT)[0],
      placementMapDrawing(result, planOf(result), FONT),
      cutGuideDrawing(result, FONT),
    ]) {
      const file = join(folder, 'pages.pdf');
      writeFileSync(file, await toPdf(drawing));
      const [, ...pages] = execFileSync('pdftotext', ['-bbox', file, '-'], { encoding: 'utf8' }).split('<page ');
      expect(pages).toHaveLength(drawing.pages.length);
      for (const [k, page] of pages.entries()) {
        const { widthMm, heightMm, name } = drawing.pages[k];
        // Boxes of words are as high as the face, not as the ink.
        const slackMm = 1.5;
        for (const [, x0, y0, x1, y1, word] of page.matchAll(
          /<word xMin="([\d.-]+)" yMin="([\d.-]+)" xMax="([\d.-]+)" yMax="([\d.-]+)">([^<]*)</g,
        )) {
          const [left, top, right, bottom] = [x0, y0, x1, y1].map((pt) => (Number(pt) * 25.4) / 72);
          const own = `${word} on ${name}`;
          const margin = result.job.pages.marginMm - slackMm;
          // Words of the drawing that a window hides are in the page all the same.
          if (/^P\d/.test(name)) continue;
          expect(left, own).toBeGreaterThan(margin);
          expect(top, own).toBeGreaterThan(margin);
          expect(right, own).toBeLessThan(widthMm - margin);
          expect(bottom, own).toBeLessThan(heightMm - margin);
          words++;
        }
      }
    }
    expect(words).toBeGreaterThan(500);
  } finally {
    rmSync(folder, { recursive: true });
  }
});
