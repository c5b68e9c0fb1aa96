import {
  checkDocument,
  clothPicture,
  clothTile,
  cutGuideDrawing,
  type Drawing,
  type FontMetrics,
  InputError,
  type Job,
  type JobResult,
  jobPlanFindings,
  jobPlanReport,
  joinViews,
  judgeSquare,
  listTies,
  type Motif,
  makeLattice,
  placementMapDrawing,
  planCsv,
  planOf,
  printSheetDrawings,
  printSheetPlans,
  readJob,
  runJob,
  type Sheet,
  sizeMotif,
  squareReport,
  squareSheet,
  stencilDrawings,
  suggestTies,
  worstFirst,
} from '@okuri/core';
import type { ArtworkFile } from '../state/project';
import type { Engine, EngineFiles, EngineJob, HandOver, MadeFile, Refusal } from './protocol';

/** What the engine needs of the place it runs in; all of it is there on both sides of the build: in a worker and in a test. */
export interface EngineTools {
  readonly fontMetrics: FontMetrics;
  /** Reads artwork at the width of a job; what comes back is kept as long as neither changes. */
  readonly readMotif: (files: EngineFiles, job: Job) => Promise<Motif>;
  readonly toPdf: (drawing: Drawing) => Promise<Uint8Array>;
  readonly toSvg: (drawing: Drawing, page: number) => Promise<string>;
  /** A picture of a page as a PNG file. */
  readonly toPng: (drawing: Drawing, page: number) => Promise<Uint8Array>;
}

/** The engine of one thread. */
export function createEngine(tools: EngineTools): Engine {
  let files: EngineFiles | null = null;
  let motifOf: { key: string; motif: Promise<Motif> } | null = null;
  let last: JobResult | null = null;

  const read = (job: Job): Promise<Motif> => {
    const taken = files;
    if (taken === null) throw new Error('a job was asked for before its files were taken');
    const key = JSON.stringify([job.size.widthMm, job.hairlines]);
    if (motifOf?.key !== key) {
      const motif = tools.readMotif(taken, job);
      motifOf = { key, motif };
      // What can't be read is read again when asked again: a font may have come.
      motif.catch(() => {
        motifOf = null;
      });
    }
    return motifOf.motif;
  };
  const jobOf = ({ jobText, date }: EngineJob) => readJob(jobText, { file: JOB_NAME, date });
  const result = (): JobResult => {
    if (last === null) throw new Error('a drawing was asked for before a job was checked');
    return last;
  };

  return {
    take: async (taken) => {
      files = taken;
      motifOf = null;
      last = null;
    },
    read: (asked) =>
      refusing(async () => {
        const { job, remarks } = jobOf(asked);
        const motif = sizeMotif(await read(job), job.size);
        return { job, motif, lattice: makeLattice(job.repeat, motif.frame.widthMm, motif.frame.heightMm), remarks };
      }),
    check: (asked, progress) =>
      refusing(async () => {
        const { job, remarks } = jobOf(asked);
        progress?.('reading the drawing', 0);
        const motif = await read(job);
        const made = runJob(motif, job, progress === undefined ? {} : { progress });
        const said = remarks.map((message) => ({
          code: 'job-read-as',
          severity: 'note' as const,
          message,
          atMm: null,
          measure: null,
        }));
        last = { ...made, findings: [...made.findings, ...said] };
        return {
          job,
          inks: last.inks,
          lattice: last.lattice,
          tile: clothTile(last.cell),
          joins: last.joins,
          joinViews: joinViews(last),
          sheets: last.sheets.map(withoutOutlines),
          square: last.sheets.length > 0 ? squareSheet(last) : null,
          findings: worstFirst(last.findings),
          statements: last.statements,
          document: checkDocument(last, job.motif),
        };
      }),
    ties: () =>
      refusing(async () => {
        const suggested = suggestTies(result());
        return { list: listTies(result(), suggested), suggested };
      }),
    square: ({ measured, extra, measuredWhen }) =>
      refusing(async () => {
        const sheet = squareSheet(result());
        const judged = judgeSquare(measured, { sheet, extra, measuredWhen });
        return { sheet, judged, report: squareReport(judged, sheet) };
      }),
    plan: () =>
      refusing(async () => {
        const plan = planOf(result());
        return {
          plan,
          findings: worstFirst(jobPlanFindings(result(), plan)),
          report: jobPlanReport(result(), plan),
          map: placementMapDrawing(result(), plan, tools.fontMetrics),
        };
      }),
    sheetDrawing: (index) => refusing(async () => nth(stencilDrawings(result(), tools.fontMetrics), index)),
    pageDrawing: (index) => refusing(async () => nth(printSheetPlans(result(), tools.fontMetrics), index)),
    guideDrawing: () => refusing(async () => cutGuideDrawing(result(), tools.fontMetrics)),
    make: (what) => refusing(() => makeFiles(what, result(), tools)),
  };
}

/** What a job file without a name is called in sentences. */
const JOB_NAME = 'the job';

/** What a person can mend comes back as a sentence; a fault of the program is thrown. */
async function refusing<T>(work: () => Promise<T>): Promise<T | Refusal> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof InputError) return { refused: error.message };
    throw error;
  }
}

function withoutOutlines(sheet: Sheet): Sheet {
  return { ...sheet, openings: sheet.openings.map((opening) => ({ ...opening, firstCut: [], secondCut: [] })) };
}

function nth<T>(drawings: readonly T[], index: number): T {
  const drawing = drawings[index];
  if (drawing === undefined) throw new InputError(`The job has no stencil ${index + 1}.`);
  return drawing;
}

const PDF = 'application/pdf';
const SVG = 'image/svg+xml';

async function makeFiles(what: HandOver, result: JobResult, tools: EngineTools): Promise<MadeFile[]> {
  const { fontMetrics: font } = tools;
  const pdf = async (name: string, drawing: Drawing): Promise<MadeFile> => ({
    name,
    type: PDF,
    bytes: await tools.toPdf(drawing),
  });
  switch (what) {
    case 'sheets':
      return eachOf(printSheetDrawings(result, font), 'sheets', 'pdf', pdf);
    case 'guide':
      return [await pdf('guide.pdf', cutGuideDrawing(result, font))];
    case 'stencil':
      return eachOf(stencilDrawings(result, font), 'stencil', 'svg', async (name, drawing) => ({
        name,
        type: SVG,
        bytes: utf8(await tools.toSvg(drawing, 0)),
      }));
    case 'cloth':
      return [{ name: 'cloth.png', type: 'image/png', bytes: await tools.toPng(clothPicture(result), 0) }];
    case 'plan':
      return [{ name: 'plan.csv', type: 'text/csv', bytes: utf8(planCsv(planOf(result))) }];
    case 'map':
      return [await pdf('plan.pdf', placementMapDrawing(result, planOf(result), font))];
  }
}

/** `stencil.svg` alone, else `stencil-1.svg`, `stencil-2.svg`, …: as the command names them. */
async function eachOf(
  drawings: readonly Drawing[],
  stem: string,
  ending: string,
  make: (name: string, drawing: Drawing) => Promise<MadeFile>,
): Promise<MadeFile[]> {
  const files: MadeFile[] = [];
  for (const [k, drawing] of drawings.entries()) {
    files.push(await make(drawings.length === 1 ? `${stem}.${ending}` : `${stem}-${k + 1}.${ending}`, drawing));
  }
  return files;
}

function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}

/** Artwork that is a picture, not a drawing. */
export function isPicture({ name }: ArtworkFile): boolean {
  return /\.(?:png|jpe?g|webp|tiff?|gif|bmp)$/i.test(name);
}
