import type { JobFile, JobResult, Point } from '@okuri/core';
import { findPaper, judgedSheets, type PagePlan, printSheetDrawings, printSheets } from '@okuri/core/inside';
import { fontMetrics, toPdf } from '@okuri/writer';
import { beforeAll, describe, expect, it } from 'vitest';
import { type PdfPage, type PdfPath, readPages } from './read-pdf.js';
import { box, disc, runShapes } from './support.js';

// The files are read back by another reader, pdf.js 5.4 (pdfjs-dist), matrices multiplied by hand; user space is 1/72 in (ISO 32000-1, 8.3.2.3).

const MM_PER_POINT = 25.4 / 72;
/** What is asked of any position over a metre. */
const TRUE_MM = 0.02;
/** The palette's green (Okabe & Ito): dots and their rings alone have it. */
const DOT_GREEN = '#009e73';
/** Its reddish purple: the edge of the design. */
const FIELD_PURPLE = '#cc79a7';
const FONT = fontMetrics();

/** A sheet one metre wide and 0.6 m high: 40 mm of border, a unit of 935 × 535 mm, 25 mm at the trailing edge. */
const UNIT: readonly [number, number] = [935, 535];
const SHEET = { widthMm: 1000, heightMm: 600 };
const MARKS: readonly Point[] = [
  { x: 30, y: 25 },
  { x: 467.5, y: 267.5 },
  { x: 880.123, y: 470.456 },
];

interface Case {
  readonly name: string;
  readonly pages: NonNullable<JobFile['pages']>;
}

const CASES: readonly Case[] = [
  { name: 'split over A4', pages: { paper: 'A4' } },
  { name: 'split over Letter, corrected', pages: { paper: 'Letter', scaleAcross: 1.003, scaleAlong: 0.997 } },
  { name: 'mirrored, split over A3 landscape', pages: { paper: 'A3', orientation: 'landscape', mirror: true } },
  { name: 'as one page', pages: { paper: '1100mm x 700mm' } },
];

describe.each(CASES)('a sheet one metre wide, $name', ({ pages: says }) => {
  let result: JobResult;
  let plan: PagePlan;
  let pages: readonly PdfPage[];
  let printed: readonly { readonly page: PdfPage; readonly planned: PagePlan['pages'][number] }[];
  beforeAll(async () => {
    ({ result, plan, pages } = await madeWith(says));
    // The map and the instructions come first.
    printed = plan.pages.map((planned, k) => ({ page: pages[pages.length - plan.pages.length + k], planned }));
  });

  it('has pages of the size of the paper', () => {
    const { widthMm, heightMm } = plan.paper;
    for (const { widthPt, heightPt } of pages) {
      expect(Math.abs(widthPt * MM_PER_POINT - widthMm)).toBeLessThan(1e-5);
      expect(Math.abs(heightPt * MM_PER_POINT - heightMm)).toBeLessThan(1e-5);
    }
  });

  it('puts every dot where it belongs, on every page that shows it', () => {
    const [sheet] = result.sheets;
    const places = seen(printed, plan, isDotRing);
    const own = sheet.dots.map(({ at }) => ({ x: says.mirror ? SHEET.widthMm - at.x : at.x, y: at.y }));
    // The form is on every page, so each page tells where all the dots are.
    expect(places).toHaveLength(own.length * printed.length);
    expectAt(places, own);
    // And how far apart they are: over 935 mm across, 535 down, and the diagonal.
    for (const { page, planned } of printed) {
      const [a, , c] = page.paths.filter(isDotRing).map((path) => onDrawing(middle(path), planned, plan));
      expect(Math.abs(Math.hypot(c.x - a.x, c.y - a.y) - Math.hypot(...UNIT))).toBeLessThan(TRUE_MM);
    }
  });

  it('puts the edge of the design where it belongs', () => {
    const [{ field }] = result.sheets;
    for (const { page, planned } of printed) {
      const [edge] = page.paths.filter(({ colour, paint }) => colour === FIELD_PURPLE && paint === 'stroke');
      const corners = [
        { x: edge.box.x0, y: edge.box.y0 },
        { x: edge.box.x1, y: edge.box.y1 },
      ].map((p) => onDrawing(p, planned, plan));
      const [x0, x1] = says.mirror ? [SHEET.widthMm - field.x1, SHEET.widthMm - field.x0] : [field.x0, field.x1];
      expectAt(corners, [
        { x: x0, y: field.y0 },
        { x: x1, y: field.y1 },
      ]);
    }
  });

  it('puts the artwork where it belongs', () => {
    const places = seen(printed, plan, isMark);
    expect(places).toHaveLength(MARKS.length * printed.length);
    expectAt(
      places,
      MARKS.map(({ x, y }) => ({ x: says.mirror ? SHEET.widthMm - x - 40 : x + 40, y: y + 40 })),
    );
  });

  it('has two test bars a page, at right angles, as long as they say times the printer correction', () => {
    for (const { page } of printed) {
      const [across, along] = barsOf(page);
      for (const { lengthMm, scale, room } of [
        { lengthMm: across, scale: plan.scaleAcross, room: plan.paper.widthMm - 2 * plan.marginMm },
        {
          lengthMm: along,
          scale: plan.scaleAlong,
          room: plan.paper.heightMm - 2 * plan.marginMm - plan.strip.bottomMm,
        },
      ]) {
        const nominal = lengthMm / scale;
        // Whole centimetres, as many as there is room for.
        expect(Math.abs(nominal - Math.round(nominal / 10) * 10)).toBeLessThan(TRUE_MM);
        expect(lengthMm).toBeLessThan(room + TRUE_MM);
        expect(lengthMm).toBeGreaterThan(room - 10 * scale - TRUE_MM);
      }
    }
  });
});

describe('the bars', () => {
  it('are labelled with the length that was drawn', async () => {
    const { drawing, pages, plan } = await madeWith({ paper: 'A4', scaleAcross: 1.003, scaleAlong: 0.997 });
    const layer = drawing.pages.at(-1)?.items.find((item) => item.kind === 'layer' && item.id === 'test-bars');
    const texts =
      layer?.kind === 'layer' ? layer.items.flatMap((item) => (item.kind === 'text' ? [item.text] : [])) : [];
    const said = texts.flatMap((text) => {
      const [, mm, whole, p, q, sign, rest] =
        /^bar (\d+) mm = (\d+)(?: (\d+)\/(\d+))? in(?: (less|plus) ([\d.]+) mm)?$/.exec(text) ?? [];
      if (mm === undefined) return [];
      // 1 in = 25.4 mm (International Yard and Pound Agreement, 1959).
      const inches = 25.4 * (Number(whole) + Number(p ?? 0) / Number(q ?? 1));
      return [Number(mm), inches + (sign === 'less' ? -1 : 1) * Number(rest ?? 0)];
    });
    const last = pages.at(-1);
    expect(last).toBeDefined();
    const [across, along] = barsOf(last as PdfPage);
    expect(said).toHaveLength(4);
    expect(Math.abs(across / plan.scaleAcross - said[0])).toBeLessThan(TRUE_MM);
    expect(Math.abs(along / plan.scaleAlong - said[2])).toBeLessThan(TRUE_MM);
    // What is left over is written to 0.01 mm.
    expect(Math.abs(said[1] - said[0])).toBeLessThan(0.005 + 1e-9);
    expect(Math.abs(said[3] - said[2])).toBeLessThan(0.005 + 1e-9);
  });
});

describe('the size of pages in points', () => {
  // ISO 216 (A4, A3, A0) and 8.5 × 11 and 11 × 17 in (ASME Y14.1), in 1/72 in.
  it.each([
    ['A4', 595.275591, 841.889764],
    ['A3', 841.889764, 1190.551181],
    ['A0', 2383.937008, 3370.393701],
    ['Letter', 612, 792],
    ['Tabloid', 792, 1224],
  ] as const)('%s is %d × %d', async (paper, width, height) => {
    const bytes = await toPdf((await madeWith({ paper, orientation: 'portrait' })).drawing, { compress: false });
    const boxes = [
      ...Buffer.from(bytes)
        .toString('latin1')
        .matchAll(/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/g),
    ];
    expect(boxes.length).toBeGreaterThan(1);
    for (const [, w, h] of boxes) {
      expect(Number(w)).toBeCloseTo(width, 5);
      expect(Number(h)).toBeCloseTo(height, 5);
    }
  });

  it('asks the viewer not to scale (ISO 32000-1, table 150)', async () => {
    const bytes = await toPdf((await madeWith({ paper: 'A4' })).drawing, { compress: false });
    expect(Buffer.from(bytes).toString('latin1')).toMatch(/\/PrintScaling \/None/);
  });
});

describe('the artwork in the file', () => {
  it('stands there once, however many pages show it', async () => {
    const [one, many] = await Promise.all(
      ['1100mm x 700mm', 'A4'].map(async (paper) => {
        const { drawing, plan } = await madeWith({ paper });
        const text = Buffer.from(await toPdf(drawing, { compress: false })).toString('latin1');
        return { text, pages: plan.pages.length };
      }),
    );
    expect(one.pages).toBe(1);
    expect(many.pages).toBeGreaterThanOrEqual(15);
    for (const { text, pages } of [one, many]) {
      expect(text.match(/\/Subtype \/Form/g)).toHaveLength(1);
      // Once on every page, and on the map of the pages.
      expect(text.match(/\/G0 Do/g)).toHaveLength(pages + 1);
      // Where the outline of the far mark begins: 880.123 + 40 + 7 mm, 470.456 + 40 mm, in points.
      const start = [927.123, 510.456].map((mm) => String(Number((mm / MM_PER_POINT).toFixed(4)))).join(' ');
      expect(text.split(start).length - 1).toBeGreaterThanOrEqual(1);
      const form = text.slice(
        text.indexOf('/Subtype /Form'),
        text.indexOf('endstream', text.indexOf('/Subtype /Form')),
      );
      expect(form.split(start).length).toBe(text.split(start).length);
      // Every curve of the form, line by line: none of them stands anywhere else.
      const curves = form.match(/^[-\d.]+(?: [-\d.]+){5} c$/gm) ?? [];
      expect(curves.length).toBeGreaterThan(8 * MARKS.length);
      const outside = text.replace(form, '');
      expect(curves.filter((curve) => outside.includes(`\n${curve}\n`))).toEqual([]);
    }
  });
});

interface Made {
  readonly result: JobResult;
  readonly plan: PagePlan;
  readonly drawing: ReturnType<typeof printSheetDrawings>[number];
  readonly pages: readonly PdfPage[];
}

async function madeWith(pages: NonNullable<JobFile['pages']>): Promise<Made> {
  const shapes = [...MARKS.map((at, k) => disc(`mark${k}`, at, 7)), box('bar', 200, 100, 300, 110)];
  const result = runShapes(shapes, UNIT, { pages });
  const [drawing] = printSheetDrawings(result, FONT);
  const { plan } = printSheets(judgedSheets(result)[0], {
    job: result.job,
    cartoon: [],
    font: FONT,
    paper: findPaper(result.job.pages.paper),
    statements: result.statements,
  });
  expect([result.sheets[0].widthMm, result.sheets[0].heightMm]).toEqual([SHEET.widthMm, SHEET.heightMm]);
  return { result, drawing, plan, pages: await readPages(await toPdf(drawing)) };
}

/** The middles of all paths of a kind on all pages, brought back to the drawing. */
function seen(
  printed: readonly { readonly page: PdfPage; readonly planned: PagePlan['pages'][number] }[],
  plan: PagePlan,
  wanted: (path: PdfPath) => boolean,
): Point[] {
  return printed.flatMap(({ page, planned }) =>
    page.paths.filter(wanted).map((path) => onDrawing(middle(path), planned, plan)),
  );
}

function middle({ box: { x0, y0, x1, y1 } }: PdfPath): Point {
  return { x: (x0 + x1) / 2, y: (y0 + y1) / 2 };
}

/** From points of a page to mm of the drawing: the page shows its window from the corner of the content on, scaled by the correction. */
function onDrawing(at: Point, { windowMm }: PagePlan['pages'][number], plan: PagePlan): Point {
  return {
    x: windowMm.x0 + (at.x * MM_PER_POINT - plan.contentMm.x0) / plan.scaleAcross,
    y: windowMm.y0 + (at.y * MM_PER_POINT - plan.contentMm.y0) / plan.scaleAlong,
  };
}

/** Every place lies on one of the wanted ones, and each of those is met. */
function expectAt(places: readonly Point[], wanted: readonly Point[]): void {
  const met = new Set<Point>();
  for (const place of places) {
    const near = wanted.find(({ x, y }) => Math.hypot(place.x - x, place.y - y) < TRUE_MM);
    expect(near, `(${place.x}, ${place.y})`).toBeDefined();
    if (near) met.add(near);
  }
  expect(met.size).toBe(wanted.length);
}

/** The ring around a dot: a circle 4.4 mm wide and as high. */
function isDotRing({ colour, paint, box: { x0, y0, x1, y1 } }: PdfPath): boolean {
  return (
    colour === DOT_GREEN &&
    paint === 'stroke' &&
    Math.abs((x1 - x0) * MM_PER_POINT - 4.4) < 0.1 &&
    Math.abs((y1 - y0) * MM_PER_POINT - 4.4) < 0.1
  );
}

/** One of the artwork's discs, 14 mm wide. */
function isMark({ paint, box: { x0, y0, x1, y1 } }: PdfPath): boolean {
  const [w, h] = [(x1 - x0) * MM_PER_POINT, (y1 - y0) * MM_PER_POINT];
  return paint === 'both' && Math.abs(w - 14) < 0.1 && Math.abs(h - 14) < 0.1;
}

/** Ticks of a bar are shorter than this, mm. */
const LONGEST_TICK_MM = 10;

/** Lengths of the bars across and along a page, mm: the straight lines of 0.2 mm on which ticks, and nothing but ticks, stand. */
function barsOf(page: PdfPage): [number, number] {
  const lengthMm = ([a, b]: PdfPath['subpaths'][number]): number => Math.hypot(b[0] - a[0], b[1] - a[1]) * MM_PER_POINT;
  const bars = page.paths.filter(
    ({ paint, lineWidth, subpaths }) =>
      paint === 'stroke' &&
      Math.abs(lineWidth * MM_PER_POINT - 0.2) < 1e-3 &&
      subpaths.length > 10 &&
      subpaths.slice(1).every((tick) => lengthMm(tick) < LONGEST_TICK_MM),
  );
  expect(bars).toHaveLength(2);
  const lengths = bars.map(({ subpaths: [[a, b]] }) => {
    const across = Math.abs(b[0] - a[0]) > Math.abs(b[1] - a[1]);
    // Square to the page to the last digit.
    expect(Math.abs(across ? b[1] - a[1] : b[0] - a[0])).toBeLessThan(1e-3);
    return { across, mm: Math.hypot(b[0] - a[0], b[1] - a[1]) * MM_PER_POINT };
  });
  expect(lengths.map(({ across }) => across).toSorted()).toEqual([false, true]);
  const pick = (wanted: boolean) => lengths.find(({ across }) => across === wanted)?.mm ?? Number.NaN;
  return [pick(true), pick(false)];
}
