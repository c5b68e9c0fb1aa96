import { basename, dirname, extname, join } from 'node:path';
import { type Drawing, InputError, type JobResult, type Output, outputs, type SheetChanges } from '@okuri/core';
import { cutGuideDrawing, type Drift, driftedClothPicture, MM_PER_INCH } from '@okuri/core/inside';
import type * as writer from '@okuri/writer';
import type { ProgressLine } from './progress.js';
import type { OutputFile } from './write-files.js';

/** What all outputs are made from. */
export interface MakeContext {
  readonly result: JobResult;
  /** Loaded when something is to be written: commands that only look start faster without it. */
  readonly writer: typeof writer;
  /** The motif, as it was named. */
  readonly file: string;
  readonly progress: ProgressLine;
  /** Asked for; null for as fine as `DEFAULT_PIXELS_PER_MM` and `DEFAULT_PIXELS` allow. */
  readonly pixelsPerMm: number | null;
  /** What changed since an older job, for each sheet; null where none is compared. */
  readonly changes: readonly (SheetChanges | null)[] | null;
}

/** Fine enough for a line of 0.3 mm to be seen on the picture of the cloth. */
const DEFAULT_PIXELS_PER_MM = 3;
/** A picture of long cloth is made coarser, so that it stays a picture that can be opened and sent. */
const DEFAULT_PIXELS = 36e6;
const PIXELS_PER_MM = { min: 0.01, max: 1_000 } as const;

/** Reads `--pixels-per-mm`. */
export function readPixelsPerMm(text: string): number {
  const value = text.trim() === '' ? Number.NaN : Number(text);
  if (value >= PIXELS_PER_MM.min && value <= PIXELS_PER_MM.max) return value;
  const { min, max } = PIXELS_PER_MM;
  throw new InputError(`--pixels-per-mm is ${JSON.stringify(text)}: it must be a number from ${min} to ${max}.`);
}

/** The picture of the cloth: a PNG or an SVG, by the ending of `path`. */
export async function clothFile(
  { result, writer, progress, pixelsPerMm }: MakeContext,
  path: string,
): Promise<OutputFile> {
  progress.show('drawing the cloth');
  const [{ drawing }] = outputs(result, 'cloth', { font: writer.fontMetrics });
  return pictureFile(drawing, path, { writer, pixelsPerMm });
}

/** The picture of the cloth as a sheet prints it that is not square. */
export async function driftedClothFile(
  { result, drift, writer, progress }: Pick<MakeContext, 'result' | 'writer' | 'progress'> & { readonly drift: Drift },
  path: string,
): Promise<OutputFile> {
  progress.show('drawing the cloth');
  const drawing = driftedClothPicture(result, drift, writer.fontMetrics());
  return pictureFile(drawing, path, { writer, pixelsPerMm: null });
}

async function pictureFile(
  drawing: Drawing,
  path: string,
  { writer, pixelsPerMm }: Pick<MakeContext, 'writer' | 'pixelsPerMm'>,
): Promise<OutputFile> {
  if (extname(path).toLowerCase() === '.svg') return { path, kind: 'svg', content: writer.toSvg(drawing, 0) };
  const { widthMm, heightMm } = drawing.pages[0];
  const fine = Math.min(DEFAULT_PIXELS_PER_MM, Math.sqrt(DEFAULT_PIXELS / (widthMm * heightMm)));
  return { path, kind: 'png', content: await writer.toPng(drawing, 0, { pixelsPerMm: pixelsPerMm ?? fine }) };
}

/** The print sheets as a PDF; with several stencils one each, numbered. */
export async function sheetFiles(context: MakeContext, path: string): Promise<OutputFile[]> {
  context.progress.show('drawing the print sheets');
  const files: OutputFile[] = [];
  for (const { path: own, drawing } of drawnAs(context, 'sheets', path)) {
    files.push({ path: own, kind: 'pdf', content: await context.writer.toPdf(drawing) });
  }
  return files;
}

/** The print sheets as one SVG a page, in a folder; with several stencils in a numbered folder each. */
export function pageFiles({ result, writer, progress }: MakeContext, folder: string): OutputFile[] {
  progress.show('drawing the pages');
  const drawings = outputs(result, 'sheets', { font: writer.fontMetrics });
  return drawings.flatMap(({ drawing }, k) => {
    const within = drawings.length > 1 ? join(folder, String(k + 1)) : folder;
    return pageNames(drawing).map(
      (name, page): OutputFile => ({
        path: join(within, `${name}.svg`),
        kind: 'svg',
        content: writer.toSvg(drawing, page),
        isPage: true,
      }),
    );
  });
}

/** The cut guide of all stencils. */
export async function guideFile({ result, writer, progress, changes }: MakeContext, path: string): Promise<OutputFile> {
  progress.show('drawing the cut guide');
  const drawing = cutGuideDrawing(result, writer.fontMetrics(), changes === null ? {} : { changes });
  return { path, kind: 'pdf', content: await writer.toPdf(drawing) };
}

/** The cutting drawing; with several stencils one each, numbered. */
export function stencilFiles(context: MakeContext, path: string): OutputFile[] {
  context.progress.show('drawing the stencil');
  return drawnAs(context, 'stencil', path).map(({ path: own, drawing }) => ({
    path: own,
    kind: 'svg',
    content: context.writer.toSvg(drawing, 0),
  }));
}

/** Drawings under a person's own name for them, numbered where there are several. */
function drawnAs(
  { result, writer }: Pick<MakeContext, 'result' | 'writer'>,
  what: Output,
  path: string,
): { readonly path: string; readonly drawing: Drawing }[] {
  const ending = extname(path);
  return outputs(result, what, { font: writer.fontMetrics, stem: basename(path, ending) }).map(({ name, drawing }) => ({
    path: join(dirname(path), `${name}${ending}`),
    drawing,
  }));
}

/** Fine enough for the smallest numbers of a map to be read: 300 dots to the inch. */
const MAP_PIXELS_PER_MM = 300 / MM_PER_INCH;

/** The placement map: a PDF, or an SVG or PNG for each of its pages, by the ending of `path`. */
export async function mapFiles(
  { result, writer, progress }: Pick<MakeContext, 'result' | 'writer' | 'progress'>,
  path: string,
): Promise<OutputFile[]> {
  progress.show('drawing the placement map');
  const [{ drawing }] = outputs(result, 'map', { font: writer.fontMetrics });
  const ending = extname(path).toLowerCase();
  if (ending === '.pdf') return [{ path, kind: 'pdf', content: await writer.toPdf(drawing) }];
  const files: OutputFile[] = [];
  for (const page of drawing.pages.keys()) {
    const own = numbered(path, page, drawing.pages.length);
    files.push(
      ending === '.svg'
        ? { path: own, kind: 'svg', content: writer.toSvg(drawing, page) }
        : { path: own, kind: 'png', content: await writer.toPng(drawing, page, { pixelsPerMm: MAP_PIXELS_PER_MM }) },
    );
  }
  return files;
}

/** A page of a map alone under its own name, else each with its number. */
function numbered(path: string, k: number, count: number): string {
  if (count === 1) return path;
  const ending = extname(path);
  return join(dirname(path), `${basename(path, ending)}-${k + 1}${ending}`);
}

/** The pages' names as file names: plain letters and digits, no two alike even where case is of no account. */
function pageNames({ pages }: Drawing): string[] {
  const seen = new Set<string>();
  return pages.map(({ name }, k) => {
    const plain = name.replaceAll(/[^A-Za-z0-9]+/g, '-').replaceAll(/^-|-$/g, '') || `page-${k + 1}`;
    const own = seen.has(plain.toLowerCase()) ? `${plain}-${k + 1}` : plain;
    seen.add(own.toLowerCase());
    return own;
  });
}
