import { checkDocument, type Drawing, type Item, type JobResult, runJob } from '@okuri/core';
import { clothPicture, contourArea, cutGuideDrawing, printSheetDrawings, stencilDrawings } from '@okuri/core/inside';
import { fontMetrics, renderPixels, toPdf, toPng, toSvg } from '@okuri/writer';
import { Resvg } from '@resvg/resvg-js';
import pixelmatch from 'pixelmatch';
import sharp from 'sharp';
import { beforeAll, describe, expect, it } from 'vitest';
import { perimeter } from '../support/flatten.js';
import { inkCoverage } from '../support/render.js';
import { box, demoJob, disc, runShapes, stroke } from './support.js';

const FONT = fontMetrics();

let demo: JobResult;
beforeAll(() => {
  const { motif, job } = demoJob();
  demo = runJob(motif, job);
});

/** Everything a job gives, in bytes, by name. */
async function outputs(result: JobResult): Promise<ReadonlyMap<string, Uint8Array | string>> {
  const cloth = clothPicture(result);
  const [stencil] = stencilDrawings(result, FONT);
  const [sheets] = printSheetDrawings(result, FONT);
  return new Map<string, Uint8Array | string>([
    ['check.json', JSON.stringify(checkDocument(result, 'motif.svg'))],
    ['cloth.png', await toPng(cloth, 0, { pixelsPerMm: 0.5 })],
    ['cloth.svg', toSvg(cloth, 0)],
    ['stencil.svg', toSvg(stencil, 0)],
    ['sheets.pdf', await toPdf(sheets)],
    ['guide.pdf', await toPdf(cutGuideDrawing(result, FONT))],
    ['page.svg', toSvg(sheets, 1)],
  ]);
}

describe('from run to run', () => {
  it('every output is the same, byte for byte', async () => {
    const first = await outputs(demo);
    const { motif, job } = demoJob();
    const second = await outputs(runJob(motif, job));
    expect([...second.keys()]).toEqual([...first.keys()]);
    for (const [name, bytes] of first) {
      const other = second.get(name) as Uint8Array | string;
      expect(bytes.length, name).toBeGreaterThan(1000);
      expect(Buffer.compare(Buffer.from(other as string), Buffer.from(bytes as string)), name).toBe(0);
    }
  });
});

describe('a drawing as SVG, drawn by a general renderer (resvg 2.6.2), and as our own picture', () => {
  const wave = { closed: false, coords: Float64Array.from([0, 60, 60, 0, 130, 150, 190, 92]) };
  const shapes = [
    stroke('wave', [wave], 4),
    disc('d', { x: 60, y: 30 }, 13),
    disc('hole', { x: 60, y: 30 }, 6, '#ffffff'),
    box('b', 100, 70, 190, 78),
  ];
  const PIXELS_PER_MM = 3;

  /**
   * The two renderers soften edges differently, on hair lines and small letters by up to a fifth of full contrast. At pixelmatch's own
   * threshold less than these shares of all pixels differ; by three times as much, none does.
   */
  const THRESHOLD = { usual: 0.1, none: 0.3 };
  const DIFFERENT_SHARE = { cloth: 1e-4, stencil: 5e-3 };

  it.each([{ repeat: 'straight' }, { repeat: 'half-drop' }, { repeat: 'brick', step: '1/3' }] as const)(
    'the cloth: $repeat $step',
    async (repeat) => {
      const result = runShapes(shapes, [190, 120], { ...repeat, cloth: { width: '570mm', length: '480mm' } });
      const { share, grossly } = await compared(clothPicture(result), PIXELS_PER_MM);
      expect(share).toBeLessThan(DIFFERENT_SHARE.cloth);
      expect(grossly).toBe(0);
    },
  );

  it('the cutting drawing', async () => {
    const [drawing] = stencilDrawings(runShapes(shapes, [190, 120]), FONT);
    const { share, grossly } = await compared(drawing, PIXELS_PER_MM);
    expect(share).toBeLessThan(DIFFERENT_SHARE.stencil);
    expect(grossly).toBe(0);
  });

  async function compared(drawing: Drawing, pixelsPerMm: number): Promise<{ share: number; grossly: number }> {
    const pixels = await renderPixels(drawing, 0, { pixelsPerMm });
    // What the PNG says is what was compared: decoded by libvips.
    const png = await toPng(drawing, 0, { pixelsPerMm });
    const own = await sharp(png).ensureAlpha().raw().toBuffer();
    const image = new Resvg(inPixels(toSvg(drawing, 0), pixels.width, pixels.height), {
      background: '#ffffff',
      font: { loadSystemFonts: false },
    }).render();
    expect([image.width, image.height]).toEqual([pixels.width, pixels.height]);
    const { width, height } = image;
    const [usual, grossly] = [THRESHOLD.usual, THRESHOLD.none].map((threshold) =>
      pixelmatch(own, image.pixels, undefined, width, height, { threshold, includeAA: true }),
    );
    return { share: usual / (width * height), grossly };
  }
});

describe('the cutting drawing, measured by another renderer (resvg 2.6.2)', () => {
  it('shows as much waste in its layer of first cuts as the sheet has, and so for the second cuts', () => {
    for (const result of [demo, runShapes([disc('d', { x: 90, y: 50 }, 17), box('b', 10, 20, 60, 31)], [96, 90])]) {
      const [sheet] = result.sheets;
      const [drawing] = stencilDrawings(result, FONT);
      for (const [id, cut] of [
        ['first-cut', 'firstCut'],
        ['second-cut', 'secondCut'],
      ] as const) {
        const layer = drawing.pages[0].items.find((item) => item.kind === 'layer' && item.id === id);
        // The areas alone, in one opaque colour: no lines.
        const items = layer?.kind === 'layer' ? layer.items.flatMap(asArea) : [];
        const page = { ...drawing.pages[0], items };
        const [widthPx, heightPx] = [Math.round(sheet.widthMm * 4), Math.round(sheet.heightMm * 4)];
        const { inkPx2 } = inkCoverage(inPixels(toSvg({ ...drawing, pages: [page] }, 0), widthPx, heightPx), widthPx);
        const mm2 = inkPx2 * (sheet.widthMm / widthPx) * (sheet.heightMm / heightPx);
        const contours = sheet.openings.flatMap((o) => o[cut]);
        const want = contours.reduce((sum, contour) => sum + contourArea(contour), 0);
        expect(want).toBeGreaterThan(100);
        // The renderer's coverage is good to 1/32 of a pixel for every pixel of outline; pixels are a quarter of a millimetre.
        const boundMm2 = (perimeter(contours) / 4) * (1 / 32);
        expect(boundMm2 / want).toBeLessThan(1e-2);
        expect(Math.abs(mm2 - want)).toBeLessThan(boundMm2);
      }
    }
  });

  it('tints what is cut first and nothing else', () => {
    const [drawing] = stencilDrawings(demo, FONT);
    const tinted = drawing.pages[0].items.flatMap((item) =>
      item.kind === 'layer' && item.items.some((inner) => inner.kind === 'path' && inner.fill === '#cccccc')
        ? [item.id]
        : [],
    );
    expect(tinted).toEqual(['first-cut']);
  });
});

/** The same SVG with its size in pixels instead of mm: from mm the renderer rounds the size before it fits it. */
function inPixels(svg: string, width: number, height: number): string {
  const sized = svg.replace(/width="[\d.]+mm" height="[\d.]+mm"/, `width="${width}" height="${height}"`);
  expect(sized).not.toBe(svg);
  return sized;
}

function asArea(item: Item): Item[] {
  if (item.kind !== 'path') return [];
  return [{ kind: 'path', contours: item.contours, ...(item.rule && { rule: item.rule }), fill: '#000000' }];
}
