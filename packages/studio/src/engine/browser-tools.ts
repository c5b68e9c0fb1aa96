import { type Drawing, InputError } from '@okuri/core';
import { readSvg } from '@okuri/reader';
import type { CanvasTarget } from '@okuri/writer/canvas';
import { screenFontMetrics } from './font-metrics';
import type { EngineTools } from './tools';

/** CSS family under which the bundled font is loaded, in the page and in the worker alike. */
export const FONT_FAMILY = 'Okuri Sheet';

/** Fine enough for a line of 0.3 mm to be seen; long cloth is made coarser, as the command does it. */
const PIXELS_PER_MM = 3;
const PIXELS = 36e6;
/** A canvas with a longer side stays blank (Chromium: 65,535; others less). */
const SIDE_PIXELS = 16_000;

/** What the engine has in a browser's worker. Writers and the picture tracer are fetched when they are first asked for. */
export function browserTools(): EngineTools {
  return {
    fontMetrics: screenFontMetrics(),
    readMotif: async ({ motif, fonts }, job) => {
      return readSvg(motif.bytes, {
        widthMm: job.size.widthMm,
        hairlines: job.hairlines,
        fonts: fonts.map(({ bytes }) => ({ data: bytes })),
      });
    },
    decodePicture: async (file) => (await import('../scan/decode-picture')).decodePicture(file),
    toPdf: async (drawing) => {
      const [{ toPdf }] = await Promise.all([import('@okuri/writer/pdf'), fetchWholeFont()]);
      return toPdf(drawing);
    },
    toSvg: async (drawing, page) => {
      const [{ toSvg }] = await Promise.all([import('@okuri/writer/svg'), fetchWholeFont()]);
      return toSvg(drawing, page);
    },
    toPng,
  };
}

let whole: Promise<void> | null = null;

/** The font's whole files, which only writers need. */
function fetchWholeFont(): Promise<void> {
  whole ??= (async () => {
    const [{ takeFaceFiles }, { regularWhole, boldWhole }] = await Promise.all([
      import('@okuri/writer/fonts'),
      import('virtual:okuri-screen-font'),
    ]);
    const [regular, bold] = await Promise.all([regularWhole, boldWhole].map(fetchBytes));
    takeFaceFiles({ regular, bold });
  })();
  whole.catch(() => {
    whole = null;
  });
  return whole;
}

async function fetchBytes(address: string): Promise<Uint8Array> {
  const reply = await fetch(address);
  if (!reply.ok) {
    throw new InputError('The font for printing could not be fetched: open the studio once with the network on.');
  }
  return new Uint8Array(await reply.arrayBuffer());
}

async function toPng(drawing: Drawing, page: number): Promise<Uint8Array> {
  const { drawItems } = await import('@okuri/writer/canvas');
  const { widthMm, heightMm, items } = drawing.pages[page];
  const fine = Math.min(
    PIXELS_PER_MM,
    Math.sqrt(PIXELS / (widthMm * heightMm)),
    SIDE_PIXELS / Math.max(widthMm, heightMm),
  );
  const canvas = new OffscreenCanvas(Math.round(widthMm * fine), Math.round(heightMm * fine));
  const context = canvas.getContext('2d');
  if (context === null) throw new InputError('This browser gives no picture of this size: make the cloth shorter.');
  context.scale(canvas.width / widthMm, canvas.height / heightMm);
  drawItems(context as CanvasTarget, drawing, items, { fontFamily: FONT_FAMILY });
  return new Uint8Array(await (await canvas.convertToBlob({ type: 'image/png' })).arrayBuffer());
}
