import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { type JobFile, type JobResult, runJob, type Sheet } from '@okuri/core';
import {
  type Cartoon,
  drawCartoon,
  labelFaults,
  placementMapDrawing,
  planOf,
  printSheetDrawings,
  secondCutStripDrawings,
  textFaults,
} from '@okuri/core/inside';
import { readSvg } from '@okuri/reader';
import { fontMetrics, toPdf } from '@okuri/writer';
import { beforeAll, describe, expect, it } from 'vitest';
import { type PaintedPage, paintedPages } from './support/pdf-lines.js';
import { demoJob, disc, jobOf, runShapes } from './whole-job/support.js';

// No label on a cut line or on another label, and every number in or at its own opening: over the demo, the small motifs and icons of
// two open sets (Material Design Icons, Apache-2.0; Bootstrap Icons, MIT). Text sizes and line widths are read back from the PDF by pdf.js.

const FONT = fontMetrics();
/** Height of capitals and digits of the bundled font over its em, from its own table. */
const CAP = FONT.bold.capHeight / FONT.bold.unitsPerEm;
const ICONS_PER_SET = 25;
/** Sizes in a PDF are rounded to 1e-4 pt or so, mm. */
const ROUNDING_MM = 0.002;

const require = createRequire(import.meta.url);

/** Evenly chosen icons of a set. */
function icons(set: string, folder: string): { name: string; svg: string }[] {
  const root = join(dirname(require.resolve(`${set}/package.json`)), folder);
  const names = readdirSync(root)
    .filter((name) => name.endsWith('.svg'))
    .sort();
  const every = Math.floor(names.length / ICONS_PER_SET);
  return Array.from({ length: ICONS_PER_SET }, (_, k) => names[k * every]).map((name) => ({
    name: `${set} ${name}`,
    svg: readFileSync(join(root, name), 'utf8'),
  }));
}

/** The drawings of every sheet of a job, checked. */
function checked(result: JobResult, name = ''): { sheet: Sheet; cartoon: Cartoon }[] {
  return result.sheets.map((sheet) => {
    const cartoon = drawCartoon(sheet, { font: FONT });
    expect(labelFaults(sheet, cartoon.layers, { font: FONT }), name).toEqual([]);
    return { sheet, cartoon };
  });
}

/** Numbers that a cartoon writes. */
function numbersOf({ layers }: Cartoon): number[] {
  return layers
    .flatMap(({ items }) => items)
    .flatMap((item) => (item.kind === 'text' ? [/^\(?(\d+)\.?\)?( ✓)?$/.exec(item.text)] : []))
    .flatMap((found) => (found ? [Number(found[1])] : []));
}

/** Every opening is numbered, or named as missing, or punched and marked by its size. */
function accounted({ sheet, cartoon }: { sheet: Sheet; cartoon: Cartoon }): void {
  const written = numbersOf(cartoon);
  const punched = sheet.openings.filter((o) => o.tool === 'punch' && o.firstCut.length > 0).map((o) => o.number);
  const all = [...written, ...cartoon.missingNumbers, ...punched].sort((a, b) => a - b);
  expect(all).toEqual(sheet.openings.map((o) => o.number).sort((a, b) => a - b));
}

let demo: JobResult;
beforeAll(() => {
  const { motif, job } = demoJob();
  demo = runJob(motif, job);
});

describe('labels of the cartoon', () => {
  it('the demo: no fault, every opening accounted for, every zone lettered', () => {
    for (const one of checked(demo)) {
      accounted(one);
      expect(one.cartoon.missingZones).toEqual([]);
      expect(numbersOf(one.cartoon).length).toBeGreaterThan(150);
    }
  });

  it('the demo on Letter: every text of its sheets, strips and map is whole and on its page', () => {
    const pages = { ...demo.job.pages, paper: 'Letter', orientation: 'landscape' } as const;
    const result = { ...demo, job: { ...demo.job, pages } };
    const drawings = [
      ...printSheetDrawings(result, FONT),
      ...secondCutStripDrawings(result, FONT),
      placementMapDrawing(result, planOf(result), FONT),
    ];
    for (const drawing of drawings) {
      expect(textFaults(drawing, { font: FONT, marginMm: pages.marginMm }), drawing.title).toEqual([]);
    }
  });

  it('the demo with openings done: they are ticked', () => {
    const [sheet] = demo.sheets;
    const done = { ...sheet, openings: sheet.openings.map((o) => ({ ...o, done: o.number % 5 === 0 })) };
    const cartoon = drawCartoon(done, { font: FONT });
    expect(labelFaults(done, cartoon.layers, { font: FONT })).toEqual([]);
    const texts = cartoon.layers.flatMap(({ items }) => items.flatMap((i) => (i.kind === 'text' ? [i.text] : [])));
    const ticked = texts.filter((text) => text.endsWith('✓'));
    expect(ticked.length).toBeGreaterThan(20);
    for (const text of ticked) expect(Number.parseInt(text.replace('(', ''), 10) % 5).toBe(0);
  });

  const motifs = readdirSync(new URL('../fixtures/motifs/', import.meta.url)).filter((name) => name.endsWith('.svg'));
  it.each(motifs)('%s', (name) => {
    const motif = readSvg(readFileSync(new URL(`../fixtures/motifs/${name}`, import.meta.url)));
    checked(runJob(motif, jobOf({ width: '240mm' }))).forEach(accounted);
  });

  it.each([
    ['@mdi/svg', 'svg'],
    ['bootstrap-icons', 'icons'],
  ])('icons of %s', (set, folder) => {
    let sheets = 0;
    let numbers = 0;
    for (const [k, { name, svg }] of icons(set, folder).entries()) {
      const widthMm = k % 2 === 0 ? 180 : 90;
      const says: Partial<JobFile> = {
        width: `${widthMm}mm`,
        repeat: k % 3 === 0 ? 'half-drop' : 'straight',
        across: 1 + (k % 2),
        down: 1 + (k % 3),
      };
      const result = runJob(readSvg(svg, { widthMm }), jobOf(says));
      expect(result.sheets.length, name).toBeGreaterThan(0);
      for (const one of checked(result, name)) {
        accounted(one);
        sheets++;
        numbers += numbersOf(one.cartoon).length;
      }
    }
    expect(sheets).toBeGreaterThanOrEqual(ICONS_PER_SET);
    expect(numbers).toBeGreaterThan(2 * sheets);
  });

  it('of a thousand openings every number is written or named as missing', () => {
    const shapes = Array.from({ length: 1000 }, (_, k) =>
      disc(`d${k}`, { x: 8 + 15 * (k % 40), y: 8 + 15 * Math.floor(k / 40) }, 2.2 + ((k * 7) % 9) / 2),
    );
    const [sheet] = runShapes(shapes, [600, 375]).sheets;
    expect(sheet.openings.length).toBeGreaterThanOrEqual(1000);
    const cartoon = drawCartoon(sheet, { font: FONT });
    const punched = sheet.openings.filter((o) => o.tool === 'punch' && o.firstCut.length > 0).length;
    expect(numbersOf(cartoon).length + cartoon.missingNumbers.length).toBe(sheet.openings.length - punched);
  });
});

describe('the check itself', () => {
  it('finds a label that is moved onto a cut line, onto another label, off its opening, off the paper', () => {
    const result = runShapes([disc('a', { x: 50, y: 50 }, 12), disc('b', { x: 100, y: 50 }, 12)], [150, 100]);
    const [{ sheet, cartoon }] = checked(result);
    const moved = (dx: number) =>
      cartoon.layers.map((layer) => ({
        ...layer,
        items: layer.items.map((item) =>
          item.kind === 'text' && item.text === '1' ? { ...item, x: item.x + dx } : item,
        ),
      }));
    const kinds = (dx: number) => labelFaults(sheet, moved(dx), { font: FONT }).map(({ kind }) => kind);
    expect(kinds(0)).toEqual([]);
    expect(kinds(12)).toContain('on-cut');
    expect(kinds(25)).toEqual(['not-at-opening']);
    expect(kinds(50)).toEqual(expect.arrayContaining(['on-label', 'not-at-opening']));
    expect(kinds(-500)).toEqual(expect.arrayContaining(['off-paper', 'not-at-opening']));
    const twice = cartoon.layers.map((layer) =>
      layer.id === 'labels'
        ? { ...layer, items: layer.items.map((i) => (i.kind === 'text' && i.text === '2' ? { ...i, text: '1' } : i)) }
        : layer,
    );
    expect(labelFaults(sheet, twice, { font: FONT }).length).toBeGreaterThan(0);
  });
});

describe('print sheets read back by pdf.js', () => {
  let pages: PaintedPage[];
  beforeAll(async () => {
    const [drawing] = printSheetDrawings(demo, FONT);
    pages = (await paintedPages(await toPdf(drawing))).slice(drawing.pages.findIndex(({ name }) => name === 'P1'));
  });

  it('digits of openings are at least 4 mm high, letters of zones 12 mm or what the zone has room for', () => {
    const words = pages.flatMap(({ words }) => words);
    const capOf = ({ emMm }: { emMm: number }) => emMm * CAP;
    // pdf.js gives what a page's form holds, shown through the window or not; words of the strip are never bare numbers.
    const numbers = words
      .filter(({ text }) => /^(\(\d+\.?\)|\d{3,}\.?|ø[\d.]+)$/.test(text))
      .filter(({ emMm }) => emMm > 3.05);
    expect(numbers.length).toBeGreaterThan(150);
    for (const number of numbers) expect(capOf(number)).toBeGreaterThanOrEqual(4 - ROUNDING_MM);
    const zones = words.filter(({ text }) => /^Z\d+$/.test(text)).map(capOf);
    expect(zones.length).toBeGreaterThan(0);
    expect(zones.filter((cap) => Math.abs(cap - 12) < ROUNDING_MM).length).toBeGreaterThan(zones.length / 3);
    for (const cap of zones) expect(cap).toBeLessThanOrEqual(12 + ROUNDING_MM);
    for (const cap of zones) expect(cap).toBeGreaterThanOrEqual(4 - ROUNDING_MM);
  });

  it('first cuts are solid lines of 0.25 mm with 20 % grey, the hold line long dashes of 0.8 mm, second cuts dots without grey', () => {
    for (const { paths } of pages) {
      const grey = paths.filter(({ fill }) => fill === '#cccccc');
      expect(grey.length).toBeGreaterThan(100);
      const solid = paths.filter(({ lineMm, stroke, dashMm }) => {
        return lineMm !== null && stroke === '#000000' && dashMm.length === 0 && Math.abs(lineMm - 0.25) < ROUNDING_MM;
      });
      expect(solid.length).toBeGreaterThanOrEqual(grey.filter(({ lineMm }) => lineMm !== null).length);
      const hold = paths.filter(({ lineMm }) => lineMm !== null && Math.abs(lineMm - 0.8) < ROUNDING_MM);
      expect(hold.length).toBeGreaterThan(0);
      for (const { dashMm } of hold) expect(dashMm[0]).toBeCloseTo(8, 2);
      const dotted = paths.filter(({ dashMm }) => dashMm.length > 0 && dashMm[0] < 0.1);
      expect(dotted.length).toBeGreaterThan(50);
      for (const { fill } of dotted) expect(fill).toBeNull();
    }
  });

  it('every page explains itself in words', () => {
    for (const { words } of pages) {
      const all = words.map(({ text }) => text).join(' ');
      for (const part of ['grey comes out', 'not yet', 'hold line', 'stop: the cut ends here', 'dot: punch', 'zone']) {
        expect(all).toContain(part);
      }
    }
  });
});
