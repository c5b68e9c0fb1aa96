import { extname } from 'node:path';
import {
  InputError,
  type JobResult,
  type JudgedSquare,
  judgeSquare,
  type Measured,
  mustMend,
  parseLength,
  parseMeasurement,
  type SquareSheet,
  squareDocument,
  squareReport,
  squareSheet,
} from '@okuri/core';
import {
  type ExtraReadings,
  type PaperState,
  punchDocument,
  punchReport,
  type RulerChoice,
  type RulerParts,
  SPANS,
  type SquareSpread,
  spreadReport,
  squarePunchOrder,
  squareSpread,
} from '@okuri/core/inside';
import type { Command } from 'commander';
import { loadFor, runEngine } from '../engine.js';
import { addJobOptions, EXTRA, jobOverrides, listOption } from '../options.js';
import { driftedClothFile } from '../outputs.js';
import type { ProgressLine } from '../progress.js';
import { shownPath } from '../read-file.js';
import { checkTarget, type OutputFile, writeFiles } from '../write-files.js';
import type { Run } from './run.js';

interface SquareOptions {
  readonly top?: readonly string[];
  readonly right?: readonly string[];
  readonly bottom?: readonly string[];
  readonly left?: readonly string[];
  readonly falling?: readonly string[];
  readonly rising?: readonly string[];
  readonly extra?: readonly string[];
  readonly readingError?: string;
  readonly ruler?: string;
  readonly measured?: string;
  readonly placements?: string;
  readonly tolerance?: string;
  readonly punchError?: string;
  readonly layingError?: string;
  readonly json?: boolean;
  readonly cloth?: string;
  readonly force?: boolean;
  readonly font?: readonly string[];
}

const ABOUT: Readonly<Record<(typeof SPANS)[number], string>> = {
  top: 'upper left to upper right hole',
  right: 'upper right to lower right hole',
  bottom: 'lower left to lower right hole',
  left: 'upper left to lower left hole',
  falling: 'upper left to lower right hole',
  rising: 'lower left to upper right hole',
};

const RULERS: Readonly<Record<string, RulerParts | 'mm'>> = { mm: 'mm', '16': 16, '32': 32, '64': 64 };

/** A reading that is off by more is none, mm. */
const READING_ERROR_MM = { min: 0.001, max: 50 } as const;
/** Errors of dots beyond this are another sheet, mm. */
const SPREAD_MM = { min: 0, max: 50 } as const;
const PLACEMENTS_MAX = 10_000;

/** `okuri square [JOB|MOTIF] [--top --right --bottom --left --falling --rising VALUES] [--json]`. */
export function addSquare(program: Command, run: Run): void {
  const command = program
    .command('square')
    .summary('what to punch and measure; whether the sheet is square, and what to do')
    .description(
      'Without measurements: what to punch and to measure, in which order. With them: whether they can be right, how far the sheet is from square, which holes to punch again, and how it would run on the cloth. Exit code 1: something must be mended.',
    )
    .argument('[JOB|MOTIF]', 'a job file, or a drawing; without it the measurements are judged alone')
    .option('--json', 'print one JSON document and nothing else');
  for (const span of SPANS) {
    command.option(`--${span} <values>`, `${ABOUT[span]}: readings with a unit, such as "600mm, 600.5mm"`, gather);
  }
  command
    .addOption(
      listOption('--extra <A-F=values...>', 'from a corner dot to a dot between the corners, by their letters'),
    )
    .option('--reading-error <length>', 'how far a reading may be off; 0.5 mm by default')
    .option('--measured <when>', 'in which state the sheet was measured, dry or wet; as the job punches by default')
    .option('--placements <n>', 'placements down the cloth for which drift is told')
    .option('--tolerance <length>', "how far a join may be off; the job's joins.gapMax by default")
    .option(
      '--punch-error <length>',
      'how far holes are off as a rule (standard deviation): says how far a true sheet drifts',
    )
    .option('--laying-error <length>', 'how far dots are laid off their marks as a rule (standard deviation)')
    .option('--cloth <FILE.png|.svg>', "write a picture of the job's cloth as this sheet prints it")
    .option('--force', "write over files that are not the tool's own")
    .option('--ruler <kind>', 'the ruler at hand: mm, or 16, 32 or 64 parts of an inch');
  addJobOptions(command, ['motif', 'practice']).action(async (named: string | undefined) => {
    const options = command.opts<SquareOptions>();
    const [measured, extra] = [readMeasured(options), readExtra(options)];
    const nothing = Object.keys(measured).length === 0 && extra.length === 0;
    const judging = {
      readingErrorMm: readLength(options.readingError, '--reading-error', READING_ERROR_MM),
      measuredWhen: readState(options.measured),
      down: readPlacements(options.placements),
      toleranceMm: readLength(options.tolerance, '--tolerance', READING_ERROR_MM),
    };
    const { ruler, parts } = readRuler(options.ruler);
    const picture = readPicture(options);
    const loaded = named === undefined ? null : loadFor(command, named);
    const writing = { force: options.force === true, inputs: loaded?.inputs ?? [] };
    if (picture !== null) checkTarget(picture, writing);
    const result = loaded === null ? null : await runEngine(loaded, run);
    const sheet = result === null ? null : squareSheet(result);
    if (sheet === null) refuseWithoutJob(command, options, nothing);
    run.progress.clear();
    if (sheet !== null && nothing) {
      refuseWithoutReadings(options);
      const order = squarePunchOrder(sheet, parts);
      const spread = readSpread(options, sheet, judging.down);
      print(run, options, { ...punchDocument(sheet, order), ...spread?.document }, () =>
        [punchReport(sheet, order, { ruler }), spread?.report].filter(Boolean).join('\n'),
      );
      run.finish(mustMend(sheet.findings));
      return;
    }
    const { readingErrorMm, ...rest } = judging;
    const judged = judgeSquare(measured, {
      sheet,
      extra,
      ...rest,
      ...(readingErrorMm === null ? {} : { readingErrorMm }),
    });
    if (picture !== null && result !== null) {
      writeFiles([await driftedFile(result, judged, { picture, progress: run.progress })], writing);
      run.progress.clear();
    }
    const spread = sheet === null ? null : readSpread(options, sheet, judging.down);
    print(run, options, { ...squareDocument(judged, sheet), ...spread?.document }, () => {
      const written = picture === null ? '' : `wrote ${shownPath(picture.path)}\n`;
      return squareReport(judged, sheet) + (spread === null ? '' : `\n${spread.report}`) + written;
    });
    run.finish(mustMend(judged.findings));
  });
}

function print(run: Run, { json }: SquareOptions, document: object, report: () => string): void {
  run.streams.out(json ? `${JSON.stringify(document, null, 2)}\n` : report());
}

/** The picture of the cloth, where the readings prove a shape that can be stepped. */
async function driftedFile(
  result: JobResult,
  { drift }: JudgedSquare,
  { picture, progress }: { readonly picture: Picture; readonly progress: ProgressLine },
): Promise<OutputFile> {
  if (drift === null) {
    throw new InputError(
      'The readings prove no shape of the sheet, so --cloth has nothing to show: measure all four sides and both diagonals.',
    );
  }
  const writer = await import('@okuri/writer');
  return driftedClothFile({ result, drift, writer, progress }, picture.path);
}

interface Picture {
  readonly path: string;
  readonly kind: 'png' | 'svg';
}

function readPicture({ cloth: path }: SquareOptions): Picture | null {
  if (path === undefined) return null;
  const ending = extname(path).toLowerCase();
  if (ending === '.png' || ending === '.svg') return { path, kind: ending === '.png' ? 'png' : 'svg' };
  throw new InputError(`${shownPath(path)} is no name for a picture of the cloth: give --cloth FILE.png or .svg.`);
}

/** An option that was given more than once keeps all of its texts. */
function gather(value: string, before: readonly string[] | undefined): readonly string[] {
  return [...(before ?? []), value];
}

function readMeasured(options: SquareOptions): Measured {
  return Object.fromEntries(
    SPANS.flatMap((span) => {
      const texts = options[span];
      return texts === undefined ? [] : [[span, texts.flatMap((text) => readings(text, `--${span}`))]];
    }),
  );
}

function readExtra({ extra = [] }: SquareOptions): ExtraReadings[] {
  return extra.map((text) => {
    const [, one, other, values] = EXTRA.exec(text) ?? [];
    if (values === undefined) {
      throw new InputError(
        `--extra is ${JSON.stringify(text)}: write two letters of dots and what was read between them, such as A-F=155mm.`,
      );
    }
    const dots = [one.toUpperCase(), other.toUpperCase()] as const;
    return { dots, readingsMm: readings(values, `--extra ${dots.join('-')}`) };
  });
}

/** The readings of one text; a refusal names the option. */
function readings(text: string, option: string): number[] {
  return naming(option, () => parseMeasurement(text));
}

function readLength(
  text: string | undefined,
  option: string,
  { min, max }: { min: number; max: number },
): number | null {
  if (text === undefined) return null;
  const mm = naming(option, () => parseLength(text));
  if (mm >= min && mm <= max) return mm;
  throw new InputError(`${option} is ${JSON.stringify(text)}: it must be from ${min} mm to ${max} mm.`);
}

function naming<T>(option: string, read: () => T): T {
  try {
    return read();
  } catch (error) {
    if (error instanceof InputError) {
      throw new InputError(`${option}: ${error.message[0].toLowerCase()}${error.message.slice(1)}`);
    }
    throw error;
  }
}

/** What is asked by errors that are known as standard deviations only; null where none are given. */
function readSpread(
  { punchError, layingError }: SquareOptions,
  sheet: SquareSheet,
  down: number | null,
): { document: { spread: SquareSpread }; report: string } | null {
  if (punchError === undefined && layingError === undefined) return null;
  const errors = {
    punchErrorMm: readLength(punchError, '--punch-error', SPREAD_MM) ?? 0,
    layingErrorMm: readLength(layingError, '--laying-error', SPREAD_MM) ?? 0,
  };
  const spread = squareSpread(sheet, errors, down);
  return { document: { spread }, report: spreadReport(spread) };
}

function readState(text: string | undefined): PaperState | null {
  if (text === undefined || text === 'dry' || text === 'wet') return text ?? null;
  throw new InputError(`--measured is ${JSON.stringify(text)}: say dry or wet.`);
}

function readPlacements(text: string | undefined): number | null {
  if (text === undefined) return null;
  const value = /^\d{1,6}$/.test(text.trim()) ? Number(text) : 0;
  if (value >= 1 && value <= PLACEMENTS_MAX) return value;
  throw new InputError(`--placements is ${JSON.stringify(text)}: give a whole number from 1 to ${PLACEMENTS_MAX}.`);
}

function readRuler(text: string | undefined): { ruler: RulerChoice; parts: RulerParts | null } {
  if (text === undefined) return { ruler: 'both', parts: null };
  const kind = Object.hasOwn(RULERS, text.trim()) ? RULERS[text.trim()] : undefined;
  if (kind === undefined) throw new InputError(`--ruler is ${JSON.stringify(text)}: say mm, 16, 32 or 64.`);
  return kind === 'mm' ? { ruler: 'mm', parts: null } : { ruler: 'inches', parts: kind };
}

function refuseWithoutJob(command: Command, options: SquareOptions, nothing: boolean): void {
  if (nothing) {
    throw new InputError(
      'Name a job to be told what to punch and measure, or give measurements: --top, --right, --bottom, --left, --falling and --rising.',
    );
  }
  const own = options.font === undefined ? jobOverrides(command)[0]?.name : '--font';
  const needs =
    own ??
    [
      options.measured && '--measured',
      options.cloth && '--cloth',
      options.punchError && '--punch-error',
      options.layingError && '--laying-error',
    ].find(Boolean);
  if (needs !== undefined) throw new InputError(`${needs} is about a job: name the job, or leave it out.`);
}

/** Options that are about readings. */
function refuseWithoutReadings(options: SquareOptions): void {
  const { readingError, measured, tolerance, cloth } = options;
  const spread = options.punchError !== undefined || options.layingError !== undefined;
  const placements = spread ? undefined : options.placements;
  const given = {
    '--reading-error': readingError,
    '--measured': measured,
    '--placements': placements,
    '--tolerance': tolerance,
    '--cloth': cloth,
  };
  const strange = Object.entries(given).find(([, value]) => value !== undefined)?.[0];
  if (strange !== undefined) {
    throw new InputError(
      `${strange} goes with measurements: give --top, --right, --bottom, --left, --falling and --rising.`,
    );
  }
}
