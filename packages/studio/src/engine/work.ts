import {
  bySeverity,
  type Drawing,
  InputError,
  inVoice,
  type Job,
  type JobResult,
  type JudgedSheet,
  jobPlanReport,
  judgeSquare,
  type Motif,
  type Output,
  outputs,
  planCsv,
  readJob,
  runJob,
  StageMemory,
  squareReport,
  squareSheet,
  suggestTies,
} from '@okuri/core';
import {
  type ClothTile,
  clothTile,
  cutGuideDrawing,
  jobPlanFindings,
  joinViews,
  judgedSheets,
  laidWords,
  listTies,
  makeLattice,
  placementMapDrawing,
  printOverPlanDrawing,
  printSheetPlans,
  proofMapDrawing,
  proofSheet,
  reportFindings,
  sizeMotif,
  stencilDrawings,
} from '@okuri/core/inside';
import { motifOutlines, tileOutlines } from '../canvas/unit-outlines';
import { isPicture } from '../scan/scan-source';
import type { ScanSettings } from '../scan/settings';
import { makeProofFiles } from './make-proof';
import type {
  Engine,
  EngineFiles,
  EngineJob,
  HandOver,
  MadeFile,
  OnProgress,
  Refusal,
  ShownTile,
  TracedScan,
} from './protocol';
import { ScaleWanted, type ScanReader, scanReader } from './read-scan';
import type { EngineTools } from './tools';

/**
 * The engine of one thread.
 *
 * Long because everything that can be asked shares the last result.
 */
export function createEngine(tools: EngineTools): Engine {
  let files: EngineFiles | null = null;
  let motifOf: { key: string; motif: Promise<Motif> } | null = null;
  let scan: ScanReader | null = null;
  let last: JobResult | null = null;
  const memory = new StageMemory();

  const traced = async (job: Job, settings: ScanSettings, progress?: OnProgress): Promise<TracedScan | null> =>
    scan === null ? null : scan.read(job, settings, progress);
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
      scan = isPicture(taken.motif) ? scanReader(taken.motif, tools.decodePicture) : null;
      motifOf = null;
      last = null;
    },
    remember: async (known) => scan?.remember(known),
    read: (asked, progress) =>
      refusing(async () => {
        const { job, remarks } = jobOf(asked);
        const found = await traced(job, asked.scan, progress);
        const motif = sizeMotif(found?.motif ?? (await read(job)), job.size);
        const lattice = makeLattice(job.repeat, motif.frame.widthMm, motif.frame.heightMm);
        return { job, motif: { frame: motif.frame, outlines: motifOutlines(motif) }, lattice, remarks, scan: found };
      }),
    check: (asked, progress) =>
      refusing(async () => {
        const { job, remarks } = jobOf(asked);
        progress?.('reading the drawing', 0);
        const found = await traced(job, asked.scan, progress);
        const motif = found?.motif ?? (await read(job));
        last = runJob(motif, job, { memory, remarks, ...(progress && { progress }) });
        return {
          job,
          ties: last.job.ties,
          tiesFrom: last.tiesFrom,
          strandedTies: last.strandedTies,
          inks: last.inks,
          lattice: last.lattice,
          tile: shownTile(clothTile(last.cell)),
          joins: last.joins,
          joinViews: joinViews(last),
          sheets: judgedSheets(last).map(withoutOpenings),
          square: last.sheets.length > 0 ? squareSheet(last) : null,
          findings: bySeverity(last.findings),
          statements: last.statements,
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
        const { plan } = result();
        return {
          plan,
          findings: bySeverity(jobPlanFindings(result(), plan)),
          report: jobPlanReport(result(), plan),
          map: placementMapDrawing(result(), plan, tools.fontMetrics),
        };
      }),
    sheetDrawing: (index) => refusing(async () => nth(stencilDrawings(result(), tools.fontMetrics), index)),
    pageDrawing: (index) => refusing(async () => nth(printSheetPlans(result(), tools.fontMetrics), index)),
    guideDrawing: () => refusing(async () => cutGuideDrawing(result(), tools.fontMetrics)),
    make: (what) => refusing(() => makeFiles(what, result(), tools)),
    motifFile: (asked) =>
      refusing(async () => {
        const { job } = jobOf(asked);
        const { frame, shapes } = (await traced(job, asked.scan))?.motif ?? (await read(job));
        const items = shapes.map(({ contours, ink }) => ({ kind: 'path' as const, contours, fill: ink }));
        const { widthMm, heightMm } = frame;
        const page = { name: '', widthMm, heightMm, items };
        const svg = await tools.toSvg({ title: job.title, date: '', groups: {}, pages: [page] }, 0);
        return { name: 'motif.svg', type: SVG, bytes: utf8(svg) };
      }),
    proof: (index) => refusing(async () => proofSheet(result(), index + 1)),
    compare: (picture, proof, how, progress) =>
      refusing(async () => {
        progress?.('reading the picture', 0);
        const [decoded, { comparePicture }] = await Promise.all([
          tools.decodePicture(picture),
          import('../scan/compare-picture'),
        ]);
        const report = comparePicture(decoded, proof, { how, progress: (stage, share) => progress?.(stage, share) });
        const findings = bySeverity(reportFindings(report));
        return { report, laid: laidWords(report), findings };
      }),
    printDrawing: (index, report) =>
      refusing(async () => {
        const { title, date } = result().job;
        return printOverPlanDrawing(report, nth(result().sheets, index), { title, date });
      }),
    proofMapDrawing: () => refusing(async () => proofMapDrawing(result(), tools.fontMetrics)),
    makeProof: (what, index, report) =>
      refusing(() => makeProofFiles(what, { result: result(), index, report, tools })),
  };
}

/** What a job file without a name is called in sentences. */
const JOB_NAME = 'the job';

/** What a person can mend comes back as a sentence; a fault of the program is thrown. */
async function refusing<T>(work: () => Promise<T>): Promise<T | Refusal> {
  try {
    return await work();
  } catch (error) {
    if (error instanceof ScaleWanted) return { refused: inVoice(error, 'window'), asksScale: error.asked };
    if (error instanceof InputError) return { refused: inVoice(error, 'window') };
    throw error;
  }
}

function shownTile(tile: ClothTile): ShownTile {
  const { widthMm, heightMm, bleedMm } = tile;
  return { widthMm, heightMm, bleedMm, outlines: tileOutlines(tile) };
}

/** The window has no use for the openings one by one: there may be tens of thousands. */
function withoutOpenings(sheet: JudgedSheet): JudgedSheet {
  return { ...sheet, openings: [], zones: [], paper: { ...sheet.paper, workOf: [] } };
}

function nth<T>(drawings: readonly T[], index: number): T {
  const drawing = drawings[index];
  if (drawing === undefined) throw new InputError(`The job has no stencil ${index + 1}.`);
  return drawing;
}

const SVG = 'image/svg+xml';

async function makeFiles(what: HandOver, result: JobResult, tools: EngineTools): Promise<MadeFile[]> {
  if (what === 'plan') return [{ name: 'plan.csv', type: 'text/csv', bytes: utf8(planCsv(result.plan)) }];
  const { type, ending, write } = FORMS[what];
  const files: MadeFile[] = [];
  for (const { name, drawing } of outputs(result, what, { font: () => tools.fontMetrics })) {
    files.push({ name: `${name}.${ending}`, type, bytes: await write(tools, drawing) });
  }
  return files;
}

interface Form {
  readonly type: string;
  readonly ending: string;
  readonly write: (tools: EngineTools, drawing: Drawing) => Promise<Uint8Array>;
}

const AS_PDF: Form = { type: 'application/pdf', ending: 'pdf', write: (tools, drawing) => tools.toPdf(drawing) };

const FORMS: Readonly<Record<Output, Form>> = {
  cloth: { type: 'image/png', ending: 'png', write: (tools, drawing) => tools.toPng(drawing, 0) },
  sheets: AS_PDF,
  guide: AS_PDF,
  stencil: { type: SVG, ending: 'svg', write: async (tools, drawing) => utf8(await tools.toSvg(drawing, 0)) },
  map: AS_PDF,
};

function utf8(text: string): Uint8Array {
  return new TextEncoder().encode(text);
}
