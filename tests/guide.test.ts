import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { type Drawing, type JobResult, type JudgedSheet, runJob } from '@okuri/core';
import { contourArea, cutGuideDrawing, judgedSheets } from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { fontMetrics, toPdf } from '@okuri/writer';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { describe, expect, it } from 'vitest';
import { numberFaults } from './support/number-faults.js';
import { readPdfPage } from './support/pdf.js';
import { box, demoJob, disc, jobOf, runShapes } from './whole-job/support.js';

// Guides are read back from their PDFs by pdf.js 5.4.296, a reader that is not the project's.

const FONT = fontMetrics();
const MM_PER_PT = 25.4 / 72;
const require = createRequire(import.meta.url);

interface Word {
  readonly text: string;
  readonly sizeMm: number;
  readonly xMm: number;
  readonly yMm: number;
}

/** The words of every page, in the order in which they were written. */
async function wordsOf(drawing: Drawing): Promise<Word[][]> {
  const task = getDocument({ data: (await toPdf(drawing)).slice(), verbosity: 0 });
  const document = await task.promise;
  const pages: Word[][] = [];
  for (let k = 1; k <= document.numPages; k++) {
    const page = await document.getPage(k);
    const { items } = await page.getTextContent();
    pages.push(
      items.flatMap((item) => {
        if (!('str' in item) || item.str.trim() === '') return [];
        const [a, b, , , e, f] = item.transform as number[];
        return [
          {
            text: item.str.trim(),
            sizeMm: Math.hypot(a, b) * MM_PER_PT,
            xMm: e * MM_PER_PT,
            yMm: (page.view[3] - f) * MM_PER_PT,
          },
        ];
      }),
    );
  }
  await task.destroy();
  return pages;
}

const isPicture = (words: readonly Word[]) => words.some((w) => /^Zone Z\d+.*: .*true size/.test(w.text));

/** Numbers on the tick lists: those that stand to the right of a box to tick. */
function ticked(drawing: Drawing): number[] {
  return drawing.pages.flatMap(({ items }) => {
    const boxes = items.flatMap((i) => {
      if (i.kind !== 'path' || i.fill !== undefined || i.contours.length !== 1) return [];
      const [{ closed, coords }] = i.contours;
      const side = coords[6] - coords[0];
      return closed && coords.length === 26 && Math.abs(side - 3.6) < 1e-3 ? [{ x: coords[0], y: coords[1] }] : [];
    });
    return boxes.flatMap(({ x, y }) => {
      const number = items.find(
        (i) => i.kind === 'text' && i.bold === true && i.x > x && i.x < x + 6 && i.y > y && i.y < y + 5,
      );
      // Release ties have a list of their own: R1, R2, …
      if (number?.kind === 'text' && /^R\d+$/.test(number.text)) return [];
      // A number that reads as another upside down ends in a full stop.
      return [number?.kind === 'text' ? Number(number.text.replace(/\.$/, '')) : Number.NaN];
    });
  });
}

/** The cuts zone by zone; openings around paper that would fall out with the first cut stand after the others of theirs. */
function listed(sheets: readonly JudgedSheet[]): number[] {
  return sheets.flatMap(({ zones, paper }) => {
    const falling = new Set(paper.islands.flatMap(({ opening, dropsAt }) => (dropsAt === 'first' ? [opening] : [])));
    return zones.flatMap(({ firstCut, secondCut }) => [
      ...firstCut.filter((n) => !falling.has(n)),
      ...firstCut.filter((n) => falling.has(n)),
      ...secondCut,
    ]);
  });
}

/** Every opening of the first cut is on one tick list, every one of the second on one besides, and nothing else is. */
function checkLists(result: JobResult, drawing: Drawing): void {
  const inCuts = result.sheets.flatMap((s) =>
    s.openings.flatMap((o) => [
      ...(o.firstCut.length > 0 ? [o.number] : []),
      ...(o.secondCut.length > 0 ? [o.number] : []),
    ]),
  );
  const rising = (list: readonly number[]) => [...list].sort((a, b) => a - b);
  expect(ticked(drawing)).toEqual(listed(judgedSheets(result)));
  expect(rising(ticked(drawing))).toEqual(rising(inCuts));
}

/** Body text at least 3.2 mm em, numbers on pictures at least 3 mm high, and each of them there. */
function checkWords(result: JobResult, pages: readonly (readonly Word[])[]): void {
  const capShare = FONT.bold.capHeight / FONT.bold.unitsPerEm;
  for (const words of pages) for (const w of words) expect(w.sizeMm, w.text).toBeGreaterThanOrEqual(3.2 - 1e-3);
  const large = (w: Word) => w.sizeMm * capShare >= 3 - 1e-3;
  // pdf.js gives neighbours on one line as one text.
  const numbers = pages
    .filter(isPicture)
    .flatMap((words) => words.filter(large).flatMap((w) => w.text.match(/\(\d+\.?\)|\d+/g) ?? []));
  const seen = new Set(numbers.map((number) => number.replace('.', '')));
  const missing = result.sheets.flatMap((s) =>
    s.openings.flatMap(({ number, firstCut, secondCut }) => [
      ...(firstCut.length > 0 && !seen.has(`${number}`) ? [`${number}`] : []),
      ...(secondCut.length > 0 && !seen.has(`(${number})`) ? [`(${number})`] : []),
    ]),
  );
  expect(missing).toEqual([]);
}

function icons(): { readonly name: string; readonly svg: string }[] {
  const sets = [
    ['@mdi/svg', 'svg', 420],
    ['bootstrap-icons', 'icons', 118],
    ['lucide-static', 'icons', 110],
  ] as const;
  return sets.flatMap(([name, folder, every]) => {
    const root = join(dirname(require.resolve(`${name}/package.json`)), folder);
    const files = readdirSync(root).filter((f) => f.endsWith('.svg'));
    const chosen = files.sort().filter((_, k) => k % every === 0);
    return chosen.map((file) => ({ name: `${name} ${file}`, svg: readFileSync(join(root, file), 'utf8') }));
  });
}

describe('the cut guide', () => {
  it('of the demo: tick lists, sizes of words, all numbers', async () => {
    const { motif, job } = demoJob();
    const result = runJob(motif, job);
    const drawing = cutGuideDrawing(result, FONT);
    checkLists(result, drawing);
    expect(numberFaults(drawing, FONT)).toEqual([]);
    const pages = await wordsOf(drawing);
    checkWords(result, pages);
    pages.forEach((words, k) => {
      expect(words.some((w) => w.text.includes(`page ${k + 1} of ${pages.length}`))).toBe(true);
    });
  });

  it('of 50 icons, from 30 to 600 mm: tick lists, sizes of words, all numbers', async () => {
    const all = icons();
    expect(all.length).toBeGreaterThanOrEqual(50);
    const widths = [30, 90, 200, 600];
    for (const [k, { name, svg }] of all.entries()) {
      const widthMm = widths[k % widths.length];
      const repeat = k % 3 === 0 ? 'half-drop' : 'straight';
      const result = runJob(readSvg(svg, { widthMm }), jobOf({ title: name, width: `${widthMm}mm`, repeat }));
      const drawing = cutGuideDrawing(result, FONT);
      checkLists(result, drawing);
      expect(numberFaults(drawing, FONT), name).toEqual([]);
      checkWords(result, await wordsOf(drawing));
    }
  });

  it('is found at fault where a number is moved onto a cut', () => {
    const { motif, job } = demoJob();
    const drawing = cutGuideDrawing(runJob(motif, job), FONT);
    const pages = drawing.pages.map((page) => ({
      ...page,
      items: page.items.map((i) => (i.kind === 'text' && i.anchor === 'middle' ? { ...i, x: i.x + 3 } : i)),
    }));
    expect(numberFaults({ ...drawing, pages }, FONT).length).toBeGreaterThan(50);
  });

  it('shows true size as true: areas and the bar of a zone page', async () => {
    const shapes = [box('a', 20, 30, 60, 50), disc('b', { x: 70, y: 80 }, 12)];
    const result = runShapes(shapes, [130, 130]);
    const drawing = cutGuideDrawing(result, FONT);
    const pages = await wordsOf(drawing);
    const k = pages.findIndex((words) => words.some((w) => w.text === 'Zone Z1: true size'));
    expect(k).toBeGreaterThan(0);
    const pdf = await readPdfPage(await toPdf({ ...drawing, pages: [drawing.pages[k]] }));
    const [sheet] = result.sheets;
    const cut = sheet.openings.flatMap((o) => o.firstCut).reduce((sum, c) => sum + contourArea(c), 0);
    expect(cut).toBeCloseTo(800 + Math.PI * 144, 0);
    // Leading dots are filled as well.
    const dots = sheet.dots.filter((d) => d.lead).reduce((sum, d) => sum + Math.PI * (d.diameterMm / 2) ** 2, 0);
    expect(Math.abs(pdf.filledPt2 * MM_PER_PT ** 2 - cut - dots) / cut).toBeLessThan(1e-3);
    const bar = drawing.pages[k].items.find(
      (i) => i.kind === 'path' && i.contours.length === 3 && i.line?.widthMm === 0.3,
    );
    if (bar?.kind !== 'path') throw new RangeError('got no bar');
    const { coords } = bar.contours[0];
    expect(Math.abs(coords[coords.length - 2] - coords[0])).toBeCloseTo(50, 3);
  });

  it('of an opening 3 mm wide and of one 2 m wide', async () => {
    const small = runShapes([disc('dot', { x: 15, y: 15 }, 1.5)], [40, 40]);
    const long = runShapes([box('bar', 20, 20, 2020, 24), disc('dot', { x: 60, y: 60 }, 1)], [2100, 120]);
    for (const result of [small, long]) {
      const drawing = cutGuideDrawing(result, FONT);
      checkLists(result, drawing);
      expect(numberFaults(drawing, FONT)).toEqual([]);
      checkWords(result, await wordsOf(drawing));
    }
  });

  it('of 1,000 openings: under 5 MB', async () => {
    const shapes = Array.from({ length: 1000 }, (_, k) => {
      const at = { x: 10 + 15 * (k % 25), y: 10 + 15 * Math.floor(k / 25) };
      return k % 3 === 0 ? box(`b${k}`, at.x - 5, at.y - 1, at.x + 5, at.y + 1) : disc(`d${k}`, at, 1 + (k % 5));
    });
    const result = runShapes(shapes, [380, 610]);
    expect(result.sheets[0].openings.length).toBeGreaterThanOrEqual(1000);
    const drawing = cutGuideDrawing(result, FONT);
    const pdf = await toPdf(drawing);
    expect(pdf.byteLength).toBeLessThan(5e6);
    checkLists(result, drawing);
    checkWords(result, await wordsOf(drawing));
  });
});
