import { type Box, boxContour, type Drawing, type Item, type JobFile, type JobResult, runJob } from '@okuri/core';
import {
  coverCheck,
  findPaper,
  judgedSheets,
  layPages,
  type PagePlan,
  printSheetDrawings,
  printSheets,
} from '@okuri/core/inside';
import { fontMetrics, type Pixels, renderPixels } from '@okuri/writer';
import pixelmatch from 'pixelmatch';
import { beforeAll, describe, expect, it } from 'vitest';
import { box, demoJob, disc, polygon, runShapes, stroke } from './support.js';

// The pictures are compared by pixelmatch 7.2.0, an image comparer that is not the project's.

const FONT = fontMetrics();

/**
 * pixelmatch's measure of a pixel's difference in colour, 0 to 1; 0.1 is its own default. The renderer's coverage of a hair line goes in
 * steps of a few hundredths, and numbers that are rounded apart may fall on either side of a step.
 */
const COLOUR_THRESHOLD = 0.1;
/** Softened pixels counted, not one may differ by more. */
const PIXELS_THAT_DIFFER = 0;
const PIXELS_PER_MM = 2;

interface Case {
  readonly name: string;
  readonly result: () => JobResult;
  readonly pages: NonNullable<JobFile['pages']>;
}

let demo: JobResult;
beforeAll(() => {
  const { motif, job } = demoJob();
  demo = runJob(motif, job);
});

/** Few shapes, far apart: whole pages of nothing. */
function sparse(): JobResult {
  const shapes = [
    disc('a', { x: 60, y: 70 }, 21),
    polygon('b', [
      [300, 400],
      [352, 431],
      [322, 466],
    ]),
  ];
  return runShapes(shapes, [370, 480]);
}

/** Lines, discs and bars across the whole sheet, half-drop, two units wide. */
function dense(): JobResult {
  const wave = { closed: false, coords: Float64Array.from([0, 60, 60, 0, 130, 150, 190, 92]) };
  const shapes = [
    stroke('wave', [wave], 4),
    ...Array.from({ length: 12 }, (_, k) => disc(`d${k}`, { x: 12 + 14.7 * k, y: 20 + ((37 * k) % 60) }, 2 + (k % 4))),
    box('bar', 20, 100, 170, 104),
  ];
  return runShapes(shapes, [190, 120], { repeat: 'half-drop', across: 2, down: 2 });
}

const CASES: readonly Case[] = [
  { name: 'demo, A4 as it fits', result: () => demo, pages: { paper: 'A4' } },
  {
    name: 'demo, Letter landscape, mirrored, corrected',
    result: () => demo,
    pages: { paper: 'Letter', orientation: 'landscape', mirror: true, scaleAcross: 1.003, scaleAlong: 0.997 },
  },
  ...(['A4', 'Letter'] as const).flatMap((paper) =>
    (['portrait', 'landscape'] as const).flatMap((orientation) => [
      { name: `sparse, ${paper} ${orientation}`, result: sparse, pages: { paper, orientation } },
      {
        name: `dense, ${paper} ${orientation}, mirrored, corrected`,
        result: dense,
        pages: {
          paper,
          orientation,
          mirror: true,
          scaleAcross: orientation === 'portrait' ? 1.003 : 0.997,
          scaleAlong: orientation === 'portrait' ? 0.997 : 1.003,
          overlap: '17mm',
        },
      },
    ]),
  ),
];

describe.each(CASES)('print sheets: $name', ({ result, pages }) => {
  it('laid back together by the plan give the picture back', async () => {
    const { drawing, plan } = sheetsOf(result(), pages);
    const { complete, gapMm, overlapErrorMm, placeErrorMm } = coverCheck(plan);
    expect({ complete, gapMm }).toEqual({ complete: true, gapMm: 0 });
    expect(overlapErrorMm).toBeLessThan(1e-9);
    expect(placeErrorMm).toBeLessThan(1e-9);

    const whole = await wholePicture(drawing, plan);
    // Laid from the last page to the first and the other way round: each overlap is shown by either page.
    const upward = whitePicture(whole);
    const downward = whitePicture(whole);
    const parts: Part[] = [];
    for (const { name } of plan.pages) parts.push(await windowOf(drawing, plan, name));
    for (const part of parts) paste(part, downward);
    for (const part of parts.toReversed()) paste(part, upward);
    for (const picture of [upward, downward]) {
      expect(picture.holes()).toBe(0);
      const differ = pixelmatch(rgba(whole), picture.data, undefined, whole.width, whole.height, {
        threshold: COLOUR_THRESHOLD,
        includeAA: true,
      });
      expect(differ).toBe(PIXELS_THAT_DIFFER);
    }
    // The comparison can fail: one page moved by half a millimetre shows.
    const moved = whitePicture(whole);
    for (const [k, part] of parts.entries()) paste(k === 0 ? { ...part, x: part.x + 1 } : part, moved);
    const shows = pixelmatch(rgba(whole), moved.data, undefined, whole.width, whole.height, {
      threshold: COLOUR_THRESHOLD,
      includeAA: true,
    });
    expect(shows).toBeGreaterThan(100);
  });
});

it('marks for joining stand in the overlaps only: outside of them a page shows nothing but the picture', async () => {
  const { drawing, plan } = sheetsOf(dense(), { paper: 'A4' });
  const whole = await wholePicture(drawing, plan);
  // A line has a breadth, and trim lines stand on the edge of the overlap.
  const lineMm = 0.6;
  let seen = 0;
  for (const page of plan.pages) {
    const part = await windowOf(drawing, plan, page.name, { marks: true });
    const has = (row: number, column: number) => plan.pages.some((p) => p.row === row && p.column === column);
    const bandX = (plan.overlapMm + lineMm) * plan.scaleAcross * PIXELS_PER_MM;
    const bandY = (plan.overlapMm + lineMm) * plan.scaleAlong * PIXELS_PER_MM;
    const inner = {
      x0: page.column > 0 ? bandX : 0,
      y0: page.row > 0 ? bandY : 0,
      x1: part.width - (has(page.row, page.column + 1) ? bandX : 0),
      y1: part.height - (has(page.row + 1, page.column) ? bandY : 0),
    };
    const differs = (x: number, y: number): boolean =>
      [0, 1, 2].some(
        (c) => Math.abs(part.data[4 * (y * part.width + x) + c] - sample(whole, part.x + x, part.y + y, c)) > 5,
      );
    let inside = 0;
    for (let y = 0; y < part.height; y++) {
      for (let x = 0; x < part.width; x++) {
        if (!differs(x, y)) continue;
        seen++;
        if (x > inner.x0 && x < inner.x1 - 1 && y > inner.y0 && y < inner.y1 - 1) inside++;
      }
    }
    // Hair lines through the lozenges run on past the overlap by 5 mm on either side, two to a seam.
    const seams = [page.column > 0, page.row > 0, has(page.row, page.column + 1), has(page.row + 1, page.column)];
    expect(inside).toBeLessThanOrEqual(seams.filter(Boolean).length * 2 * 5 * PIXELS_PER_MM * 3);
  }
  expect(seen).toBeGreaterThan(1000);
});

it('mirrored print sheets hold the mirror image of the others, words apart', async () => {
  const [plain, mirrored] = await Promise.all(
    [false, true].map((mirror) => {
      const { drawing, plan } = sheetsOf(dense(), { paper: 'A4', mirror });
      return wholePicture({ ...drawing, groups: { cartoon: withoutWords(drawing.groups.cartoon) } }, plan);
    }),
  );
  const flipped = rgba(mirrored);
  const rows = Array.from({ length: plain.height }, (_, y) =>
    flipped.subarray(4 * y * plain.width, 4 * (y + 1) * plain.width),
  );
  const back = new Uint8Array(flipped.length);
  rows.forEach((row, y) => {
    for (let x = 0; x < plain.width; x++) {
      back.set(row.subarray(4 * x, 4 * x + 4), 4 * ((y + 1) * plain.width - 1 - x));
    }
  });
  const differ = (data: Uint8Array) =>
    pixelmatch(rgba(plain), data, undefined, plain.width, plain.height, {
      threshold: COLOUR_THRESHOLD,
      includeAA: true,
    });
  expect(differ(back)).toBe(PIXELS_THAT_DIFFER);
  expect(differ(flipped)).toBeGreaterThan(1000);
});

describe('numbers of pages', () => {
  // Worked from ceil((L − o)/(p − o)) with the papers of ISO 216 and of US Letter (8.5 × 11 in); no published source for the rule.
  it.each([
    { paper: 'A4', sheet: [600, 450], margin: 6.35, overlap: 10, portrait: [4, 2], landscape: [3, 3] },
    { paper: 'Letter', sheet: [609.6, 457.2], margin: 6.35, overlap: 12.7, portrait: [4, 2], landscape: [3, 3] },
  ])('$paper: $sheet mm', ({ paper, sheet, margin, overlap, portrait, landscape }) => {
    const count = (orientation: 'portrait' | 'landscape' | 'auto') => {
      const plan = layPages(
        { widthMm: sheet[0], heightMm: sheet[1] },
        { paper: findPaper(paper), marginMm: margin, overlapMm: overlap, orientation },
      );
      return [plan.columns, plan.rows];
    };
    expect(count('portrait')).toEqual(portrait);
    expect(count('landscape')).toEqual(landscape);
    expect(count('auto')).toEqual(portrait);
  });
});

/** The print sheets of a job's first stencil, with the plan by which they were laid. */
function sheetsOf(result: JobResult, pages: NonNullable<JobFile['pages']>): { drawing: Drawing; plan: PagePlan } {
  const job = { ...result.job, pages: { ...result.job.pages, ...mmOf(pages) } };
  const [drawing] = printSheetDrawings({ ...result, job }, FONT);
  // The plan does not hang on what is drawn.
  const { plan } = printSheets(judgedSheets(result)[0], {
    job,
    cartoon: [],
    font: FONT,
    paper: findPaper(job.pages.paper),
    statements: result.statements,
  });
  return { drawing, plan };
}

function mmOf({
  overlap,
  margin: _margin,
  ...rest
}: NonNullable<JobFile['pages']>): Partial<JobResult['job']['pages']> {
  return { ...(rest as Partial<JobResult['job']['pages']>), ...(overlap && { overlapMm: Number.parseFloat(overlap) }) };
}

/** The cartoon in one piece, up to the edge of the paper, at the size that the printer correction gives it. */
function wholePicture(drawing: Drawing, plan: PagePlan): Promise<Pixels> {
  const { widthMm, heightMm, scaleAcross, scaleAlong } = plan;
  return renderPixels(
    {
      ...drawing,
      pages: [
        {
          name: 'whole',
          widthMm: widthMm * scaleAcross,
          heightMm: heightMm * scaleAlong,
          items: [
            {
              kind: 'clip',
              contours: [boxContour({ x0: 0, y0: 0, x1: widthMm * scaleAcross, y1: heightMm * scaleAlong })],
              items: [{ kind: 'place', group: 'cartoon', at: [[scaleAcross, 0, 0, scaleAlong, 0, 0]] }],
            },
          ],
        },
      ],
    },
    0,
    { pixelsPerMm: PIXELS_PER_MM },
  );
}

/** What a page shows through its window, and where that lies on the whole picture. Four channels. */
interface Part {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/**
 * A page's window cut out of its picture. The page is moved by less than a pixel, so that its pixels fall on those of the whole. Without
 * `marks` only what the page shows through its window is drawn, not the marks for joining that are drawn over it.
 */
async function windowOf(
  drawing: Drawing,
  plan: PagePlan,
  name: string,
  { marks = false }: { marks?: boolean } = {},
): Promise<Part> {
  const page = drawing.pages.find((one) => one.name === name);
  const planned = plan.pages.find((one) => one.name === name);
  if (page === undefined || planned === undefined) throw new RangeError(`got no page "${name}"`);
  const items = marks ? page.items : page.items.filter(showsCartoon);
  expect(items.length).toBeGreaterThan(0);
  const { windowMm } = planned;
  const { scaleAcross: sx, scaleAlong: sy, contentMm } = plan;
  const on = (mm: number): number => mm * PIXELS_PER_MM;
  const shift = { x: on(contentMm.x0 - windowMm.x0 * sx), y: on(contentMm.y0 - windowMm.y0 * sy) };
  const [dx, dy] = [Math.ceil(shift.x) - shift.x, Math.ceil(shift.y) - shift.y];
  const picture = await renderPixels(
    {
      ...drawing,
      groups: { ...drawing.groups, page: items },
      pages: [
        {
          ...page,
          widthMm: page.widthMm + 1,
          heightMm: page.heightMm + 1,
          items: [{ kind: 'place', group: 'page', at: [[1, 0, 0, 1, dx / PIXELS_PER_MM, dy / PIXELS_PER_MM]] }],
        },
      ],
    },
    0,
    { pixelsPerMm: PIXELS_PER_MM },
  );
  // Whole pixels of the window only; the last one of the drawing may be cut by its edge, and both pictures show the same of it.
  const end = (mm: number, sizeMm: number, scale: number) =>
    mm >= sizeMm ? Math.round(on(sizeMm * scale)) : Math.floor(on(mm * scale) + 1e-6);
  const cut: Box = {
    x0: Math.ceil(on(windowMm.x0 * sx) - 1e-6),
    y0: Math.ceil(on(windowMm.y0 * sy) - 1e-6),
    x1: end(windowMm.x1, plan.widthMm, sx),
    y1: end(windowMm.y1, plan.heightMm, sy),
  };
  const width = cut.x1 - cut.x0;
  const height = cut.y1 - cut.y0;
  const data = new Uint8Array(4 * width * height);
  const [ox, oy] = [Math.ceil(shift.x), Math.ceil(shift.y)];
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      for (let c = 0; c < 4; c++) {
        data[4 * (y * width + x) + c] = sample(picture, cut.x0 + ox + x, cut.y0 + oy + y, c);
      }
    }
  }
  return { x: cut.x0, y: cut.y0, width, height, data };
}

function showsCartoon(item: Item): boolean {
  return item.kind === 'clip' && item.items.some((inner) => inner.kind === 'place');
}

function withoutWords(items: readonly Item[]): Item[] {
  return items.flatMap((item): Item[] => {
    if (item.kind === 'text') return [];
    return item.kind === 'layer' || item.kind === 'clip' ? [{ ...item, items: withoutWords(item.items) }] : [item];
  });
}

interface Picture {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
  /** Pixels that no page has covered. */
  holes(): number;
}

function whitePicture({ width, height }: Pixels): Picture {
  const data = new Uint8Array(4 * width * height);
  return {
    width,
    height,
    data,
    holes: () => data.reduce((sum, value, k) => sum + (k % 4 === 3 && value === 0 ? 1 : 0), 0),
  };
}

function paste(part: Part, onto: Picture): void {
  const width = Math.min(part.width, onto.width - part.x);
  for (let y = 0; y < part.height; y++) {
    const row = part.data.subarray(4 * y * part.width, 4 * (y * part.width + width));
    if (part.y + y < onto.height) onto.data.set(row, 4 * ((part.y + y) * onto.width + part.x));
  }
}

function rgba(pixels: Pixels): Uint8Array {
  const data = new Uint8Array(4 * pixels.width * pixels.height);
  for (let k = 0; k < pixels.width * pixels.height; k++) {
    for (let c = 0; c < 4; c++) data[4 * k + c] = sample(pixels, k % pixels.width, Math.floor(k / pixels.width), c);
  }
  return data;
}

/** A channel of a pixel; drawings of pages have more than two colours and so three channels. */
function sample(pixels: Pixels, x: number, y: number, channel: number): number {
  if (channel === 3) return 255;
  if (pixels.channels !== 3) throw new RangeError('got a picture of two colours, expected one of many');
  return pixels.data[3 * (y * pixels.width + x) + channel];
}
